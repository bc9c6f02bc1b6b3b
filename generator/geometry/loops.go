package geometry

import (
	"cmp"
	"math"

	q "lapwork/generator/quantity"
)

// fromLowerLeft starts a loop at its lowest vertex, the leftmost of those within half a millimetre.
func fromLowerLeft(loop []int, at func(int) (x, y float64)) []int {
	best := 0
	for i := range loop {
		x, y := at(loop[i])
		bx, by := at(loop[best])
		if y < by-0.5 || y <= by+0.5 && x < bx {
			best = i
		}
	}
	out := make([]int, 0, len(loop))
	return append(append(out, loop[best:]...), loop[:best]...)
}

// signedArea is in the square of at's unit, positive counter-clockwise, reckoned from the first vertex.
func signedArea(loop []int, at func(int) (x, y float64)) float64 {
	ox, oy := at(loop[0])
	var twice float64
	for i := range loop {
		ax, ay := at(loop[i])
		bx, by := at(loop[(i+1)%len(loop)])
		twice += (ax-ox)*(by-oy) - (bx-ox)*(ay-oy)
	}
	return twice / 2
}

func rounded(loop []int, at func(int) (x, y float64)) Polygon {
	p := make(Polygon, len(loop))
	for i, v := range loop {
		x, y := at(v)
		p[i] = Point{round(x), round(y)}
	}
	return p
}

// holder is the smallest part around a hole.
func holder(parts []Part, hole Polygon) *Part {
	var found *Part
	for i := range parts {
		if !parts[i].Region.Outer.Contains(hole[0], 1) {
			continue
		}
		if found == nil || parts[i].Region.Outer.Area() < found.Region.Outer.Area() {
			found = &parts[i]
		}
	}
	return found
}

// before orders outlines by their boxes: from the left, then from below.
func before(a, b Polygon) int {
	x, y := a.Bounds(), b.Bounds()
	return cmp.Or(cmp.Compare(x.Min.X, y.Min.X), cmp.Compare(x.Min.Y, y.Min.Y), cmp.Compare(x.Max.X, y.Max.X))
}

func round(v float64) q.MM { return q.MM(math.Round(v)) }

func minus(a, b Vertex) Vertex { return Vertex{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }

func dot3(a, b Vertex) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }

func cross(a, b Vertex) Vertex {
	return Vertex{a.Y*b.Z - a.Z*b.Y, a.Z*b.X - a.X*b.Z, a.X*b.Y - a.Y*b.X}
}

// Distance is the distance of two points in their unit.
func Distance(a, b Vertex) float64 {
	d := minus(a, b)
	return math.Sqrt(dot3(d, d))
}
