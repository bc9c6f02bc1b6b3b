package drawing

import (
	"fmt"
	"reflect"
)

// Words are the words a figure writes by itself. A pack in another language gives its own; the places of values, such
// as %s and %d, must stay in their order.
type Words struct {
	SeenFromInside string // wall or slope
	SeenFromAbove  string // floor
	CeilingAsPlan  string // ceiling
	Floor          string // at the lower edge of a wall
	LowerEdge      string // at the lower edge of a slope
	AllInMM        string
	Datum          string // over the heights
	Studs          string // before the stud offsets
	Cut            string // "cut %d"
	Roll           string // "roll %s"
	Offcut         string // "offcut of %s"
	Sill           string // "sill %d"
	Opening        string // "Opening %s: %d wide, %d high."
	Hole           string // "Penetration %s."
	Strip          string // "Strip %d: cut %s mm."
	Lap            string // "Lap %s: %d mm."
	EndJoint       string // "End joint %s at %d mm."
	StripsOf       string // title of a strip layout: "%s: strips, laps and marks"
	StepMark       string // "Step %d points at the drawing."
	ViewOf         string // title of a room view: "Room %s from inside"
	Faces          string // "Surfaces: %s."
	Openings       string // "Openings: %s."
	Holes          string // "Penetrations: %s."
	Cutaway        string // "The near walls are cut away: %s."
	RoomOnPlan     string // "Room %s."
	HeavyCarries   string // what the heavy line of a plan means
	IdsInRooms     string // where the ids stand that a crowded plan leaves out
	Here           string // "Marked: %s."
	HoldPoint      string
	Decimal        string // decimal sign
	Deviation      string // of a fan test's points
	FanLine        string // "flow = %s · pressure^%s"
	Pressure       string
	Flow           string
	Limit          string
	SeriesOf       string // "%s: %s to %s over %s to %s."
	Legend         string
	Empty          string
	Kinds          map[PartKind]string
	Materials      map[Material]string
}

// In gives the words in another language: say is asked for each.
func (w *Words) In(say func(english string) string) *Words {
	out := *w
	v := reflect.ValueOf(&out).Elem()
	for i := range v.NumField() {
		if f := v.Field(i); f.Kind() == reflect.String {
			f.SetString(say(f.String()))
		}
	}
	out.Kinds, out.Materials = map[PartKind]string{}, map[Material]string{}
	for k, text := range w.Kinds {
		out.Kinds[k] = say(text)
	}
	for m, text := range w.Materials {
		out.Materials[m] = say(text)
	}
	return &out
}

// English gives the words a figure uses when it has none of its own.
func English() *Words {
	return &Words{
		SeenFromInside: "Seen from inside the room", SeenFromAbove: "Seen from above", CeilingAsPlan: "Ceiling drawn as the plan lies",
		Floor: "Floor", LowerEdge: "Lower edge", AllInMM: "all in mm", Datum: "Height", Studs: "Members at", Cut: "cut %d", Sill: "sill %d", Roll: "roll %s", Offcut: "offcut of %s",
		Opening: "Opening %s: %d wide, %d high.", Hole: "Penetration %s.", Strip: "Strip %d: cut %s mm.", Lap: "Lap %s: %d mm.",
		EndJoint: "End joint %s at %d mm.", StripsOf: "%s: strips, laps and marks",
		StepMark: "Number %d marks where step %d is done.", ViewOf: "Room %s from inside",
		Faces: "Surfaces: %s.", Openings: "Openings: %s.", Holes: "Penetrations: %s.", Cutaway: "Cut away: %s.",
		RoomOnPlan: "Room %s.", HeavyCarries: "Heavy line: carries the layer", IdsInRooms: "Ids of walls, openings and holes: on the rooms' pages.", Here: "Marked: %s.", HoldPoint: "Hold point", Decimal: ".",
		Deviation: "Deviation, %", FanLine: "flow = %s · pressure^%s", Pressure: "Pressure difference, Pa", Flow: "Air flow, m³/h",
		Limit: "Limit", SeriesOf: "%s: %s to %s over %s to %s.", Legend: "What the marks mean", Empty: "Nothing to draw.",
		Kinds: englishKinds(), Materials: englishMaterials(),
	}
}

func englishKinds() map[PartKind]string {
	return map[PartKind]string{Sheet: "sheet: the layer", Tape: "tape", Bead: "liquid bead", Adhesive: "roll adhesive", Primer: "primer",
		Fold: "fold left slack", Staple: "staple", Screw: "screw", Collar: "collar", Membrane: "brush-on membrane",
		Dimension: "dimension, mm", Number: "step of the text; number of a strip", LapMarked: "lap of two strips", EndJointMarked: "end joint, on a member",
		OpeningMarked: "opening", HoleMarked: "penetration", MemberMarked: "stud, rafter or batten", JunctionMarked: "number of a junction"}
}

func englishMaterials() map[Material]string {
	return map[Material]string{"timber-end": "timber, end grain", "timber-along": "timber, along the grain", "masonry": "masonry",
		"concrete": "concrete", "insulation": "insulation", "plasterboard": "plasterboard", "ground": "ground", "panel": "wood panel",
		"metal": "metal", "plastic": "plastic", "glass": "glass", "air": "air", "noncombustible": "non-combustible packing",
		"plaster": "plaster"}
}

// Materials lists every hatch, in the order of the legend.
func Materials() []Material {
	return []Material{"timber-end", "timber-along", "masonry", "concrete", "insulation", "plasterboard", "plaster", "panel",
		"noncombustible", "metal", "plastic", "glass", "ground", "air"}
}

// Kinds lists the marks a legend explains, in its order.
func Kinds() []PartKind {
	return []PartKind{Sheet, Tape, Bead, Adhesive, Primer, Membrane, Collar, Fold, Staple, Screw, Dimension, Number,
		LapMarked, EndJointMarked, OpeningMarked, HoleMarked, MemberMarked, JunctionMarked}
}

func (w *Words) or() *Words {
	if w == nil {
		return English()
	}
	return w
}

func say(pattern string, values ...any) string { return fmt.Sprintf(pattern, values...) }
