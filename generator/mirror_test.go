package generator_test

import (
	"bytes"
	"io/fs"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"lapwork/generator/assess"
	"lapwork/generator/calc/strips"
	"lapwork/generator/geometry"
	"lapwork/generator/job"
	"lapwork/generator/pack"
	"lapwork/generator/surface"
)

// mirroredDemo is the demo's house built twice, the second time left for right. What a delivery decides beyond its surfaces is
// turned off: whether strips over an edge save a roll depends on what else it cuts.
func mirroredDemo(t *testing.T) fs.FS {
	t.Helper()
	return demoWith(t, func(job []byte) []byte {
		job = bytes.Replace(job, []byte("settings:\n"), []byte("settings:\n  - {values: {over_edge: 0}}\n"), 1)
		return append(job, "units: [{id: u, name: House, rooms: [A1, A2, A3, A4, A5, A6, B1, B2, B3, B4, C1, C2], instances: [{id: a}, {id: m, mirrored: yes}]}]\n"+
			"deliveries: [{id: one, name: One, rooms: [a]}, {id: two, name: Two, rooms: [m]}]\n"...)
	})
}

// twin is the id in the mirrored house: cheeks of a dormer change places.
func twin(id string) string {
	id = "m" + strings.TrimPrefix(id, "a")
	id = strings.ReplaceAll(id, "+a.", "+m.")
	return strings.NewReplacer("-D1-W2", "-D1-W3", "-D1-W3", "-D1-W2").Replace(id)
}

// The demo's house built left for right has the same surfaces, places, lengths, studs, minutes and amounts, and each hole and
// each framing line lies where the mirror puts it. Lengths are rounded to whole millimetres in each house, so they may
// differ by one; amounts that follow from them by as much.
func TestMirroredHouse(t *testing.T) {
	r, _ := computed(t, mirroredDemo(t))
	axis := math.NaN() // x of a point and of its twin add up to the same all over the house
	onAxis := func(what string, a, m [3]float64) {
		t.Helper()
		if math.IsNaN(axis) {
			axis = a[0] + m[0]
		}
		if math.Abs(a[0]+m[0]-axis) > 0.0025 || math.Abs(a[1]-m[1]) > 0.0025 || math.Abs(a[2]-m[2]) > 0.0025 {
			t.Errorf("%s lies at %.3f, its twin at %.3f: not mirrored at %.3f", what, a, m, axis/2)
		}
	}
	pairs := 0
	for _, room := range r.Model.Rooms {
		for _, s := range room.Surfaces {
			if !strings.HasPrefix(string(s.ID), "a.") {
				continue
			}
			o := r.Model.ByID[job.SurfaceID(twin(string(s.ID)))]
			if o == nil {
				t.Errorf("%s has no twin", s.ID)
				continue
			}
			pairs++
			if math.Abs(float64(s.Net-o.Net)) > 0.004 || s.Role != o.Role || len(s.Outline) != len(o.Outline) || len(s.Openings) != len(o.Openings) ||
				len(s.Penetrations) != len(o.Penetrations) || len(s.Members) != len(o.Members) {
				t.Errorf("%s: %v m2 of %v, its twin %v of %v", s.ID, s.Net, s.Outline, o.Net, o.Outline)
				continue
			}
			for _, p := range s.Outline {
				at := s.Frame.Space(p)
				near := slices.ContainsFunc(o.Outline, func(p geometry.Point) bool {
					m := o.Frame.Space(p)
					return !math.IsNaN(axis) && math.Abs(at[0]+m[0]-axis) < 0.0025 && math.Abs(at[1]-m[1]) < 0.0025 && math.Abs(at[2]-m[2]) < 0.0025
				})
				if !near && !math.IsNaN(axis) {
					t.Errorf("%s: the corner at %.3f has no twin in %v", s.ID, at, o.Outline)
				}
			}
			for i, hole := range s.Openings {
				onAxis(string(hole.ID), s.Frame.Space(centre(hole.Outline)), o.Frame.Space(centre(o.Openings[i].Outline)))
			}
			for i, hole := range s.Penetrations {
				onAxis(string(hole.ID), s.Frame.Space(hole.At), o.Frame.Space(o.Penetrations[i].At))
			}
			for i, m := range s.Members {
				onAxis(string(m.Member.ID), s.Frame.Space(between(m.From, m.To)), o.Frame.Space(between(o.Members[i].From, o.Members[i].To)))
			}
			mirroredFraming(t, s, o, onAxis)
		}
	}
	if pairs < 60 {
		t.Errorf("only %d pairs of surfaces", pairs)
	}
	mirroredPlaces(t, r)
}

func centre(p geometry.Polygon) geometry.Point { return between(p.Bounds().Min, p.Bounds().Max) }

func between(a, b geometry.Point) geometry.Point {
	return geometry.Point{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}
}

// mirroredFraming compares where the framing lines lie in space.
func mirroredFraming(t *testing.T, s, o *surface.Surface, onAxis func(what string, a, m [3]float64)) {
	t.Helper()
	lines, level := assess.FramingLines(s)
	others, otherLevel := assess.FramingLines(o)
	if len(lines) != len(others) || level != otherLevel {
		t.Errorf("%s: framing %v, its twin's %v", s.ID, lines, others)
		return
	}
	for i, x := range lines {
		if level {
			if x != others[i] {
				t.Errorf("%s: framing %v, its twin's %v", s.ID, lines, others)
			}
			continue
		}
		onAxis("framing of "+string(s.ID), s.Frame.Space(geometry.Point{X: x}), o.Frame.Space(geometry.Point{X: others[len(lines)-1-i]}))
	}
}

// mirroredPlaces compares what each place takes.
func mirroredPlaces(t *testing.T, r *assess.Results) {
	t.Helper()
	places := 0
	for _, p := range r.Places {
		if !strings.HasPrefix(p.Record.ID, "a.") {
			continue
		}
		o := r.Place(twin(p.Record.ID))
		if o == nil {
			t.Errorf("%s has no twin", p.Record.ID)
			continue
		}
		places++
		a, m := p.Record, o.Record
		if math.Abs(float64(a.Length-m.Length)) > 0.0015 || a.Studs != m.Studs || a.Ends != m.Ends || a.Corners != m.Corners || a.Edge != m.Edge || a.Angle != m.Angle ||
			a.SurfaceA != m.SurfaceA || a.SurfaceB != m.SurfaceB || p.Answered() != o.Answered() {
			t.Errorf("%s: %+v\nits twin: %+v", a.ID, a, m)
			continue
		}
		if math.Abs(float64(p.Minutes.Likely-o.Minutes.Likely)) > 0.003*float64(p.Minutes.Likely) || len(p.Lines) != len(o.Lines) {
			t.Errorf("%s takes %v minutes, its twin %v", a.ID, p.Minutes, o.Minutes)
			continue
		}
		for i, l := range p.Lines {
			if x := o.Lines[i]; x.Component != l.Component || math.Abs(x.Amount-l.Amount) > 0.003*l.Amount {
				t.Errorf("%s takes %.3f of %s, its twin %.3f", a.ID, l.Amount, l.Component, x.Amount)
			}
		}
	}
	if places < 200 {
		t.Errorf("only %d pairs of places", places)
	}
	for _, l := range r.Layouts {
		if strings.HasPrefix(string(l.Surface.ID), "a.") {
			mirroredSheet(t, l, r.LayoutOf(job.SurfaceID(twin(string(l.Surface.ID)))))
		}
	}
}

// mirroredSheet compares the sheet of two surfaces: the same pieces, each where the mirror puts it.
func mirroredSheet(t *testing.T, l, o *assess.Layout) {
	t.Helper()
	if l.Length != o.Length || l.Pieces != o.Pieces || l.Direction != o.Direction || l.RollWidth != o.RollWidth || math.Abs(float64(l.Tape()-o.Tape())) > 0.003*float64(l.Pieces) ||
		l.Staples != o.Staples || len(l.Cuts) != len(o.Cuts) {
		t.Errorf("%s: %+v %+v\nits twin: %+v %+v", l.Surface.ID, l.Staples, l.Layout, o.Staples, o.Layout)
		return
	}
	a, m := l.Surface.Outline.Bounds(), o.Surface.Outline.Bounds()
	for i, c := range l.Cuts {
		x := o.Cuts[i]
		from, to, low, high := c.At-a.Min.X, c.At+c.Width-a.Min.X, m.Max.X-x.At-x.Width, m.Max.X-x.At
		if l.Direction == strips.Level {
			from, to, low, high = c.From-a.Min.X, c.To-a.Min.X, m.Max.X-x.To, m.Max.X-x.From
		}
		if c.Cut != x.Cut || max(from-low, low-from) > 2 || max(to-high, high-to) > 2 {
			t.Errorf("%s lies from %d to %d on its surface, %s from %d to %d counted from the right", c.ID, from, to, x.ID, low, high)
		}
	}
	if got, want := pack.ClearLength(o, o.Cuts[0]), pack.ClearLength(l, l.Cuts[0]); max(got-want, want-got) > 2 {
		t.Errorf("%s: %d mm of it lie on the surface, %d mm of its twin", l.Cuts[0].ID, want, got)
	}
}

// Strips over an edge in a room of mirrored plan: as many, as long, covering slope and wall, counted from the right.
func TestMirroredEdge(t *testing.T) {
	r, _ := computed(t, over(t, "over_edge: 1", "storeys:", "units: [{id: u, name: Flat, rooms: [C1], instances: [{id: a}, {id: m, mirrored: yes}]}]\nstoreys:",
		"{wall: 3, height: 1000, pitch: 45}", "{wall: 3, height: 1200, pitch: 45}"))
	joined := 0
	for _, id := range []string{"a.C1-S1", "a.C1-S2"} {
		l, o := r.LayoutOf(job.SurfaceID(id)), r.LayoutOf(job.SurfaceID(twin(id)))
		if (l.Over == nil) != (o.Over == nil) {
			t.Errorf("%s runs over its edge %v, its twin %v", id, l.Over != nil, o.Over != nil)
			continue
		}
		mirroredSheet(t, l, o)
		if l.Over != nil {
			joined++
			rapid.Check(t, func(t *rapid.T) { covered(t, l); covered(t, o) })
		}
	}
	if joined == 0 {
		t.Error("nothing runs over an edge: the test says nothing")
	}
}
