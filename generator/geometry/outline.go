package geometry

import (
	"math"
	"slices"

	q "lapwork/generator/quantity"
)

// Box is an upright rectangle in a plane.
type Box struct{ Min, Max Point }

// Rect is the outline of a rectangle from its lower left corner, counter-clockwise.
func Rect(x, y, width, height q.MM) Polygon {
	return Polygon{{x, y}, {x + width, y}, {x + width, y + height}, {x, y + height}}
}

// Bounds is the smallest box around the outline; the zero box for none.
func (p Polygon) Bounds() Box {
	if len(p) == 0 {
		return Box{}
	}
	b := Box{p[0], p[0]}
	for _, c := range p[1:] {
		b.Min.X, b.Min.Y = min(b.Min.X, c.X), min(b.Min.Y, c.Y)
		b.Max.X, b.Max.Y = max(b.Max.X, c.X), max(b.Max.Y, c.Y)
	}
	return b
}

// Width is the box's extent in X.
func (b Box) Width() q.MM { return b.Max.X - b.Min.X }

// Height is the box's extent in Y.
func (b Box) Height() q.MM { return b.Max.Y - b.Min.Y }

// Overlaps says whether two boxes share more than a border.
func (b Box) Overlaps(o Box) bool {
	return b.Min.X < o.Max.X && o.Min.X < b.Max.X && b.Min.Y < o.Max.Y && o.Min.Y < b.Max.Y
}

// Clockwise says whether the outline runs clockwise.
func (p Polygon) Clockwise() bool { return p.TwiceArea() < 0 }

// Reversed is the outline the other way round.
func (p Polygon) Reversed() Polygon {
	r := slices.Clone(p)
	slices.Reverse(r)
	return r
}

// Contains says whether a point is inside the outline or within tol of it.
func (p Polygon) Contains(at Point, tol q.MM) bool {
	inside := false
	for i, a := range p {
		b := p[(i+1)%len(p)]
		if FromLine(at, a, b) <= q.Length(tol)/1000 {
			return true
		}
		if (a.Y > at.Y) != (b.Y > at.Y) {
			// the side's x at at.Y, compared without dividing
			d := int64(b.Y - a.Y)
			lhs := int64(at.X-a.X) * d
			rhs := int64(b.X-a.X) * int64(at.Y-a.Y)
			if (d > 0 && lhs < rhs) || (d < 0 && lhs > rhs) {
				inside = !inside
			}
		}
	}
	return inside
}

// Contains says whether a point is in the region or within tol of its border.
func (r Region) Contains(at Point, tol q.MM) bool {
	if !r.Outer.Contains(at, tol) {
		return false
	}
	for _, h := range r.Holes {
		if h.Contains(at, 0) && !onBorder(h, at, tol) {
			return false
		}
	}
	return true
}

func onBorder(p Polygon, at Point, tol q.MM) bool {
	for i, a := range p {
		if FromLine(at, a, p[(i+1)%len(p)]) <= q.Length(tol)/1000 {
			return true
		}
	}
	return false
}

// FromLine is the distance of a point from the stretch between a and b.
func FromLine(at, a, b Point) q.Length {
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	px, py := float64(at.X-a.X), float64(at.Y-a.Y)
	t := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		t = min(1, max(0, (px*dx+py*dy)/l))
	}
	return q.Length(math.Hypot(px-t*dx, py-t*dy) / 1000)
}
