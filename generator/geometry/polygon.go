// Package geometry holds plane polygons on whole millimetres and ceilings as the lower envelope of planes and valleys. It knows
// points, outlines and planes, and nothing of rooms or jobs. Everything is exact to 1 mm.
package geometry

import q "lapwork/generator/quantity"

// Point is a point in a plane, in millimetres.
type Point struct{ X, Y q.MM }

// Polygon is a simple closed outline without the closing point repeated.
type Polygon []Point

// Region is an outline with holes: the outline counter-clockwise, the holes clockwise.
type Region struct {
	Outer Polygon
	Holes []Polygon
}

// TwiceArea gives twice the signed area in mm²: positive for a counter-clockwise outline.
func (p Polygon) TwiceArea() int64 {
	var sum int64
	for i, a := range p {
		b := p[(i+1)%len(p)]
		sum += int64(a.X)*int64(b.Y) - int64(b.X)*int64(a.Y)
	}
	return sum
}

// Area gives the enclosed area in m².
func (p Polygon) Area() q.Area {
	twice := p.TwiceArea()
	if twice < 0 {
		twice = -twice
	}
	return q.Area(float64(twice) / 2e6)
}

// Area gives the area of the outline less its holes in m².
func (r Region) Area() q.Area {
	a := r.Outer.Area()
	for _, h := range r.Holes {
		a -= h.Area()
	}
	return a
}
