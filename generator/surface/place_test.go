package surface_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"lapwork/generator/diag"
	"lapwork/generator/geometry"
	"lapwork/generator/job"
	"lapwork/generator/surface"
)

// attic is the knee-wall attic of the solids with a dormer.
func attic() *job.Room {
	r := room(2400, []job.Slope{{Edge: 1, Height: 1000, Pitch: 45}, {Edge: 3, Height: 1000, Pitch: 45}}, rectangle(5000, 6000)...)
	r.Dormers = []*job.Dormer{{ID: "B2-D1", Slope: 1, From: 1000, To: 2500, Depth: 300, Sill: 1300, Height: 2200}}
	return r
}

func TestFind(t *testing.T) {
	m, found := derive(attic())
	if err := found.Err(); err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string]job.SurfaceID{
		"wall 1": "B2-K1", "knee wall 3": "B2-K3", "gable 2": "B2-G2", "Wall  4": "B2-G4", "slope 2": "B2-S2", "ceiling": "B2-C1",
		"ceiling 1": "B2-C1", "floor": "B2-F1", "dormer 1 front": "B2-D1-W1", "dormer 1 left cheek": "B2-D1-W2",
		"dormer 1 right cheek": "B2-D1-W3", "dormer 1 top": "B2-D1-C1", "B2-G2": "B2-G2", "s1": "B2-S1", "w1": "B2-K1",
	} {
		s, err := m.Find(m.Job.Rooms[0], text)
		if err != nil || s.ID != want {
			t.Errorf("Find(%q) = %v, %v; want %s", text, s, err, want)
		}
	}
	var u *surface.UnknownSurface
	if _, err := m.Find(m.Job.Rooms[0], "wall 9"); !errors.As(err, &u) || !strings.Contains(u.Hint, "wall 4, slope 1") {
		t.Errorf("Find(wall 9): %v, hint %q", err, u.Hint)
	}
	if _, err := m.Find(&job.Room{ID: "X"}, "wall 1"); !errors.As(err, &u) {
		t.Errorf("a room of another job: %v", err)
	}
}

// Want: coordinates by hand. Seen from inside, wall 1 of a counter-clockwise footprint has corner 2 on its left; listed
// clockwise, corner 1.
func TestFrames(t *testing.T) {
	corners := rectangle(5000, 6000)
	m, _ := derive(room(2400, nil, corners...))
	at := func(id job.SurfaceID, x, y int) string {
		p := m.ByID[id].Frame.Space(geometry.Point{X: mm(x), Y: mm(y)})
		return fmt.Sprintf("%.3f %.3f %.3f", p[0], p[1], p[2])
	}
	for _, c := range []struct{ got, want string }{
		{at("B2-W1", 1000, 500), "4.000 0.000 0.500"}, {at("B2-W2", 1000, 500), "5.000 5.000 0.500"},
		{at("B2-W3", 1000, 500), "1.000 6.000 0.500"}, {at("B2-W4", 1000, 500), "0.000 1.000 0.500"},
		{at("B2-C1", 1000, 500), "1.000 0.500 2.400"}, {at("B2-F1", 1000, 500), "1.000 0.500 0.000"},
	} {
		if c.got != c.want {
			t.Errorf("%s, want %s", c.got, c.want)
		}
	}
	slices.Reverse(corners) // now wall 1 runs from (0, 6000) to (5000, 6000)
	r := room(2400, nil, corners...)
	r.Storey, r.FloorOffset = &job.Storey{Level: 2700}, -100
	m, _ = derive(r)
	if got, want := at("B2-W1", 1000, 500), "1.000 6.000 3.100"; got != want {
		t.Errorf("clockwise, storey at 2.7 m less 0.1 m: %s, want %s", got, want)
	}
}

// Want: 5 m less the door's 0.9 m; the window above the knee wall's edge reaches no edge; the stair hole lies along wall 4.
func TestNetRuns(t *testing.T) {
	r := room(2400, nil, rectangle(5000, 6000)...)
	r.Openings = []*job.Opening{
		{ID: "B2-O1", Room: r, Kind: "door", Surface: "wall 1", X: 1000, Y: 0, Width: 900, Height: 2100},
		{ID: "B2-O2", Room: r, Kind: "window", Surface: "wall 2", X: 1000, Y: 900, Width: 1200, Height: 1200},
		{ID: "B2-O3", Room: r, Kind: "hatch", Surface: "floor", X: 0, Y: 1000, Width: 800, Height: 2000},
		{ID: "B2-O4", Room: r, Kind: "window", Surface: "wall 1", X: 4000, Y: 1400, Width: 1000, Height: 1000},
	}
	m, found := derive(r)
	if err := found.Err(); err != nil {
		t.Fatal(err)
	}
	got := map[string]string{}
	for _, e := range m.Rooms[0].Edges {
		got[strings.TrimPrefix(e.ID, "B2-")] = fmt.Sprint(e.Runs, e.Net(), e.Level)
	}
	want := map[string]string{
		"W1+F1": "[{0 1000} {1900 5000}] 4100 true",
		"W1+C1": "[{1000 5000}] 4000 true", // along the top the outline runs from right to left
		"W1+W4": "[{0 1400}] 1400 false",   // the corner window reaches the corner on wall 1's right
		"W1+W2": "[{0 2400}] 2400 false",
		"W2+F1": "[{0 6000}] 6000 true",
		"W4+F1": "[{0 1000} {3000 6000}] 4000 true",
	}
	for id := range got {
		if _, ok := want[id]; !ok {
			delete(got, id)
		}
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("-want +got:\n%s", d)
	}
	// 5 x 2.4 - 0.9 x 2.1 - 1 = 9.11
	if w := m.ByID["B2-W1"]; !near(float64(w.Net), 9.11, 1e-9) || !near(float64(w.Gross), 12, 1e-9) {
		t.Errorf("wall 1: net %v of %v", w.Net, w.Gross)
	}
}

func near(a, b, tol float64) bool { return a-b <= tol && b-a <= tol }

// Every finding of the package, with the words a person sees.
func TestFindings(t *testing.T) {
	with := func(r *job.Room, change func(*job.Room)) *job.Room { change(r); return r }
	box := func() *job.Room { return room(2400, nil, rectangle(5000, 4000)...) }
	roof := func() *job.Room {
		return room(0, []job.Slope{{Edge: 1, Height: 1000, Pitch: 45}}, rectangle(5000, 4000)...)
	}
	for _, c := range []struct {
		room *job.Room
		want string
	}{
		{room(2400, nil, rectangle(5000, 4000)[:2]...), "fault: room B2: the footprint has 2 corners"},
		{room(2400, nil, geometry.Point{X: 0, Y: 0}, geometry.Point{X: 4000, Y: 3000}, geometry.Point{X: 4000, Y: 0}, geometry.Point{X: 0, Y: 3000}),
			"fault: room B2: footprint edges 1 and 3 meet at (2000, 1500) mm"},
		{room(2400, nil, geometry.Point{X: 0, Y: 0}, geometry.Point{X: 4000, Y: 0}, geometry.Point{X: 4002, Y: 0}, geometry.Point{X: 0, Y: 3000}),
			"fault: room B2: corners 2 and 3 of the footprint are less than 5 mm apart"},
		{room(0, nil, rectangle(5000, 4000)...), "fault: room B2: the room has no height"},
		{room(2400, []job.Slope{{Edge: 5, Height: 1000, Pitch: 45}}, rectangle(5000, 4000)...), "fault: room B2: slope 1 stands on wall 5"},
		{room(2400, []job.Slope{{Edge: 1, Height: 1000, Pitch: 90}}, rectangle(5000, 4000)...), "fault: room B2: slope 1 has a pitch of 90 degrees"},
		{room(2400, []job.Slope{{Edge: 1, Height: 2500, Pitch: 45}}, rectangle(5000, 4000)...),
			"fault: room B2: the knee wall of slope 1 is 2500 mm high, the ceiling 2400 mm"},
		{room(0, []job.Slope{{Edge: 1, Height: 1000, Pitch: 20}, {Edge: 1, Height: 2000, Pitch: 30}}, rectangle(5000, 4000)...),
			"fault: room B2: slope 2 lies above the rest of the ceiling everywhere"},
		{room(0, []job.Slope{{Edge: 1, Height: 1000, Pitch: 20}, {Edge: 1, Height: 1000, Pitch: 20}}, rectangle(5000, 4000)...),
			"note: room B2: slope 2 lies in the plane of slope 1 and is part of it"},
		// ridge at 1000 + 2000 = 3000 mm
		{room(3100, []job.Slope{{Edge: 1, Height: 1000, Pitch: 45}, {Edge: 3, Height: 1000, Pitch: 45}}, rectangle(5000, 4000)...),
			"open: room B2: the slopes meet below the ceiling height of 3100 mm and leave no ceiling"},
		// L: edge 3 at the inside corner, the leg of 3 m behind it: 1000 - 3000 = -2000
		{room(2400, []job.Slope{{Edge: 3, Height: 1000, Pitch: 45}}, geometry.Point{X: 0, Y: 0}, geometry.Point{X: 6000, Y: 0}, geometry.Point{X: 6000, Y: 2000},
			geometry.Point{X: 3000, Y: 2000}, geometry.Point{X: 3000, Y: 5000}, geometry.Point{X: 0, Y: 5000}),
			"fault: room B2: slope 1 runs 2000 mm below the floor behind its wall 3"},
		{with(box(), func(r *job.Room) { r.Walls = r.Walls[:3] }), "fault: room B2: nothing is said about wall 4"},
		{with(roof(), func(r *job.Room) { r.Slopes = nil }), "fault: room B2: nothing is said about slope 1"},
		{with(box(), func(r *job.Room) {
			r.Openings = []*job.Opening{{ID: "B2-O1", Surface: "slope 1", Width: 900, Height: 900}}
		}),
			`fault: B2-O1: room B2 has no surface "slope 1"`},
		{with(box(), func(r *job.Room) {
			r.Openings = []*job.Opening{{ID: "B2-O1", Surface: "wall 1", X: 4200, Y: 900, Width: 900, Height: 900}}
		}),
			"fault: opening B2-O1 reaches outside B2-W1 (wall 1)"},
		{with(box(), func(r *job.Room) { r.Openings = []*job.Opening{{ID: "B2-O1", Surface: "wall 1"}} }), "fault: opening B2-O1 is 0 x 0 mm"},
		{with(box(), func(r *job.Room) {
			r.Openings = []*job.Opening{{ID: "B2-O1", Surface: "wall 1", X: 500, Y: 900, Width: 900, Height: 900}, {ID: "B2-O2", Surface: "wall 1", X: 1399, Y: 0, Width: 900, Height: 2000}}
		}), "fault: openings B2-O1 and B2-O2 on B2-W1 overlap"},
		{with(box(), func(r *job.Room) {
			r.Penetrations = []*job.Penetration{{ID: "B2-P01", Surface: "ceiling", X: 5100, Y: 500}}
		}), "fault: penetration B2-P01 at (5100, 500) mm lies outside B2-C1 (ceiling)"},
		{with(box(), func(r *job.Room) {
			r.Openings = []*job.Opening{{ID: "B2-O1", Surface: "wall 1", X: 500, Y: 900, Width: 900, Height: 900}}
			r.Penetrations = []*job.Penetration{{ID: "B2-P01", Surface: "wall 1", X: 600, Y: 1000}}
		}), "fault: penetration B2-P01 lies inside opening B2-O1"},
		{with(box(), func(r *job.Room) {
			r.Members = []*job.Member{{ID: "B2-M1", Surface: "wall 1", X: 600, Upright: true, Length: 2500}}
		}), "fault: member B2-M1 reaches (600, 2500) mm, outside B2-W1 (wall 1)"},
		{with(box(), func(r *job.Room) { r.Dormers = []*job.Dormer{{Slope: 1}} }), "fault: room B2: dormer 1 stands in slope 1, which the room does not have"},
		{with(roof(), func(r *job.Room) { r.Dormers = []*job.Dormer{{Slope: 1, To: 50, Height: 2000}} }),
			"fault: room B2: dormer 1 is not at least 100 mm wide or stands outside"},
		{with(roof(), func(r *job.Room) {
			r.Dormers = []*job.Dormer{{Slope: 1, To: 1000, Sill: 1200, Depth: 300, Height: 2000}}
		}),
			"fault: room B2: dormer 1: its front 300 mm in from the wall meets the slope at 1300 mm, not at the sill's 1200 mm"},
		{with(roof(), func(r *job.Room) { r.Dormers = []*job.Dormer{{Slope: 1, To: 1000, Height: 1050}} }),
			"fault: room B2: dormer 1: its ceiling at 1050 mm is not 100 mm over its front's lower edge at 1000 mm"},
		{with(roof(), func(r *job.Room) { r.Dormers = []*job.Dormer{{Slope: 1, From: 4500, To: 5500, Height: 2000}} }),
			"fault: room B2: dormer 1 reaches 1000 mm in from the wall and leaves slope 1"},
		{with(roof(), func(r *job.Room) {
			r.Dormers = []*job.Dormer{{Slope: 1, From: 500, To: 1500, Height: 2000}, {Slope: 1, From: 1400, To: 2500, Height: 2000}}
		}), "fault: room B2: dormers 1 and 2 overlap or touch"},
	} {
		_, found := derive(c.room)
		var got []string
		for _, f := range found.Sorted() {
			got = append(got, f.Level.String()+": "+f.Msg)
			if f.Level != diag.Note && f.Hint == "" {
				t.Errorf("%q has no hint", f.Msg)
			}
		}
		if d := cmp.Diff([]string{c.want}, got); d != "" {
			t.Errorf("-want +got:\n%s", d)
		}
	}
}

// Want: amendments of the trade specification, no. 21: carries sheet, is air boundary, loses heat are three properties.
func TestProperties(t *testing.T) {
	no, yes := false, true
	for _, c := range []struct {
		wall job.Face
		want [3]bool // sheet, air, heat
	}{
		{job.Face{Behind: job.Outside, Layer: job.Sheet}, [3]bool{true, true, true}},
		{job.Face{Behind: job.Outside, Layer: job.NoLayer}, [3]bool{false, true, true}},
		{job.Face{Behind: job.Unheated, Layer: job.Board}, [3]bool{true, true, true}},
		{job.Face{Behind: job.Ground, Layer: job.Plaster}, [3]bool{true, true, true}},
		{job.Face{Behind: job.Party, Layer: job.NoLayer}, [3]bool{false, true, false}},
		{job.Face{Behind: job.Party, Layer: job.Sheet}, [3]bool{true, true, false}},
		{job.Face{Behind: job.Party, Layer: job.NoLayer, AirBoundary: &no, LosesHeat: &yes}, [3]bool{false, false, true}},
		{job.Face{Behind: job.Heated, Layer: job.Sheet}, [3]bool{false, false, false}},
	} {
		r := room(2400, nil, rectangle(5000, 4000)...)
		r.Walls[0].Face = c.wall
		m, _ := derive(r)
		if w := m.ByID["B2-W1"]; [3]bool{w.CarriesSheet, w.AirBoundary, w.LosesHeat} != c.want {
			t.Errorf("%+v: sheet %v, air %v, heat %v", c.wall, w.CarriesSheet, w.AirBoundary, w.LosesHeat)
		}
		if f := m.ByID["B2-F1"]; f.CarriesSheet || !f.AirBoundary || !f.LosesHeat {
			t.Errorf("floor on ground: sheet %v, air %v, heat %v", f.CarriesSheet, f.AirBoundary, f.LosesHeat)
		}
	}
}

// Want: two rooms 5 x 4 x 2.4 m and 3 x 4 x 2.4 m side by side, wall 1 of the first a party wall. V = 8 x 4 x 2.4 = 76.8;
// AF = 32; all round 2 (8 + 4) 2.4 = 57.6, above and below 64: AE = 121.6, heat loss 121.6 - 5 x 2.4 = 109.6.
// An unheated store adds nothing.
func TestTotals(t *testing.T) {
	a := room(2400, nil, rectangle(5000, 4000)...)
	b := room(2400, nil, geometry.Point{X: 5000, Y: 0}, geometry.Point{X: 8000, Y: 0}, geometry.Point{X: 8000, Y: 4000}, geometry.Point{X: 5000, Y: 4000})
	b.ID = "B3"
	a.Walls[0].Behind = job.Party
	a.Walls[1].Behind, b.Walls[3].Behind = job.Heated, job.Heated
	store := room(2400, nil, rectangle(2000, 2000)...)
	store.ID, store.Heated = "B4", false
	m, found := derive(a, b, store)
	if err := found.Err(); err != nil {
		t.Fatal(err)
	}
	got := m.Total
	if !near(float64(got.Volume), 76.8, 1e-9) || !near(float64(got.FloorArea), 32, 1e-9) || !near(float64(got.EnvelopeArea), 121.6, 1e-9) || !near(float64(got.HeatLossArea), 109.6, 1e-9) {
		t.Errorf("%+v", got)
	}
	for _, how := range []string{got.EnvelopeHow, got.FloorHow, got.VolumeHow, got.HeatLossHow} {
		if how == "" {
			t.Error("a total does not say how it was taken")
		}
	}
}
