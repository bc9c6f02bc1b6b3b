package survey_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"lapwork/generator/job"
	q "lapwork/generator/quantity"
	"lapwork/generator/survey"
)

type v = survey.Vec

// wall is an upright rectangle from (x0, y0) to (x1, y1).
func wall(x0, y0, x1, y1, low, high float64) survey.Poly {
	return survey.Poly{Loop: []v{{X: x0, Y: y0, Z: low}, {X: x1, Y: y1, Z: low}, {X: x1, Y: y1, Z: high}, {X: x0, Y: y0, Z: high}}}
}

// box are the six faces of a box, outwards: floor, ceiling, then walls from the lower edge round.
func box(x0, y0, x1, y1, low, high float64) []survey.Poly {
	return []survey.Poly{
		{Loop: []v{{X: x0, Y: y0, Z: low}, {X: x0, Y: y1, Z: low}, {X: x1, Y: y1, Z: low}, {X: x1, Y: y0, Z: low}}},
		{Loop: []v{{X: x0, Y: y0, Z: high}, {X: x1, Y: y0, Z: high}, {X: x1, Y: y1, Z: high}, {X: x0, Y: y1, Z: high}}},
		wall(x0, y0, x1, y0, low, high), wall(x1, y0, x1, y1, low, high), wall(x1, y1, x0, y1, low, high), wall(x0, y1, x0, y0, low, high),
	}
}

// attic is a body 6 m long and 5 m wide: knee walls, two slopes of 45 degrees, a flat ceiling.
func attic(knee, flat float64) []survey.Poly {
	const long, wide = 6.0, 5.0
	in := flat - knee
	p := func(x, y, z float64) v { return v{X: x, Y: y, Z: z} }
	return []survey.Poly{
		{Loop: []v{p(0, 0, 0), p(0, wide, 0), p(long, wide, 0), p(long, 0, 0)}},
		wall(0, 0, long, 0, 0, knee), wall(long, wide, 0, wide, 0, knee),
		{Loop: []v{p(0, 0, knee), p(long, 0, knee), p(long, in, flat), p(0, in, flat)}},
		{Loop: []v{p(long, wide, knee), p(0, wide, knee), p(0, wide-in, flat), p(long, wide-in, flat)}},
		{Loop: []v{p(0, in, flat), p(long, in, flat), p(long, wide-in, flat), p(0, wide-in, flat)}},
		{Loop: []v{p(long, 0, 0), p(long, wide, 0), p(long, wide, knee), p(long, wide-in, flat), p(long, in, flat), p(long, 0, knee)}},
		{Loop: []v{p(0, wide, 0), p(0, 0, 0), p(0, 0, knee), p(0, in, flat), p(0, wide-in, flat), p(0, wide, knee)}},
	}
}

// house is a building of one storey with a space for each body.
func house(bodies ...[]survey.Poly) *survey.Building {
	st := &survey.Storey{ID: "g", Name: "Ground floor"}
	b := &survey.Building{Source: survey.Source{Name: "test"}, Storeys: []*survey.Storey{st}}
	for i, body := range bodies {
		b.Spaces = append(b.Spaces, &survey.Space{ID: fmt.Sprintf("s%d", i+1), Name: fmt.Sprintf("Room %d", i+1), Storey: st, Body: body, Heated: survey.IsHeated})
	}
	return b
}

// faces adds a face for each face of a body.
func faces(b *survey.Building, body []survey.Poly, behind job.Behind, spaces ...*survey.Space) {
	for _, p := range body {
		b.Faces = append(b.Faces, &survey.Face{ID: fmt.Sprintf("f%d", len(b.Faces)+1), Kind: "face", Poly: p, Spaces: spaces, Behind: behind})
	}
}

func take(b *survey.Building) *survey.Survey { return survey.Take(b, survey.Limits{}) }

func said(s *survey.Survey, text string) bool {
	for _, f := range s.Found.Sorted() {
		if strings.Contains(f.Msg, text) {
			return true
		}
	}
	return strings.Contains(strings.Join(survey.InEnglish(s.Repairs), "\n")+strings.Join(survey.InEnglish(s.Guessed), "\n"), text)
}

func turned(p survey.Poly) survey.Poly {
	out := survey.Poly{}
	for i := range p.Loop {
		out.Loop = append(out.Loop, p.Loop[len(p.Loop)-1-i])
	}
	return out
}

// Want: by hand. Box 4 x 3 x 2.5 = 30 m³. Attic: 6 x (5 x 1 + (5 + 2.2)/2 x 1.4) = 60.24 m³, slopes from the walls along x.
// Two flat heights: 4 x 3 x 2.5 + 2 x 3 x 1 = 36 m³ over 12 m², 3.000 m. Valley: eaves 3 m, valley 2 m: mean 2.5 m.
func TestFit(t *testing.T) {
	step := append(box(0, 0, 4, 3, 0, 2.5), box(0, 0, 2, 3, 2.5, 3.5)...)
	step[1] = survey.Poly{Loop: []v{{X: 2, Z: 2.5}, {X: 4, Z: 2.5}, {X: 4, Y: 3, Z: 2.5}, {X: 2, Y: 3, Z: 2.5}}}
	step = append(step[:6], step[7:]...) // without the floor of the upper part
	valley := append(box(0, 0, 4, 3, 0, 3)[:1], wall(0, 0, 0, 0, 0, 0))
	valley = valley[:1]
	p := func(x, y, z float64) v { return v{X: x, Y: y, Z: z} }
	valley = append(valley, wall(4, 0, 4, 3, 0, 3), wall(0, 3, 0, 0, 0, 3),
		survey.Poly{Loop: []v{p(0, 0, 0), p(4, 0, 0), p(4, 0, 3), p(2, 0, 2), p(0, 0, 3)}},
		survey.Poly{Loop: []v{p(4, 3, 0), p(0, 3, 0), p(0, 3, 3), p(2, 3, 2), p(4, 3, 3)}},
		survey.Poly{Loop: []v{p(0, 0, 3), p(2, 0, 2), p(2, 3, 2), p(0, 3, 3)}},
		survey.Poly{Loop: []v{p(2, 0, 2), p(4, 0, 3), p(4, 3, 3), p(2, 3, 2)}})
	for _, c := range []struct {
		name   string
		body   []survey.Poly
		want   string
		reason string
	}{
		{"box", box(0, 0, 4, 3, 0, 2.5), "12.000 m² 30.000 m³ height 2500 slopes 0", ""},
		{"attic", attic(1, 2.4), "30.000 m² 60.240 m³ height 2400 slopes 2", ""},
		{"attic to the floor", attic(0, 2.4), "30.000 m² 37.440 m³ height 2400 slopes 2", ""},
		{"attic to the ridge", attic(1, 3.5), "30.000 m² 67.500 m³ height 0 slopes 2", ""},
		{"two heights", step, "12.000 m² 36.000 m³ height 3000 slopes 0", "several heights (2500, 3500 mm)"},
		{"valley", valley, "12.000 m² 30.000 m³ height 2500 slopes 0", "valley or a step"},
	} {
		s := take(house(c.body))
		if len(s.Rooms) != 1 {
			t.Errorf("%s: %d rooms", c.name, len(s.Rooms))
			continue
		}
		r := s.Rooms[0]
		got := fmt.Sprintf("%.3f m² %.3f m³ height %d slopes %d", r.FloorArea, r.Volume, r.Height, len(r.Slopes))
		if got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
		if (c.reason != "") != r.Prism.Is() || !strings.Contains(r.Prism.String(), c.reason) {
			t.Errorf("%s: prism because %q, want %q", c.name, r.Prism, c.reason)
		}
		if c.reason != "" && !said(s, c.reason) {
			t.Errorf("%s: the findings do not say %q", c.name, c.reason)
		}
	}
}

// Each repair by itself, on a box of 4 x 3 x 2.5 m, and what is said of it.
func TestCleanUp(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(b []survey.Poly) []survey.Poly
		says   string
		closes bool
	}{
		{"a face looks inwards", func(b []survey.Poly) []survey.Poly { b[3] = turned(b[3]); return b }, "1 face turned", true},
		{"all faces look inwards", func(b []survey.Poly) []survey.Poly {
			for i := range b {
				b[i] = turned(b[i])
			}
			return b
		}, "6 faces turned", true},
		{"a face stands twice", func(b []survey.Poly) []survey.Poly { return append(b, b[2]) }, "1 face that stands twice", true},
		{"the same face from the other side", func(b []survey.Poly) []survey.Poly { return append(b, turned(b[2])) }, "1 face that stands twice", true},
		{"a sliver", func(b []survey.Poly) []survey.Poly { return append(b, wall(0, 0, 4, 0, 0, 0.003)) }, "1 sliver dropped", true},
		{"a gap of 15 mm", func(b []survey.Poly) []survey.Poly { b[2] = wall(0.015, 0, 4, 0, 0, 2.5); return b }, "gaps up to 15 mm closed", true},
		{"a bent face", func(b []survey.Poly) []survey.Poly { b[1].Loop[2].Z = 2.56; return b }, "1 bent face split into triangles", true},
		{"a gap of 300 mm", func(b []survey.Poly) []survey.Poly { b[2] = wall(0.3, 0, 4, 0, 0, 2.5); return b }, "does not close", false},
		{"a face is missing", func(b []survey.Poly) []survey.Poly { return append(b[:2], b[3:]...) }, "does not close", false},
		{"the first corner repeated", func(b []survey.Poly) []survey.Poly { b[0].Loop = append(b[0].Loop, b[0].Loop[0]); return b }, "", true},
	} {
		b := house(c.change(box(0, 0, 4, 3, 0, 2.5)))
		faces(b, box(0, 0, 4, 3, 0, 2.5), job.Outside, b.Spaces[0])
		s := take(b)
		if c.says != "" && !said(s, c.says) {
			t.Errorf("%s: nothing says %q (%v)", c.name, c.says, s.Repairs)
		}
		if len(s.Rooms) != 1 || (s.Rooms[0].Basis == survey.FromBody) != c.closes || math.Abs(float64(s.Rooms[0].Volume)-30) > 0.3 {
			t.Errorf("%s: %d rooms, body closes %v, %.3f m³", c.name, len(s.Rooms), s.Rooms[0].Basis == survey.FromBody, s.Rooms[0].Volume)
		}
	}
}

// A wall with outside behind its first two metres and another room behind the rest becomes two walls.
func TestWallIsDividedWhereItChanges(t *testing.T) {
	b := house(box(0, 0, 4, 3, 0, 2.5), box(4, 1, 6, 3, 0, 2.5))
	r, other := b.Spaces[0], b.Spaces[1]
	all := box(0, 0, 4, 3, 0, 2.5)
	faces(b, []survey.Poly{all[0]}, job.Ground, r)
	faces(b, []survey.Poly{all[1], all[2], all[4], all[5], wall(4, 0, 4, 1, 0, 2.5)}, job.Outside, r)
	faces(b, []survey.Poly{wall(4, 1, 4, 3, 0, 2.5)}, survey.Inside, r, other)
	s := take(b)
	var got []string
	for i, k := range s.Rooms[0].Walls {
		got = append(got, fmt.Sprintf("%v %s", s.Rooms[0].Footprint[i], k.Behind))
	}
	// the room is listed from its lower left corner as the floor's outline runs
	text := strings.Join(got, "; ")
	for _, want := range []string{"{4000 0} outside", "{4000 1000} heated"} {
		if !strings.Contains(text, want) {
			t.Errorf("no wall from %s: %s", want, text)
		}
	}
	if len(got) != 5 {
		t.Errorf("%d walls: %s", len(got), text)
	}
}

// Between a heated and an unheated room the wall is envelope; the unheated room itself carries nothing.
func TestUnheatedNeighbour(t *testing.T) {
	b := house(box(0, 0, 4, 3, 0, 2.5), box(4, 0, 6, 3, 0, 2.5))
	b.Spaces[1].Heated = survey.NotSaid
	b.Spaces[1].Name = "Garage"
	faces(b, []survey.Poly{wall(4, 0, 4, 3, 0, 2.5)}, survey.Inside, b.Spaces[0], b.Spaces[1])
	s := take(b)
	found := false
	for _, k := range s.Rooms[0].Walls {
		found = found || k.Behind == job.Unheated
	}
	if !found || s.Rooms[1].Heated || !said(s, `because of its name, "Garage"`) {
		t.Errorf("walls %v, garage heated %v", s.Rooms[0].Walls, s.Rooms[1].Heated)
	}
}

// Levels in millimetres are seen by the floors; floors two storeys apart on one stated storey become two.
func TestStoreys(t *testing.T) {
	b := house(box(0, 0, 4, 3, 0, 2.5), box(0, 0, 4, 3, 3, 5.5))
	up := &survey.Storey{ID: "u", Name: "Upper floor", Level: 3000}
	b.Storeys = append(b.Storeys, up)
	b.Spaces[1].Storey = up
	s := take(b)
	if len(s.Levels) != 2 || s.Levels[1].Level != 3000 || !said(s, "stated as 3000.000 m, but the floors of its rooms lie at 3.000 m") {
		t.Errorf("levels in millimetres: %+v", s.Levels)
	}
	b = house(box(0, 0, 4, 3, 0, 2.5), box(0, 0, 4, 3, 3, 5.5), box(4, 0, 8, 3, 0.4, 2.5))
	s = take(b)
	if len(s.Levels) != 2 || string(s.Rooms[1].ID) != "A2" || s.Rooms[1].Offset != 400 || string(s.Rooms[2].ID) != "B1" {
		t.Errorf("one storey for two: %d levels, %s offset %d, %s", len(s.Levels), s.Rooms[1].ID, s.Rooms[1].Offset, s.Rooms[2].ID)
	}
	for _, sp := range b.Spaces {
		sp.Storey = nil
	}
	b.Storeys = nil
	if s = take(b); len(s.Levels) != 2 || !said(s, "made from the height of the floors") {
		t.Errorf("no storeys: %d levels", len(s.Levels))
	}
}

// Two rooms side by side close each other's boundary; where the neighbour has nothing behind its wall it ends.
func TestBoundaryCloses(t *testing.T) {
	b := house(box(0, 0, 4, 3, 0, 2.5), box(4.2, 0, 7, 3, 0, 2.5))
	l, r := box(0, 0, 4, 3, 0, 2.5), box(4.2, 0, 7, 3, 0, 2.5)
	faces(b, []survey.Poly{l[0], l[1], l[2], l[4], l[5]}, job.Outside, b.Spaces[0])
	faces(b, []survey.Poly{r[0], r[1], r[2], r[3], r[4]}, job.Outside, b.Spaces[1])
	faces(b, []survey.Poly{wall(4.1, 0, 4.1, 3, 0, 2.5)}, survey.Inside, b.Spaces[0], b.Spaces[1])
	s := take(b)
	if len(s.Gaps) != 0 || math.Abs(float64(s.Closed)-22) > 0.01 { // both sides of two uprights and two level edges: 2 x 2 x (2.5 + 3)
		t.Errorf("%d gaps, %.2f m closed", len(s.Gaps), s.Closed)
	}
	for _, f := range b.Faces {
		if f.Spaces[0] == b.Spaces[1] && f.Behind == job.Outside {
			f.Behind = survey.Nothing
		}
	}
	s = take(b)
	var open q.Length
	for _, g := range s.Gaps {
		open += g.Length
	}
	if math.Abs(float64(open)-11) > 0.01 || !said(s, "goes on in no neighbouring room") {
		t.Errorf("%.2f m open, want 2 x (2.5 + 3)", open)
	}
}

// opening puts a window 1.0 x 1.2 m at 0.8 m along the lower wall, 0.9 m up.
func windowed() *survey.Building {
	b := house(attic(1.5, 2.4))
	body := attic(1.5, 2.4)
	faces(b, body, job.Outside, b.Spaces[0])
	b.Faces[6].Openings = []*survey.Opening{{ID: "g", As: "window", Loop: []v{{X: 6, Y: 1, Z: 0.5}, {X: 6, Y: 2, Z: 0.5}, {X: 6, Y: 2, Z: 1.7}, {X: 6, Y: 1, Z: 1.7}}}}
	b.Faces[3].Openings = []*survey.Opening{{ID: "r", As: "roof-window", Loop: []v{{X: 1, Y: 0.2, Z: 1.7}, {X: 1.8, Y: 0.2, Z: 1.7}, {X: 1.8, Y: 0.8, Z: 2.3}, {X: 1, Y: 0.8, Z: 2.3}}}}
	return b
}

// Want: by hand. The gable at x = 6 runs from y = 0 to 5; seen from inside, its left end is y = 5, so the window begins
// 3 m from it. On the slope left is x = 6: 4.2 m; the window begins 0.2 m in plan up 45 degrees, 283 mm along, and is
// 849 mm long.
func TestOpenings(t *testing.T) {
	r := take(windowed()).Rooms[0]
	var got []string
	for _, o := range r.Openings {
		got = append(got, fmt.Sprintf("%s %s %d %d %d %d", o.Source, o.Kind, o.X, o.Y, o.Width, o.Height))
	}
	want := "r roof-window 4200 283 800 849; g window 3000 500 1000 1200"
	if text := strings.Join(got, "; "); text != want {
		t.Errorf("%s, want %s", text, want)
	}
}

// Results do not change when the building is turned in plan and moved. Whole millimetres move corners by 0.71 mm at most.
func TestTurnedInPlan(t *testing.T) {
	ref := take(windowed()).Rooms[0]
	rapid.Check(t, func(t *rapid.T) {
		angle := rapid.Float64Range(0, 2*math.Pi).Draw(t, "angle")
		dx, dy := rapid.Float64Range(-50, 50).Draw(t, "dx"), rapid.Float64Range(-50, 50).Draw(t, "dy")
		sin, cos := math.Sincos(angle)
		turn := func(p []v) {
			for i, c := range p {
				p[i] = v{X: c.X*cos - c.Y*sin + dx, Y: c.X*sin + c.Y*cos + dy, Z: c.Z}
			}
		}
		b := windowed()
		for _, f := range b.Spaces[0].Body {
			turn(f.Loop)
		}
		for _, f := range b.Faces {
			turn(f.Poly.Loop)
			for _, o := range f.Openings {
				turn(o.Loop)
			}
		}
		s := take(b)
		r := s.Rooms[0]
		if r.Prism.Is() || r.Height != ref.Height || len(r.Slopes) != 2 {
			t.Fatalf("height %d, %d slopes, %q", r.Height, len(r.Slopes), r.Prism)
		}
		if math.Abs(float64(r.Volume-ref.Volume)) > 0.05 || math.Abs(float64(r.FloorArea-ref.FloorArea)) > 0.02 {
			t.Fatalf("%.3f m² %.3f m³, want %.3f and %.3f", r.FloorArea, r.Volume, ref.FloorArea, ref.Volume)
		}
		if len(r.Openings) != 2 {
			t.Fatalf("%d openings", len(r.Openings))
		}
		for i, o := range r.Openings {
			w := ref.Openings[i]
			for _, d := range []q.MM{o.X - w.X, o.Y - w.Y, o.Width - w.Width, o.Height - w.Height} {
				if d < -3 || d > 3 {
					t.Fatalf("opening %+v, want %+v", o, w)
				}
			}
		}
	})
}

// Whichever faces look the wrong way, the room is the same.
func TestDirectionsDoNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		knee := rapid.Float64Range(0, 1.5).Draw(t, "knee")
		flat := knee + rapid.Float64Range(0.5, 2).Draw(t, "rise")
		body := attic(knee, flat)
		want := take(house(attic(knee, flat))).Rooms[0]
		flips := 0
		for i := range body {
			if len(body[i].Loop) > 0 && rapid.Bool().Draw(t, "flip") {
				body[i] = turned(body[i])
				flips++
			}
		}
		s := take(house(body))
		got := s.Rooms[0]
		if got.Volume != want.Volume || got.Height != want.Height || got.Prism.Is() {
			t.Fatalf("%.4f m³ and height %d, want %.4f and %d (%s)", got.Volume, got.Height, want.Volume, want.Height, got.Prism)
		}
		wide := 5.0 - 2*(flat-knee)
		byHand := 6 * (5*knee + (5+wide)/2*(flat-knee))
		if math.Abs(float64(got.Volume)-byHand) > 0.05 { // heights and plan in whole mm: 6 x 5 x 1 mm
			t.Fatalf("%.3f m³, by hand %.3f", got.Volume, byHand)
		}
	})
}
