package surface

import (
	"lapwork/generator/diag"
	"lapwork/generator/geometry"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// Derive makes every surface and edge of a job. A room whose data give no body gets a finding and an empty shape, so
// that Rooms stays in step with the job's rooms.
func Derive(j *job.Job, found *diag.List) *Model {
	m := &Model{Job: j, ByID: map[job.SurfaceID]*Surface{}, byRoom: map[*job.Room]*RoomShape{}}
	for _, r := range j.Rooms {
		s := deriveRoom(r, found)
		m.Rooms = append(m.Rooms, s)
		m.byRoom[s.Room] = s
		for _, f := range s.Surfaces {
			m.ByID[f.ID] = f
		}
	}
	for _, s := range m.Rooms {
		if len(s.Surfaces) > 0 {
			s.place(found)
			s.netRuns()
		}
	}
	m.overlaps(found)
	m.Total = totals(m)
	return m
}

func deriveRoom(r *job.Room, found *diag.List) *RoomShape {
	shape := &RoomShape{Room: r}
	b := &builder{room: r, found: found}
	if !b.checkFootprint() || !b.checkCeiling() {
		return shape
	}
	if !b.cover() || !b.checkCover() {
		return shape
	}
	b.carveDormers()
	b.panels()
	b.assemble()
	shape.Surfaces, shape.Edges = b.surfaces()
	shape.FloorArea = b.outline.Area()
	for _, c := range b.env.Cells() {
		shape.Volume += b.env.Volume(c, b.plane(c.Tag))
	}
	return shape
}

// builder makes the shape of one room. Heights are over the room's floor until they reach the solid.
type builder struct {
	room    *job.Room
	found   *diag.List
	faults  int
	outline geometry.Polygon // the footprint counter-clockwise
	planes  []geometry.Plane
	slopeOf []int // by plane: the slope's number, 0 for the flat ceiling
	env     *geometry.Envelope
	dormers []dormer
	solid   geometry.Solid
	faces   []panel // by face of the solid
	at      struct{ wall, slope, dormer []int }
	flat    int
	floor   int
}

// side is the outline's side of a footprint edge.
func (b *builder) side(edge int) int {
	n := len(b.outline)
	if b.turned() {
		return (2*n - 1 - edge) % n
	}
	return edge - 1
}

func (b *builder) turned() bool { return corners(b.room).Clockwise() }

// ends gives the ends of a side, counter-clockwise: seen from inside, to is the left one.
func (b *builder) ends(side int) (from, to geometry.Point) {
	return b.outline[side], b.outline[(side+1)%len(b.outline)]
}

func corners(r *job.Room) geometry.Polygon {
	p := make(geometry.Polygon, len(r.Footprint))
	for i, c := range r.Footprint {
		p[i] = geometry.Point{X: c.X, Y: c.Y}
	}
	return p
}

// cover makes the envelope of the flat ceiling and the slopes.
func (b *builder) cover() bool {
	c := b.room.Ceiling
	var sides []int
	if c.Height > 0 {
		b.planes, b.slopeOf, sides = append(b.planes, geometry.Flat(c.Height)), append(b.slopeOf, 0), append(sides, -1)
	}
	for i, s := range c.Slopes {
		side := b.side(s.Edge)
		from, to := b.ends(side)
		b.planes = append(b.planes, geometry.Rising(from, to, s.Height, s.Pitch))
		b.slopeOf, sides = append(b.slopeOf, i+1), append(sides, side)
	}
	terms, ok := geometry.Valleys(b.outline, sides)
	if !ok {
		b.fault(orPos(c.Pos, b.room.Pos), "divide the room in two", "too many slopes meet in its valleys")
		return false
	}
	b.env = geometry.NewEnvelope(b.outline, b.planes, terms...)
	return true
}

// plane is what a cell lies under: a plane of the envelope, or a dormer's top.
func (b *builder) plane(tag int) geometry.Plane {
	if d := tag - len(b.planes); d >= 0 {
		return geometry.Flat(b.dormers[d].Height)
	}
	return b.planes[tag]
}

// planeOf is the plane of a slope.
func (b *builder) planeOf(slope int) int {
	for i, s := range b.slopeOf {
		if s == slope {
			return i
		}
	}
	return -1
}

// base is the room's floor over the job's datum.
func (b *builder) base() q.MM {
	if b.room.Storey == nil {
		return b.room.FloorOffset
	}
	return b.room.Storey.Level + b.room.FloorOffset
}
