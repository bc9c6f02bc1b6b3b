package generator_test

import (
	"context"
	"math"
	"testing"

	"lapwork/generator"
	"lapwork/generator/job"
)

// Room A6 worked by hand: testdata/handworked/A6.md has the arithmetic. Lengths there are exact decimals, so one part in a
// million is for the floating-point sums only.
func TestRoomWorkedByHand(t *testing.T) {
	r, _, err := generator.Compute(context.Background(), generator.Options{Sources: demo(t)})
	if err != nil {
		t.Fatal(err)
	}
	same := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-6*max(1, want) {
			t.Errorf("%s: program %v, by hand %v", what, got, want)
		}
	}
	for id, want := range map[job.SurfaceID]float64{"A6-W2": 9, "A6-W3": 5.7, "A6-C1": 10.8} {
		same("net area of "+string(id), float64(r.Model.ByID[id].Net), want)
	}
	for _, shape := range r.Model.Rooms {
		if shape.Room.ID == "A6" {
			same("floor", float64(shape.FloorArea), 10.8)
			same("volume", float64(shape.Volume), 27)
		}
	}
	for id, want := range map[job.SurfaceID]struct {
		at      []int
		cut     int
		seam    float64
		staples int
	}{
		"A6-W2": {[]int{-60, 1200, 2400}, 2680, 5.16, 216},
		"A6-W3": {[]int{0, 1200, 2400}, 2680, 3.66, 168},
		"A6-C1": {[]int{-80, 1320, 2720}, 3200, 6.2, 236},
	} {
		l := r.LayoutOf(id)
		if len(l.Strips) != len(want.at) {
			t.Fatalf("%s: %d strips, by hand %d", id, len(l.Strips), len(want.at))
		}
		for i, s := range l.Strips {
			if int(s.At) != want.at[i] || int(s.Pieces[0].Cut) != want.cut {
				t.Errorf("%s strip %d: at %d, cut %d; by hand %d and %d", id, i+1, s.At, s.Pieces[0].Cut, want.at[i], want.cut)
			}
		}
		same("seam tape of "+string(id), float64(l.SeamTape), want.seam)
		same("staples of "+string(id), float64(l.Staples.Total()), float64(want.staples))
	}
	next, _ := r.LayoutOf("A6-C1").Next() // drops on the ceiling
	same("drops on the ceiling", float64(next.Length), 11640)
	same("their seams", float64(next.SeamTape), 7.56)
	for id, want := range map[string]float64{"A6-W1+W2": 2.5, "A6-W1+C1": 3, "A6-W2+W3": 2.5, "A6-W2+C1": 3.6, "A6-W2+F1": 3.6,
		"A6-W3+W4": 2.5, "A6-W3+C1": 3, "A6-W3+F1": 3, "A6-W4+C1": 3.6} {
		if p := r.Place(id); p == nil {
			t.Errorf("junction %s is missing", id)
		} else {
			same("length of "+id, float64(p.Record.Length), want)
		}
	}
	need := map[string]float64{}
	for _, p := range generator.OrderOf(r).Picks {
		if p.Room == "A6" {
			need[p.Component] += p.Need
		}
	}
	for component, want := range map[string]float64{"sheet-variable": 38.52, "staple": 779.1, "tape-single-60": 30.4776, "tape-split": 25.164,
		"adhesive-sausage": 256.4595, "primer-water": 208.725, "batten-service": 46.386} {
		same(component, need[component], want)
	}
}
