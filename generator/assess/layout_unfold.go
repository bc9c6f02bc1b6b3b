package assess

import (
	"math"

	"lapwork/generator/geometry"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// Unfold turns points of one surface's plane into another's, the two laid flat about their common edge. It keeps whole
// millimetres: only quarter turns and mirrors, as between surfaces of a room whose walls run along its axes.
type Unfold struct {
	xx, xy, yx, yy q.MM // -1, 0 or 1
	by             geometry.Point
	width          q.MM // of the common edge
}

// To gives a point in the other plane.
func (u Unfold) To(p geometry.Point) geometry.Point {
	return geometry.Point{X: u.xx*p.X + u.xy*p.Y + u.by.X, Y: u.yx*p.X + u.yy*p.Y + u.by.Y}
}

// Back gives the point that To makes p of.
func (u Unfold) Back(p geometry.Point) geometry.Point {
	x, y := p.X-u.by.X, p.Y-u.by.Y
	return geometry.Point{X: u.xx*x + u.yx*y, Y: u.xy*x + u.yy*y} // the transpose turns back
}

// Polygon gives an outline in the other plane.
func (u Unfold) Polygon(p geometry.Polygon) geometry.Polygon {
	out := make(geometry.Polygon, len(p))
	for i, at := range p {
		out[i] = u.To(at)
	}
	return out
}

// Turned says whether the planes' axes change places.
func (u Unfold) Turned() bool { return u.xx == 0 }

// unfoldOn lays part flat into the plane of s beyond a side that both have whole; ok is false where that is no quarter turn, or
// the two sides differ by a millimetre.
func unfoldOn(s *surface.Surface, side int, part *surface.Surface, own int) (out Unfold, ok bool) {
	from, to := s.Side(side)
	a, b := part.Side(own)
	length := math.Hypot(float64(to.X-from.X), float64(to.Y-from.Y))
	start, end := s.Frame.Space(from), s.Frame.Space(to)
	apart := func(p, q [3]float64) float64 { return math.Hypot(math.Hypot(p[0]-q[0], p[1]-q[1]), p[2]-q[2]) }
	if apart(part.Frame.Space(a), start) > apart(part.Frame.Space(a), end) {
		a, b = b, a
	}
	// along is the unit vector of the edge in space; away the one in part's plane at right angles to it, to the part's inside.
	var along, away [3]float64
	for i := range along {
		along[i] = (end[i] - start[i]) / apart(start, end)
	}
	inside := part.Frame.Space(centreOf(part.Outline))
	t := 0.0
	for i := range along {
		t += (inside[i] - start[i]) * along[i]
	}
	for i := range away {
		away[i] = inside[i] - start[i] - t*along[i]
	}
	l := math.Hypot(math.Hypot(away[0], away[1]), away[2])
	if l == 0 || length == 0 {
		return out, false
	}
	// On the plane of s the edge runs along (ux, uy), and beyond a side of a counter-clockwise outline lies its right.
	ux, uy := float64(to.X-from.X)/length, float64(to.Y-from.Y)/length
	unit := func(axis [3]float64) (x, y float64) {
		u, d := 0.0, 0.0
		for i := range axis {
			u += axis[i] * along[i]
			d += axis[i] * away[i] / l
		}
		return u*ux + d*uy, u*uy - d*ux
	}
	xx, yx := unit(part.Frame.X)
	xy, yy := unit(part.Frame.Y)
	for _, x := range []struct {
		is float64
		to *q.MM
	}{{xx, &out.xx}, {xy, &out.xy}, {yx, &out.yx}, {yy, &out.yy}} {
		if *x.to = q.MM(math.Round(x.is)); math.Abs(x.is-float64(*x.to)) > 1e-3 {
			return out, false
		}
	}
	at := out.To(a)
	out.by = geometry.Point{X: from.X - at.X, Y: from.Y - at.Y}
	out.width = q.MM(math.Round(length))
	return out, out.To(b) == to && out.Back(out.To(b)) == b
}

func centreOf(p geometry.Polygon) geometry.Point {
	box := p.Bounds()
	return geometry.Point{X: (box.Min.X + box.Max.X) / 2, Y: (box.Min.Y + box.Max.Y) / 2}
}
