package surface_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"lapwork/generator/geometry"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// closed says why a room's surfaces are no closed body; empty if they are: area vectors add up to nothing, every side
// belongs to one edge, every edge has an id of its own and two surfaces, and both surfaces' outlines lie along it.
func closed(s *surface.RoomShape) string {
	var sum [3]float64
	sides := map[string]int{}
	around := 0.0
	ids := map[string]bool{}
	for _, f := range s.Surfaces {
		n := f.Inward()
		for i := range sum {
			sum[i] += float64(f.Gross) * n[i]
		}
		k := 0
		for _, p := range append([]geometry.Polygon{f.Outline}, f.Holes...) {
			for range p {
				sides[fmt.Sprint(f.ID, " ", k)]++
				k++
			}
		}
	}
	for _, e := range s.Edges {
		around += float64(e.Length) / 1000
		if ids[e.ID] {
			return "two edges are called " + e.ID
		}
		ids[e.ID] = true
		if e.B == nil {
			return "edge " + e.ID + " has one surface"
		}
		for _, on := range []struct {
			f *surface.Surface
			n int
		}{{e.A, e.SideA}, {e.B, e.SideB}} {
			sides[fmt.Sprint(on.f.ID, " ", on.n)] += 10
			from, to := on.f.Side(on.n)
			a, b := on.f.Frame.Space(from), on.f.Frame.Space(to)
			if far(a, e.From) > far(a, e.To) {
				a, b = b, a
			}
			// 2 mm: welding moves a corner by 1.5 mm at most, rounding by 0.7
			if far(a, e.From) > 0.0022 || far(b, e.To) > 0.0022 {
				return fmt.Sprintf("edge %s from %v to %v, but %s side %d from %v to %v", e.ID, e.From, e.To, on.f.ID, on.n, a, b)
			}
		}
	}
	for id, n := range sides {
		if n != 11 {
			return "side " + id + " is not on exactly one edge"
		}
	}
	// each edge may stand 1.5 mm beside its nominal planes
	if length := math.Sqrt(sum[0]*sum[0] + sum[1]*sum[1] + sum[2]*sum[2]); length > 0.0015*around {
		return fmt.Sprintf("area vectors add up to %v", sum)
	}
	return ""
}

func far(a, b [3]float64) float64 {
	return math.Sqrt((a[0]-b[0])*(a[0]-b[0]) + (a[1]-b[1])*(a[1]-b[1]) + (a[2]-b[2])*(a[2]-b[2]))
}

// footprints draws rectangles, L, T and U shapes and convex polygons, turned by any angle, listed either way round.
func footprints(t *rapid.T) []geometry.Point {
	len1 := func(name string) q.MM { return q.MM(rapid.IntRange(800, 5000).Draw(t, name)) }
	a, b, c, d, e := len1("a"), len1("b"), len1("c"), len1("d"), len1("e")
	var p []geometry.Point
	switch rapid.SampledFrom([]string{"rectangle", "L", "U", "T", "fan"}).Draw(t, "shape") {
	case "rectangle":
		p = rectangle(a, b)
	case "L":
		p = []geometry.Point{{X: 0, Y: 0}, {X: a + b, Y: 0}, {X: a + b, Y: c}, {X: a, Y: c}, {X: a, Y: c + d}, {X: 0, Y: c + d}}
	case "U":
		p = []geometry.Point{{X: 0, Y: 0}, {X: a + b + c, Y: 0}, {X: a + b + c, Y: d + e}, {X: a + b, Y: d + e}, {X: a + b, Y: d}, {X: a, Y: d}, {X: a, Y: d + e}, {X: 0, Y: d + e}}
	case "T":
		p = []geometry.Point{{X: a, Y: 0}, {X: a + b, Y: 0}, {X: a + b, Y: d}, {X: a + b + c, Y: d}, {X: a + b + c, Y: d + e}, {X: 0, Y: d + e}, {X: 0, Y: d}, {X: a, Y: d}}
	case "fan":
		n := rapid.IntRange(3, 8).Draw(t, "n")
		for i := range n {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			p = append(p, geometry.Point{X: q.MM(3000 * cos), Y: q.MM(2500 * sin)})
		}
	}
	if rapid.Bool().Draw(t, "turned") {
		p = turned(p, rapid.Float64Range(0, 360).Draw(t, "angle"))
	}
	if rapid.Bool().Draw(t, "clockwise") {
		slices.Reverse(p)
	}
	k := rapid.IntRange(0, len(p)-1).Draw(t, "first")
	return append(slices.Clone(p[k:]), p[:k]...)
}

func turned(p []geometry.Point, degrees float64) []geometry.Point {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	out := make([]geometry.Point, len(p))
	for i, c := range p {
		x, y := float64(c.X), float64(c.Y)
		out[i] = geometry.Point{X: q.MM(math.Round(x*cos - y*sin)), Y: q.MM(math.Round(x*sin + y*cos))}
	}
	return out
}

func slopes(t *rapid.T, edges int) []job.Slope {
	var out []job.Slope
	for i := range rapid.IntRange(0, 4).Draw(t, "slopes") {
		out = append(out, job.Slope{
			Edge:   rapid.IntRange(1, edges).Draw(t, fmt.Sprint("edge", i)),
			Height: q.MM(rapid.SampledFrom([]int{0, 500, 1000, 1001, 1733}).Draw(t, fmt.Sprint("height", i))),
			Pitch:  q.Degrees(rapid.SampledFrom([]float64{7, 30, 35.5, 45, 45, 60}).Draw(t, fmt.Sprint("pitch", i))),
		})
	}
	return out
}

// ceilingAt is the height of the ceiling over a plan point by definition: over one wall the lowest of its slopes, over walls
// in a row that meet at corners pointing into the room the highest of these, and the lowest of all that.
func ceilingAt(r *job.Room, x, y float64) float64 {
	h := math.Inf(1)
	if r.Ceiling.Height > 0 {
		h = float64(r.Ceiling.Height)
	}
	turn, n := 1.0, len(r.Footprint)
	if footprint(r).Clockwise() {
		turn = -1
	}
	side := func(i int) (from job.Corner, dx, dy float64) {
		a, b := r.Footprint[i%n], r.Footprint[(i+1)%n]
		return a, float64(b.X - a.X), float64(b.Y - a.Y)
	}
	over := make([]float64, n) // by wall
	for i := range over {
		over[i] = math.Inf(1)
	}
	for _, s := range r.Ceiling.Slopes {
		a, dx, dy := side(s.Edge - 1)
		in := turn * (dx*(y-float64(a.Y)) - dy*(x-float64(a.X))) / math.Hypot(dx, dy)
		over[s.Edge-1] = min(over[s.Edge-1], float64(s.Height)+in*math.Tan(float64(s.Pitch)*math.Pi/180))
	}
	valley := func(i int) bool { // between wall i and the next
		_, ax, ay := side(i)
		_, bx, by := side(i + 1)
		return turn*(ax*by-ay*bx) < 0 && !math.IsInf(over[i], 1) && !math.IsInf(over[(i+1)%n], 1)
	}
	for i := range n {
		if valley((i + n - 1) % n) {
			continue // not the first of its row
		}
		high := over[i]
		for k := i; valley(k % n); k++ {
			high = max(high, over[(k+1)%n])
		}
		h = min(h, high)
	}
	return h
}

func footprint(r *job.Room) geometry.Polygon {
	var p geometry.Polygon
	for _, c := range r.Footprint {
		p = append(p, geometry.Point{X: c.X, Y: c.Y})
	}
	return p
}

// drawn is a random room with its shape; nil if the room has faults (a slope below the floor behind its edge, or hidden).
func drawn(t *rapid.T) (*job.Room, *surface.RoomShape) {
	p := footprints(t)
	r := room(q.MM(rapid.SampledFrom([]int{0, 2400, 3000}).Draw(t, "ceiling")), slopes(t, len(p)), p...)
	m, found := derive(r)
	if found.Err() != nil {
		return r, nil
	}
	return r, m.Rooms[0]
}

func TestLaws(t *testing.T) {
	shapes := 0
	rapid.Check(t, func(t *rapid.T) {
		r, s := drawn(t)
		if s == nil {
			return
		}
		shapes++
		if bad := closed(s); bad != "" {
			t.Fatal(bad)
		}
		checkPlan(t, r, s)
		checkWalls(t, r, s)
		checkVolume(t, s)
	})
	if shapes < leastShapes() {
		t.Errorf("only %d rooms drawn had a shape", shapes)
	}
}

// checkPlan: what hangs over the floor projects onto the floor.
func checkPlan(t *rapid.T, r *job.Room, s *surface.RoomShape) {
	var plan, around float64
	for _, f := range s.Surfaces {
		if f.Role == surface.Slope || f.Role == surface.Ceiling {
			plan += float64(f.Gross) * math.Cos(float64(f.Pitch)*math.Pi/180)
		}
	}
	for _, e := range s.Edges {
		around += float64(e.Length) / 1000
	}
	if want := float64(footprint(r).Area()); math.Abs(plan-want) > 0.0015*around {
		t.Fatalf("slopes and ceilings cover %v m² of a plan of %v", plan, want)
	}
}

// checkWalls: a wall's area is the integral of the ceiling's height along its edge, here by 4000 midpoints. The rule is
// exact but in steps that hold a kink, and there off by less than step² x 1.8 (60 degrees); 1.5 mm welding along the top.
func checkWalls(t *rapid.T, r *job.Room, s *surface.RoomShape) {
	const n = 4000
	for i, a := range r.Footprint {
		b := r.Footprint[(i+1)%len(r.Footprint)]
		var sum float64
		for k := range n {
			f := (float64(k) + 0.5) / n
			sum += ceilingAt(r, float64(a.X)+f*float64(b.X-a.X), float64(a.Y)+f*float64(b.Y-a.Y))
		}
		long := math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y)) / 1000
		want := sum / n / 1000 * long
		got := 0.0
		for _, f := range s.Surfaces {
			if f.PlanEdge == i+1 && f.Pitch == 90 {
				got += float64(f.Gross)
			}
		}
		if math.Abs(got-want) > 0.0015*(long+5) {
			t.Fatalf("wall %d has %v m², want %v", i+1, got, want)
		}
	}
}

// checkVolume: by the divergence theorem the volume is a third of the sum of each surface's area times its distance from
// a point, here from a corner of the footprint.
func checkVolume(t *rapid.T, s *surface.RoomShape) {
	var v, around float64
	o := s.Surfaces[0].Frame.Origin
	for _, f := range s.Surfaces {
		n := f.Inward()
		for i := range 3 {
			v -= n[i] * (f.Frame.Origin[i] - o[i]) * float64(f.Gross) / 3
		}
	}
	for _, e := range s.Edges {
		around += float64(e.Length) / 1000
	}
	if math.Abs(v-float64(s.Volume)) > 0.0015*around*5 {
		t.Fatalf("volume %v, by its surfaces %v", s.Volume, v)
	}
}

// TestMoved: moving a room, or turning it by a right angle, changes no area, no length, no volume; listing the footprint
// the other way round neither, apart from the numbers of the walls.
func TestMoved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, s := drawn(t)
		if s == nil {
			return
		}
		dx, dy := q.MM(rapid.IntRange(-90000, 90000).Draw(t, "dx")), q.MM(rapid.IntRange(-90000, 90000).Draw(t, "dy"))
		var there, quarter []geometry.Point
		for _, c := range r.Footprint {
			there = append(there, geometry.Point{X: c.X + dx, Y: c.Y + dy})
			quarter = append(quarter, geometry.Point{X: -c.Y, Y: c.X})
		}
		for _, p := range [][]geometry.Point{there, quarter} {
			m, found := derive(room(r.Ceiling.Height, r.Ceiling.Slopes, p...))
			if err := found.Err(); err != nil {
				t.Fatal(err)
			}
			if a, b := measures(s), measures(m.Rooms[0]); !slices.Equal(a, b) {
				t.Fatalf("%v became %v", a, b)
			}
		}
	})
}

// measures are areas by m² to three places and edge lengths, sorted, because pieces change places when a room is turned.
func measures(s *surface.RoomShape) []string {
	var out []string
	for _, f := range s.Surfaces {
		out = append(out, fmt.Sprintf("%s %.3f", f.Role, float64(f.Gross)+1e-9))
	}
	for _, e := range s.Edges {
		out = append(out, fmt.Sprintf("%s+%s %.0f", e.A.Role, e.B.Role, float64(e.AngleDeg)))
	}
	slices.Sort(out)
	return append(out, fmt.Sprintf("%.3f", float64(s.Volume)+1e-9))
}

// TestDormers: with dormers too the room is a closed body of the stated volume, and the front is as wide as stated.
func TestDormers(t *testing.T) {
	shapes := 0
	rapid.Check(t, func(t *rapid.T) {
		p := turned(rectangle(8000, 6000), rapid.Float64Range(0, 360).Draw(t, "angle"))
		if rapid.Bool().Draw(t, "clockwise") {
			slices.Reverse(p)
		}
		r := room(2600, []job.Slope{{Edge: 1, Height: 900, Pitch: 40}, {Edge: 2, Height: 1200, Pitch: 55}}, p...)
		for i := range rapid.IntRange(1, 3).Draw(t, "dormers") {
			from := q.MM(rapid.IntRange(0, 5000).Draw(t, fmt.Sprint("from", i)))
			r.Dormers = append(r.Dormers, &job.Dormer{Slope: rapid.IntRange(1, 2).Draw(t, fmt.Sprint("slope", i)), From: from,
				To:    from + q.MM(rapid.IntRange(300, 2000).Draw(t, fmt.Sprint("width", i))),
				Depth: q.MM(rapid.SampledFrom([]int{0, 0, 200, 431}).Draw(t, fmt.Sprint("depth", i))), Height: q.MM(rapid.IntRange(1900, 2600).Draw(t, fmt.Sprint("height", i)))})
		}
		m, found := derive(r)
		s := m.Rooms[0]
		if len(s.Surfaces) == 0 {
			t.Fatal(found.Err())
		}
		if bad := closed(s); bad != "" {
			t.Fatal(bad)
		}
		checkPlan(t, r, s)
		checkVolume(t, s)
		for _, f := range s.Surfaces {
			if f.Part != surface.Front {
				continue
			}
			shapes++
			if w := f.Outline.Bounds().Width() - (f.Dormer.To - f.Dormer.From); w < -1 || w > 1 {
				t.Fatalf("front of %d mm for %d to %d", f.Outline.Bounds().Width(), f.Dormer.From, f.Dormer.To)
			}
		}
	})
	if shapes < leastShapes() {
		t.Errorf("only %d dormers stood", shapes)
	}
}

// leastShapes is how many of the rooms drawn must have had a shape for a law to say something; -short draws a fifth of them.
func leastShapes() int {
	if testing.Short() {
		return 4
	}
	return 20
}
