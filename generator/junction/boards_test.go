package junction

import (
	"math"
	"testing"

	"lapwork/generator/job"
)

// Joints of boards, by hand, in a room of 4000 × 3000 × 2400 mm whose wall 4, 3000 mm long, or whose ceiling is boarded.
// Boards of 1250 × 2500 mm on the wall: upright joints at 1250 and 2500, 2 × 2.4 = 4.8 m; the wall is lower than a board.
// On the ceiling, lying across: joints at 1250, 2500 and 3750, 3 × 3.0, and one at 2500 along, 4.0: 13 m. A solid timber
// panel of 2950 mm: one joint on the wall, 2.4 m. Three metres of plaster have none.
func TestBoardJoints(t *testing.T) {
	timber := with(boarded, "timber-planed")
	for name, c := range map[string]struct {
		faces [6]job.Face
		id    string
		want  float64
	}{
		"wall":    {[6]job.Face{outer, outer, outer, boarded, loft, slab}, "B2-W4/joints", 4.8},
		"ceiling": {[6]job.Face{outer, outer, outer, outer, boarded, slab}, "B2-C1/joints", 13},
		"panel":   {[6]job.Face{outer, outer, outer, timber, loft, slab}, "B2-W4/joints", 2.4},
		"plaster": {[6]job.Face{outer, outer, outer, masonry, loft, slab}, "B2-W4/joints", 0},
	} {
		records, _ := derive(t, model(box("B2", 4000, 3000, 2400, c.faces)))
		var got float64
		for _, r := range records {
			if r.ID == c.id {
				got += float64(r.Length)
				if r.Edge != Lap || r.Layer != job.Board || r.LayerA != job.Board || r.LayerB != "" {
					t.Errorf("%s: %+v", name, r)
				}
			}
		}
		if math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: joints of %g m, by hand %g m", name, got, c.want)
		}
	}
}
