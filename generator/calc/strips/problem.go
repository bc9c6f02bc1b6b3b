package strips

import (
	"lapwork/generator/geometry"
	q "lapwork/generator/quantity"
)

// Direction is the way the strips run.
type Direction uint8

// The directions.
const (
	Level   Direction = iota // along x, the first strip at the lower edge
	Upright                  // along y, the first strip at the left
)

// String gives the direction's word.
func (d Direction) String() string {
	if d == Upright {
		return "upright"
	}
	return "level"
}

// Hole is an opening the sheet is cut out of.
type Hole struct {
	Outline geometry.Polygon // either sense of rotation
	TurnIn  q.MM             // sheet kept all round and turned into the reveal, 0 ..
}

// Problem is one surface and the sheet to lay on it. The zero value of an optional field switches its rule off.
type Problem struct {
	Outline geometry.Polygon // simple, either sense of rotation, seen from the room
	Turns   []q.MM           // sheet turned over each edge (edge i runs from point i to point i+1), 0 ..; nil for none
	Holes   []Hole

	Direction    Direction
	RollWidth    q.MM // W
	Lap          q.MM // L, 1 <= L < W
	MaxLap       q.MM // a wider lap only where no other arrangement covers the surface; at least L; 0: any
	EndAllowance q.MM // E, at each end
	StopGap      q.MM // G; 0: every gap is run through and cut out later. Best at least 2 E
	StartAtEdge  bool // the first strip must start on the lower or left edge even where a rip there would be cheaper

	MaxPiece      q.MM   // M, longest piece with allowances; 0: any length
	EndJointLap   q.MM   // J
	JointAt       []q.MM // u positions where an end joint is backed
	JointAnywhere bool   // the whole surface backs an end joint; JointAt is ignored
	StaggerJoints bool   // of equally good joint positions take others than the strip before has, where there are any

	SeamAt       []q.MM // v positions where a seam is backed
	SeamTol      q.MM   // a seam may be this far off its backing
	SeamAnywhere bool   // the whole surface backs a seam; SeamAt is ignored

	KeepClear []q.MM // v positions that seams keep ClearBy from where that costs nothing: seams of the surface next to this one
	ClearBy   q.MM

	Raster q.MM // positions only at the edge of D plus or minus multiples of this; 0: every millimetre
}

// Rates are prices in any one unit of money, as whole numbers (take a small unit, say a millionth). They weigh sheet, labour
// and tape against each other.
type Rates struct {
	SheetPerMM int64 // a millimetre of strip, the roll's full width
	PerPiece   int64 // cutting, carrying and fixing one piece
	TapePerMM  int64 // a millimetre of seam or end-joint tape with its labour
}

// Objective is what to make small. The zero value is LeastLength.
type Objective struct {
	priced bool
	rates  Rates
}

// LeastLength asks for the least total cut length, then the fewest pieces, then the least tape.
func LeastLength() Objective { return Objective{} }

// LeastCost asks for the least price by these rates; among equal prices for the least length, pieces, tape.
func LeastCost(r Rates) Objective { return Objective{priced: true, rates: r} }
