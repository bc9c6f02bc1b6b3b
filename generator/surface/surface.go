// Package surface derives a job's surfaces from its rooms: walls, knee walls, gables, slopes, ceilings and floors with
// their outlines, and the edges they share. Everything above reads surfaces; nothing above reads footprints.
//
// A room becomes one closed solid: cells of the ceiling's lower envelope above, the floor below, walls round the footprint,
// and what stands up where a dormer's top lies over its slope. Surfaces and edges are read off that solid, so that every
// edge is found once and joins exactly two surfaces, whatever rounding does.
//
// Ids: B2-W3 wall, knee wall (K) or gable (G) on footprint edge 3; B2-S1 slope 1 of the room; B2-C1 flat ceilings from the
// left in plan; B2-F1 the floor; B2-D1-W1, W2, W3, C1 front, left cheek, right cheek and top of dormer 1. A slope in two
// pieces is B2-S1 and B2-S1.2.
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

// Part is a surface's place in a dormer.
type Part string

// The parts of a dormer; left and right as seen from inside, facing its front.
const (
	Front      Part = "front"
	LeftCheek  Part = "left cheek"
	RightCheek Part = "right cheek"
	Top        Part = "top"
)

// Frame places a surface's own plane in space. Origin, X and Y are in metres; X and Y are unit vectors. On walls and
// slopes X runs to the right as seen from inside and Y up; on ceilings and floors X and Y are the plan axes. Origins:
//
//	wall           left end of its footprint edge as seen from inside, at the room's floor
//	slope          left end of its footprint edge, on the slope
//	ceiling, floor lower left corner of the box around the footprint
//	dormer front   its lower left corner
//	dormer cheek   its left end, at the height of the front's lower edge
//	dormer top     as ceilings
type Frame struct{ Origin, X, Y [3]float64 }

// Surface is one plane face of a room, seen from inside.
type Surface struct {
	ID       job.SurfaceID
	Room     *job.Room
	Role     Role
	Face     *job.Face // what the job says about it
	Frame    Frame
	Outline  geometry.Polygon   // own plane, mm, counter-clockwise in the frame's X and Y, from the lower left corner
	Holes    []geometry.Polygon // clockwise: where a dormer stands in a slope
	PlanEdge int                // footprint edge it stands on or rises from, from 1; 0 for ceilings and floors
	SlopeNo  int                // the slope's number in the job, 0 for others
	Pitch    q.Degrees          // from the level: 90 wall, 0 ceiling
	Dormer   *job.Dormer        // the dormer it belongs to; nil: none
	Part     Part               // which part of the dormer
	Name     string             // as openings name their surface: "wall 3", "ceiling 2", "dormer 1 front"

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

// Penetration is a penetration placed on its surface, with its middle at At.
type Penetration struct {
	*job.Penetration
	At geometry.Point
}

// Member is a member placed on its surface: the line from From to To, along Y if it is upright, along X else.
type Member struct {
	*job.Member
	From, To geometry.Point
}

// Edge is a line where two surfaces of one room meet, or where a surface ends without a neighbour (B nil).
type Edge struct {
	ID       string // B2-W3+C1, with .2 if the two meet twice
	A, B     *Surface
	SideA    int        // the outline side on A: from Outline[SideA] to the next; sides of holes count on after those
	SideB    int        // likewise on B; -1 without B
	From, To [3]float64 // in space, metres, along A's outline
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
	Job    *job.Job
	Rooms  []*RoomShape // in the job's order
	ByID   map[job.SurfaceID]*Surface
	byRoom map[*job.Room]*RoomShape
	Total  Totals
}

// Room gives a room's shape; nil for a room of another job.
func (m *Model) Room(r *job.Room) *RoomShape {
	if m.byRoom == nil {
		return m.search(r)
	}
	return m.byRoom[r]
}

// search finds a room's shape in a model that was put together by hand.
func (m *Model) search(r *job.Room) *RoomShape {
	for _, s := range m.Rooms {
		if s.Room == r {
			return s
		}
	}
	return nil
}

// Region is the surface's outline with its holes; openings are not taken out.
func (s *Surface) Region() geometry.Region { return geometry.Region{Outer: s.Outline, Holes: s.Holes} }

// Side gives the ends of an outline side as edges number them.
func (s *Surface) Side(n int) (from, to geometry.Point) {
	for _, p := range append([]geometry.Polygon{s.Outline}, s.Holes...) {
		if n < len(p) {
			return p[n], p[(n+1)%len(p)]
		}
		n -= len(p)
	}
	return geometry.Point{}, geometry.Point{}
}

// Inward is the unit vector at right angles to the surface, into the room.
func (s *Surface) Inward() [3]float64 {
	n := cross(s.Frame.X, s.Frame.Y)
	if s.Role == Ceiling {
		return [3]float64{-n[0], -n[1], -n[2]} // its frame is the plan's, the room lies below
	}
	return n
}

// Space gives a point of the surface's plane in space, in metres.
func (f Frame) Space(p geometry.Point) [3]float64 {
	x, y := float64(p.X)/1000, float64(p.Y)/1000
	var out [3]float64
	for i := range out {
		out[i] = f.Origin[i] + x*f.X[i] + y*f.Y[i]
	}
	return out
}
