package svg_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	d "lapwork/generator/drawing"
	"lapwork/generator/drawing/svg"
	_ "lapwork/generator/lawtest"
)

// piece is something drawn: a rectangle, a level or upright line, or a circle, at whole pixels.
type piece struct {
	style  d.Style
	closed bool
	points []d.Pt
	r      float64
}

// pieces is a figure of them.
type pieces []piece

const field = 48

func (p pieces) Draw(c d.Canvas) {
	c.Begin(d.View{Width: field, Height: field, Title: "t", Desc: "d"})
	for _, o := range p {
		if o.r > 0 {
			c.Circle(o.style, o.points[0], o.r)
		} else {
			c.Shape(o.style, o.closed, o.points)
		}
	}
}

func anyPiece(t *rapid.T) piece {
	whole := func(name string, from, to int) float64 { return float64(rapid.IntRange(from, to).Draw(t, name)) }
	inks := []d.Ink{d.Black, d.Ground, d.Accent}
	ink := func(name string) d.Ink { return rapid.SampledFrom(inks).Draw(t, name) }
	x, y, w, h := whole("x", 0, field-4), whole("y", 0, field-4), whole("w", 2, 10), whole("h", 2, 10)
	corners := []d.Pt{{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + h}, {X: x, Y: y + h}}
	if rapid.Bool().Draw(t, "turned") {
		corners[1], corners[3] = corners[3], corners[1]
	}
	switch rapid.IntRange(0, 4).Draw(t, "kind") {
	case 0:
		return piece{style: d.Style{Fill: ink("fill")}, closed: true, points: corners}
	case 1:
		return piece{style: d.Style{Fill: ink("fill"), Stroke: ink("stroke"), Width: 2}, closed: true, points: corners}
	case 2:
		return piece{style: d.Style{Fill: ink("fill")}, closed: true, points: append(corners, d.Pt{X: corners[3].X, Y: corners[3].Y})} // not four corners: no bar
	case 3:
		r := whole("r", 1, 5)
		style := d.Style{Fill: ink("fill")}
		if rapid.Bool().Draw(t, "ring") {
			style.Stroke, style.Width = ink("stroke"), 2
		}
		return piece{style: style, points: []d.Pt{{X: x, Y: y}}, r: r}
	}
	return piece{style: d.Style{Stroke: ink("stroke"), Width: 2 * whole("width", 1, 2)}, points: []d.Pt{corners[0], corners[rapid.SampledFrom([]int{1, 3}).Draw(t, "way")]}}
}

// plain is the piece as an element of its own.
func (p piece) plain() painted {
	name := func(i d.Ink) string {
		if i == d.NoInk {
			return ""
		}
		return i.Name()
	}
	out := painted{stroke: name(p.style.Stroke), fill: name(p.style.Fill), width: p.style.Width, lines: []subpath{{closed: p.closed}}}
	for _, at := range p.points {
		out.lines[0].points = append(out.lines[0].points, point{at.X, at.Y})
	}
	if p.r > 0 {
		out.circle, out.centre, out.r = true, out.lines[0].points[0], p.r
	}
	return out
}

// TestJoiningKeepsThePicture paints pieces one by one as they are drawn, and then what the package wrote, by the rules of
// SVG (painter's order, non-zero winding): every pixel has the same colour, whatever stands in one path.
func TestJoiningKeepsThePicture(t *testing.T) {
	joined := 0
	rapid.Check(t, func(t *rapid.T) {
		all := pieces(rapid.SliceOfN(rapid.Custom(anyPiece), 4, 24).Draw(t, "pieces"))
		text := svg.Render("x", all)
		written, err := elements(text)
		if err != nil {
			t.Fatalf("%v in %s", err, text)
		}
		var one []painted
		for _, p := range all {
			one = append(one, p.plain())
		}
		joined += len(one) - len(written)
		for y := range field {
			for x := range field {
				at := point{float64(x) + 0.5, float64(y) + 0.5}
				if got, want := colour(written, at), colour(one, at); got != want {
					t.Fatalf("at %v %q, drawn %q: %s", at, got, want, text)
				}
			}
		}
	})
	least := 50
	if testing.Short() { // draws a fifth of the pictures
		least = 10
	}
	if joined < least {
		t.Errorf("only %d pieces were joined with others", joined)
	}
}

func colour(all []painted, at point) string {
	ink := ""
	for _, p := range all {
		if o := p.over(at); o != "" {
			ink = o
		}
	}
	return ink
}

// line is a figure of one line.
type line struct {
	points []d.Pt
	closed bool
	smooth bool
}

func (l line) Draw(c d.Canvas) {
	c.Begin(d.View{Width: 100, Height: 100, Title: "t", Desc: "d"})
	c.Shape(d.Style{Stroke: d.Black, Width: 1, Smooth: l.smooth}, l.closed, l.points)
}

func anyPoints(t *rapid.T, least, most int) []d.Pt {
	v := rapid.OneOf(rapid.Float64Range(-2, 2), rapid.Float64Range(-900, 900), rapid.SampledFrom([]float64{0, 0.1, -0.1, 0.5, 10, -10.5}))
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) d.Pt { return d.Pt{X: v.Draw(t, "x"), Y: v.Draw(t, "y")} }), least, most).Draw(t, "points")
}

// TestPathsGoThroughTheirPoints: short as the data is, it leads to every point, to a tenth of a pixel.
func TestPathsGoThroughTheirPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		points := anyPoints(t, 2, 7)
		l := line{points: points, closed: rapid.Bool().Draw(t, "closed")}
		text := svg.Render("x", l)
		got, err := elements(text)
		if err != nil || len(got) != 1 || len(got[0].lines) != 1 || got[0].lines[0].closed != l.closed {
			t.Fatalf("%v, %v in %s", got, err, text)
		}
		have := got[0].lines[0].points
		for _, p := range points {
			if !near(have, p, 0.051) {
				t.Fatalf("%v is missed by %v in %s", p, have, text)
			}
		}
	})
}

// TestCurvesFollowTheirGuides: a curve bends by the points it was given, also where the data leaves the guide out.
func TestCurvesFollowTheirGuides(t *testing.T) {
	left := 0
	rapid.Check(t, func(t *rapid.T) {
		points := anyPoints(t, 3, 7)
		if rapid.Bool().Draw(t, "wave") {
			for i := range points {
				points[i] = d.Pt{X: float64(i) * 7.3, Y: float64(i%2) * 40}
			}
		}
		l := line{points: points, smooth: true, closed: rapid.Bool().Draw(t, "closed")}
		text := svg.Render("x", l)
		left += strings.Count(text, "t") // of the path and of the frame
		got, err := elements(text)
		if err != nil || len(got) != 1 {
			t.Fatalf("%v, %v in %s", got, err, text)
		}
		guides := points
		if !l.closed {
			guides = points[1 : len(points)-1]
		}
		for _, p := range guides {
			if !near(got[0].lines[0].points, p, 0.2) {
				t.Fatalf("%v guides nothing in %v of %s", p, got[0].lines[0].points, text)
			}
		}
	})
	if left == 0 {
		t.Error("no guide was ever left out")
	}
}

func near(have []point, p d.Pt, within float64) bool {
	for _, h := range have {
		if math.Abs(h.x-p.X) <= within && math.Abs(h.y-p.Y) <= within {
			return true
		}
	}
	return false
}

// TestLongLinesLoseNothingToTheEye: points may go, but none farther than a tenth of a pixel from the line, beside the
// rounding of its corners.
func TestLongLinesLoseNothingToTheEye(t *testing.T) {
	var year []d.Pt
	for i := range 366 {
		year = append(year, d.Pt{X: float64(i) * 1.65, Y: 100 + 40*math.Sin(float64(i)/50) + 0.03*math.Sin(float64(7*i))})
	}
	text := svg.Render("x", line{points: year})
	got, err := elements(text)
	if err != nil {
		t.Fatal(err)
	}
	have := got[0].lines[0].points
	if len(have) > 120 {
		t.Errorf("%d of %d points stay", len(have), len(year))
	}
	for _, p := range year {
		if off := offLine(have, p); off > 0.1+0.075 { // a corner is rounded by up to 0.05 each way
			t.Errorf("%v lies %.3f px off", p, off)
		}
	}
	if first, last := have[0], have[len(have)-1]; math.Abs(first.x-year[0].X) > 0.051 || math.Abs(last.x-year[365].X) > 0.051 {
		t.Errorf("the line runs from %v to %v", first, last)
	}
}

func offLine(line []point, p d.Pt) float64 {
	least := math.Inf(1)
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		l := (b.x-a.x)*(b.x-a.x) + (b.y-a.y)*(b.y-a.y)
		t := 0.0
		if l > 0 {
			t = max(0, min(1, ((p.X-a.x)*(b.x-a.x)+(p.Y-a.y)*(b.y-a.y))/l))
		}
		least = min(least, math.Hypot(p.X-a.x-t*(b.x-a.x), p.Y-a.y-t*(b.y-a.y)))
	}
	return least
}

// TestLabelsShareTheirElements: numbers drawn one by one, each with its frame and its leader, stand in one group, one path
// and one path.
func TestLabelsShareTheirElements(t *testing.T) {
	room := d.RoomView{Room: "B2"}
	at := func(x, y, z float64) d.XYZ { return d.XYZ{X: x, Y: y, Z: z} }
	room.Faces = []d.Face3{{ID: "F", Role: d.FloorFace, Outline: []d.XYZ{at(0, 0, 0), at(4000, 0, 0), at(4000, 3000, 0), at(0, 3000, 0)}}}
	for i := range 5 {
		x := float64(i) * 900
		room.Edges = append(room.Edges, d.Edge3{No: i + 1, ID: "e", From: at(x, 0, 0), To: at(x, 3000, 0)})
		room.Holes = append(room.Holes, d.Hole3{ID: fmt.Sprintf("P%d", i), Face: "F", At: at(x, 1000, 0)})
	}
	text := svg.Render("x", room)
	for want, n := range map[string]int{`<g class="df-ink" font-weight="700">`: 1, `stroke-width="20"`: 1, `<path class="ds-ink dr" stroke-width="4"`: 1} {
		if got := strings.Count(text, want); got != n {
			t.Errorf("%s stands %d times, want %d, in %s", want, got, n, text)
		}
	}
}

func TestStandaloneBringsItsColours(t *testing.T) {
	for name, f := range small() {
		text := svg.Standalone(f)
		if !strings.Contains(text, ".ds-ink{stroke:"+d.Light()[d.Black]+"}") || !strings.HasPrefix(text, `<svg xmlns="http://www.w3.org/2000/svg"`) {
			t.Errorf("%s cannot stand alone: %.300s", name, text)
		}
	}
}

// TestDefsCarriesWhatIsNamed: a page pays for the hatches it uses.
func TestDefsCarriesWhatIsNamed(t *testing.T) {
	text := svg.Defs([]string{"hatch-lap", "hatch-masonry", "hatch-lap", "hatch-unknown"})
	if n := strings.Count(text, "<pattern"); n != 2 || strings.Count(text, `id="hatch-lap"`) != 1 || !strings.Contains(text, `id="hatch-masonry"`) {
		t.Errorf("%d patterns in %s", n, text)
	}
	if text := svg.Defs(nil); text != "" {
		t.Errorf("hatches for nobody: %s", text)
	}
}
