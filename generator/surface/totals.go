package surface

import q "lapwork/generator/quantity"

// Totals are the building's measures with a sentence on how each was taken. Areas are gross: openings are included.
type Totals struct {
	EnvelopeArea q.Area // AE, of ISO 9972: surfaces that are air boundary
	EnvelopeHow  string
	FloorArea    q.Area // AF
	FloorHow     string
	Volume       q.Volume // V
	VolumeHow    string
	HeatLossArea q.Area
	HeatLossHow  string
}

// Hows are the sentences of totals: of envelope, floor, volume and heat loss.
var Hows = []string{
	"inside faces of all surfaces of heated rooms that bound outside air, ground, unheated space or another home, openings included; ends of inside walls and floors are not added",
	"footprints of the heated rooms between inside faces, also under low slopes",
	"footprint times height under the ceilings and slopes of the heated rooms, dormers included; inside walls and floors are not added",
	"inside faces of all surfaces of heated rooms that lose heat to outside air, ground or unheated space, openings included",
}

func totals(m *Model) Totals {
	t := Totals{EnvelopeHow: Hows[0], FloorHow: Hows[1], VolumeHow: Hows[2], HeatLossHow: Hows[3]}
	for _, r := range m.Rooms {
		if r.Room.Heated {
			t.FloorArea += r.FloorArea
			t.Volume += r.Volume
		}
		for _, s := range r.Surfaces {
			if s.AirBoundary {
				t.EnvelopeArea += s.Gross
			}
			if s.LosesHeat {
				t.HeatLossArea += s.Gross
			}
		}
	}
	return t
}
