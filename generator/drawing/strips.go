package drawing

import q "lapwork/generator/quantity"

// Facing is how a surface lies, which decides what its drawing says at the edges.
type Facing uint8

// The facings. Seen from inside the room in each case.
const (
	Upright   Facing = iota // wall, knee wall, gable: the floor is down
	Sloping                 // slope: the lower edge is down
	Overhead                // ceiling: as if the plan were laid over one's head
	Underfoot               // floor, seen from above
)

// StripLayout is the drawing of one surface with its strips, seen from inside. Coordinates are the surface's own, in mm:
// X to the right as seen from inside, Y up; on ceilings and floors the plan axes.
type StripLayout struct {
	Surface string // B2-W3
	Name    string // "North wall"; may be empty
	Facing  Facing
	Outline []XY
	Holes   [][]XY // parts of the outline that carry no sheet and are no opening; may be empty

	Openings     []OpeningMark
	Penetrations []HoleMark
	Members      []MemberLine // studs, rafters, battens
	Strips       []StripMark  // in fitting order
	Laps         []LapMark
	EndJoints    []JointMark
	Heights      []SetOut // edges of level strips, written on the left
	Offsets      []SetOut // edges of upright strips, written along the top
	Edges        []EdgeMark
	Folds        []FoldMark // edges inside the outline that strips run over
	Words        *Words     // nil: English
}

// OpeningMark is an opening in a drawing.
type OpeningMark struct {
	ID            string
	Outline       []XY
	Width, Height q.MM // as written; 0: measured on the outline
	Sill          q.MM // height of the lower edge over the datum; written when HasSill
	HasSill       bool
}

// HoleMark is a penetration in a drawing.
type HoleMark struct {
	ID       string
	At       XY
	Diameter q.MM
	Width    q.MM // not round: Width and Height instead of Diameter
	Height   q.MM
}

// MemberLine is a stud or rafter: the line From-To. Offset is what is written at the bottom.
type MemberLine struct {
	From, To XY
	Offset   q.MM
	NoText   bool // drawn without its offset
}

// StripMark is one strip: its pieces are drawn, its number and the cut lengths stand on it.
type StripMark struct {
	No     int
	ID     string // B2-W3/4
	Pieces []PieceMark
}

// PieceMark is one length of sheet of a strip.
type PieceMark struct {
	Outline []XY // what it covers on this surface
	Cut     q.MM
	Roll    string // R3, may be empty
	From    string // the strip whose offcut it is cut from; may be empty
}

// LapMark is the overlap of two strips or two pieces.
type LapMark struct {
	ID      string // B2-W3/3+4
	Outline []XY
	Width   q.MM
}

// JointMark is an end joint: a line across a strip, on a member.
type JointMark struct {
	ID       string
	From, To XY
	Offset   q.MM // of the member it lies on
}

// FoldMark is an edge that the strips run over in one piece, drawn unfolded.
type FoldMark struct {
	ID       string // of the edge: B2-K1+S1
	From, To XY
}

// SetOut is one place to mark: At in the surface's own coordinate, Value what is read off the tape or level.
type SetOut struct{ At, Value q.MM }

// EdgeMark names what lies along a side of the outline: the junction's number and id. It may be left empty.
type EdgeMark struct {
	No       int    // 0: the id is written
	ID       string // B2-W3+C1
	From, To XY
}
