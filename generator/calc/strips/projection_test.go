package strips

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"lapwork/generator/geometry"
)

// The projection of a band and the one of an end joint agree with looking at single lines: a line meets the surface inside the
// band when, between two neighbouring crossings of it with any edge or the band's borders, the middle lies inside by the
// even-odd rule.
func TestLawOfProjection(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anySurface(t)
		p.Turns, p.Direction, p.MaxPiece = nil, Level, 0
		for i := range p.Holes {
			p.Holes[i].TurnIn = 0
		}
		d, err := cover(p)
		if err != nil {
			return // nothing left
		}
		v0 := within(t, -500, 3000, "band")
		v1 := v0 + within(t, 1, 900, "width")
		along := d.along(nil, fine(v0)*d.unit, fine(v1)*d.unit)
		across := d.across(fine(v0)*d.unit, fine(v1)*d.unit)
		for range 30 {
			at := float64(rapid.IntRange(-1000, 4500).Draw(t, "line")) + 0.37
			upright := meets(p, at, float64(v0), float64(v1), false)
			if in, sure := onSpans(along, at, d.unit); sure && in != upright {
				t.Fatalf("line u = %v: meets the band %d to %d: %v, projection %v of 1/%d mm", at, v0, v1, upright, along, d.unit)
			}
			level := meets(p, at, float64(v0), float64(v1), true)
			if in, sure := onSpans(across, at, d.unit); sure && in != level {
				t.Fatalf("line v = %v: meets the zone %d to %d: %v, projection %v of 1/%d mm", at, v0, v1, level, across, d.unit)
			}
		}
	})
}

// onSpans says whether a place lies on the spans; sure is false within a hundredth of an end.
func onSpans(spans []span, at float64, unit fine) (in, sure bool) {
	for _, s := range spans {
		from, to := float64(s.from)/float64(unit), float64(s.to)/float64(unit)
		if at > from-0.01 && at < from+0.01 || at > to-0.01 && at < to+0.01 {
			return false, false
		}
		in = in || at > from && at < to
	}
	return in, true
}

// meets walks along the line x = at, or y = at, between low and high.
func meets(p Problem, at, low, high float64, swapped bool) bool {
	rings := []geometry.Polygon{p.Outline}
	for _, h := range p.Holes {
		rings = append(rings, h.Outline)
	}
	cuts := []float64{low, high}
	for r, ring := range rings {
		if swapped {
			rings[r] = make(geometry.Polygon, len(ring))
			for i, c := range ring {
				rings[r][i] = geometry.Point{X: c.Y, Y: c.X}
			}
		}
		for i, a := range rings[r] {
			cuts = appendCut(cuts, at, low, high, a, rings[r][(i+1)%len(ring)])
		}
	}
	slices.Sort(cuts)
	for i := 1; i < len(cuts); i++ {
		middle := (cuts[i-1] + cuts[i]) / 2
		in := cuts[i]-cuts[i-1] > 1e-9 && hasPoint(rings[0], at, middle)
		for _, h := range rings[1:] {
			in = in && !hasPoint(h, at, middle)
		}
		if in {
			return true
		}
	}
	return false
}

func appendCut(cuts []float64, at, low, high float64, a, b geometry.Point) []float64 {
	if (float64(a.X) > at) == (float64(b.X) > at) {
		return cuts
	}
	share := (at - float64(a.X)) / float64(b.X-a.X)
	if y := float64(a.Y) + share*float64(b.Y-a.Y); y > low && y < high {
		cuts = append(cuts, y)
	}
	return cuts
}
