package geometry

import q "lapwork/generator/quantity"

// FlawKind says what keeps corners from being an outline.
type FlawKind uint8

// The flaws.
const (
	TooFew    FlawKind = iota + 1 // fewer than three corners
	TooFar                        // a coordinate beyond 10 km
	ShortSide                     // a side shorter than 5 mm
	Crossing                      // two sides cross, touch or lie on each other
	NoArea                        // no area enclosed
)

// Flaw is what is wrong with an outline. Sides count from 0; At is the place.
type Flaw struct {
	Kind FlawKind
	A, B int
	At   Point
}

const (
	farthest  q.MM = 10_000_000 // products of differences stay far inside int64
	shortSide q.MM = 5
)

// Check says whether the corners are a simple outline that encloses an area; nil if so.
func (p Polygon) Check() *Flaw {
	if len(p) < 3 {
		return &Flaw{Kind: TooFew}
	}
	for i, c := range p {
		if c.X > farthest || c.Y > farthest || c.X < -farthest || c.Y < -farthest {
			return &Flaw{Kind: TooFar, A: i, At: c}
		}
	}
	for i, a := range p {
		b := p[(i+1)%len(p)]
		if dx, dy := int64(b.X-a.X), int64(b.Y-a.Y); dx*dx+dy*dy < int64(shortSide*shortSide) {
			return &Flaw{Kind: ShortSide, A: i, At: a}
		}
	}
	for i := range p {
		for j := i + 1; j < len(p); j++ {
			if at, meet := p.sidesMeet(i, j); meet {
				return &Flaw{Kind: Crossing, A: i, B: j, At: at}
			}
		}
	}
	if p.TwiceArea() == 0 {
		return &Flaw{Kind: NoArea}
	}
	return nil
}

// sidesMeet finds a point that sides i < j share, other than the corner of neighbours.
func (p Polygon) sidesMeet(i, j int) (Point, bool) {
	n := len(p)
	a, b, c, d := p[i], p[(i+1)%n], p[j], p[(j+1)%n]
	switch {
	case j == i+1:
		// neighbours share b = c; they meet beyond it only by running back over each other
		return b, turn(a, b, d) == 0 && dot(b, a, d) > 0
	case i == 0 && j == n-1:
		return a, turn(c, a, b) == 0 && dot(a, c, b) > 0
	}
	return Meet(a, b, c, d)
}

// Meet gives a point common to the stretches a–b and c–d, rounded to the millimetre.
func Meet(a, b, c, d Point) (Point, bool) {
	t1, t2 := turn(a, b, c), turn(a, b, d)
	t3, t4 := turn(c, d, a), turn(c, d, b)
	for _, e := range []struct {
		turn       int64
		at, f, end Point
	}{{t1, c, a, b}, {t2, d, a, b}, {t3, a, c, d}, {t4, b, c, d}} {
		if e.turn == 0 && dot(e.at, e.f, e.end) <= 0 {
			return e.at, true
		}
	}
	if (t1 > 0) == (t2 > 0) || (t3 > 0) == (t4 > 0) || t1 == 0 || t2 == 0 || t3 == 0 || t4 == 0 {
		return Point{}, false
	}
	t := float64(t3) / (float64(t3) - float64(t4))
	return Point{a.X + round(t*float64(b.X-a.X)), a.Y + round(t*float64(b.Y-a.Y))}, true
}

// turn is twice the signed area of the triangle a b c.
func turn(a, b, c Point) int64 {
	return int64(b.X-a.X)*int64(c.Y-a.Y) - int64(b.Y-a.Y)*int64(c.X-a.X)
}

// dot is the scalar product of o→a and o→b.
func dot(o, a, b Point) int64 {
	return int64(a.X-o.X)*int64(b.X-o.X) + int64(a.Y-o.Y)*int64(b.Y-o.Y)
}
