// Package drawing holds the drawings of a pack as figures on a canvas: sections through junctions, strip layouts, room
// views and storey plans. It knows lines, hatches and labels, and nothing of jobs.
package drawing

import q "lapwork/generator/quantity"

// XY is a point of a drawing in millimetres of the real thing; Y points up.
type XY struct{ X, Y float64 }

// Section is a section drawing as a method statement declares it: solids from back to front, then marks.
type Section struct {
	Title  string
	Width  q.MM // of the real thing that is shown
	Height q.MM
	Frames []Frame // one, or before/after in order
}

// Frame is one state of the section.
type Frame struct {
	Caption string // empty with a single frame
	Parts   []Part
}

// PartKind is what a part of a section is.
type PartKind string

// The kinds of part. Solids have an outline, lines a path, points one place.
const (
	Solid     PartKind = "solid"     // outline with a material hatch
	Sheet     PartKind = "sheet"     // path: the layer
	Tape      PartKind = "tape"      // path: band with cross ticks
	Bead      PartKind = "bead"      // points: drops of liquid bead
	Adhesive  PartKind = "adhesive"  // path: roll adhesive, chain line
	Primer    PartKind = "primer"    // path: primed band
	Fold      PartKind = "fold"      // one place: visible loop of the sheet; Path[1] is the point it reaches
	Staple    PartKind = "staple"    // points
	Screw     PartKind = "screw"     // path of two: from head to tip
	Collar    PartKind = "collar"    // path: stepped ring
	Membrane  PartKind = "membrane"  // path: brush-on membrane
	Dimension PartKind = "dimension" // path of two, Text
	Label     PartKind = "label"     // Path[0] middle of the text, Path[1] what it points at (optional), Text
	Number    PartKind = "number"    // Path[0] disc place, Path[1] what it points at, Step
)

// Material is a hatch: timber-end, timber-along, masonry, concrete, insulation, plasterboard, ground, panel, metal,
// plastic, glass, air, noncombustible, plaster.
type Material string

// Part is one part of a section.
type Part struct {
	Kind     PartKind
	Material Material
	Path     []XY   // outline, path or points
	Text     string // label or dimension text; may hold {=expr} figures, resolved before drawing
	Step     int
	Name     string // what the part is, for the accessible description
}
