package generator_test

import (
	"fmt"
	"math"
	"os"
	"testing"

	"lapwork/generator/job"
)

// The bungalow's living room worked by hand: testdata/handworked/valley.md has the arithmetic, with four places where a length
// is no exact decimal.
func TestValleyWorkedByHand(t *testing.T) {
	r, _ := computed(t, os.DirFS("../testdata/jobs/bungalow"))
	near := func(what string, got, want, within float64) {
		t.Helper()
		if math.Abs(got-want) > within {
			t.Errorf("%s: program %v, by hand %v", what, got, want)
		}
	}
	for id, want := range map[job.SurfaceID]float64{"A1-S1": 19.4856, "A1-S2": 12.2687, "A1-S3": 12.2687, "A1-S4": 19.4856,
		"A1-K1": 16.6, "A1-K3": 7.2, "A1-K4": 3.33, "A1-K6": 19.2} {
		near("net area of "+string(id), float64(r.Model.ByID[id].Net), want, 1e-4)
	}
	near("volume", float64(r.Model.Rooms[0].Volume), 171.6928, 1e-4)
	// lengths of edges are whole millimetres
	for id, want := range map[string]float64{"A1-S1+S2": 5.5, "A1-S3+S4": 5.5, "A1-S1+S4": 3.819, "A1-S2+S3": 3.819, "A1-K1+S1": 8, "A1-K3+S2": 3,
		"A1-K4+S3": 3, "A1-K6+S4": 8, "A1-G2+S1": 2.887, "A1-G5+S4": 2.887, "A1-K3+K4": 2.4} {
		if p := r.Place(id); p == nil || !p.Answered() {
			t.Errorf("junction %s is missing", id)
		} else {
			near("length of "+id, float64(p.Record.Length), want, 1e-6)
		}
	}
	for id, want := range map[job.SurfaceID]struct {
		strips  string
		seam    float64
		staples int
	}{
		"A1-S2": {"[-1263:3504 137:4716 1537:5929]", 8.020, 292},
		"A1-K3": {"[-100:2580 1250:2580 2500:2580]", 4.960, 0},
	} {
		l := r.LayoutOf(id)
		var strips []string
		for _, s := range l.Strips {
			strips = append(strips, fmt.Sprintf("%d:%d", s.At, s.Pieces[0].Cut))
		}
		if got := fmt.Sprint(strips); got != want.strips {
			t.Errorf("%s: strips %s, by hand %s", id, got, want.strips)
		}
		near("seam tape of "+string(id), float64(l.SeamTape), want.seam, 0.002) // each lap rounded to the millimetre
		if want.staples > 0 && l.Staples.Total() != want.staples {
			t.Errorf("%s: %d staples, by hand %d", id, l.Staples.Total(), want.staples)
		}
	}
	tape := 0.0
	for _, id := range []string{"A1-S1+S2", "A1-S3+S4", "A1-S1+S4", "A1-S2+S3"} {
		for _, line := range r.Place(id).Lines {
			if line.Component == "tape-single-60" {
				tape += line.Amount
			}
		}
	}
	near("tape of ridges, hip and valley", tape, 20.561, 1e-3)
}
