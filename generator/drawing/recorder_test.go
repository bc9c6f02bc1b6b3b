package drawing_test

import (
	"math"
	"testing"

	d "lapwork/generator/drawing"
)

// recorder remembers what a figure draws.
type recorder struct {
	view   d.View
	begun  int
	points []d.Pt
	lines  []string
	boxes  []d.Box
	styles map[string]int
	inks   map[[2]d.Ink]bool
	sizes  []float64
	holes  []d.Box // of the marks of penetrations
}

func record(f d.Figure) *recorder {
	r := &recorder{styles: map[string]int{}, inks: map[[2]d.Ink]bool{}}
	f.Draw(r)
	return r
}

func (r *recorder) Begin(v d.View) { r.view = v; r.begun++ }

func (r *recorder) Shape(s d.Style, _ bool, points []d.Pt) {
	r.points = append(r.points, points...)
	r.styles[s.Name]++
}

func (r *recorder) Circle(s d.Style, at d.Pt, radius float64) {
	r.points = append(r.points, at, d.Pt{X: radius})
	if s.Name == "hole" {
		r.holes = append(r.holes, d.Box{X0: at.X - radius, Y0: at.Y - radius, X1: at.X + radius, Y1: at.Y + radius})
	}
	r.styles[s.Name]++
}

// Text keeps the box the line takes by the width table; ascent and descent are those of common sans fonts, from memory.
func (r *recorder) Text(s d.TextStyle, at d.Pt, line string) {
	w := d.TextWidth(line, s.Size, s.Bold)
	x := at.X
	switch s.Anchor {
	case d.Middle:
		x -= w / 2
	case d.End:
		x -= w
	}
	r.points = append(r.points, at)
	r.lines = append(r.lines, line)
	r.sizes = append(r.sizes, s.Size)
	r.boxes = append(r.boxes, d.Box{X0: x, Y0: at.Y - 0.93*s.Size, X1: x + w, Y1: at.Y + 0.24*s.Size})
}

// failer is what testing.T and rapid.T share.
type failer interface{ Errorf(string, ...any) }

// checkGeometry holds the laws of every figure: finite, text at least 14 px, no text over text or outside the view.
func checkGeometry(t failer, name string, r *recorder) {
	if r.begun != 1 || r.view.Title == "" || r.view.Desc == "" {
		t.Errorf("%s: begun %d times, title %q, description %q", name, r.begun, r.view.Title, r.view.Desc)
	}
	for _, p := range r.points {
		if math.IsNaN(p.X+p.Y) || math.IsInf(p.X, 0) || math.IsInf(p.Y, 0) {
			t.Errorf("%s: point %v", name, p)
		}
	}
	view := d.Box{X1: r.view.Width, Y1: r.view.Height}
	for i, a := range r.boxes {
		if r.sizes[i] < 14 {
			t.Errorf("%s: text %q is %.1f px", name, r.lines[i], r.sizes[i])
		}
		if !view.Holds(a) {
			t.Errorf("%s: text %q %v leaves the view %v", name, r.lines[i], a, view)
		}
		for j, b := range r.boxes[:i] {
			if a.Overlaps(b) {
				t.Errorf("%s: text %q %v lies over %q %v", name, r.lines[i], a, r.lines[j], b)
			}
		}
	}
}

// checkInside is for figures that show all of what they draw; the parts of a section go on beyond its figure.
func checkInside(t failer, name string, r *recorder) {
	for _, p := range r.points {
		if p.X < -1 || p.Y < -1 || p.X > r.view.Width+1 || p.Y > r.view.Height+1 { // half the width of a thick line
			t.Errorf("%s: %v is drawn outside the view %v", name, p, r.view)
			return
		}
	}
}

func TestFixturesKeepTextApart(t *testing.T) {
	for name, f := range figures() {
		checkGeometry(t, name, record(f))
	}
}
