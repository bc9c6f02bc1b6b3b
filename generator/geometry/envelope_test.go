package geometry_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"lapwork/generator/geometry"
	q "lapwork/generator/quantity"
)

// Want: three worked partitions. Hip over 6 x 4 m at 45 degrees: cells 8, 4, 8, 4 m² and ridge at 2 m. Flat ceiling exactly
// at the ridge: no cell of its own. Flat ceiling 1 m over the edges: 24 - (6 x 4 - 4 x 2) = 8 m².
func TestEnvelope(t *testing.T) {
	p := points(0, 0, 6000, 0, 6000, 4000, 0, 4000)
	hip := func(flat ...geometry.Plane) []geometry.Plane {
		for i, a := range p {
			flat = append(flat, geometry.Rising(a, p[(i+1)%4], 0, 45))
		}
		return flat
	}
	for _, c := range []struct {
		name   string
		planes []geometry.Plane
		want   string
	}{
		{"hip", hip(), "map[0:8.000 1:4.000 2:8.000 3:4.000] high 2000 volume 18.667"},
		{"flat at the ridge", hip(geometry.Flat(2000)), "map[1:8.000 2:4.000 3:8.000 4:4.000] high 2000 volume 18.667"},
		// level sections 6 x 4 = 24 at the edges, 5 x 3 = 15 half way, 4 x 2 = 8 at the ceiling; Simpson's rule is exact
		// for prismatoids: (24 + 4 x 15 + 8) / 6 x 1 = 15.333
		{"flat at 1 m", hip(geometry.Flat(1000)), "map[0:8.000 1:5.000 2:3.000 3:5.000 4:3.000] high 1000 volume 15.333"},
		{"same plane twice", []geometry.Plane{geometry.Flat(1000), geometry.Flat(1000)}, "map[0:24.000] high 1000 volume 24.000"},
	} {
		e := geometry.NewEnvelope(p, c.planes)
		area, high, volume := map[int]string{}, 0.0, 0.0
		for _, cell := range e.Cells() {
			area[cell.Tag] = fmt.Sprintf("%.3f", float64(e.Area(cell)))
			volume += float64(e.Volume(cell, c.planes[cell.Tag]))
			for _, v := range cell.Loop {
				high = max(high, e.Vertex(v).Z)
			}
		}
		if got := fmt.Sprintf("%v high %.0f volume %.3f", area, high, volume); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// TestEnvelopeLaws: cells cover the footprint once; every vertex stands at the lowest of the terms, each as high as the
// highest of its planes, and on its cell's plane; an edge belongs to two cells or to a side of the footprint.
func TestEnvelopeLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := star(t)
		if p.Check() != nil {
			return
		}
		var planes []geometry.Plane
		var terms [][]int
		for i := range rapid.IntRange(1, 6).Draw(t, "planes") {
			k := rapid.IntRange(0, len(p)-1).Draw(t, fmt.Sprint("edge", i))
			h := q.MM(rapid.IntRange(0, 3000).Draw(t, fmt.Sprint("height", i)))
			planes = append(planes, geometry.Rising(p[k], p[(k+1)%len(p)], h, q.Degrees(rapid.SampledFrom([]float64{0, 5, 30, 45, 70}).Draw(t, fmt.Sprint("pitch", i)))))
			if at := rapid.IntRange(0, len(terms)).Draw(t, fmt.Sprint("term", i)); at < len(terms) {
				terms[at] = append(terms[at], i)
			} else {
				terms = append(terms, []int{i})
			}
		}
		e := geometry.NewEnvelope(p, planes, terms...)
		sum, edges := 0.0, map[[2]int]int{}
		for _, c := range e.Cells() {
			sum += float64(e.Area(c))
			for i, u := range c.Loop {
				v := e.Vertex(u)
				low := math.Inf(1)
				for _, term := range terms {
					high := math.Inf(-1)
					for _, k := range term {
						high = max(high, planes[k].At(v.X, v.Y))
					}
					low = min(low, high)
				}
				// 1e-4 mm: cuts count as zero within 1e-6 mm, and a later plane may be ten times steeper
				if math.Abs(v.Z-low) > 1e-4 || math.Abs(v.Z-planes[c.Tag].At(v.X, v.Y)) > 1e-4 {
					t.Fatalf("vertex %v of plane %d; lowest %v", v, c.Tag, low)
				}
				edges[[2]int{u, c.Loop[(i+1)%len(c.Loop)]}]++
			}
		}
		// the parts are computed in float64 mm; 1e-6 m² is a millimetre squared
		if want := float64(p.Area()); math.Abs(sum-want) > 1e-6 {
			t.Fatalf("cells cover %v of %v", sum, want)
		}
		for d, n := range edges {
			_, side := e.Side(d[0], d[1])
			if back := edges[[2]int{d[1], d[0]}]; n != 1 || side == (back == 1) {
				t.Fatalf("edge %v: %d times, back %d, on a side %v", d, n, back, side)
			}
		}
	})
}
