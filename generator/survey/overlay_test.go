package survey

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"lapwork/generator/geometry"
	q "lapwork/generator/quantity"
)

// Want: by hand on squared paper, areas in m².
func TestOverlay(t *testing.T) {
	sq := func(x, y, w, h int) geometry.Polygon { return geometry.Rect(q.MM(x), q.MM(y), q.MM(w), q.MM(h)) }
	ring := plain([]geometry.Polygon{sq(0, 0, 3000, 1000), sq(0, 2000, 3000, 1000), sq(0, 1000, 1000, 1000), sq(2000, 1000, 1000, 1000)})
	joined := overlay(func(in []bool) bool { return in[0] }, ring)
	if len(joined) != 1 || len(joined[0].Holes) != 1 || math.Abs(areaOf(joined)-8) > 1e-9 {
		t.Errorf("a ring of four: %v", joined)
	}
	for _, c := range []struct {
		name                  string
		a, b                  geometry.Polygon
		union, common, less   float64
		pieces, unionsTouches int
	}{
		{"side by side", sq(0, 0, 1000, 1000), sq(1000, 0, 1000, 1000), 2, 0, 1, 1, 1},
		{"a millimetre between", sq(0, 0, 1000, 1000), sq(1001, 0, 1000, 1000), 2, 0, 1, 1, 1},
		{"half over", sq(0, 0, 1000, 1000), sq(500, 0, 1000, 1000), 1.5, 0.5, 0.5, 1, 1},
		{"corner to corner", sq(0, 0, 1000, 1000), sq(1000, 1000, 1000, 1000), 2, 0, 1, 1, 2},
		{"inside", sq(0, 0, 3000, 3000), sq(1000, 1000, 1000, 1000), 9, 1, 8, 1, 1},
		{"the same", sq(0, 0, 1000, 1000), sq(0, 0, 1000, 1000).Reversed(), 1, 1, 0, 0, 1},
		{"across", sq(0, 1000, 3000, 1000), sq(1000, 0, 1000, 3000), 5, 1, 2, 2, 1},
	} {
		u := union([]geometry.Polygon{c.a, c.b})
		x := common(plain([]geometry.Polygon{c.a}), plain([]geometry.Polygon{c.b}))
		d := without(plain([]geometry.Polygon{c.a}), plain([]geometry.Polygon{c.b}))
		// the gap of a millimetre, 1000 mm long, goes to one side or the other
		const slack = 0.0011
		if math.Abs(areaOf(u)-c.union) > slack || math.Abs(areaOf(x)-c.common) > slack || math.Abs(areaOf(d)-c.less) > slack {
			t.Errorf("%s: union %v, common %v, less %v", c.name, areaOf(u), areaOf(x), areaOf(d))
		}
		if len(d) != c.pieces || len(u) != c.unionsTouches {
			t.Errorf("%s: %d pieces left, union of %d", c.name, len(d), len(u))
		}
	}
}

// TestOverlayLaws: |a ∪ b| + |a ∩ b| = |a| + |b|, and a less b is a less what they share. Sides are led through points
// within a millimetre, and crossings rounded, so each border may move by a millimetre.
func TestOverlayLaws(t *testing.T) {
	shape := func(t *rapid.T, name string) geometry.Polygon {
		n := rapid.IntRange(3, 8).Draw(t, name)
		x, y := rapid.IntRange(-2000, 2000).Draw(t, name+"x"), rapid.IntRange(-2000, 2000).Draw(t, name+"y")
		var p geometry.Polygon
		for i := range n {
			r := float64(rapid.IntRange(300, 3000).Draw(t, name+"r"))
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			p = append(p, geometry.Point{X: q.MM(x) + q.MM(r*cos), Y: q.MM(y) + q.MM(r*sin)})
		}
		return p
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b := shape(t, "a"), shape(t, "b")
		if a.Check() != nil || b.Check() != nil {
			return
		}
		pa, pb := plain([]geometry.Polygon{a}), plain([]geometry.Polygon{b})
		u, x, d := areaOf(union([]geometry.Polygon{a, b})), areaOf(common(pa, pb)), areaOf(without(pa, pb))
		slack := 0.0015 * (around(a) + around(b)) / 1000
		sum := float64(a.Area() + b.Area())
		if math.Abs(u+x-sum) > slack || math.Abs(d-(float64(a.Area())-x)) > slack {
			t.Fatalf("union %.4f, common %.4f, less %.4f of %.4f and %.4f", u, x, d, a.Area(), b.Area())
		}
		if x > math.Min(float64(a.Area()), float64(b.Area()))+slack {
			t.Fatalf("common %.4f is more than either", x)
		}
	})
}

func around(p geometry.Polygon) float64 {
	sum := 0.0
	for i, a := range p {
		b := p[(i+1)%len(p)]
		sum += math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y))
	}
	return sum
}
