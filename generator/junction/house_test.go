package junction

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/surface"
)

// attic is a room under two slopes of 45° over knee walls of 1 m, 5 x 6 m, flat ceiling at 2.4 m: gable 2 of plastered
// masonry, gable 4 a stud partition, timber deck below.
func attic() *job.Room {
	roof := job.Face{Behind: job.Outside, Layer: job.Sheet, Substrate: "timber-planed", Framing: job.Framing{Pitch: 600}}
	r := &job.Room{
		ID: "B2", Heated: true, CeilingFace: loft,
		Floor:     job.Face{Behind: job.Heated, Layer: job.NoLayer, Substrate: "osb"},
		Footprint: []job.Corner{{X: 0, Y: 0}, {X: 5000, Y: 0}, {X: 5000, Y: 6000}, {X: 0, Y: 6000}},
		Ceiling: job.CeilingShape{Height: 2400, Slopes: []job.Slope{
			{Edge: 1, Height: 1000, Pitch: 45}, {Edge: 3, Height: 1000, Pitch: 45},
		}},
		Slopes: []*job.SlopeFace{{Slope: 1, Face: roof}, {Slope: 2, Face: roof}},
	}
	for i, f := range []job.Face{outer, masonry, outer, inside} {
		r.Walls = append(r.Walls, &job.Wall{Edge: i + 1, Face: f})
	}
	return r
}

func attics(t *testing.T, r *job.Room) map[string]Record {
	t.Helper()
	var found diag.List
	m := surface.Derive(&job.Job{Rooms: []*job.Room{r}}, &found)
	byID, open := derive(t, m)
	for _, f := range append(found.Sorted(), open.Sorted()...) {
		t.Errorf("finding: %s", f)
	}
	return byID
}

// From the job's data to the records. Want by hand: the slopes rise 1.4 m over a plan depth of 1.4 m, so their gable edge
// is 1400 √2 = 1980 mm; the ceiling is 6000 - 2 · 1400 = 3200 mm deep. 45° slopes stand at 135° to knee walls and ceiling.
func TestFromJobToRecords(t *testing.T) {
	r := attic()
	r.Openings = []*job.Opening{
		{ID: "B2-O1", Room: r, Kind: "roof-window", Surface: "slope 1", X: 2000, Y: 500, Width: 800, Height: 1000},
		{ID: "B2-O2", Room: r, Kind: "door", Surface: "wall 4", X: 2500, Y: 0, Width: 900, Height: 2000},
		{ID: "B2-O3", Room: r, Kind: "door", Surface: "wall 2", X: 2500, Y: 0, Width: 900, Height: 2000},
	}
	r.Penetrations = []*job.Penetration{{ID: "B2-P01", Room: r, Item: "soil-pipe", Surface: "slope 2", X: 400, Y: 400, Diameter: 110}}
	r.Members = []*job.Member{{ID: "B2-M1", Room: r, Item: "timber-member", Surface: "wall 2", X: 3000, Y: 2100, Width: 100, Height: 200,
		Own: "timber-old"}}
	byID := attics(t, r)
	want := map[string]string{
		"B2-K1+G2":      "abutment-edge knee-wall gable sheet plaster block-bare 1000",
		"B2-K1+G4":      "crossing-plane knee-wall partition sheet - plasterboard 1000",
		"B2-K3+G4":      "crossing-plane knee-wall partition sheet - plasterboard 1000",
		"B2-K3+G2":      "abutment-edge knee-wall gable sheet plaster block-bare 1000",
		"B2-K1+S1":      "inside-edge slope knee-wall sheet sheet - 5000",
		"B2-K3+S2":      "inside-edge slope knee-wall sheet sheet - 5000",
		"B2-S1+C1":      "inside-edge slope flat-ceiling sheet sheet - 5000",
		"B2-S2+C1":      "inside-edge slope flat-ceiling sheet sheet - 5000",
		"B2-G2+S1":      "abutment-edge slope gable sheet plaster block-bare 1980",
		"B2-G2+S2":      "abutment-edge slope gable sheet plaster block-bare 1980",
		"B2-G2+C1":      "abutment-edge flat-ceiling gable sheet plaster block-bare 3200",
		"B2-G4+S1":      "crossing-plane slope partition sheet - plasterboard 1980",
		"B2-G4+S2":      "crossing-plane slope partition sheet - plasterboard 1980",
		"B2-G4+C1":      "crossing-plane flat-ceiling partition sheet - plasterboard 3200",
		"B2-K1+F1":      "floor-edge knee-wall floor sheet - osb 5000",
		"B2-K3+F1":      "floor-edge knee-wall floor sheet - osb 5000",
		"B2-G2+F1":      "floor-edge gable floor plaster - osb 5100", // 6000 less the outer door
		"B2-K1":         "field knee-wall - sheet - timber-planed 5000",
		"B2-G2":         "field gable - plaster - block-bare 6000",
		"B2-K3":         "field knee-wall - sheet - timber-planed 5000",
		"B2-S1":         "field slope - sheet - timber-planed 5000",
		"B2-S2":         "field slope - sheet - timber-planed 5000",
		"B2-C1":         "field flat-ceiling - sheet - timber-planed 5000",
		"B2-O1":         "opening-edge slope - sheet - timber-planed 3600",
		"B2-O3":         "opening-edge gable - plaster - block-bare 5800",
		"B2-P01":        "penetration slope - sheet - timber-planed 0",
		"B2-M1":         "crossing-member gable - plaster - timber-old 0",
		"B2-K1/staples": "fixing knee-wall - sheet - timber-planed 8333", // 5.0 m² of full support, a line each 0.6 m
		"B2-K3/staples": "fixing knee-wall - sheet - timber-planed 8333",
		"B2-S1/staples": "fixing slope - sheet - timber-planed 14840", // 8 rafters of 1980 mm less one 1000 mm at the window
		"B2-S2/staples": "fixing slope - sheet - timber-planed 15840",
		"B2-C1/staples": "fixing flat-ceiling - sheet - timber-planed 26667",
	}
	for id, w := range want {
		r, ok := byID[id]
		words := []string{string(r.Edge), r.SurfaceA, r.SurfaceB, string(r.LayerA), string(r.LayerB), string(r.Substrate)}
		for i, x := range words {
			if x == "" {
				words[i] = "-"
			}
		}
		got := strings.Join(words, " ") + fmt.Sprintf(" %.0f", 1000*float64(r.Length))
		if !ok || got != w {
			t.Errorf("%s:\n got %s\nwant %s", id, got, w)
		}
	}
	for id := range byID {
		if _, ok := want[id]; !ok {
			t.Errorf("%s derived, not expected", id)
		}
	}
	if r := byID["B2-K1+S1"]; r.Angle != 135 || r.Ends != 2 || r.Studs != 8 || r.Bays != 9 {
		t.Errorf("slope to knee wall: %v°, %d ends, %d rafters, %d bays", r.Angle, r.Ends, r.Studs, r.Bays)
	}
	// 5.0 x 1.98 m less the roof window's 0.8 m².
	if a := float64(byID["B2-S1"].Area); math.Abs(a-9.1) > 1e-9 {
		t.Errorf("slope: %v m²", a)
	}
}

// A dormer brings outside edges: its cheeks stand on the slope at right angles, room side 270°, and its front and head
// bend away from the 45° slope to 225°.
func TestDormer(t *testing.T) {
	r := attic()
	r.Dormers = []*job.Dormer{{ID: "B2-D1", Slope: 1, From: 1000, To: 2500, Depth: 300, Height: 2200, Front: outer, Cheeks: outer, Top: loft}}
	byID := attics(t, r)
	kinds := map[string]int{}
	for id, x := range byID {
		if strings.Contains(id, "D1-") && strings.Contains(id, "+") {
			kinds[fmt.Sprint(x.Edge, " ", x.SurfaceA, " ", x.SurfaceB)]++
		}
	}
	want := map[string]int{
		"inside-edge wall wall":           2, // front to each cheek
		"inside-edge wall flat-ceiling":   3, // front and cheeks to the top
		"outside-edge wall slope":         3, // cheeks and the front's foot to the slope
		"outside-edge slope flat-ceiling": 1, // head
	}
	if fmt.Sprint(kinds) != fmt.Sprint(want) {
		t.Errorf("got %v\nwant %v", kinds, want)
	}
	hole := byID["B2-S1"]
	if full := attics(t, attic())["B2-S1"]; hole.Area >= full.Area-1 {
		t.Errorf("slope %v m² with a dormer of more than 1 m² cut out of %v m²", hole.Area, full.Area)
	}
}
