package transient

import q "lapwork/generator/quantity"

// Facts are what is known of the place where a build-up stands, in plain terms.
type Facts struct {
	JoistEndsInWall     bool     // timber that runs into or through an insulated outer wall
	MetalThrough        bool     // steel or other metal that crosses the insulation
	SolidWallInRain     bool     // absorbent solid masonry that driving rain reaches
	InsulatedInside     bool     // insulation on the room side of that masonry
	FlatRoof            bool     // timber flat roof, sealed outside, without a ventilated space
	Shaded              bool     // shaded by buildings, trees, parapets, solar modules
	Covered             bool     // green roof, gravel, paving
	AirFlowInside       bool     // a ventilated or leaky space within the build-up that the layers do not show
	GroundContact       bool     // touches the ground or water that presses on it
	FrostWet            bool     // materials that may freeze while wet
	LocalWetting        bool     // a plumbing leak, a wet sill or another source at one place
	SunUnknown          bool     // the climate tells no sun
	LayersWithoutMemory []string // layers whose storage or liquid data are missing
}

var practice = q.Source{Text: "common practice, no source", Status: q.CommonPractice}

// BeyondOneDimension gives every reason why a one-dimensional run is no proof for these facts, in the order of Facts, missing data last; none
// if it may be. What to do instead stands in each text: a proven detail, a simulation in two dimensions, or a specialist.
func BeyondOneDimension(f Facts) []Reason {
	var out []Reason
	say := func(is bool, c Cause, text string) {
		if is {
			out = append(out, Reason{Cause: c, Text: text, Source: practice})
		}
	}
	say(f.JoistEndsInWall, JoistEnds, "joist ends: heat, moisture and air reach them from the side; needs a two-dimensional proof or a proven detail, and an airtight pocket")
	say(f.MetalThrough, MetalThrough, "metal through the insulation: its surface is colder than any plane of the run; needs a two-dimensional proof and insulation over the metal")
	rain := "driving rain on a solid wall: neither rain uptake nor the vapour that sun drives inwards from a wet wall is part of the run; needs rain protection shown on site"
	if f.InsulatedInside {
		rain += ", and the inside insulation makes the masonry colder and wetter"
	}
	say(f.SolidWallInRain, DrivingRain, rain)
	say(f.FlatRoof && f.Shaded, ShadedFlatRoof, "shaded flat roof: it dries by sun on the sealing, and shade takes that away; needs a run with the shade of this roof, or insulation above the deck")
	say(f.FlatRoof && f.Covered, CoveredFlatRoof, "covered flat roof: green cover, gravel or paving keeps the sealing cool and wet; needs data of that cover, or insulation above the deck")
	say(f.AirFlowInside, AirFlowThrough, "air flow within the build-up carries more heat and moisture than the layers do; needs the flow as input")
	say(f.GroundContact, GroundContact, "ground or pressing water: liquid water enters from outside; a specialist has to judge it")
	say(f.FrostWet, Frost, "wet material that freezes: ice is left out of the run; a specialist has to judge it")
	say(f.LocalWetting, LocalWetting, "water at one place spreads sideways; find and stop it first")
	say(f.SunUnknown, NoSun, "sun left out: it helps a part dry, but in summer it also drives vapour inwards; needs a weather file with radiation by the hour")
	for _, l := range f.LayersWithoutMemory {
		out = append(out, Reason{Cause: NoStorageData, Place: l, Text: "no storage or liquid data for " + l + ": measured data are needed, none is assumed", Source: practice})
	}
	return out
}
