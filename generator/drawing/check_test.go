package drawing_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	d "lapwork/generator/drawing"
)

func TestCheckFindsNothingInGoodSections(t *testing.T) {
	for name, s := range sections() {
		for _, p := range d.Check(s) {
			t.Errorf("%s: %v", name, p)
		}
	}
}

func TestCheckFindsEachFault(t *testing.T) {
	crowd := []d.Part{}
	for i := range 12 {
		crowd = append(crowd, d.Part{Kind: d.Label, Text: "every label wants one place", Path: path(250, 200, 250, 210+float64(i))})
	}
	for want, parts := range map[string][]d.Part{
		"empty":                      nil,
		"unknown kind":               {{Kind: "wire", Path: path(1, 1, 2, 2)}},
		"unknown material":           {{Kind: d.Solid, Material: "cheese", Path: rect(0, 0, 100, 100)}},
		"needs 3":                    {{Kind: d.Solid, Material: "masonry", Path: path(0, 0, 100, 100)}},
		"thinner than":               {{Kind: d.Solid, Material: "plaster", Path: rect(0, 0, 1, 100)}},
		"shorter than":               {{Kind: d.Sheet, Path: path(10, 10, 12, 10)}},
		"label without text":         {{Kind: d.Label, Path: path(100, 100)}},
		"number without":             {{Kind: d.Number, Path: path(100, 100)}},
		"outside the frame":          {{Kind: d.Bead, Path: path(900, 900)}},
		"had to move":                crowd,
		"dimension \"7\" is shorter": {{Kind: d.Dimension, Text: "7", Path: path(100, 100, 105, 100)}},
	} {
		s := d.Section{Title: "Faulty", Width: 500, Height: 400, Frames: []d.Frame{{Parts: parts}}}
		found := d.Check(s)
		if !slices.ContainsFunc(found, func(p d.Problem) bool { return strings.Contains(p.Msg, want) && p.Hint != "" }) {
			t.Errorf("no %q in %v", want, found)
		}
	}
	if len(d.Check(d.Section{Title: "No size"})) != 1 {
		t.Error("a section without size passes")
	}
}

func TestNumbersListsStepsOnce(t *testing.T) {
	if got := d.Numbers(lapSection()); !slices.Equal(got, []int{1, 2, 3}) {
		t.Errorf("got %v, want 1 2 3", got)
	}
}

// TestLapIsTwoLines: where two sheets are declared on one line, the second is drawn off the first by more than the
// stroke, on the side away from the solid (below it here).
func TestLapIsTwoLines(t *testing.T) {
	r := &sheetRecorder{recorder: record(lapSection())}
	s := lapSection()
	s.Frames = s.Frames[1:]
	s.Draw(r)
	if len(r.sheets) != 2 {
		t.Fatalf("%d sheets", len(r.sheets))
	}
	first, second := r.sheets[0], r.sheets[1]
	if gap := second[0].Y - first[0].Y; gap < 5 {
		t.Errorf("the lapping sheet starts %.1f px below the first, wants more than its stroke", gap)
	}
	if last := second[len(second)-1].Y - first[0].Y; last > 0.5 || last < -0.5 {
		t.Errorf("past the lap the second sheet lies %.1f px off the line of the first", last)
	}
}

type sheetRecorder struct {
	*recorder
	sheets [][]d.Pt
}

func (r *sheetRecorder) Shape(s d.Style, closed bool, points []d.Pt) {
	if s.Name == "sheet" {
		r.sheets = append(r.sheets, points)
	}
}

// TestRoomViewTurnsToTheOpening: of the four corners the one is taken from which the walls with openings are seen.
func TestRoomViewTurnsToTheOpening(t *testing.T) {
	for wall := range 4 {
		v := prism("B2", rect(0, 0, 4000, 4000), 2500)
		for i := range v.Faces {
			v.Faces[i].Carries = false
		}
		f := v.Faces[wall]
		v.Openings = []d.Opening3{{ID: "B2-O1", Face: f.ID, Outline: f.Outline}}
		r := record(v)
		if r.styles["opening"] == 0 || r.styles["opening-cut-away"] != 0 {
			t.Errorf("the opening in %s is cut away: %v", f.ID, r.styles)
		}
		if r.styles["cut-away"] != 3 { // two near walls and the ceiling, for a room seen from above
			t.Errorf("%d faces cut away, want 3", r.styles["cut-away"])
		}
	}
}

func TestSectionSpeaksOtherWords(t *testing.T) {
	w := d.English()
	w.Kinds[d.Tape] = "Klebeband"
	if r := record(lapSection().In(w)); !strings.Contains(r.view.Desc, "Klebeband") {
		t.Errorf("description %q", r.view.Desc)
	}
}

// TestStripIsNamedOnItsSheet: a strip hung over the gap of a dormer carries its number and its cut where sheet stays.
func TestStripIsNamedOnItsSheet(t *testing.T) {
	l := d.StripLayout{Surface: "C1-S2", Facing: d.Sloping, Outline: path(0, 0, 1200, 0, 1200, 1900, 3000, 1900, 3000, 0, 4200, 0, 4200, 2100, 0, 2100),
		Strips: []d.StripMark{{No: 7, Pieces: []d.PieceMark{{Outline: rect(-130, -100, 4330, 2200), Cut: 4460}}}}}
	r := &outlineRecorder{recorder: record(l)}
	l.Draw(r)
	for _, want := range []string{"7", "cut 4460"} {
		i := slices.Index(r.lines, want)
		if i < 0 {
			t.Fatalf("no %q in %q", want, r.lines)
		}
		box := r.boxes[i]
		gap := d.Box{X0: r.outline[1].X, Y0: r.outline[2].Y, X1: r.outline[4].X, Y1: r.outline[1].Y}
		if box.Overlaps(gap) {
			t.Errorf("%q %v stands in the gap %v", want, box, gap)
		}
	}
}

// TestLevelMembersAreLabelledAtTheirEnds: joists that run from side to side carry their offset on the right, each at its own
// height, and an upright tablet still shows the whole figure.
func TestLevelMembersAreLabelledAtTheirEnds(t *testing.T) {
	l := layouts()["level"]
	r := &outlineRecorder{recorder: record(l)}
	l.Draw(r)
	low, high := r.outline[0], r.outline[2] // lower left, upper right
	for _, m := range l.Members {
		want, text := low.Y+(high.Y-low.Y)*m.From.Y/3600, fmt.Sprint(int(m.Offset))
		if !slices.ContainsFunc(r.boxes, func(b d.Box) bool {
			return r.lines[slices.Index(r.boxes, b)] == text && b.X0 > high.X && math.Abs((b.Y0+b.Y1)/2-want) < 12
		}) {
			t.Errorf("no label %s where the joist ends, at %.0f %.0f: %q %v", text, high.X, want, r.lines, r.boxes)
		}
	}
	if r.view.Width > 736 { // what an upright tablet 820 wide leaves between the page's margins
		t.Errorf("the figure is %.0f wide", r.view.Width)
	}
}

type outlineRecorder struct {
	*recorder
	outline []d.Pt
}

func (r *outlineRecorder) Shape(s d.Style, closed bool, points []d.Pt) {
	if s.Name == "outline" {
		r.outline = points
	}
	r.recorder.Shape(s, closed, points)
}
