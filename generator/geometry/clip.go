package geometry

import (
	"math"

	q "lapwork/generator/quantity"
)

// Holds says whether a convex outline lies in the region wholly, border included. A square millimetre more or less, as
// rounding gives, does not count.
func (r Region) Holds(convex Polygon) bool {
	in := clippedArea(r.Outer, convex)
	for _, h := range r.Holes {
		in -= clippedArea(h, convex)
	}
	return in > float64(convex.Area())*1e6-1
}

// Shared gives the area in m² that two outlines have in common: every side of the second makes a triangle with its first
// corner, and the first outline clipped by these triangles, each with the sign of its turn, adds up to it.
func (p Polygon) Shared(o Polygon) q.Area {
	var sum float64
	for i := 1; i+1 < len(o); i++ {
		t := Polygon{o[0], o[i], o[i+1]}
		switch twice := t.TwiceArea(); {
		case twice > 0:
			sum += clippedArea(p, t)
		case twice < 0:
			sum -= clippedArea(p, t)
		}
	}
	return q.Area(math.Abs(sum) / 1e6)
}

// clippedArea is the area in mm² that an outline shares with a convex one. Cutting a non-convex outline by one half plane
// after the other leaves borders that run there and back, which enclose nothing.
func clippedArea(p, convex Polygon) float64 {
	if convex.Clockwise() {
		convex = convex.Reversed()
	}
	pts := make([]Vertex, len(p))
	for i, c := range p {
		pts[i] = Vertex{X: float64(c.X), Y: float64(c.Y)}
	}
	for i, a := range convex {
		b := convex[(i+1)%len(convex)]
		pts = cutHalf(pts, func(v Vertex) float64 {
			return float64(b.X-a.X)*(v.Y-float64(a.Y)) - float64(b.Y-a.Y)*(v.X-float64(a.X))
		})
	}
	var twice float64
	for i, a := range pts {
		b := pts[(i+1)%len(pts)]
		twice += (a.X-pts[0].X)*(b.Y-pts[0].Y) - (b.X-pts[0].X)*(a.Y-pts[0].Y)
	}
	return math.Abs(twice) / 2
}

// cutHalf keeps what lies where value is not negative.
func cutHalf(pts []Vertex, value func(Vertex) float64) []Vertex {
	var out []Vertex
	for i, a := range pts {
		b := pts[(i+1)%len(pts)]
		va, vb := value(a), value(b)
		if va >= 0 {
			out = append(out, a)
		}
		if va < 0 && vb > 0 || va > 0 && vb < 0 {
			t := va / (va - vb)
			out = append(out, Vertex{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y)})
		}
	}
	return out
}
