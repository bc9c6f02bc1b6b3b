package junction

import (
	"testing"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/surface"
)

// TestBareEnvelope: a wall to outside without a layer is told, once for all such; a slab on the ground, a cast ceiling, an
// inside wall and one that is said to be no air boundary are not.
func TestBareEnvelope(t *testing.T) {
	bare := job.Face{Behind: job.Outside, Layer: job.NoLayer, Substrate: "brick-bare"}
	cast := job.Face{Behind: job.Unheated, Layer: job.NoLayer, Substrate: "concrete-cast"}
	for _, c := range []struct {
		faces [6]job.Face
		want  string
	}{
		{[6]job.Face{outer, inside, outer, outer, cast, slab}, ""},
		{[6]job.Face{outer, bare, outer, bare, cast, slab}, "no layer is stated for B2-W2, B2-W4: nothing keeps the air there"},
	} {
		room := box("B2", 4000, 3000, 2500, c.faces)
		var found diag.List
		bareEnvelope(&surface.Model{Rooms: []*surface.RoomShape{room}}, &found)
		got := ""
		for _, f := range found.Sorted() {
			got += f.Msg
		}
		if got != c.want {
			t.Errorf("found %q, want %q", got, c.want)
		}
		for _, s := range room.Surfaces {
			s.AirBoundary = false
		}
		found = diag.List{}
		if bareEnvelope(&surface.Model{Rooms: []*surface.RoomShape{room}}, &found); len(found.Sorted()) > 0 {
			t.Errorf("no air boundary, and found %v", found.Sorted())
		}
	}
}
