package generator_test

import (
	"fmt"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"lapwork/generator"
	"lapwork/generator/assess"
	"lapwork/generator/calc/strips"
	"lapwork/generator/geometry"
	"lapwork/generator/job"
	_ "lapwork/generator/lawtest"
	q "lapwork/generator/quantity"
)

// over is the worked job with one more setting.
func over(t *testing.T, value string, change ...string) fstest.MapFS {
	t.Helper()
	data, err := os.ReadFile("../testdata/handworked/over/job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	text := strings.NewReplacer(change...).Replace(string(data))
	return fstest.MapFS{"job.yaml": {Data: []byte(text + "settings:\n  - {values: {" + value + "}}\n")}}
}

// lengthCut is what all deliveries cut.
func lengthCut(r *assess.Results) (sum q.MM) {
	for _, d := range r.Deliveries {
		for _, s := range d.Sheets {
			for _, p := range s.Pieces {
				sum += p.Cut
			}
		}
	}
	return sum
}

// Strips over the edge worked by hand: testdata/handworked/over.md has the arithmetic. Lengths of tape there are exact decimals.
func TestOverTheEdgeWorkedByHand(t *testing.T) {
	r, _ := computed(t, over(t, "over_edge: 1"))
	slope, wall := r.LayoutOf("C1-S1"), r.LayoutOf("C1-K1")
	if slope == nil || wall == nil || slope.Over == nil || wall.DownFrom != slope || slope.Over.Edge != "C1-K1+S1" {
		t.Fatalf("not in one piece: %+v", slope)
	}
	near := func(what string, got, want float64) {
		t.Helper()
		if d := got - want; d > 1e-6*want || -d > 1e-6*want {
			t.Errorf("%s: program %v, by hand %v", what, got, want)
		}
	}
	if slope.Length != 8316 || slope.Pieces != 2 || slope.Direction != strips.Upright || slope.Strips[0].At != -100 || slope.Strips[1].At != 1200 ||
		len(wall.Strips) != 0 || len(wall.Cuts) != 0 || lengthCut(r) != 33312 {
		t.Errorf("%+v; all cuts %d", slope.Layout, lengthCut(r))
	}
	near("seam", float64(slope.SeamTape), 4.058)
	near("sheet", float64(slope.SheetUsed), 12.474)
	if slope.Staples != (strips.Staples{OnLines: 80, OnEdges: 112}) || wall.Staples != (strips.Staples{OnLines: 32, OnEdges: 74}) {
		t.Errorf("staples %+v and %+v", slope.Staples, wall.Staples)
	}
	if r.Place("C1-K1+S1") != nil || r.Place("C1-K1") != nil || r.Place("C1-S1").Chosen.Activity != "hang-ceilings" {
		t.Error("the edge or the wall's own hanging is still there")
	}
	near("hung with the slope", float64(r.Place("C1-S1").Record.Area), 9.57)

	off, _ := computed(t, over(t, "over_edge: 0"))
	slope, wall = off.LayoutOf("C1-S1"), off.LayoutOf("C1-K1")
	if slope.Over != nil || slope.Length != 8400 || slope.Direction != strips.Level || wall.Length != 2360 || lengthCut(off) != 38200 ||
		off.Place("C1-K1+S1") == nil || off.Place("C1-K1") == nil {
		t.Errorf("apart: %+v and %+v", slope.Layout, wall.Layout)
	}
	near("seams apart", float64(slope.SeamTape+wall.SeamTape), 6.48)
	near("edge", float64(off.Place("C1-K1+S1").Record.Length), 2.5)
}

// Whatever the room and the prices: turned off, slope and wall are laid as they are apart; on, either nothing differs at all,
// or less is taken, every point of slope and wall lies in a piece of the slope's strips, the wall has none of its own,
// only the edge and the wall's hanging fall away, and the sheet hung stays as large.
func TestLawOfTheEdge(t *testing.T) {
	rounds, taken := 0, 0
	rapid.Check(t, func(t2 *rapid.T) {
		if rounds++; rounds > 12 && os.Getenv("LAPWORK_LONG") == "" {
			return
		}
		wide, high := rapid.IntRange(18, 60).Draw(t2, "wide")*100, rapid.IntRange(6, 14).Draw(t2, "high")*100
		change := []string{"size: [2500, 4000]", fmt.Sprintf("size: [%d, 4000]", wide), "height: 1000,", fmt.Sprintf("height: %d,", high)}
		if rapid.Bool().Draw(t2, "priced") {
			change = append(change, "length: 50 m}", "length: 50 m, price: 150.00 EUR}", "storeys:", prices+"storeys:")
		}
		on, _ := computed(t, over(t, "over_edge: 1", change...))
		off, _ := computed(t, over(t, "over_edge: 0", change...))
		joined := false
		for i, l := range on.Layouts {
			apart := off.Layouts[i]
			if apart.Over != nil || apart.DownFrom != nil {
				t2.Fatal("turned off, and still in one piece")
			}
			if l.Over == nil {
				continue
			}
			joined = true
			wall := off.LayoutOf(l.Over.Wall.ID)
			if !reflect.DeepEqual(l.Over.Apart[0].Layout.Length, apart.Length) || l.Over.Apart[1].Length != wall.Length {
				t2.Errorf("apart %d and %d, turned off %d and %d", l.Over.Apart[0].Length, l.Over.Apart[1].Length, apart.Length, wall.Length)
			}
			if saves, known := l.Over.Saves(l.Choice); known && saves <= 0 || !known && l.SheetUsed > apart.SheetUsed+wall.SheetUsed+1e-9 {
				t2.Errorf("%s saves nothing", l.Surface.ID)
			}
			covered(t2, l)
			if x := on.LayoutOf(l.Over.Wall.ID); x.DownFrom != l || len(x.Cuts)+len(x.Strips) != 0 {
				t2.Errorf("the wall has strips of its own: %+v", x)
			}
		}
		if joined {
			taken++
		}
		compareRuns(t2, on, off, joined)
	})
	if taken == 0 {
		t.Error("never in one piece: the law says nothing")
	}
}

// covered looks at points of slope and wall.
func covered(t *rapid.T, l *assess.Layout) {
	box := l.Over.Wall.Outline.Bounds()
	points := []geometry.Point{}
	for i := range q.MM(20) {
		for k := range q.MM(20) {
			points = append(points, geometry.Point{X: l.Over.Shift.X + box.Min.X + box.Width()*i/19, Y: l.Over.Shift.Y + box.Min.Y + box.Height()*k/19})
			s := l.Surface.Outline.Bounds()
			points = append(points, geometry.Point{X: s.Min.X + s.Width()*i/19, Y: s.Min.Y + s.Height()*k/19})
		}
	}
	for _, p := range points {
		if !slices.ContainsFunc(l.Cuts, func(c assess.CutPiece) bool {
			return c.At <= p.X && p.X <= c.At+c.Width && c.From <= p.Y && p.Y <= c.To
		}) {
			t.Errorf("%s: %v is bare", l.Surface.ID, p)
			return
		}
	}
}

// compareRuns holds the places and the order of both runs against each other.
func compareRuns(t *rapid.T, on, off *assess.Results, joined bool) {
	if !joined {
		if !reflect.DeepEqual(generator.OrderOf(on), generator.OrderOf(off)) || len(on.Places) != len(off.Places) {
			t.Error("nothing runs over an edge, and the order differs")
		}
		return
	}
	gone := map[string]bool{}
	for _, l := range on.Layouts {
		if l.Over != nil {
			gone[l.Over.Edge], gone[string(l.Over.Wall.ID)] = true, true
		}
	}
	var hung [2]float64
	for i, r := range []*assess.Results{on, off} {
		for _, id := range []job.SurfaceID{"C1-K1", "C1-K3", "C1-S1", "C1-S2", "C1-G2", "C1-G4"} {
			if p := r.Place(string(id)); p != nil {
				hung[i] += float64(p.Record.Area)
			}
		}
	}
	if d := hung[0] - hung[1]; d > 1e-9 || -d > 1e-9 {
		t.Errorf("%v m2 hung, apart %v", hung[0], hung[1])
	}
	for _, p := range off.Places {
		seam := strings.Contains(p.Record.ID, "/")
		if here := on.Place(p.Record.ID) != nil; !seam && here == gone[p.Record.ID] {
			t.Errorf("%s: there %v, falls away %v", p.Record.ID, here, gone[p.Record.ID])
		}
	}
}
