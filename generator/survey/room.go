package survey

import (
	"fmt"

	"lapwork/generator/geometry"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// Room is a room of the job as surveyed: what a file says, in the words of the job format.
type Room struct {
	ID        job.RoomID
	Name      string
	Space     *Space
	Level     *Level
	Offset    q.MM             // floor over the storey's level
	Footprint geometry.Polygon // counter-clockwise; wall n runs from corner n to corner n+1
	Height    q.MM             // flat ceiling over the floor; 0: the slopes meet
	Slopes    []Slope
	Walls     []Kind // one per wall
	Ceiling   Kind
	Floor     Kind
	Openings  []RoomOpening
	Holes     []RoomHole
	Heated    bool
	WetRoom   bool
	Basis     Basis
	Prism     Said // why the ceiling was replaced by a flat one of the same volume; none: it was not
	FloorArea q.Area
	Volume    q.Volume
	floor     float64 // m over zero
}

// Slope is a slope of a room: over wall Edge (from 1), at Height there, rising inwards at Pitch.
type Slope struct {
	Edge   int
	Height q.MM
	Pitch  q.Degrees
	Kind   Kind
}

// RoomOpening is an opening placed on a surface of a room.
type RoomOpening struct {
	ID            job.OpeningID
	Source        string // id in the file
	Kind, In      string
	X, Y          q.MM
	Width, Height q.MM
	Reveal        q.MM
}

// RoomHole is a penetration placed on a surface of a room.
type RoomHole struct {
	ID            job.PenetrationID
	Source        string
	Item, In      string
	X, Y          q.MM
	Diameter      q.MM
	Width, Height q.MM
	Serves        string
}

// Basis is what a room's form was taken from.
type Basis uint8

// The bases, best first.
const (
	FromBody    Basis = iota // a closed body of the space
	FromShape                // figures of a list
	FromFaces                // the faces round the space, which close
	FromOutline              // a floor outline and a height; walls and ceiling upright and flat
)

// String is the basis in words.
func (b Basis) String() string {
	return [...]string{"the space's closed body", "the figures of the list", "the faces round the space", "the floor outline and a height"}[b]
}

// Kind is a kind of surface: its part in the room, what lies behind, and the construction where one is given.
type Kind struct {
	Part         Part
	Behind       job.Behind
	Construction *Construction
}

// Part is a surface's part in a room.
type Part uint8

// The parts.
const (
	WallPart Part = iota
	SlopePart
	CeilingPart
	FloorPart
)

// String is the part's word in names of faces.
func (p Part) String() string { return [...]string{"wall", "slope", "ceiling", "floor"}[p] }

// Bounds says whether a surface of this kind bounds the heated volume of a heated room.
func (k Kind) Bounds() bool {
	switch k.Behind {
	case Inside, Nothing, job.Heated, Shading:
		return false
	}
	return true
}

// Level is a storey of the job.
type Level struct {
	ID     job.StoreyID
	Letter string // before the numbers of its rooms
	Name   string
	Level  q.MM
	Stated *Storey // nil: made from the heights of the floors
	Rooms  []*Room
}

// planes are the ceiling planes over a room's floor: the flat ceiling, then the slopes.
func (r *Room) planes() []geometry.Plane {
	var out []geometry.Plane
	if r.Height > 0 {
		out = append(out, geometry.Flat(r.Height))
	}
	for _, s := range r.Slopes {
		a, b := r.side(s.Edge)
		out = append(out, geometry.Rising(a, b, s.Height, s.Pitch))
	}
	return out
}

// side are the ends of a wall, from 1; seen from inside the second is the left one.
func (r *Room) side(edge int) (a, b geometry.Point) {
	return r.Footprint[edge-1], r.Footprint[edge%len(r.Footprint)]
}

// measure sets area and volume from footprint and ceiling.
func (r *Room) measure() *geometry.Envelope {
	r.FloorArea, r.Volume = r.Footprint.Area(), 0
	planes := r.planes()
	env := r.envelope(planes)
	for _, c := range env.Cells() {
		r.Volume += env.Volume(c, planes[c.Tag])
	}
	return env
}

// envelope divides the footprint as the job will: slopes on walls that meet at an inside corner meet in a valley.
func (r *Room) envelope(planes []geometry.Plane) *geometry.Envelope {
	sides := make([]int, len(planes))
	for i := range planes {
		if sides[i] = r.slopeOf(i); sides[i] >= 0 {
			sides[i] = r.Slopes[sides[i]].Edge - 1
		}
	}
	terms, _ := geometry.Valleys(r.Footprint, sides) // too many: the lowest plane counts, and the job's own check tells
	return geometry.NewEnvelope(r.Footprint, planes, terms...)
}

// slopeOf is the slope a plane of planes() belongs to, from 0; −1 for the flat ceiling.
func (r *Room) slopeOf(plane int) int {
	if r.Height > 0 {
		return plane - 1
	}
	return plane
}

// InPlan gives the ends of an opening in a wall, in plan, metres; false for one elsewhere.
func (r *Room) InPlan(o RoomOpening) (from, to Vec, ok bool) {
	var wall int
	if _, err := fmt.Sscanf(o.In, "wall %d", &wall); err != nil || wall < 1 || wall > len(r.Footprint) {
		return Vec{}, Vec{}, false
	}
	a, b := r.side(wall)
	right, left := at(a), at(b)
	dir := right.Minus(left).Unit()
	return left.Plus(dir.Times(float64(o.X) / 1000)), left.Plus(dir.Times(float64(o.X+o.Width) / 1000)), true
}

// Title is what people call a space: number and name, else its id.
func (sp *Space) Title() string { return nameOf(sp) }
