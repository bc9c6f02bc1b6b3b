package drawing_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	d "lapwork/generator/drawing"
	"lapwork/generator/drawing/svg"
	q "lapwork/generator/quantity"
)

func TestRandomLayoutsKeepTextApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		wide := rapid.Float64Range(600, 14000).Draw(t, "wide")
		tall := rapid.Float64Range(400, 6000).Draw(t, "tall")
		l := levelLayout("B2-W3", wide, tall)
		if rapid.Bool().Draw(t, "upright") {
			l = uprightLayout("B2-W3", rect(0, 0, wide, tall), wide, func(float64) float64 { return tall })
		}
		if rapid.Bool().Draw(t, "joists") {
			l = joists(l, wide, tall, rapid.Float64Range(300, 900).Draw(t, "pitch"))
		}
		for i := range rapid.IntRange(0, 4).Draw(t, "openings") {
			x, y := rapid.Float64Range(0, wide*0.8).Draw(t, "x"), rapid.Float64Range(0, tall*0.7).Draw(t, "y")
			l.Openings = append(l.Openings, d.OpeningMark{ID: fmt.Sprintf("B2-O%d", i+1), Outline: rect(x, y, x+wide*0.2, y+tall*0.3), HasSill: true, Sill: mm(y)})
		}
		for i := range rapid.IntRange(0, 12).Draw(t, "holes") {
			l.Penetrations = append(l.Penetrations, d.HoleMark{ID: fmt.Sprintf("B2-P%02d", i+1), At: d.XY{X: rapid.Float64Range(0, wide).Draw(t, "hx"), Y: rapid.Float64Range(0, tall).Draw(t, "hy")}, Diameter: 110})
		}
		r := record(l)
		checkGeometry(t, "layout", r)
		checkInside(t, "layout", r)
	})
}

// TestLeadersOfALongLowWall: on a wall of 14 by 0.4 m with much at its left end, a label that has no room on the last strip
// leads to that strip and not beyond the figure.
func TestLeadersOfALongLowWall(t *testing.T) {
	const wide, tall = 14000.0, 400.0
	l := uprightLayout("B2-W3", rect(0, 0, wide, tall), wide, func(float64) float64 { return tall })
	for i := range 4 {
		l.Openings = append(l.Openings, d.OpeningMark{ID: fmt.Sprintf("B2-O%d", i+1), Outline: rect(1, 1, 1+wide*0.2, 1+tall*0.3), HasSill: true, Sill: 1})
		l.Penetrations = append(l.Penetrations, d.HoleMark{ID: fmt.Sprintf("B2-P%02d", i+1), At: d.XY{X: 1, Y: 1}, Diameter: 110})
	}
	r := record(l)
	checkGeometry(t, "layout", r)
	checkInside(t, "layout", r)
}

// TestHolesAreSeen: where holes stand close to each other and to a junction line, no label of one and no number covers the
// mark of another.
func TestHolesAreSeen(t *testing.T) {
	for turn := range 4 {
		v := prism("R28", rect(0, 0, 4000, 3000), 2400)
		for i, at := range []d.XYZ{{X: 4000, Y: 600, Z: 300}, {X: 4000, Y: 1700, Z: 300}, {X: 600, Y: 0, Z: 300}, {X: 0, Y: 2000, Z: 2200}, {X: 0, Y: 1500, Z: 2200}} {
			v.Holes = append(v.Holes, d.Hole3{ID: fmt.Sprintf("R28-P%02d", i+1), Face: fmt.Sprintf("R28-W%d", []int{2, 2, 1, 4, 4}[i]), At: at})
		}
		for i := range v.Faces[:4] { // which walls are cut away decides from which corner the room is seen
			v.Faces[i].Carries = i == turn || i == (turn+1)%4
		}
		r := record(v)
		for i, box := range r.boxes {
			for _, hole := range r.holes {
				if box.Overlaps(hole) {
					t.Errorf("seen with wall %d open: %q covers a hole", turn+1, r.lines[i])
				}
			}
		}
		if len(r.holes) == 0 {
			t.Error("no hole is seen")
		}
	}
}

func TestRandomRoomsKeepTextApartAndNumberOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, y := rapid.Float64Range(900, 12000).Draw(t, "x"), rapid.Float64Range(900, 12000).Draw(t, "y")
		cx, cy := rapid.Float64Range(0.2, 0.8).Draw(t, "cx")*x, rapid.Float64Range(0.2, 0.8).Draw(t, "cy")*y
		foot := rect(0, 0, x, y)
		if rapid.Bool().Draw(t, "ell") {
			foot = path(0, 0, x, 0, x, cy, cx, cy, cx, y, 0, y)
		}
		v := prism("B2", foot, rapid.Float64Range(1000, 5000).Draw(t, "tall"))
		r := record(v)
		checkGeometry(t, "room", r)
		checkInside(t, "room", r)
		count := map[string]int{}
		for _, line := range r.lines {
			count[line]++
		}
		for _, l := range v.Legend() {
			if n := count[fmt.Sprint(l.No)]; n != 1 {
				t.Errorf("number %d is written %d times", l.No, n)
			}
		}
	})
}

func TestRandomSectionsKeepTextApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := cornerSection()
		parts := append([]d.Part{}, s.Frames[0].Parts...)
		for i := range rapid.IntRange(1, 8).Draw(t, "labels") {
			at := func(name string) d.XY {
				return d.XY{X: rapid.Float64Range(-50, 550).Draw(t, name), Y: rapid.Float64Range(-50, 470).Draw(t, name)}
			}
			kind := rapid.SampledFrom([]d.PartKind{d.Label, d.Number, d.Dimension}).Draw(t, "kind")
			parts = append(parts, d.Part{Kind: kind, Step: i + 1, Text: rapid.StringMatching(`[A-Za-z0-9 ]{1,40}`).Draw(t, "text"), Path: []d.XY{at("a"), at("b")}})
		}
		s.Frames[0].Parts = parts
		checkGeometry(t, "section", record(s))
	})
}

func TestRandomPlansKeepTextApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := d.StoreyPlan{Title: "Storey"}
		x := 0.0
		for i := range rapid.IntRange(1, 7).Draw(t, "rooms") {
			w, h := rapid.Float64Range(500, 7000).Draw(t, "w"), rapid.Float64Range(500, 7000).Draw(t, "h")
			p.Rooms = append(p.Rooms, d.PlanRoom{ID: fmt.Sprintf("B%d", i+1), Name: "Some room of the house", Note: "3 of 12 done", Outline: rect(x, 0, x+w, h)})
			p.Edges = append(p.Edges, d.PlanEdge{From: d.XY{X: x}, To: d.XY{X: x + w}, Carries: true, ID: fmt.Sprintf("B%d-W1", i+1)})
			p.Holes = append(p.Holes, d.PlanHole{ID: fmt.Sprintf("B%d-P01", i+1), At: d.XY{X: x + w/2}})
			x += w + 100
		}
		r := record(p)
		checkGeometry(t, "plan", r)
		checkGeometry(t, "key", record(d.KeyPlan{Title: "Key", Rooms: p.Rooms, Here: "B1"}))
	})
}

// FuzzAbsurdSizes draws every figure with sizes no building has: nothing but finite numbers may come out.
func FuzzAbsurdSizes(f *testing.F) {
	for _, seed := range [][3]float64{{0, 0, 0}, {1e300, 1, -1}, {math.NaN(), 1, 2}, {math.Inf(1), math.Inf(-1), 1e-300}, {1000, 1e-9, 3}, {-5, -5, -5}, {1e7, 1, 1e7}} {
		f.Add(seed[0], seed[1], seed[2], "<&\"'\x00>")
	}
	f.Fuzz(func(t *testing.T, a, b, c float64, text string) {
		xy := path(0, 0, a, 0, a, b, c, b)
		small := q.MM(0)
		if math.Abs(c) < 1e12 {
			small = q.MM(c)
		}
		for name, fig := range map[string]d.Figure{
			"strips": d.StripLayout{Surface: text, Outline: xy, Strips: []d.StripMark{{No: 1, Pieces: []d.PieceMark{{Outline: xy, Cut: small, Roll: text}}}},
				Openings: []d.OpeningMark{{ID: text, Outline: xy}}, Penetrations: []d.HoleMark{{ID: text, At: d.XY{X: c, Y: a}, Diameter: small}}, Heights: []d.SetOut{{At: small, Value: small}, {At: -small}},
				Members: []d.MemberLine{{From: d.XY{X: c}, To: d.XY{X: c, Y: b}, Offset: small}}, Edges: []d.EdgeMark{{ID: text, From: d.XY{X: a}, To: d.XY{Y: b}}}},
			"section": d.Section{Title: text, Width: small, Height: q.MM(100), Frames: []d.Frame{{Caption: text, Parts: []d.Part{{Kind: d.Solid, Material: "insulation", Path: xy}, {Kind: d.Sheet, Path: xy},
				{Kind: d.Tape, Path: xy}, {Kind: d.Collar, Path: xy}, {Kind: d.Label, Text: text, Path: xy}, {Kind: d.Dimension, Path: xy}, {Kind: d.Fold, Path: xy}}}}},
			"room": prism(text, xy, b),
			"plan": d.StoreyPlan{Title: text, Rooms: []d.PlanRoom{{ID: text, Name: text, Outline: xy}}, Edges: []d.PlanEdge{{From: d.XY{X: a}, To: d.XY{Y: b}, ID: text, Carries: true}}},
			"key":  d.KeyPlan{Title: text, Rooms: []d.PlanRoom{{ID: text, Outline: xy}}, Here: text},
		} {
			out := svg.Render("x", fig)
			for _, bad := range []string{"NaN", "Inf", "e+", "style=", "<script"} {
				if strings.Contains(strings.ReplaceAll(out, svg.Escape(text), ""), bad) {
					t.Fatalf("%s: %q in %s", name, bad, out)
				}
			}
		}
	})
}

func TestRandomChartsKeepTextApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		value := rapid.OneOf(rapid.Float64Range(-50, 3000), rapid.Float64Range(-1e-6, 1e-6), rapid.SampledFrom([]float64{0, math.NaN(), math.Inf(1), 1e14, -1e300}))
		x := rapid.SliceOfN(value, 0, 8).Draw(t, "x")
		y := rapid.SliceOfN(value, 0, 8).Draw(t, "y")
		log := rapid.Bool().Draw(t, "log")
		c := d.Chart{Title: "Any", X: d.Axis{Label: "x", Log: log}, Y: d.Axis{Label: "y", Log: rapid.Bool().Draw(t, "ylog")}, Series: []d.Series{{Name: "one", X: x, Y: y, Line: true}},
			Levels: []d.Level{{Name: "limit", Value: value.Draw(t, "limit")}}, Bands: []d.Band{{Name: "a layer", From: value.Draw(t, "from"), To: value.Draw(t, "to")}}}
		checkGeometry(t, "chart", record(c))
		checkGeometry(t, "fan", record(d.FanPlot{Title: "Test", Name: "a", Pressure: x, Flow: y, Coefficient: value.Draw(t, "c"), Exponent: 0.65}))
		b := d.Bars{Title: "Bars", Label: "unit", Limit: value.Draw(t, "bar limit"), LimitName: "limit"}
		s := d.Schedule{Title: "Days", Label: "day"}
		for i, v := range x {
			b.Rows = append(b.Rows, d.BarRow{Name: fmt.Sprintf("a row with a rather long name %d", i), To: v, Text: "some value"})
			s.Rows = append(s.Rows, d.TaskRow{Name: "activity", Bars: []d.Span{{From: 0, To: v}}, Hold: "hold point"})
		}
		checkGeometry(t, "bars", record(b))
		checkGeometry(t, "schedule", record(s))
	})
}

// TestAxisSteps: steps of 1, 2, 5 times powers of ten are the usual practice for axes (common practice, no source).
func TestAxisSteps(t *testing.T) {
	r := record(d.Chart{Title: "T", X: d.Axis{Label: "Day", From: 0, To: 10}, Y: d.Axis{Label: "kWh", From: 0, To: 2000}, Series: []d.Series{{Name: "s", X: []float64{1}, Y: []float64{1}}}})
	have := map[string]bool{}
	for _, line := range r.lines {
		have[line] = true
	}
	for _, want := range []string{"0", "1", "9", "10", "200", "400", "2000"} {
		if !have[want] {
			t.Errorf("no step %q in %q", want, r.lines)
		}
	}
}

// TestLabelsOfNarrowStrips: what is written on an upright strip is broken into lines where it fits in so, and keeps off the
// edge of the wall; no id is broken inside.
func TestLabelsOfNarrowStrips(t *testing.T) {
	l := uprightLayout("R128-W2", rect(0, 0, 3000, 2400), 3000, func(float64) float64 { return 2400 })
	for i := range l.Strips {
		for j := range l.Strips[i].Pieces {
			l.Strips[i].Pieces[j].From = "R127-W2/3"
		}
	}
	r := record(l)
	count := 0
	for _, line := range r.lines {
		if line == "R127-W2/3" || strings.HasSuffix(line, " R127-W2/3") {
			count++
		} else if strings.HasPrefix("R127-W2/3", line) && len(line) > 3 || line != "R127-W2/3" && strings.HasSuffix("R127-W2/3", line) && len(line) > 3 {
			t.Errorf("an id is broken at %q", line)
		}
	}
	if want := len(l.Strips); count != want {
		t.Errorf("%d strips say from which piece they are cut, want %d", count, want)
	}
}
