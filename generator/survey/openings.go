package survey

import (
	"fmt"
	"math"

	"lapwork/generator/geometry"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
	"lapwork/generator/sorting"
)

// What the job format takes as an opening.
const (
	leastOpening q.MM = 100
	mostOpening  q.MM = 20_000
	clipsQuietly q.MM = 20 // a wall's own thickness moves its ends by more; that is said
)

// openings places the openings of all faces that bound the heated volume; the others are counted.
func (s *surveyor) openings() {
	rooms := map[*Space][]*Room{}
	for _, r := range s.Rooms {
		rooms[r.Space] = append(rooms[r.Space], r)
	}
	inside, done := 0, map[*Opening]bool{}
	for _, f := range s.Building.Faces {
		for _, o := range f.Openings {
			if done[o] {
				continue
			}
			done[o] = true
			sp := heatedSide(f)
			if sp == nil || o.As == "air" {
				inside++
				continue
			}
			if len(rooms[sp]) == 0 {
				s.Skipped = append(s.Skipped, Left{What: "opening " + o.ID, Reason: "its room was left out"})
				continue
			}
			s.place(o, f, rooms[sp])
		}
		for _, p := range f.Penetrations {
			if sp := heatedSide(f); sp != nil && len(rooms[sp]) > 0 {
				s.pierce(p, f, rooms[sp])
			}
		}
	}
	if inside > 0 {
		s.Skipped = append(s.Skipped, Left{What: plural(inside, "opening", "openings"), Reason: "in faces inside the heated volume, or holes between rooms"})
	}
	s.clippedWords()
}

// heatedSide is the heated space whose border a face is part of; nil for a face inside the heated volume or outside it.
func heatedSide(f *Face) *Space {
	for _, sp := range f.Spaces {
		if sp.Heated != NotHeated && bounds(f, sp) && (Kind{Behind: f.behind(sp)}).Bounds() {
			return sp
		}
	}
	return nil
}

// spot is a place for a rectangle on a surface of a room.
type spot struct {
	room          *Room
	in            string
	x, y, w, h    q.MM
	width, height q.MM // of the surface at the place
	off           float64
	over          float64 // how much of the rectangle lies on it, m
}

// place puts an opening on the best surface of the rooms of a space.
func (s *surveyor) place(o *Opening, f *Face, rooms []*Room) {
	loop := cleanLoop(o.Loop)
	best := spot{off: math.Inf(1)}
	if len(loop) >= 3 {
		for _, r := range rooms {
			if at, ok := r.spot(loop, f); ok && (best.room == nil || at.over > best.over+0.01 || at.over > best.over-0.01 && at.off < best.off) {
				best = at
			}
		}
	}
	if best.room == nil {
		s.drop(o, Say("it lies on no surface of its room"))
		return
	}
	s.boxed(o, loop, best)
	x, y, w, h := best.x, best.y, best.w, best.h
	best.clip()
	best, on := best.room.inside(best)
	if !on {
		s.drop(o, Say("the outline of %s of room %s runs through it", best.in, best.room.ID))
		return
	}
	if lost := w*h - best.w*best.h; best.w < leastOpening || best.h < leastOpening {
		s.drop(o, Say("%d x %d mm of it lie on %s of room %s", best.w, best.h, best.in, best.room.ID))
		return
	} else if lost > 0 && (max(best.x-x, x+w-best.x-best.w) > clipsQuietly || max(best.y-y, y+h-best.y-best.h) > clipsQuietly) {
		s.clipped = append(s.clipped, o.ID)
	}
	if best.w > mostOpening || best.h > mostOpening {
		s.drop(o, Say("it is larger than 20 m"))
		return
	}
	r := best.room
	for _, other := range r.Openings {
		if other.In == best.in && other.X < best.x+best.w && best.x < other.X+other.Width && other.Y < best.y+best.h && best.y < other.Y+other.Height {
			s.drop(o, Say("it overlaps opening %s on %s of room %s", other.Source, best.in, r.ID))
			return
		}
	}
	kind := o.As
	if kind == "roof-window" && best.in[0] == 'w' {
		kind = "window"
	}
	r.Openings = append(r.Openings, RoomOpening{ID: job.OpeningID(fmt.Sprintf("O%d", len(r.Openings)+1)), Source: o.ID, Kind: kind, In: best.in,
		X: best.x, Y: best.y, Width: best.w, Height: best.h, Reveal: o.Reveal})
}

func (s *surveyor) drop(o *Opening, why Said) {
	s.Skipped = append(s.Skipped, Left{What: "opening " + o.ID, Reason: why.String()})
	s.Found.Openf(o.Pos, o.ID, "place it in the job", "opening %s was left out: %s", o.ID, why)
}

// boxed says where an opening is no rectangle.
func (s *surveyor) boxed(o *Opening, loop []Vec, at spot) {
	area, box := areaVector(loop).Length(), float64(at.w)*float64(at.h)/1e6
	if box-area > 0.02*box && box-area > 0.01 {
		s.Found.Notef(o.Pos, o.ID, "opening %s is no rectangle (%.2f m²); its bounding rectangle of %.2f m² was taken", o.ID, area, box)
	}
}

func (s *surveyor) clippedWords() {
	if n := len(s.clipped); n > 0 {
		s.Found.Openf(s.top(), "", "check their places on site", "%s beyond the surface of the room, cut to it (%s)", Things(n, "opening reaches", "openings reach"), some(s.clipped))
	}
}

// clip cuts a spot to its surface.
func (p *spot) clip() {
	x0, y0 := max(0, p.x), max(0, p.y)
	x1, y1 := min(p.width, p.x+p.w), min(p.height, p.y+p.h)
	p.x, p.y, p.w, p.h = x0, y0, x1-x0, y1-y0
}

// spot finds where a loop lies on a room's surfaces: on a wall, a slope, the ceiling or the floor.
func (r *Room) spot(loop []Vec, f *Face) (spot, bool) {
	n := f.Poly.vector().Unit()
	if math.Abs(n.Z) <= 0.35 {
		return r.wallSpot(loop)
	}
	if i := alike(n, r.planes(), r); i >= 0 {
		return r.slopeSpot(loop, i)
	}
	return r.levelSpot(loop)
}

func (r *Room) wallSpot(loop []Vec) (spot, bool) {
	best := spot{off: math.Inf(1)}
	probe := &Face{Poly: Poly{Loop: loop}}
	for i := range r.Footprint {
		a, b := r.side(i + 1)
		from, to := at(a), at(b)
		dir, long := to.Minus(from).Unit(), to.Minus(from).Length()
		out := Vec{dir.Y, -dir.X, 0}
		h, ok := meets(probe, from, dir, out, long)
		if !ok {
			continue
		}
		over, off := h.to-h.from, math.Abs(h.off)
		if over < best.over-0.01 || over < best.over+0.01 && off >= best.off {
			continue
		}
		left, right := math.Inf(1), math.Inf(-1) // along the wall from its left end, which is b
		for _, v := range loop {
			t := long - v.Minus(from).Dot(dir)
			left, right = min(left, t), max(right, t)
		}
		p := spot{room: r, in: fmt.Sprintf("wall %d", i+1), over: over, off: off, width: q.MM(long * 1000)}
		p.x, p.w = millimetres(left), millimetres(right-left)
		p.y, p.h = millimetres(h.low-r.floor), millimetres(h.high-h.low)
		x0, x1 := max(0, float64(p.x)/1000), min(long, float64(p.x+p.w)/1000)
		p.height = q.MM(min(r.over(to.Plus(dir.Times(-x0))), r.over(to.Plus(dir.Times(-x1)))))
		best = p
	}
	return best, best.room != nil
}

// over is the height of the ceiling over a place in plan, in mm over the floor.
func (r *Room) over(v Vec) float64 {
	low := math.Inf(1)
	for _, p := range r.planes() {
		low = min(low, p.At(v.X*1000, v.Y*1000))
	}
	return low
}

func (r *Room) slopeSpot(loop []Vec, slope int) (spot, bool) {
	s := r.Slopes[slope]
	a, b := r.side(s.Edge)
	from, to := at(a), at(b)
	dir, long := to.Minus(from).Unit(), to.Minus(from).Length()
	in := Vec{-dir.Y, dir.X, 0}
	cos := math.Cos(float64(s.Pitch) * math.Pi / 180)
	p := spot{room: r, in: fmt.Sprintf("slope %d", slope+1), over: long}
	left, right, low, high := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, v := range loop {
		d := v.Minus(from)
		left, right = min(left, long-d.Dot(dir)), max(right, long-d.Dot(dir))
		low, high = min(low, d.Dot(in)/cos), max(high, d.Dot(in)/cos)
	}
	p.x, p.w, p.y, p.h = millimetres(left), millimetres(right-left), millimetres(low), millimetres(high-low)
	p.width, p.height = q.MM(long*1000), max(0, p.y+p.h) // the slope's own outline says more
	return p, true
}

func (r *Room) levelSpot(loop []Vec) (spot, bool) {
	box := r.Footprint.Bounds()
	p := spot{room: r, in: "ceiling", width: box.Width(), height: box.Height(), over: 1}
	if middle(loop).Z < r.floor+r.top()/2 {
		p.in = "floor"
	} else if r.Height == 0 {
		return p, false
	}
	left, right, low, high := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, v := range loop {
		left, right, low, high = min(left, v.X), max(right, v.X), min(low, v.Y), max(high, v.Y)
	}
	p.x, p.w = millimetres(left)-box.Min.X, millimetres(right-left)
	p.y, p.h = millimetres(low)-box.Min.Y, millimetres(high-low)
	if mid := middle(loop); !holds(r.Footprint, mid.X*1000, mid.Y*1000) {
		p.over = 0
	}
	return p, true
}

func at(p geometry.Point) Vec { return Vec{float64(p.X) / 1000, float64(p.Y) / 1000, 0} }

// pierce places a penetration on the best surface of the rooms of a space.
func (s *surveyor) pierce(p *Penetration, f *Face, rooms []*Room) {
	n := f.Poly.vector().Unit()
	flat := planeOf(f.Poly)
	const half = 0.005 // a square of a centimetre stands for the point
	loop := []Vec{p.At.Plus(flat.u.Times(-half)).Plus(flat.v.Times(-half)), p.At.Plus(flat.u.Times(half)).Plus(flat.v.Times(-half)),
		p.At.Plus(flat.u.Times(half)).Plus(flat.v.Times(half)), p.At.Plus(flat.u.Times(-half)).Plus(flat.v.Times(half))}
	var found []spot
	for _, r := range rooms {
		if at, ok := r.spot(loop, f); ok {
			found = append(found, at)
		}
	}
	sorting.StableFunc(found, func(a, b spot) int { return int(math.Copysign(1, a.off-b.off)) })
	if len(found) == 0 || n.Length() == 0 {
		s.Found.Openf(p.Pos, p.ID, "place it in the job", "penetration %s was left out: it lies on no surface of its room", p.ID)
		s.Skipped = append(s.Skipped, Left{What: "penetration " + p.ID, Reason: "it lies on no surface of its room"})
		return
	}
	r := found[0].room
	x := min(max(0, found[0].x+found[0].w/2), found[0].width)
	y := min(max(0, found[0].y+found[0].h/2), found[0].height)
	r.Holes = append(r.Holes, RoomHole{ID: job.PenetrationID(fmt.Sprintf("P%02d", len(r.Holes)+1)), Source: p.ID, Item: p.Item, In: found[0].in,
		X: x, Y: y, Diameter: p.Diameter, Width: p.Width, Height: p.Height, Serves: p.Name})
}
