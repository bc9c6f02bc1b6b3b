package geometry

import (
	"math"
	"slices"
)

// Carve gives the part of a plane's cells inside a convex outline (counter-clockwise, plan mm) the tag. It does nothing
// and reports false where the outline leaves those cells by more than a millimetre in plan or in height. Earlier carvings
// must be clear of it.
func (e *Envelope) Carve(plane int, outline []Vertex, tag int) bool {
	p := e.planes[plane]
	var mid Vertex
	for _, v := range outline {
		if !e.under(plane, v) {
			return false
		}
		mid.X, mid.Y = mid.X+v.X/float64(len(outline)), mid.Y+v.Y/float64(len(outline))
	}
	if !e.footprint.Contains(Point{round(mid.X), round(mid.Y)}, 0) {
		return false
	}
	slack := min(1, 1/math.Hypot(p.GX, p.GY))
	for i, a := range e.footprint {
		if enters(a, e.footprint[(i+1)%len(e.footprint)], outline, slack) {
			return false
		}
	}
	inside := e.carve(plane, outline)
	if !e.fills(inside, outline, slack) {
		return false
	}
	for _, i := range inside {
		e.cells[i].Tag = tag
	}
	return true
}

// fills says whether cells take up an outline but for a strip of slack along its border. Its corners alone do not tell:
// opposite a valley the cells of a plane are not convex.
func (e *Envelope) fills(cells []int, outline []Vertex, slack float64) bool {
	missing, border := 0.0, 0.0
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		missing += ((a.X-outline[0].X)*(b.Y-outline[0].Y) - (b.X-outline[0].X)*(a.Y-outline[0].Y)) / 2
		border += math.Hypot(b.X-a.X, b.Y-a.Y)
	}
	for _, i := range cells {
		missing -= float64(e.Area(e.cells[i])) * 1e6
	}
	return missing <= border*(slack+0.01)
}

// under says whether a point lies under a plane and not above the rest of the ceiling, or close to where it does.
func (e *Envelope) under(plane int, at Vertex) bool {
	p := e.planes[plane]
	for _, t := range e.terms {
		if !slices.ContainsFunc(t, func(k int) bool {
			o := e.planes[k]
			return p.At(at.X, at.Y)-o.At(at.X, at.Y) <= min(1, math.Hypot(p.GX-o.GX, p.GY-o.GY))+onLine
		}) {
			return false
		}
	}
	return true
}

// enters says whether the stretch from a to b comes farther into a convex outline than slack.
func enters(a, b Point, outline []Vertex, slack float64) bool {
	lo, hi := 0.0, 1.0
	for i, u := range outline {
		v := outline[(i+1)%len(outline)]
		dx, dy := v.X-u.X, v.Y-u.Y
		in := func(p Point) float64 {
			return (dx*(float64(p.Y)-u.Y)-dy*(float64(p.X)-u.X))/math.Hypot(dx, dy) - slack - onLine
		}
		fa, fb := in(a), in(b)
		switch {
		case fa <= 0 && fb <= 0:
			return false
		case fa <= 0:
			lo = max(lo, fa/(fa-fb))
		case fb <= 0:
			hi = min(hi, fa/(fa-fb))
		}
	}
	return lo < hi
}

// carve splits the cells of a tag along a convex outline (counter-clockwise, plan mm) and gives the indices of those
// inside it.
func (m *mesh) carve(tag int, outline []Vertex) []int {
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		dx, dy := b.X-a.X, b.Y-a.Y
		long := math.Hypot(dx, dy)
		d := divider{
			picks:     func(c Cell) bool { return c.Tag == tag },
			value:     make([]float64, len(m.verts)),
			direction: func(Cell) (float64, float64) { return dx, dy },
		}
		for n, v := range m.verts {
			d.value[n] = ((v.X-a.X)*dy - (v.Y-a.Y)*dx) / long // negative on the left: inside
		}
		m.divide(d)
	}
	var inside []int
	for i, c := range m.cells {
		if c.Tag == tag && m.within(c, outline) {
			inside = append(inside, i)
		}
	}
	return inside
}

// within says whether a cell that no side of the convex outline crosses lies in it.
func (m *mesh) within(c Cell, outline []Vertex) bool {
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		far := 0.0
		for _, n := range c.Loop {
			v := m.verts[n]
			if d := (b.X-a.X)*(v.Y-a.Y) - (b.Y-a.Y)*(v.X-a.X); math.Abs(d) > math.Abs(far) {
				far = d
			}
		}
		if far < 0 {
			return false
		}
	}
	return true
}

// Divide cuts an outline that passes Check by convex outlines: inside any of them, and outside all. Corners are rounded to
// the millimetre; pieces that meet in one point only stay apart.
func (p Polygon) Divide(convex ...Polygon) (inside, outside []Region) {
	if p.Clockwise() {
		p = p.Reversed()
	}
	m := newMesh(vertices(p), 0)
	for _, c := range convex {
		if c.Clockwise() {
			c = c.Reversed()
		}
		for _, i := range m.carve(0, vertices(c)) {
			m.cells[i].Tag = 1
		}
	}
	return m.regions(1), m.regions(0)
}

func vertices(p Polygon) []Vertex {
	out := make([]Vertex, len(p))
	for i, c := range p {
		out[i] = Vertex{X: float64(c.X), Y: float64(c.Y)}
	}
	return out
}

// regions joins the cells of a tag. It lets a solid of one face do it, which welds what rounding would fold.
func (m *mesh) regions(tag int) []Region {
	s := Solid{verts: m.verts}
	face := s.Face(Axes{X: Vertex{X: 1}, Y: Vertex{Y: 1}}, false)
	for _, c := range m.cells {
		if c.Tag == tag {
			s.Ring(face, c.Loop...)
		}
	}
	s.Weld()
	var out []Region
	for _, part := range s.Parts(face) {
		out = append(out, part.Region)
	}
	return out
}
