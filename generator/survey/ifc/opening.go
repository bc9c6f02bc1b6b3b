package ifc

import (
	"math"
	"slices"

	"lapwork/generator/survey"
)

// innerLoops makes an opening of each hole in a boundary. Which window it is follows from the wall's openings.
func (b *builder) innerLoops(x *boundary, f *survey.Face, p survey.Poly) {
	for _, hole := range p.Holes {
		o := &survey.Opening{ID: f.ID, Kind: "inner loop", Loop: hole, Pos: f.Pos}
		at := centre(hole)
		for _, v := range b.rel.voids[x.about.id] {
			e := b.elements[v.id]
			if e != nil && e.solid && at.Minus(e.low.Plus(e.top).Times(0.5)).Length() < 1 {
				b.name(o, e, f)
				e.used = true
				break
			}
		}
		if o.As == "" {
			o.As = "window"
			b.openf(x.rec, "say what the opening is", "a hole in the boundary belongs to no window or door of the wall; it was taken as a window")
		}
		f.Openings = append(f.Openings, o)
	}
}

// name takes an opening's words from what fills the hole, or from the hole itself.
func (b *builder) name(o *survey.Opening, hole *element, f *survey.Face) {
	e := hole
	if filler := b.elements[b.rel.filled[hole.rec.id].id]; filler != nil {
		e = filler
	}
	o.ID, o.Name, o.Kind, o.Pos = e.rec.arg(0).word, e.name, word(e.rec.kind), b.pos(e.rec.at)
	switch {
	case isA(e.rec.kind, doorKinds):
		o.As = "door"
	case isA(e.rec.kind, windowKinds) && math.Abs(f.Poly.AreaVector().Unit().Z) > 0.5:
		o.As = "roof-window"
	case isA(e.rec.kind, windowKinds):
		o.As = "window"
	default:
		o.As = "air"
	}
}

// innerBoundary puts the boundary of a window or door on the face it lies in: its parent, or the face of its space that
// holds it. A hole that stands there already is the same opening.
func (b *builder) innerBoundary(x *boundary, parent *boundary) {
	if len(x.polys) == 0 {
		return
	}
	loop := x.polys[0].Loop
	var f *survey.Face
	if parent != nil {
		f = parent.face
	}
	if f == nil {
		f = b.under(x.space, loop)
	}
	e := b.elements[x.about.id]
	if f == nil || e == nil {
		b.openf(x.rec, "put the opening into the job by hand", "the boundary lies in no face of space %q", x.space.out.Number)
		return
	}
	hole := b.elements[b.rel.hole[x.about.id].id]
	if hole != nil {
		hole.used = true
	}
	for _, o := range f.Openings {
		if centre(o.Loop).Minus(centre(loop)).Length() < 0.05 {
			b.name(o, e, f)
			return
		}
	}
	o := &survey.Opening{Loop: loop}
	b.name(o, e, f)
	f.Openings = append(f.Openings, o)
}

// under finds the face of a space that a loop lies in: parallel, closest, its middle inside. Where walls were written with
// doors cut out of their outline, it is the face in the same plane that the loop touches.
func (b *builder) under(s *space, loop []vec) *survey.Face {
	n := (survey.Poly{Loop: loop}).AreaVector().Unit()
	at := centre(loop)
	var best, beside *survey.Face
	near, touch := 0.5, 0.05
	for _, f := range b.b.Faces {
		if !slices.Contains(f.Spaces, s.out) {
			continue
		}
		fn := f.Poly.AreaVector().Unit()
		off := at.Minus(f.Poly.Loop[0]).Dot(fn)
		d := math.Abs(off)
		if math.Abs(fn.Dot(n)) < 0.99 || d > 0.5 {
			continue
		}
		if d < near && covers(f.Poly.Loop, at.Minus(fn.Times(off)), fn) {
			best, near = f, d
		} else if gap := max(d, apart(f.Poly.Loop, loop)); gap < touch {
			beside, touch = f, gap
		}
	}
	if best == nil {
		return beside
	}
	return best
}

// apart is how far the nearest corner of a loop lies from the border of another.
func apart(border, loop []vec) float64 {
	nearest := math.Inf(1)
	for i, a := range border {
		along := border[(i+1)%len(border)].Minus(a)
		for _, p := range loop {
			t := min(1, max(0, p.Minus(a).Dot(along)/max(along.Dot(along), 1e-12)))
			nearest = min(nearest, p.Minus(a.Plus(along.Times(t))).Length())
		}
	}
	return nearest
}

// centre is the middle of a loop's box.
func centre(loop []vec) vec {
	low, top := box([]survey.Poly{{Loop: loop}})
	return low.Plus(top).Times(0.5)
}

// throughWall is how far, in metres, a hole's body may end before a face and still belong to it.
const throughWall = 0.1

// placeOpenings puts holes that no boundary mentions on the faces they go through.
func (b *builder) placeOpenings() {
	faces := b.faceGrid()
	for _, e := range b.order {
		if e.used || !isA(e.rec.kind, voidKinds) {
			continue
		}
		filler := b.elements[b.rel.filled[e.rec.id].id]
		if filler == nil && (e.niche || b.taken(e)) {
			continue // a niche, or where another part stands in this one
		}
		if r, ok := b.get(value{kind: ref, id: e.rec.id}); ok && e.solid {
			e.body = b.shape(r, e.place)
		} else if filler != nil {
			e.body = filler.overall()
			e.low, e.top = box(e.body)
		}
		placed := 0
		for _, i := range faces.near(e.low, e.top, throughWall) {
			f := b.b.Faces[i]
			if n := f.Poly.AreaVector().Unit(); b.passes(e, f, n) {
				b.place(e, filler, f, n)
				placed++
			}
		}
		e.body = nil
		switch {
		case placed > 0 || len(b.spaces) == 0:
		case filler != nil:
			b.notef(filler.rec, "%s %q lies in no face of a room", survey.Said{Pattern: word(filler.rec.kind)}, filler.name)
		default:
			b.notef(e.rec, "the opening %q lies in no face of a room and holds no window or door", e.name)
		}
	}
}

// taken says whether another wall, slab or roof stands in a hole: drawing programs cut one part out of another that way.
func (b *builder) taken(hole *element) bool {
	at := hole.low.Plus(hole.top).Times(0.5)
	host := b.rel.host[hole.rec.id].id
	return slices.ContainsFunc(b.places.near(at, at, 0), func(i int) bool {
		e := b.order[i]
		return e.rec.id != host && isA(e.rec.kind, wallKinds, slabKinds, roofKinds) && inBox(at, e.low, e.top, 0) && within(e.body, at)
	})
}

// within says whether a point lies in a body: a line upwards from it leaves the body an odd number of times.
func within(body []survey.Poly, at vec) bool {
	in := false
	for _, f := range body {
		n := f.AreaVector().Unit()
		if math.Abs(n.Z) < 1e-6 {
			continue
		}
		d := f.Loop[0].Minus(at).Dot(n) / n.Z
		up := at.Plus(vec{Z: d})
		if d > 0 && covers(f.Loop, up, n) && !slices.ContainsFunc(f.Holes, func(h []vec) bool { return covers(h, up, n) }) {
			in = !in
		}
	}
	return in
}

// passes says whether a hole goes through a face: its body reaches the plane, and its middle lies inside the outline.
func (b *builder) passes(e *element, f *survey.Face, n vec) bool {
	if len(e.body) == 0 || f.Behind == survey.Nothing {
		return false
	}
	near, farther := math.Inf(1), math.Inf(-1)
	for _, p := range e.body {
		for _, v := range p.Loop {
			d := v.Minus(f.Poly.Loop[0]).Dot(n)
			near, farther = min(near, d), max(farther, d)
		}
	}
	if near > throughWall || farther < -throughWall || farther-near > 1.5 && math.Abs(n.Z) < 0.5 {
		return false
	}
	at := e.low.Plus(e.top).Times(0.5)
	at = at.Minus(n.Times(at.Minus(f.Poly.Loop[0]).Dot(n)))
	return covers(f.Poly.Loop, at, n) && !slices.ContainsFunc(f.Poly.Holes, func(h []vec) bool { return covers(h, at, n) })
}

// place adds the opening to a face, as the rectangle of its body seen along the face's normal.
func (b *builder) place(e, filler *element, f *survey.Face, n vec) {
	if filler == nil && f.Behind != survey.Inside && len(f.Spaces) < 2 {
		b.openf(e.rec, "say what the opening is, and close it in the job", "the opening %q in the envelope of space %q holds no window or door", e.name, f.Spaces[0].Number)
		return
	}
	o := &survey.Opening{Loop: shadow(e.body, f.Poly.Loop[0], n)}
	b.name(o, e, f)
	f.Openings = append(f.Openings, o)
}

// shadow is the rectangle of a body in the plane through o, level at its foot where the plane is not level itself.
func shadow(body []survey.Poly, o, n vec) []vec {
	m := matrix{z: n, o: o}
	m.orthogonal(vec{Z: 1}.Cross(n))
	if math.Abs(n.Z) > 0.999 {
		m.orthogonal(vec{X: 1})
	}
	low, top := box([]survey.Poly{{Loop: flatten(body, m)}})
	return m.loop(flat(low.X, low.Y, top.X, low.Y, top.X, top.Y, low.X, top.Y))
}

// flatten gives the corners of a body in the axes of a plane.
func flatten(body []survey.Poly, m matrix) []vec {
	var out []vec
	for _, p := range body {
		for _, v := range p.Loop {
			d := v.Minus(m.o)
			out = append(out, vec{X: d.Dot(m.x), Y: d.Dot(m.y)})
		}
	}
	return out
}

// overall is a window or door as a box of its overall height and width (attributes 9 and 10), where its hole has no body:
// the placement stands at its lower left corner, x along the wall.
func (e *element) overall() []survey.Poly {
	h, w := e.height, e.width
	if h <= 0 || w <= 0 {
		return nil
	}
	const deep = 0.2
	m := e.place
	m.o = m.at(vec{Y: -deep / 2})
	return m.polys(prism(region(flat(0, 0, w, 0, w, deep, 0, deep)), vec{Z: h}))
}
