package geometry_test

import (
	"math"
	"math/big"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"lapwork/generator/geometry"
	q "lapwork/generator/quantity"
)

func points(xy ...int) geometry.Polygon {
	var p geometry.Polygon
	for i := 0; i+1 < len(xy); i += 2 {
		p = append(p, geometry.Point{X: q.MM(xy[i]), Y: q.MM(xy[i+1])})
	}
	return p
}

// Want: by hand; crossing of the diagonals of a rectangle at half its sides.
func TestCheck(t *testing.T) {
	for _, c := range []struct {
		name string
		p    geometry.Polygon
		want *geometry.Flaw
	}{
		{"square", points(0, 0, 10, 0, 10, 10, 0, 10), nil},
		{"clockwise", points(0, 10, 10, 10, 10, 0, 0, 0), nil},
		{"corner on a straight side", points(0, 0, 10, 0, 20, 0, 20, 20), nil},
		{"two corners", points(0, 0, 10, 0), &geometry.Flaw{Kind: geometry.TooFew}},
		{"bow tie", points(0, 0, 40, 30, 40, 0, 0, 30), &geometry.Flaw{Kind: geometry.Crossing, A: 0, B: 2, At: geometry.Point{X: 20, Y: 15}}},
		{"corner touches a side", points(0, 0, 40, 0, 40, 40, 20, 0, 0, 40), &geometry.Flaw{Kind: geometry.Crossing, A: 0, B: 2, At: geometry.Point{X: 20}}},
		{"runs back over itself", points(0, 0, 40, 0, 20, 0, 20, 30), &geometry.Flaw{Kind: geometry.Crossing, A: 0, B: 1, At: geometry.Point{X: 40}}},
		{"repeated corner", points(0, 0, 40, 0, 40, 0, 20, 30), &geometry.Flaw{Kind: geometry.ShortSide, A: 1, At: geometry.Point{X: 40}}},
		{"too far", points(0, 0, 40_000_000, 0, 20, 30), &geometry.Flaw{Kind: geometry.TooFar, A: 1, At: geometry.Point{X: 40_000_000}}},
		{"triangle there and back", points(0, 0, 40, 0, 20, 0), &geometry.Flaw{Kind: geometry.Crossing, A: 0, B: 1, At: geometry.Point{X: 40}}},
	} {
		if d := cmp.Diff(c.want, c.p.Check()); d != "" {
			t.Errorf("%s (-want +got):\n%s", c.name, d)
		}
	}
}

// FuzzCheck: an outline is good or bad whichever corner it starts at, whichever way it runs and wherever it lies; of a good
// one no two sides that are no neighbours have a point in common, by fractions.
func FuzzCheck(f *testing.F) {
	f.Add([]byte{0, 0, 10, 0, 10, 10, 0, 10})
	f.Add([]byte{0, 0, 40, 30, 40, 0, 0, 30})
	f.Add([]byte{0, 0, 40, 0, 40, 40, 20, 0, 0, 40})
	f.Fuzz(func(t *testing.T, data []byte) {
		var p geometry.Polygon
		for i := 0; i+1 < min(len(data), 24); i += 2 {
			p = append(p, geometry.Point{X: q.MM(data[i]), Y: q.MM(data[i+1])})
		}
		good := p.Check() == nil
		if good != (p.Reversed().Check() == nil) {
			t.Fatalf("%v is %v, reversed not", p, good)
		}
		for k := range p {
			if good != (append(slices.Clone(p[k:]), p[:k]...).Check() == nil) {
				t.Fatalf("%v is %v, from corner %d not", p, good, k)
			}
		}
		for i := range p {
			for j := i + 2; good && j < len(p) && (i > 0 || j < len(p)-1); j++ {
				if meetByFractions(p[i], p[i+1], p[j], p[(j+1)%len(p)]) {
					t.Fatalf("%v passes, but sides %d and %d meet", p, i, j)
				}
			}
		}
		if good && p.Area() <= 0 {
			t.Fatalf("%v passes without area", p)
		}
	})
}

// meetByFractions solves a + s(b-a) = c + t(d-c) exactly; parallel sides meet where their projections do.
func meetByFractions(a, b, c, d geometry.Point) bool {
	rat := func(v q.MM) *big.Rat { return big.NewRat(int64(v), 1) }
	rx, ry, sx, sy := rat(b.X-a.X), rat(b.Y-a.Y), rat(d.X-c.X), rat(d.Y-c.Y)
	cross := func(ax, ay, bx, by *big.Rat) *big.Rat {
		return new(big.Rat).Sub(new(big.Rat).Mul(ax, by), new(big.Rat).Mul(ay, bx))
	}
	wx, wy := rat(c.X-a.X), rat(c.Y-a.Y)
	det := cross(rx, ry, sx, sy)
	if det.Sign() == 0 {
		if cross(rx, ry, wx, wy).Sign() != 0 {
			return false
		}
		over := func(a0, a1, b0, b1 q.MM) bool { return max(min(a0, a1), min(b0, b1)) <= min(max(a0, a1), max(b0, b1)) }
		return over(a.X, b.X, c.X, d.X) && over(a.Y, b.Y, c.Y, d.Y)
	}
	one := big.NewRat(1, 1)
	s := new(big.Rat).Quo(cross(wx, wy, sx, sy), det)
	u := new(big.Rat).Quo(cross(wx, wy, rx, ry), det)
	return s.Sign() >= 0 && s.Cmp(one) <= 0 && u.Sign() >= 0 && u.Cmp(one) <= 0
}

// Want: by eye on squared paper.
func TestContains(t *testing.T) {
	l := points(0, 0, 60, 0, 60, 30, 30, 30, 30, 50, 0, 50)
	for _, c := range []struct {
		x, y int
		tol  q.MM
		want bool
	}{
		{10, 10, 0, true}, {40, 40, 0, false}, {30, 40, 0, true}, {31, 40, 0, false}, {31, 40, 1, true}, {60, 30, 0, true}, {-1, 25, 0, false}, {70, 30, 0, false},
	} {
		at := geometry.Point{X: q.MM(c.x), Y: q.MM(c.y)}
		for _, p := range []geometry.Polygon{l, l.Reversed()} {
			if got := p.Contains(at, c.tol); got != c.want {
				t.Errorf("%v within %d: %v", at, c.tol, got)
			}
		}
	}
	ring := geometry.Region{Outer: points(0, 0, 60, 0, 60, 60, 0, 60), Holes: []geometry.Polygon{points(20, 20, 20, 40, 40, 40, 40, 20)}}
	for at, want := range map[geometry.Point]bool{{X: 30, Y: 30}: false, {X: 10, Y: 30}: true, {X: 21, Y: 30}: true, {X: 22, Y: 30}: false} {
		if got := ring.Contains(at, 1); got != want {
			t.Errorf("ring at %v: %v", at, got)
		}
	}
	if ring.Holds(geometry.Rect(10, 10, 20, 20)) || !ring.Holds(geometry.Rect(0, 0, 20, 60)) || ring.Holds(geometry.Rect(-2, 0, 10, 10)) {
		t.Error("a rectangle over the hole or the border is held, or one beside it is not")
	}
}

// Want: 6000 x 5000 less a 3000 x 2000 corner, a window 1000 x 1000 inside, a door 900 x 2100 at the lower side;
// 1 + 0.9 x 2.1 = 2.89 m².
func TestDivide(t *testing.T) {
	l := points(0, 0, 6000, 0, 6000, 3000, 3000, 3000, 3000, 5000, 0, 5000)
	inside, outside := l.Divide(geometry.Rect(1000, 1000, 1000, 1000), geometry.Rect(4000, 0, 900, 2100))
	want := []geometry.Region{{
		Outer: points(0, 0, 4000, 0, 4000, 2100, 4900, 2100, 4900, 0, 6000, 0, 6000, 3000, 3000, 3000, 3000, 5000, 0, 5000),
		Holes: []geometry.Polygon{points(1000, 1000, 1000, 2000, 2000, 2000, 2000, 1000)},
	}}
	if d := cmp.Diff(want, outside); d != "" {
		t.Errorf("outside (-want +got):\n%s", d)
	}
	if len(inside) != 2 || math.Abs(float64(inside[0].Area()+inside[1].Area())-2.89) > 1e-9 {
		t.Errorf("inside %v", inside)
	}
	// a strip right across cuts it in two; one that only touches takes nothing
	if _, out := l.Divide(geometry.Rect(-10, 1000, 9000, 500)); len(out) != 2 {
		t.Errorf("across: %v", out)
	}
	if in, out := l.Divide(geometry.Rect(3000, 3000, 900, 900)); len(in) != 0 || len(out) != 1 || out[0].Area() != 24 {
		t.Errorf("beside: %v, %v", in, out)
	}
}

// TestDivideLaws: nothing is lost or doubled. Rounding moves a corner by 0.71 mm at most and welding by 1.45.
func TestDivideLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := star(t)
		if p.Check() != nil {
			return
		}
		var holes []geometry.Polygon
		around := length(p)
		for range rapid.IntRange(1, 3).Draw(t, "holes") {
			mm := func(lo, hi int, name string) q.MM { return q.MM(rapid.IntRange(lo, hi).Draw(t, name)) }
			holes = append(holes, geometry.Rect(mm(-4000, 4000, "x"), mm(-4000, 4000, "y"), mm(50, 4000, "w"), mm(50, 4000, "h")))
			around += length(holes[len(holes)-1])
		}
		inside, outside := p.Divide(holes...)
		var in, out float64
		for _, r := range inside {
			in += float64(r.Area())
		}
		for _, r := range outside {
			out += float64(r.Area())
			if r.Outer.Clockwise() {
				t.Fatalf("%v runs clockwise", r.Outer)
			}
			for _, h := range r.Holes {
				if !h.Clockwise() {
					t.Fatalf("hole %v runs counter-clockwise", h)
				}
			}
		}
		slack := 0.0022 * around / 1000 * 2
		if want := float64(p.Area()); math.Abs(in+out-want) > slack {
			t.Fatalf("%v inside and %v outside of %v", in, out, want)
		}
		if n := covered(p, holes); math.Abs(in-n) > slack+0.1*around/1000 {
			t.Fatalf("inside %v, by counting squares %v", in, n)
		}
	})
}

// covered counts squares of 100 mm whose middle is in the outline and in a hole, in m². It is off by a square along each
// border at worst.
func covered(p geometry.Polygon, holes []geometry.Polygon) float64 {
	n := 0
	box := p.Bounds()
	for x := box.Min.X; x < box.Max.X; x += 100 {
		for y := box.Min.Y; y < box.Max.Y; y += 100 {
			at := geometry.Point{X: x + 50, Y: y + 50}
			in := slices.ContainsFunc(holes, func(h geometry.Polygon) bool { return h.Contains(at, 0) })
			if in && p.Contains(at, 0) {
				n++
			}
		}
	}
	return float64(n) * 0.01
}

func length(p geometry.Polygon) float64 {
	sum := 0.0
	for i, a := range p {
		b := p[(i+1)%len(p)]
		sum += math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y))
	}
	return sum
}

// star draws an outline that is seen whole from the origin, hence simple, with inside corners.
func star(t *rapid.T) geometry.Polygon {
	n := rapid.IntRange(3, 9).Draw(t, "corners")
	var p geometry.Polygon
	for i := range n {
		r := float64(rapid.IntRange(500, 5000).Draw(t, "radius"))
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.1) / float64(n))
		p = append(p, geometry.Point{X: q.MM(r * cos), Y: q.MM(r * sin)})
	}
	return p
}
