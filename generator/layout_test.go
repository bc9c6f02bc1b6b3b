package generator_test

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"lapwork/generator/assess"
	"lapwork/generator/calc/strips"
)

// The gable worked by hand: testdata/handworked/gable.md has the arithmetic. The rectangle and the wall with an opening
// are A6-W2 and A6-W3 of A6.md.
func TestGableWorkedByHand(t *testing.T) {
	r, _ := computed(t, os.DirFS("../testdata/handworked/gable"))
	l := r.LayoutOf("C1-G2")
	if l == nil || l.Direction != strips.Level || len(l.Strips) != 3 {
		t.Fatalf("%+v", l)
	}
	for i, want := range [][2]int{{-80, 5220}, {1320, 4460}, {2720, 1660}} {
		if s := l.Strips[i]; int(s.At) != want[0] || len(s.Pieces) != 1 || int(s.Pieces[0].Cut) != want[1] {
			t.Errorf("strip %d: %+v, by hand at %d, cut %d", i+1, s, want[0], want[1])
		}
	}
	if l.Rip(l.Strips[2]) != 780 || l.Length != 11340 || l.Staples.OnLines != 132 || l.Staples.OnEdges != 147 {
		t.Errorf("rip %d, length %d, staples %+v", l.Rip(l.Strips[2]), l.Length, l.Staples)
	}
	// Exact decimals; a part in a million is for floating-point sums only.
	for what, x := range map[string][2]float64{"sheet": {float64(l.SheetUsed), 17.01}, "tape": {float64(l.Tape()), 5.92}, "net": {float64(l.Surface.Net), 11.25}} {
		if math.Abs(x[0]-x[1]) > 1e-6*x[1] {
			t.Errorf("%s: %v, by hand %v", what, x[0], x[1])
		}
	}
}

// house is a job of rooms in a row, each with a ceiling under a cold loft and the outer walls named.
func house(stock, more string, rooms ...string) fstest.MapFS {
	text := `reference: T-1
name: Test
lengths: mm
place: {address: here, country: DE}
issue: {number: 1, date: 2026-01-05, by: Somebody, reason: test}
target: {kind: n50, value: 1.5, source: s}
building: {work: new, built: 2026}
choices: {sheet-main: sheet-variable}
stock:
` + stock + more + `storeys:
  - {id: "0", name: Ground floor, level: 0, height: 2400, usual: {floor: slab, ceiling: inside, walls: inside}}
faces:
  outer: {behind: outside, layer: sheet, substrate: timber-planed, framing: {spacing: 600}}
  inside: {behind: heated, layer: none, substrate: plasterboard, framing: {spacing: 600, along: y}}
  loft: {behind: unheated, layer: sheet, substrate: timber-planed, framing: {spacing: 600, along: y}}
  slab: {behind: ground, layer: none, substrate: screed}
rooms:
`
	for i, r := range rooms {
		text += fmt.Sprintf("  - {id: A%d, name: Room, storey: \"0\", %s}\n", i+1, r)
	}
	return fstest.MapFS{"job.yaml": {Data: []byte(text)}}
}

const (
	narrow = "  - {component: sheet-variable, width: 1.5 m, length: 50 m}\n"
	wide   = "  - {component: sheet-variable, width: 3 m, length: 25 m}\n" // as much sheet as a narrow one
)

// Without prices the rule gives the direction and the widths compete by sheet: on studs at 600 a drop of a 1.5 m roll
// uses 1200 of 1500 mm (80 %), one of a 3 m roll 2400 of 3000 (80 %). A wall of 4.70 m between inside walls takes, edges
// at 0: four drops of 1.5 m at 0, 1200, 2400, 3600; or two of 3 m at 0 and 2400. Both 6.00 m of width, so the fewer pieces win.
// A wall of 3.50 m: three drops of 1.5 m (4.50 m) against two of 3 m (6.00 m).
func TestWidthsCompete(t *testing.T) {
	for _, c := range []struct {
		room  string
		width int
	}{
		{"plan: {from: [0, 0], size: [4700, 3000]}, walls: {1: outer}", 3000},
		{"plan: {from: [0, 0], size: [3500, 3000]}, walls: {1: outer}", 1500},
	} {
		r, _ := computed(t, house(narrow+wide, "", c.room))
		l := r.Layouts[0]
		if int(l.RollWidth) != c.width || l.Why.Reason != assess.WideDrops || l.Widths != assess.BestWidth || l.Cost.Known {
			t.Errorf("%s: %d mm (%+v, %d), want %d", c.room, l.RollWidth, l.Why, l.Widths, c.width)
		}
		if len(l.Others) != 3 {
			t.Errorf("%d other ways, want 3", len(l.Others))
		}
	}
}

// One wall that alone would take another width is not worth a roll of its own: its delivery keeps to one width.
func TestDeliveryKeepsToOneWidth(t *testing.T) {
	r, _ := computed(t, house(narrow+wide, "", "plan: {from: [0, 0], size: [4700, 3000]}, walls: {1: outer}",
		"plan: {from: [10000, 0], size: [3500, 3000]}, walls: {1: outer}", "plan: {from: [20000, 0], size: [3500, 3000]}, walls: {1: outer}"))
	for _, l := range r.Layouts {
		if l.RollWidth != 1500 {
			t.Errorf("%s hangs %d mm", l.Surface.ID, l.RollWidth)
		}
	}
	if l := r.Layouts[0]; l.Widths != assess.DeliveryWidth {
		t.Errorf("reason %d", l.Widths)
	}
	if len(r.Deliveries[0].Sheets) != 1 {
		t.Errorf("%d widths are bought", len(r.Deliveries[0].Sheets))
	}
}

// The job may fix the width and the direction of a room; the other ways stay for comparison.
func TestFixedWidth(t *testing.T) {
	r, _ := computed(t, house(narrow+wide, "settings: [{for: A1, values: {roll_mm: 1500}}]\n", "plan: {from: [0, 0], size: [4700, 3000]}, walls: {1: outer}"))
	l := r.Layouts[0]
	if next, ok := l.Next(); l.RollWidth != 1500 || l.Widths != assess.FixedWidth || !ok || next.RollWidth != 1500 {
		t.Errorf("%d mm, %d", l.RollWidth, l.Widths)
	}
	if !slices.ContainsFunc(l.Others, func(c assess.Choice) bool { return c.RollWidth == 3000 && c.Barred() }) {
		t.Errorf("the barred width is not shown: %+v", l.Others)
	}
}

const prices = `rates:
  hour: 48.00 EUR
  packs: {tape-single-60: 25.00 EUR}
`

func pricedStock(narrow, wide string) string {
	return fmt.Sprintf("  - {component: sheet-variable, width: 1.5 m, length: 50 m, price: %s EUR}\n  - {component: sheet-variable, width: 3 m, length: 25 m, price: %s EUR}\n", narrow, wide)
}

// With prices the least money for sheet, tape and labour is taken. By hand, a wall of 3.50 x 2.40 m, level in a 3 m roll
// of 25 m at 150 EUR: one piece of 3500 + 2 x 50 = 3600 mm at 150/25 = 6 EUR/m: 21.60 EUR; no seam; one piece of 4 minutes at 0.80 EUR: 3.20
// EUR. Together 24.80 EUR. If the 3 m roll costs ten times as much the 1.5 m roll is taken. Prices are invented.
func TestLeastCost(t *testing.T) {
	room := "plan: {from: [0, 0], size: [3500, 3000]}, walls: {1: outer}"
	r, _ := computed(t, house(pricedStock("150.00", "150.00"), prices, room))
	l := r.Layouts[0]
	if l.RollWidth != 3000 || l.Direction != strips.Level || l.Length != 3600 || l.Cost != (assess.LayCost{Known: true, Sheet: 2160, Cuts: 320}) {
		t.Errorf("%s %d: %d mm, %+v", l.Direction, l.RollWidth, l.Length, l.Cost)
	}
	dear, _ := computed(t, house(pricedStock("150.00", "1500.00"), prices, room))
	if l := dear.Layouts[0]; l.RollWidth != 1500 {
		t.Errorf("%d mm, although the wide roll is dear", l.RollWidth)
	}
	for _, r := range []*assess.Results{r, dear} {
		for _, o := range r.Layouts[0].Others {
			if o.Cost.Known && o.Cost.Total() < r.Layouts[0].Cost.Total() {
				t.Errorf("%s %d costs %d, less than %d", o.Direction, o.RollWidth, o.Cost.Total(), r.Layouts[0].Cost.Total())
			}
		}
	}
	none, _ := computed(t, house(pricedStock("150.00", "150.00"), strings.Replace(prices, "  packs: {tape-single-60: 25.00 EUR}\n", "", 1), room))
	if l := none.Layouts[0]; l.Cost.Known || l.Why.Reason == assess.ByCost {
		t.Errorf("without a price of tape: %+v", l.Cost)
	}
}

// A ceiling of 5.40 x 6.40 m between inside walls, level across joists at 600: the sheet covers it without turns there, five
// strips of 1.5 m (1 + ceil((6400 - 1500)/1400) = 5) of 5400 + 100 = 5500 mm. Rolls of 14.2 m hold two each, so three are
// bought. 5 x 5500 + 100 = 27600 fit in two, if one strip is joined on the joist at 2400: 2400 + 100 + 50 = 2550 and 5400 - 2400 + 50 = 3050
// go with two whole ones each, since 14200 - 11000 = 3200.
func TestJointSavesARoll(t *testing.T) {
	r, _ := computed(t, house("  - {component: sheet-variable, width: 1.5 m, length: 14.2 m}\n", "", "plan: {from: [0, 0], size: [5400, 6400]}, ceiling: loft"))
	l := r.Layouts[0]
	d := r.Deliveries[0].Sheets[0]
	if len(l.Joined) != 1 || len(d.Rolls) != 2 || l.Pieces != 6 || l.Length != 27600 {
		t.Fatalf("%d joined, %d rolls, %d pieces of %d mm", len(l.Joined), len(d.Rolls), l.Pieces, l.Length)
	}
	lines, _ := assess.FramingLines(l.Surface)
	for _, st := range l.Strips {
		for n, j := range st.Joints {
			if !slices.Contains(lines, l.JointLine(j)) {
				t.Errorf("end joint at %d: no joist", l.JointLine(j))
			}
			p := r.Place(fmt.Sprintf("%s/%d.%d", l.Surface.ID, st.No, n+1))
			if p == nil || !l.Saved(st.No, j) || math.Abs(float64(p.Record.Length-j.Tape)) > 0.001 {
				t.Errorf("the joint is no junction: %+v", p)
			}
			// The sheet below runs on by the lap past the joist's middle, the upper one's edge lies on it.
			if st.Pieces[0].To != l.JointLine(j)+100 || st.Pieces[1].From != l.JointLine(j) {
				t.Errorf("%+v at %d", st.Pieces, l.JointLine(j))
			}
		}
	}
}

// Every piece is cut once, from a roll or from a rip that holds it; rips hold no more than they are.
func TestRipsFeedPieces(t *testing.T) {
	r, _ := computed(t, demo(t).Job)
	fed := 0
	for _, d := range r.Deliveries {
		seen := map[string]bool{}
		for _, s := range d.Sheets {
			for _, roll := range s.Rolls {
				for _, c := range roll.Sequence() {
					if seen[c.ID] {
						t.Errorf("%s is cut twice", c.ID)
					}
					seen[c.ID] = true
					area := 0.0
					for _, x := range c.Feeds {
						fed++
						area += float64(x.Width) * float64(x.Cut)
						if x.Width > c.RollWidth-c.Width || x.Cut > c.Cut || x.OffcutOf != c.ID {
							t.Errorf("%s (%d x %d) from the rip of %s (%d x %d)", x.ID, x.Width, x.Cut, c.ID, c.RollWidth-c.Width, c.Cut)
						}
					}
					if area > float64(c.RollWidth-c.Width)*float64(c.Cut) {
						t.Errorf("the rip of %s feeds more than it is", c.ID)
					}
				}
			}
		}
		for _, l := range r.Layouts {
			for _, c := range l.Cuts {
				if slices.Contains(d.Rooms, l.Surface.Room) && !seen[c.ID] {
					t.Errorf("%s is not cut", c.ID)
				}
			}
		}
	}
	if fed == 0 {
		t.Error("nothing is cut from a rip")
	}
}
