package junction

import (
	"fmt"
	"testing"

	"lapwork/generator/geometry"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// Studs of a wall 2500 wide, worked by hand: at the spacing, doubled ones beside it and on it, and counted back from the
// right end in a room of mirrored plan, 2500 - 600, 2500 - 1250 and so on.
func TestFramingLines(t *testing.T) {
	for _, c := range []struct {
		framing job.Framing
		want    string
	}{
		{job.Framing{Pitch: 600}, "[600 1200 1800 2400]"},
		{job.Framing{Pitch: 600, Offset: 350}, "[350 950 1550 2150]"},
		{job.Framing{Pitch: 600, Doubled: []q.MM{1250, 1800}}, "[600 1200 1250 1800 2400]"},
		{job.Framing{Lines: []q.MM{100, 2000}, Doubled: []q.MM{900, 2600}}, "[100 900 2000]"},
		{job.Framing{Doubled: []q.MM{900}}, "[]"}, // full support
		{job.Framing{Pitch: 600, BackFrom: 2500}, "[100 700 1300 1900]"},
		{job.Framing{Pitch: 600, Doubled: []q.MM{1250}, BackFrom: 2500}, "[100 700 1250 1300 1900]"},
		{job.Framing{Lines: []q.MM{100, 2000}, BackFrom: 2500}, "[500 2400]"},
	} {
		s := &surface.Surface{Role: surface.Wall, Face: &job.Face{Framing: c.framing}, Outline: geometry.Rect(0, 0, 2500, 2400)}
		if got := fmt.Sprint(framingLines(s)); got != c.want {
			t.Errorf("%+v: %s, want %s", c.framing, got, c.want)
		}
	}
}

// The spacing a surface's framing has: as stated, the mean of explicit lines, none where the support is full.
func TestFramingPitch(t *testing.T) {
	for _, c := range []struct {
		framing job.Framing
		want    q.MM
	}{
		{job.Framing{Pitch: 625, Doubled: []q.MM{1250}}, 625},
		{job.Framing{Lines: []q.MM{900, 100, 1700}}, 800},
		{job.Framing{Lines: []q.MM{900}}, 0},
		{job.Framing{}, 0},
	} {
		r := Record{A: &surface.Surface{Face: &job.Face{Framing: c.framing}}}
		if got := r.FramingPitch(); got != c.want {
			t.Errorf("%+v: %d, want %d", c.framing, got, c.want)
		}
	}
	if got := (&Record{}).FramingPitch(); got != 0 {
		t.Errorf("without a surface: %d", got)
	}
}
