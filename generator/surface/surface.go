// Package surface derives a job's surfaces from its rooms: walls, knee walls, gables, slopes, ceilings and floors with
// their outlines, and the edges they share. Everything above reads surfaces; nothing above reads footprints.
package surface

import (
	"lapwork/generator/geometry"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// Role is what a surface is in its room.
type Role uint8

// The roles. The letter is part of the surface's id.
const (
	Wall     Role = iota // W
	KneeWall             // K: its top edge carries a slope
	Gable                // G: its top follows slopes
	Slope                // S
	Ceiling              // C: flat
	Floor                // F
)

// Letter is the role's letter in a surface id.
func (r Role) Letter() string { return [...]string{"W", "K", "G", "S", "C", "F"}[r] }

// String is the role's name in records and predicates: wall, knee-wall, gable, slope, flat-ceiling, floor.
func (r Role) String() string {
	return [...]string{"wall", "knee-wall", "gable", "slope", "flat-ceiling", "floor"}[r]
}

// Frame places a surface's own plane in space. Origin, X and Y are in metres; X and Y are unit vectors. On walls and
// slopes X runs to the right as seen from inside and Y up; on ceilings and floors X and Y are the plan axes.
type Frame struct{ Origin, X, Y [3]float64 }

// Surface is one plane face of a room, seen from inside.
type Surface struct {
	ID       job.SurfaceID
	Room     *job.Room
	Role     Role
	Face     *job.Face // what the job says about it
	Frame    Frame
	Outline  geometry.Polygon // own plane, mm, counter-clockwise as seen from inside (floor: in plan)
	PlanEdge int              // footprint edge it stands on or rises from, from 1; 0 for ceilings and floors
	Pitch    q.Degrees        // from the level: 90 wall, 0 ceiling

	CarriesSheet bool // the layer is fixed here (sheet, board or plaster)
	AirBoundary  bool // bounds the heated volume against outside air, ground, unheated or another home
	LosesHeat    bool

	Openings     []Opening
	Penetrations []Penetration
	Members      []Member
	Gross, Net   q.Area // m²; net of openings
}

// Opening is an opening placed on its surface.
type Opening struct {
	*job.Opening
	Outline geometry.Polygon // in the surface's plane
}

// Penetration is a penetration placed on its surface.
type Penetration struct {
	*job.Penetration
	At geometry.Point
}

// Member is a member placed on its surface: the line from From to To.
type Member struct {
	*job.Member
	From, To geometry.Point
}

// Edge is a line where two surfaces of one room meet, or where a surface ends without a neighbour (B nil).
type Edge struct {
	ID       string // B2-W3+C1, with .2 if the two meet twice
	A, B     *Surface
	SideA    int // index of the outline side on A, of the first run
	SideB    int
	From, To [3]float64 // in space, metres
	Length   q.MM
	AngleDeg q.Degrees // on the room side: below 180 inside edge, above 180 outside edge
	Level    bool      // runs level (else upright or sloped)
	Runs     []Run     // the parts of the edge net of openings that reach it
}

// Run is a part of an edge, as distances from its start.
type Run struct{ From, To q.MM }

// Net is the edge's length net of openings.
func (e Edge) Net() q.MM {
	var sum q.MM
	for _, r := range e.Runs {
		sum += r.To - r.From
	}
	return sum
}

// RoomShape is one room with everything derived about it.
type RoomShape struct {
	Room      *job.Room
	Surfaces  []*Surface // in id order: walls by edge, slopes, ceilings, floors
	Edges     []Edge
	FloorArea q.Area
	Volume    q.Volume
}

// Model is the whole building.
type Model struct {
	Job   *job.Job
	Rooms []*RoomShape // in the job's order
	ByID  map[job.SurfaceID]*Surface
}
