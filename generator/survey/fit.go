package survey

import (
	"fmt"
	"math"
	"slices"

	"lapwork/generator/geometry"
	q "lapwork/generator/quantity"
)

// lowestRoom is the least height of a room in the job format.
const lowestRoom q.MM = 300

// fitAll makes rooms of all spaces.
func (s *surveyor) fitAll() {
	outside := 0
	for _, sp := range s.Building.Spaces {
		if sp.External {
			outside++
			continue
		}
		s.Rooms = append(s.Rooms, s.fit(sp)...)
	}
	if outside > 0 {
		s.Skipped = append(s.Skipped, Left{What: plural(outside, "space", "spaces"), Reason: "no rooms of the building: plot, terrace or a sum of rooms"})
	}
}

// fit makes the rooms of a space: one, or several where its floor is in pieces or rings a core.
func (s *surveyor) fit(sp *Space) []*Room {
	form, basis, ok := s.formOf(sp)
	switch {
	case basis == FromShape:
		return s.fromShape(sp)
	case !ok:
		return s.fromOutline(sp)
	}
	tops, floors := split(form)
	z := s.floorHeight(sp, floors)
	parts := s.footprints(sp, floors)
	if len(parts) == 0 {
		parts = s.footprints(sp, tops)
	}
	if len(parts) == 0 {
		return s.fromOutline(sp)
	}
	s.form[sp] = form
	c := ceilingOf(tops, z)
	return s.rooms(sp, parts, basis, z, func(rooms []*Room) Said { return c.cover(rooms, form) })
}

// formOf picks what gives a space's form. Faces that do not close serve too where floor and ceiling cover each other.
func (s *surveyor) formOf(sp *Space) (body, Basis, bool) {
	if len(sp.Body) > 0 {
		b := bodyOf(sp.Body)
		if b.closed {
			s.all.add(b.fixed)
			return b, FromBody, true
		}
		s.Found.Notef(sp.Pos, sp.ID, "space %s: its body does not close (%.2f m² are missing, %.1f m³ enclosed) and was not used", sp.ID, b.open, b.volume)
	}
	if sp.Shape != nil {
		return body{}, FromShape, true
	}
	var faces []Poly
	for _, f := range s.original[sp] {
		p := f.Poly
		if f.Spaces[0] != sp { // loops run round as seen from beyond the first space
			p = p.turned()
		}
		faces = append(faces, p)
	}
	b := bodyOf(faces)
	if b.closed {
		s.all.add(b.fixed)
		return b, FromFaces, true
	}
	b.level()
	tops, floors := split(b)
	up, down := planArea(tops), planArea(floors)
	b.volume = 0
	if down > 0 && math.Abs(up-down) <= 0.02*down {
		s.all.add(b.fixed)
		s.Found.Notef(sp.Pos, sp.ID, "space %s: the faces round it do not close; footprint and ceiling were taken from floor and ceiling faces, walls between them as upright", sp.ID)
		return b, FromFaces, true
	}
	return b, FromFaces, false
}

// level turns the near-level faces of a body that does not close: those in its lower half look down, the others up.
func (b *body) level() {
	low, high := math.Inf(1), math.Inf(-1)
	for _, f := range b.faces {
		for _, v := range f.Loop {
			low, high = min(low, v.Z), max(high, v.Z)
		}
	}
	for i, f := range b.faces {
		up := f.vector().Unit().Z
		if below := middle(f.Loop).Z < (low+high)/2; math.Abs(up) > steepest && below == (up > 0) {
			b.faces[i] = f.turned()
		}
	}
}

// Faces count as floor or ceiling by the vertical part of their normal. A ceiling may be steep, a floor is level but for
// ramps.
const (
	steepest  = 0.05 // of a slope: 87 degrees
	flatFloor = 0.7
)

// split gives the faces that look up out of a body, hence lie over the room, and the floors.
func split(b body) (tops, floors []Poly) {
	for _, f := range b.faces {
		switch n := f.vector().Unit(); {
		case n.Z > steepest:
			tops = append(tops, f)
		case n.Z < -flatFloor:
			floors = append(floors, f)
		}
	}
	return tops, floors
}

func planArea(faces []Poly) float64 {
	sum := 0.0
	for _, f := range faces {
		sum += math.Abs(f.vector().Z)
	}
	return sum
}

// floorHeight is the height of the largest part of the floor.
func (s *surveyor) floorHeight(sp *Space, floors []Poly) float64 {
	z, largest, low, high := 0.0, 0.0, math.Inf(1), math.Inf(-1)
	for _, f := range floors {
		m := middle(f.Loop).Z
		low, high = min(low, m), max(high, m)
		same := 0.0
		for _, g := range floors {
			if math.Abs(middle(g.Loop).Z-m) < 0.01 {
				same += math.Abs(g.vector().Z)
			}
		}
		if same > largest {
			z, largest = m, same
		}
	}
	if high-low > 0.02 {
		s.Found.Openf(sp.Pos, sp.ID, "divide the room, or check heights on site", "space %s: its floor lies on several levels from %.3f to %.3f m; the largest, %.3f m, was taken for all", sp.ID, low, high, z)
	}
	return z
}

// footprints joins faces in plan to outlines without holes, greatest first.
func (s *surveyor) footprints(sp *Space, faces []Poly) []geometry.Polygon {
	var flat []geometry.Region
	for _, f := range faces {
		flat = append(flat, flatten(f))
	}
	joined := overlay(func(in []bool) bool { return in[0] }, flat)
	if len(joined) > 1 || len(joined) == 1 && len(joined[0].Holes) > 0 {
		if snapped, gap := closeGaps(faces); gap > 0 {
			flat = flat[:0]
			for _, f := range snapped {
				flat = append(flat, flatten(f))
			}
			joined = overlay(func(in []bool) bool { return in[0] }, flat)
			s.all.widestGap = max(s.all.widestGap, gap)
		}
	}
	var out []geometry.Polygon
	for _, r := range joined {
		for _, p := range s.unring(sp, r) {
			p = tidy(p, 1)
			if flaw := p.Check(); flaw != nil || p.Area() < 0.05 {
				if p.Area() >= 0.05 {
					s.Found.Openf(sp.Pos, sp.ID, "draw the room in the job", "space %s: a part of its floor of %.2f m² has no outline that can be used; it was left out", sp.ID, float64(p.Area()))
				}
				continue
			}
			out = append(out, fromLowerLeft(p))
		}
	}
	return out
}

// fromLowerLeft starts an outline at its lowest corner, the leftmost of those within a hand's breadth, so that wall 1 of a
// rectangle is its lower one, as in rooms that people write.
func fromLowerLeft(p geometry.Polygon) geometry.Polygon {
	const level q.MM = 100
	low := p.Bounds().Min.Y
	best := -1
	for i, c := range p {
		if c.Y <= low+level && (best < 0 || c.X < p[best].X || c.X == p[best].X && c.Y < p[best].Y) {
			best = i
		}
	}
	return append(slices.Clone(p[best:]), p[:best]...)
}

// flatten is a face in plan.
func flatten(f Poly) geometry.Region {
	flat := func(loop []Vec) geometry.Polygon {
		out := make(geometry.Polygon, len(loop))
		for i, v := range loop {
			out[i] = geometry.Point{X: millimetres(v.X), Y: millimetres(v.Y)}
		}
		return tidy(out, 0)
	}
	r := geometry.Region{Outer: flat(f.Loop)}
	for _, h := range f.Holes {
		r.Holes = append(r.Holes, flat(h))
	}
	return r
}

// unring cuts a floor that rings a core into parts without holes, each along a line through a hole's middle. The cuts
// become faces that nothing stands in.
func (s *surveyor) unring(sp *Space, r geometry.Region) []geometry.Polygon {
	var hole geometry.Polygon
	for _, h := range r.Holes {
		if h.Area() >= 0.01 && (hole == nil || h.Area() > hole.Area()) {
			hole = h
		}
	}
	if hole == nil {
		return []geometry.Polygon{r.Outer}
	}
	box, all := hole.Bounds(), r.Outer.Bounds()
	x := (box.Min.X + box.Max.X) / 2
	s.bySpace[sp] = append(s.bySpace[sp], &Face{ID: "cut", Kind: "cut", Role: WallFace, Behind: Nothing, Spaces: []*Space{sp}, Poly: Poly{Loop: []Vec{
		{float64(x) / 1000, float64(all.Min.Y) / 1000, -1000}, {float64(x) / 1000, float64(all.Max.Y) / 1000, -1000},
		{float64(x) / 1000, float64(all.Max.Y) / 1000, 1000}, {float64(x) / 1000, float64(all.Min.Y) / 1000, 1000}}}})
	var out []geometry.Polygon
	for _, half := range []geometry.Polygon{
		geometry.Rect(all.Min.X-10, all.Min.Y-10, x-all.Min.X+10, all.Height()+20),
		geometry.Rect(x, all.Min.Y-10, all.Max.X-x+10, all.Height()+20),
	} {
		for _, part := range common([]geometry.Region{r}, plain([]geometry.Polygon{half})) {
			out = append(out, s.unring(sp, part)...)
		}
	}
	return out
}

// rooms makes a room of each part; cover gives them a ceiling and says why it is not the file's own.
func (s *surveyor) rooms(sp *Space, parts []geometry.Polygon, basis Basis, z float64, cover func([]*Room) Said) []*Room {
	var out []*Room
	for i, p := range parts {
		r := &Room{Name: nameOf(sp), Space: sp, Footprint: p, Heated: sp.Heated != NotHeated, WetRoom: sp.WetRoom, Basis: basis, floor: z}
		if len(parts) > 1 {
			r.Name = fmt.Sprintf("%s (part %d of %d)", r.Name, i+1, len(parts))
		}
		out = append(out, r)
	}
	reason := cover(out)
	for _, r := range out {
		if r.Height > 0 && r.Height < lowestRoom || r.Height == 0 && len(r.Slopes) == 0 {
			s.Skipped = append(s.Skipped, Left{What: fmt.Sprintf("space %s, %s", sp.ID, nameOf(sp)), Reason: fmt.Sprintf("it is %d mm high, less than the %d mm of a room", r.Height, lowestRoom)})
			s.Found.Openf(sp.Pos, sp.ID, "draw it in the job if it is a room", "space %s (%s) is %d mm high and was left out", sp.ID, nameOf(sp), r.Height)
			return nil
		}
	}
	if reason.Is() {
		for _, r := range out {
			r.Prism = reason
		}
		s.Found.Openf(sp.Pos, sp.ID, "correct the ceiling of its room in the job", "space %s (%s): %s; a flat ceiling of the same volume was put over it, %d mm high",
			sp.ID, nameOf(sp), reason, out[0].Height)
	}
	if len(parts) > 1 {
		s.Found.Notef(sp.Pos, sp.ID, "space %s (%s) became %d rooms: its floor is in pieces or goes round a core", sp.ID, nameOf(sp), len(parts))
	}
	for _, r := range out {
		r.measure()
		s.kinds(r)
	}
	return out
}

func nameOf(sp *Space) string {
	switch {
	case sp.Number != "" && sp.Name != "":
		return sp.Number + " " + sp.Name
	case sp.Name != "":
		return sp.Name
	case sp.Number != "":
		return sp.Number
	}
	return sp.ID
}

// bySpace are the faces on the border of each space.
func bySpace(faces []*Face) map[*Space][]*Face {
	out := map[*Space][]*Face{}
	for _, f := range faces {
		for i, sp := range f.Spaces {
			if bounds(f, sp) && !slices.Contains(f.Spaces[:i], sp) {
				out[sp] = append(out[sp], f)
			}
		}
	}
	return out
}
