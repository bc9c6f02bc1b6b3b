package surface_test

import (
	"strings"
	"testing"

	"lapwork/generator/geometry"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// TestWindowUnderSlope: the gable of walls 1 m under 45 degrees is 1.2 m high 0.2 m from its end. A window from (200, 900)
// to (1200, 2100) lies in the gable's box and 900 mm over its slope.
func TestWindowUnderSlope(t *testing.T) {
	r := room(0, []job.Slope{{Edge: 1, Height: 1000, Pitch: 45}, {Edge: 3, Height: 1000, Pitch: 45}}, rectangle(5000, 4000)...)
	r.Openings = []*job.Opening{{ID: "B2-O1", Surface: "wall 2", X: 200, Y: 900, Width: 1000, Height: 1200}}
	_, found := derive(r)
	want := "at x 200 mm it reaches up to y 2100 mm, the surface to 1200 mm"
	if got := found.Sorted(); len(got) != 1 || !strings.Contains(got[0].Hint, want) {
		t.Errorf("found %v", got)
	}
}

// TestFailedDormer: what stands in a dormer that does not fit is no second finding.
func TestFailedDormer(t *testing.T) {
	r := room(2400, []job.Slope{{Edge: 1, Height: 1000, Pitch: 45}}, rectangle(5000, 4000)...)
	r.Dormers = []*job.Dormer{{ID: "B2-D1", Slope: 1, From: 1000, To: 2500, Sill: 1600, Height: 2200}}
	r.Openings = []*job.Opening{{ID: "B2-O1", Surface: "dormer 1 front", X: 200, Y: 100, Width: 800, Height: 800}}
	if _, found := derive(r); len(found.Sorted()) != 1 {
		t.Errorf("found %v", found.Sorted())
	}
}

// TestSlopeInMetres: 2.4 in a job of millimetres is read as 2 mm.
func TestSlopeInMetres(t *testing.T) {
	_, found := derive(room(2400, []job.Slope{{Edge: 1, Height: 2, Pitch: 45}}, rectangle(5000, 4000)...))
	if got := found.Sorted(); len(got) != 1 || got[0].Msg != "room B2: slope 1 starts 2 mm over the floor" {
		t.Errorf("found %v", got)
	}
}

// TestSameSpace: 5 x 4 m and a room 4.9 m farther along x share 0.1 x 4 = 0.4 m²; 4.99 m farther 0.04, which a tape may miss.
// A gallery over a room of 2.4 m shares its plan but no space; an L and a room in its open corner share nothing.
func TestSameSpace(t *testing.T) {
	first := room(2400, nil, rectangle(5000, 4000)...)
	at := func(id job.RoomID, dx, dy, w, d int) *job.Room {
		var p []geometry.Point
		for _, c := range rectangle(q.MM(w), q.MM(d)) {
			p = append(p, geometry.Point{X: c.X + q.MM(dx), Y: c.Y + q.MM(dy)})
		}
		r := room(2400, nil, p...)
		r.ID = id
		return r
	}
	gallery := at("B4", 0, 0, 5000, 2000)
	gallery.FloorOffset = 2600
	for _, c := range []struct {
		name  string
		rooms []*job.Room
		want  string
	}{
		{"overlapping", []*job.Room{first, at("B3", 4900, 0, 3000, 4000)}, "rooms B2 and B3 take the same space: 0.4 m²"},
		{"within", []*job.Room{at("B3", 1000, 1000, 1000, 1000), first}, "rooms B3 and B2 take the same space: 1.0 m²"},
		{"by a centimetre", []*job.Room{first, at("B3", 4990, 0, 3000, 4000)}, ""},
		{"gallery", []*job.Room{first, gallery}, ""},
		{"in the corner of an L", []*job.Room{elbow(2400), at("B3", 4000, 4000, 6000, 2500)}, ""},
		{"over an L", []*job.Room{elbow(2400), at("B3", 3500, 3500, 6000, 2500)}, "take the same space: 4.0 m²"}, // 6 x 0.5 below y = 4 m, 0.5 x 2 above
	} {
		_, found := derive(c.rooms...)
		got := found.Sorted()
		if c.want == "" && len(got) > 0 || c.want != "" && (len(got) != 1 || !strings.Contains(got[0].Msg, c.want)) {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}
