package gbxml

import (
	"math"

	"lapwork/generator/survey"
)

// loop reads a PolyLoop, lengths in the given unit. A bad coordinate drops its point with a finding.
func (r *reader) loop(n *node, unit float64) []survey.Vec {
	unit = r.unitOf(n, unit, 1)
	var out []survey.Vec
	for _, p := range n.all("CartesianPoint") {
		if v, ok := r.point(p, unit); ok {
			out = append(out, v)
		}
	}
	return out
}

func (r *reader) point(n *node, unit float64) (survey.Vec, bool) {
	unit = r.unitOf(n, unit, 1)
	var c [3]float64
	at := n.all("Coordinate")
	if len(at) < 2 || len(at) > 3 {
		r.b.Found.Openf(n.pos, "", "correct the point in the file", "a point has %d coordinates; it was left out", len(at))
		return survey.Vec{}, false
	}
	for i, x := range at {
		f, ok := r.number(x)
		if !ok {
			return survey.Vec{}, false
		}
		c[i] = f * unit
	}
	v := survey.Vec{X: c[0], Y: c[1], Z: c[2]}
	if !v.Finite() {
		r.b.Found.Openf(n.pos, "", "check the unit of length", "a point lies more than 10 km from zero; it was left out")
		return survey.Vec{}, false
	}
	return v, true
}

// planar reads PlanarGeometry; nil for none.
func (r *reader) planar(n *node) []survey.Vec {
	g := n.child("PlanarGeometry")
	if g == nil {
		return nil
	}
	p := g.child("PolyLoop")
	if p == nil {
		return nil
	}
	return r.loop(p, r.unitOf(g, r.units.length, 1))
}

// rect is a RectangularGeometry: lower left corner seen from outside, sides along u and v, size in metres.
type rect struct {
	at            survey.Vec
	u, v          survey.Vec
	width, height float64
	tilt          float64 // degrees: 0 faces up, 90 upright, 180 faces down
	turned        bool    // tilt and azimuth are stated
}

func (r *reader) rectangular(n *node) (rect, bool) {
	g := n.child("RectangularGeometry")
	if g == nil {
		return rect{}, false
	}
	unit := r.unitOf(g, r.units.length, 1)
	out := rect{width: r.quantity(g, "Width", unit, 1), height: r.quantity(g, "Height", unit, 1)}
	azimuth, tilt := g.child("Azimuth"), g.child("Tilt")
	if azimuth != nil && tilt != nil {
		a, ok1 := r.number(azimuth)
		t, ok2 := r.number(tilt)
		out.turned, out.tilt = ok1 && ok2, t
		out.u, out.v = axes(a, t)
	}
	if p := g.child("CartesianPoint"); p != nil {
		v, ok := r.point(p, unit)
		out.at = v
		return out, ok
	}
	return out, false
}

// axes are the directions of width and height of a rectangle: seen from outside to the right, and up or along the fall.
// Azimuth is that of the outward normal, clockwise from the plan's +Y; tilt as in rect.
func axes(azimuth, tilt float64) (u, v survey.Vec) {
	sinA, cosA := math.Sincos(azimuth * math.Pi / 180)
	sinT, cosT := math.Sincos(tilt * math.Pi / 180)
	normal := survey.Vec{X: sinA * sinT, Y: cosA * sinT, Z: cosT}
	u = survey.Vec{X: -cosA, Y: sinA} // straight up crossed with the level part of the normal
	return u, normal.Cross(u)
}

// corners are the corners of a rectangle.
func (q rect) corners() []survey.Vec {
	right, up := q.u.Times(q.width), q.v.Times(q.height)
	return []survey.Vec{q.at, q.at.Plus(right), q.at.Plus(right).Plus(up), q.at.Plus(up)}
}

// frame is the lower left corner of a face seen from outside with its axes, for openings given in the face's own plane.
func frame(loop []survey.Vec, q rect, hasRect bool) (at, u, v survey.Vec, ok bool) {
	if hasRect && q.turned {
		return q.at, q.u, q.v, true
	}
	n := survey.Poly{Loop: loop}.AreaVector().Unit()
	up := survey.Vec{Z: 1}
	u = up.Cross(n)
	if u.Length() < 0.01 {
		u = survey.Vec{X: 1}
	}
	u = u.Unit()
	v = n.Cross(u)
	if len(loop) == 0 || n.Length() == 0 {
		return at, u, v, false
	}
	least := func(d survey.Vec) float64 {
		x := loop[0].Dot(d)
		for _, p := range loop {
			x = min(x, p.Dot(d))
		}
		return x
	}
	at = u.Times(least(u)).Plus(v.Times(least(v))).Plus(n.Times(loop[0].Dot(n)))
	return at, u, v, true
}

// place puts a flat point of a face's plane into space.
func place(p, at, u, v survey.Vec) survey.Vec { return at.Plus(u.Times(p.X)).Plus(v.Times(p.Y)) }
