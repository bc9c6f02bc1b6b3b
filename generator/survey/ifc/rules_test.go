package ifc

import (
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/survey"
)

const ownFiles = "../../../testdata/survey/ifc"

func own(t testing.TB, name string) *survey.Building {
	t.Helper()
	return readFile(t, filepath.Join(ownFiles, name)).Building
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// rooms checks floor areas and volumes, m² and m³. Figures worked out by hand stand in the files' comments. Plane bodies
// are exact up to 1e-6; tol is for chords of circles.
func rooms(t *testing.T, b *survey.Building, want map[string][2]float64, tol float64) {
	t.Helper()
	if len(b.Spaces) != len(want) {
		t.Errorf("%d spaces, want %d", len(b.Spaces), len(want))
	}
	for _, s := range b.Spaces {
		w := want[s.Number]
		near(t, "floor area of "+s.Number, planArea(s.Body), w[0], 1e-6+tol*w[0])
		near(t, "volume of "+s.Number, volume(s.Body), w[1], 1e-6+tol*w[1])
		if gap := open(s.Body); gap > 1e-6 {
			t.Errorf("the body of %s is open by %v", s.Number, gap)
		}
	}
}

// Placement chain, prefix, escapes and quantities. The storey is turned by 90 degrees (x of the storey runs along +y), so
// the room's corner (1000, 0, 50) comes to (10, 20 + 1, 3.05) and its 4 m side runs along y.
func TestPlacement(t *testing.T) {
	b := own(t, "placement_mm.ifc")
	rooms(t, b, map[string][2]float64{"1.01": {12, 30}}, 0)
	s := b.Spaces[0]
	low, top := box(s.Body)
	if low.Minus(vec{X: 7, Y: 21, Z: 3.05}).Length() > 1e-9 || top.Minus(vec{X: 10, Y: 25, Z: 5.55}).Length() > 1e-9 {
		t.Errorf("room from %v to %v", low, top)
	}
	if s.Name != "Café" || s.Storey == nil || s.Storey.Name != "Upper" || s.Storey.Level != 3 || s.Stated != (survey.Stated{FloorArea: 12, Volume: 30, Height: 2.5}) {
		t.Errorf("%+v in %+v", s, s.Storey)
	}
}

// 1 ft = 0.3048 m exactly; without a volume unit, volumes are cubic feet.
func TestFeet(t *testing.T) {
	b := own(t, "feet.ifc")
	const ft = 0.3048
	rooms(t, b, map[string][2]float64{"1": {200 * ft * ft, 1600 * ft * ft * ft}}, 0)
	near(t, "stated area", float64(b.Spaces[0].Stated.FloorArea), 200*0.09290304, 1e-9)
	near(t, "stated volume", float64(b.Spaces[0].Stated.Volume), 1600*0.028316846592, 1e-9)
	if b.Source.Units != "lengths foot, areas square foot, volumes length unit cubed, none assigned" {
		t.Error(b.Source.Units)
	}
}

func TestProfiles(t *testing.T) {
	want := map[string][2]float64{}
	for name, area := range map[string]float64{"1": 10, "2": 2.25, "3": 18, "4": 0.96, "5": math.Pi * 1.5 * 1.5, "6": 4 + math.Pi/2,
		"7": 4 + math.Pi/2, "8": 8, "9": 9, "10": 2.4} {
		want[name] = [2]float64{area, 2 * area}
	}
	rooms(t, own(t, "profiles.ifc"), want, 0.0006) // 144 chords or fewer than 0.2 mm off: a circle loses up to 2π²/3n² = 0.03 % at n = 144, 0.05 % at r = 1 m
}

func TestBreps(t *testing.T) {
	b := own(t, "brep.ifc")
	closed := b.Spaces[:3]
	rooms(t, &survey.Building{Spaces: closed}, map[string][2]float64{"brep": {12, 36}, "polygonal": {12, 36}, "triangles": {12, 36}}, 0)
	for _, s := range closed {
		if len(s.Body) != 7 {
			t.Errorf("%s has %d faces, want 7: triangles of one plane are joined", s.Number, len(s.Body))
		}
	}
	found := b.Found.Sorted()
	if len(found) == 0 || !slices.ContainsFunc(found, func(f diag.Finding) bool {
		return f.Level == diag.Open && f.Item == b.Spaces[3].ID && strings.Contains(f.Msg, "does not close")
	}) {
		t.Errorf("the open shell is not reported: %v", found)
	}
}

func TestClipping(t *testing.T) {
	b := own(t, "clipping.ifc")
	rooms(t, b, map[string][2]float64{"slope": {24, 64}, "bounded": {24, 68}, "two": {24, 56}, "intersection": {12, 36}, "union": {48, 144}, "mapped": {4, 8}, "deep": {24, 68}}, 0)
	faces := map[string]int{"slope": 7, "two": 8, "intersection": 6, "union": 6, "mapped": 6}
	for _, s := range b.Spaces {
		if n, ok := faces[s.Number]; ok && len(s.Body) != n {
			t.Errorf("%s has %d faces, want %d", s.Number, len(s.Body), n)
		}
	}
	low, top := box(b.Spaces[5].Body) // turned: its x runs along +y, its y along -x
	if low.Minus(vec{X: 58}).Length() > 1e-9 || top.Minus(vec{X: 60, Y: 2, Z: 2}).Length() > 1e-9 {
		t.Errorf("mapped from %v to %v", low, top)
	}
}

func faceOf(t *testing.T, b *survey.Building, behind job.Behind, kind string, spaces ...string) *survey.Face {
	t.Helper()
	for _, f := range b.Faces {
		var names []string
		for _, s := range f.Spaces {
			names = append(names, s.Number)
		}
		if f.Behind == behind && f.Kind == kind && slices.Equal(names, spaces) {
			return f
		}
	}
	t.Fatalf("no face %q %q of %v", behind, kind, spaces)
	return nil
}

// Two rooms with a wall of 100 mm between them and no boundaries. South is external by property, north by position only.
func TestDerivedFaces(t *testing.T) {
	b := own(t, "two_rooms.ifc")
	middle := faceOf(t, b, "", "IfcWall", "A", "B")
	near(t, "shared wall", middle.Poly.AreaVector().Length(), 7.5, 1e-6)
	var as []string
	for _, o := range middle.Openings {
		as = append(as, o.As)
	}
	if !slices.Equal(as, []string{"door", "air"}) {
		t.Errorf("openings of the middle wall: %v", as)
	}
	south := faceOf(t, b, job.Outside, "IfcWall", "A")
	near(t, "south wall", south.Poly.AreaVector().Length(), 10, 1e-6)
	if len(south.Openings) != 1 || south.Openings[0].As != "window" || south.Openings[0].Name != "W1" {
		t.Fatalf("openings of the south wall: %+v", south.Openings)
	}
	low, top := box([]survey.Poly{{Loop: south.Openings[0].Loop}})
	if low.Minus(vec{X: 1, Z: 0.9}).Length() > 1e-9 || top.Minus(vec{X: 2.2, Z: 2.3}).Length() > 1e-9 {
		t.Errorf("window from %v to %v", low, top)
	}
	says := func(part string) int {
		n := 0
		for _, f := range b.Found.Sorted() {
			if strings.Contains(f.Msg, part) && f.Level != diag.Fault {
				n++
			}
		}
		return n
	}
	if says("holds no window or door") != 1 || says("taken as outside") != 1 || says("IFCTENDON: this kind of part is not read") != 1 {
		t.Errorf("findings: %v", b.Found.Sorted())
	}
}

// Services pass a face where they reach to both sides of it: the pipe inside the room does not, the outlet, whose front
// lies 10 mm before the wall, does.
func TestServices(t *testing.T) {
	b := own(t, "two_rooms.ifc")
	got := map[string]*survey.Penetration{}
	for _, f := range b.Faces {
		for _, p := range f.Penetrations {
			got[p.Name] = p
		}
	}
	for _, w := range []struct {
		name, item string
		at         vec
		d, w, h    int
	}{
		{"P1", "pipe", vec{X: 3, Z: 0.4}, 110, 0, 0},
		{"P3", "duct", vec{X: 2, Y: 3, Z: 2.2}, 0, 200, 100},
		{"P4", "back-box", vec{X: 6, Y: 3, Z: 0.3}, 60, 0, 0},
		{"P5", "cable", vec{X: 3.5, Z: 0.3}, 12, 0, 0},
	} {
		p := got[w.name]
		if p == nil || p.Item != w.item || p.At.Minus(w.at).Length() > 0.001 || int(p.Diameter) != w.d ||
			!(int(p.Width) == w.w && int(p.Height) == w.h || int(p.Width) == w.h && int(p.Height) == w.w) {
			t.Errorf("%s: %+v", w.name, p)
		}
	}
	if len(got) != 4 {
		t.Errorf("%d penetrations, want 4", len(got))
	}
}

// Boundaries stand in the system of their space, here 100 m along x. The first level repeats the second and is left out.
// The hole and the window's own boundary are one opening.
func TestBoundaries(t *testing.T) {
	b := own(t, "boundaries.ifc")
	if len(b.Faces) != 3 {
		t.Fatalf("%d faces, want 3", len(b.Faces))
	}
	wall := faceOf(t, b, job.Outside, "IfcWallStandardCase", "A")
	near(t, "wall", wall.Poly.AreaVector().Length(), 10, 1e-9)
	low, _ := box([]survey.Poly{wall.Poly})
	if low.Minus(vec{X: 100}).Length() > 1e-9 || len(wall.Poly.Holes) != 0 {
		t.Errorf("wall from %v with %d holes", low, len(wall.Poly.Holes))
	}
	if len(wall.Openings) != 1 || wall.Openings[0].Name != "W1" || wall.Openings[0].As != "window" {
		t.Errorf("openings %+v", wall.Openings)
	}
	faceOf(t, b, survey.Inside, "IfcSlab", "A")
	faceOf(t, b, survey.Nothing, "no element", "A")
	c := wall.Construction
	if c == nil || len(c.Layers) != 3 || c.Layers[0].Name != "plaster" || c.Layers[2].Name != "render" || !c.Outside ||
		c.Layers[1].Lambda != 0.5 || c.Layers[1].Density != 1400 || c.Layers[1].Thickness != 0.24 {
		t.Errorf("layers from inside: %+v", c)
	}
}

// The end of a wall between two rooms is no outer wall of the third, the rest of its side is: 8 m = 4 + 0.1 + 2.9 + 1.
func TestWallEnd(t *testing.T) {
	b := own(t, "wall_end.ifc")
	var shared, alone []float64
	for _, f := range b.Faces {
		low, top := box([]survey.Poly{f.Poly})
		if low.Y < 2.9 || top.Y > 3.2 {
			continue
		}
		width := math.Round(1000 * (top.X - low.X))
		if len(f.Spaces) == 2 {
			shared = append(shared, width)
		} else {
			alone = append(alone, width)
		}
	}
	slices.Sort(shared)
	if !slices.Equal(shared, []float64{2900, 4000}) || !slices.Equal(alone, []float64{1000}) {
		t.Errorf("shared %v, alone %v", shared, alone)
	}
}

// Where outlines touch, the way goes on to the left: from (0, 0) at (1, 0) to (1, 1) rather than to (1, -1).
func TestTurn(t *testing.T) {
	j := &joiner{pts: flat(0, 0, 1, 0, 1, -1, 1, 1)}
	if got := j.turn(map[int][]int{1: {2, 3}}, 0, 1, vec{Z: 1}); got != 3 {
		t.Errorf("turned to corner %d", got)
	}
}

// Two squares that touch in a corner stay two outlines, and a ring stays a ring.
func TestJoin(t *testing.T) {
	square := func(x, y, w float64) []vec { return flat(x, y, x+w, y, x+w, y+w, x, y+w) }
	if got := join([][]vec{square(1, 1, 1), square(0, 0, 1)}, vec{Z: 1}); len(got) != 2 || len(got[0].Loop) != 4 || len(got[1].Loop) != 4 {
		t.Errorf("touching squares: %v", got)
	}
	var ring [][]vec
	for x := range 3 {
		for y := range 3 {
			if x != 1 || y != 1 {
				ring = append(ring, square(float64(x), float64(y), 1))
			}
		}
	}
	got := join(ring, vec{Z: 1})
	if len(got) != 1 || len(got[0].Loop) != 4 || len(got[0].Holes) != 1 || len(got[0].Holes[0]) != 4 {
		t.Fatalf("ring: %v", got)
	}
	near(t, "area of the ring", got[0].AreaVector().Z, 8, 1e-12)
}
