package junction

import (
	"math"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// drawBox draws a room with any mix of faces, and edges cut into any runs.
func drawBox(t *rapid.T) *surface.RoomShape {
	faces := rapid.SampledFrom([]job.Face{outer, loft, slab, inside, masonry, boarded, party, with(inside, "plaster-gypsum"), with(inside, "")})
	var six [6]job.Face
	for i := range six {
		six[i] = faces.Draw(t, "face")
		six[i].Framing.Pitch = rapid.SampledFrom([]q.MM{0, 400, 600, 625}).Draw(t, "pitch")
	}
	size := rapid.IntRange(500, 9000)
	room := box("B2", q.MM(size.Draw(t, "w")), q.MM(size.Draw(t, "d")), q.MM(size.Draw(t, "h")), six)
	for i := range room.Edges {
		e := &room.Edges[i]
		e.AngleDeg = rapid.SampledFrom([]q.Degrees{0, 90, 135, 180, 270}).Draw(t, "angle")
		if rapid.Bool().Draw(t, "cut") {
			a := q.MM(rapid.IntRange(0, int(e.Length)).Draw(t, "from"))
			b := q.MM(rapid.IntRange(int(a), int(e.Length)).Draw(t, "to"))
			e.Runs = []surface.Run{{From: 0, To: a}, {From: b, To: e.Length}}
		}
	}
	return room
}

// Every edge of the layer is one record with exactly the edge's net length, except plaster that runs through its corner;
// edges of two bare surfaces are none. Framing crossed by an edge never exceeds that of its surface.
func TestEveryEdgeOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		room := drawBox(t)
		var found diag.List
		byID := map[string]Record{}
		for _, r := range Derive(model(room), families, &found) {
			if _, twice := byID[r.ID]; twice {
				t.Fatalf("%s twice", r.ID)
			}
			byID[r.ID] = r
		}
		var want, got q.MM
		for _, e := range room.Edges {
			r, ok := byID[e.ID]
			through := layerOf(e.A) == job.Plaster && layerOf(e.B) == job.Plaster && !isFloor(e.A) && !isFloor(e.B)
			if ok != ((e.A.CarriesSheet || e.B.CarriesSheet) && !through && e.Net() > 0) {
				t.Fatalf("%s: record %v, layers %q and %q", e.ID, ok, layerOf(e.A), layerOf(e.B))
			}
			if !ok {
				continue
			}
			want += e.Net()
			got += q.MMOf(r.Length)
			if !r.A.CarriesSheet || r.Edge == "" || r.Ends > 2 || r.Studs > len(framingLines(r.A)) {
				t.Fatalf("%s: %+v", e.ID, r)
			}
		}
		if got != want {
			t.Fatalf("records sum to %d mm, edges to %d", got, want)
		}
	})
}

// The side named first in the data makes no difference to a record, where the two differ in layer or role.
func TestPairOrder(t *testing.T) {
	roles := rapid.SampledFrom([]surface.Role{surface.Wall, surface.KneeWall, surface.Gable, surface.Slope, surface.Ceiling, surface.Floor})
	faces := rapid.SampledFrom([]job.Face{outer, slab, inside, masonry, boarded, party})
	rapid.Check(t, func(t *rapid.T) {
		room := pair(roles.Draw(t, "role"), faces.Draw(t, "a"), roles.Draw(t, "role"), faces.Draw(t, "b"), 90)
		e := room.Edges[0]
		if e.A.Role == e.B.Role && layerOf(e.A) == layerOf(e.B) {
			return
		}
		var found diag.List
		one := Derive(model(room), families, &found)
		room.Edges[0].A, room.Edges[0].B = e.B, e.A
		two := Derive(model(room), families, &found)
		if !reflect.DeepEqual(one, two) {
			t.Fatalf("\n%+v\n%+v", one, two)
		}
	})
}

// Staple lines of a rectangle with a window of half its height: each stud counts the full height, less half of it where
// the window takes it, counted here by walking every millimetre of the wall.
func TestStapleLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := q.MM(rapid.IntRange(1000, 8000).Draw(t, "w")), q.MM(rapid.IntRange(1000, 4000).Draw(t, "h"))
		face := outer
		face.Framing = job.Framing{Pitch: q.MM(rapid.IntRange(300, 700).Draw(t, "pitch")), Offset: q.MM(rapid.IntRange(0, 700).Draw(t, "offset"))}
		s := newSurface(&job.Room{ID: "B2"}, "W1", surface.Wall, &face, w, h)
		x, ow := q.MM(rapid.IntRange(0, int(w)-500).Draw(t, "x")), q.MM(rapid.IntRange(100, 500).Draw(t, "ow"))
		addOpening(s, "O", "window", x, 100, ow, h/2)
		var want q.MM
		for line := range w {
			if line == 0 || (line-face.Framing.Offset)%face.Framing.Pitch != 0 {
				continue
			}
			want += h
			if x <= line && line < x+ow { // a line on a side counts on its far side
				want -= h / 2
			}
		}
		for _, r := range fields(s, families) {
			if r.Item == "staple" && math.Abs(float64(r.Length-want.Metres())) > 1e-9 && want > 0 {
				t.Fatalf("staples on %v, want %v", r.Length, want.Metres())
			}
		}
	})
}
