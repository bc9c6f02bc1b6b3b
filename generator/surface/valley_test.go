package surface_test

import (
	"fmt"
	"strings"
	"testing"

	"lapwork/generator/geometry"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// elbow is an L with legs 4 m wide, the corner at (4, 4) pointing into the room; walls 1 m, 45 degrees.
func elbow(flat q.MM, walls ...int) *job.Room {
	var s []job.Slope
	for _, w := range walls {
		s = append(s, job.Slope{Edge: w, Height: 1000, Pitch: 45})
	}
	return room(flat, s, geometry.Point{X: 0, Y: 0}, geometry.Point{X: 10000, Y: 0}, geometry.Point{X: 10000, Y: 4000},
		geometry.Point{X: 4000, Y: 4000}, geometry.Point{X: 4000, Y: 6500}, geometry.Point{X: 0, Y: 6500})
}

// TestBehind: slope 2 rises from wall 3 and falls behind it to 1000 - 2500 = below the floor at y = 6.5 m; at 15 degrees it
// only falls by 2500 tan 15 = 670 mm to 330, which a bay may do, so the room stands and is told of it. With a slope on wall 4 they meet
// in a valley and nothing goes on behind.
func TestBehind(t *testing.T) {
	r := elbow(0, 1, 3)
	if _, found := derive(r); found.Err() == nil || !strings.Contains(found.Err().Error(), "slope 2 runs 1500 mm below the floor behind its wall 3") {
		t.Errorf("found %v", found.Sorted())
	}
	r.Ceiling.Slopes[1].Pitch = 15
	_, found := derive(r)
	all := found.Sorted()
	if found.Err() != nil || len(all) != 1 || !strings.Contains(all[0].Msg, "slope 2 goes on behind its wall 3, down to 330 mm") {
		t.Errorf("found %v", all)
	}
	if _, found := derive(elbow(0, 1, 3, 4, 6)); len(found.Sorted()) > 0 {
		t.Errorf("found %v", found.Sorted())
	}
}

// TestMansardValley: two slopes on each wall, 70 degrees from the floor and 10 from 1.8 m, meet in valleys as well. At plan
// point d from its wall a side is min(d tan 70, 1800 + d tan 10) high: in the lower leg 1 m from walls 1 and 3 both 1.976 m.
func TestMansardValley(t *testing.T) {
	r := elbow(0)
	for _, w := range []int{1, 3, 4, 6} {
		r.Ceiling.Slopes = append(r.Ceiling.Slopes, job.Slope{Edge: w, Height: 300, Pitch: 70}, job.Slope{Edge: w, Height: 1800, Pitch: 10})
	}
	for i := range r.Ceiling.Slopes {
		r.Slopes = append(r.Slopes, &job.SlopeFace{Slope: i + 1, Face: r.CeilingFace})
	}
	m, found := derive(r)
	if found.Err() != nil {
		t.Fatal(found.Err())
	}
	if bad := closed(m.Rooms[0]); bad != "" {
		t.Error(bad)
	}
	outside := map[string]bool{}
	for _, e := range m.Rooms[0].Edges {
		if e.A.Role == surface.Slope && e.B.Role == surface.Slope && e.AngleDeg > 180 {
			outside[strings.TrimPrefix(e.ID, "B2-")] = true
		}
	}
	if got := fmt.Sprint(outside); got != "map[S3+S5:true S4+S6:true]" {
		t.Errorf("valleys %s", got)
	}
}

// TestTooManyValleys: ten slopes on each of two walls multiply to a hundred.
func TestTooManyValleys(t *testing.T) {
	r := elbow(0)
	for i := range 10 {
		for _, w := range []int{3, 4} {
			r.Ceiling.Slopes = append(r.Ceiling.Slopes, job.Slope{Edge: w, Height: q.MM(500 + 100*i), Pitch: q.Degrees(80 - 5*i)})
		}
	}
	if _, found := derive(r); found.Err() == nil || !strings.Contains(found.Err().Error(), "too many slopes meet in its valleys") {
		t.Errorf("found %v", found.Sorted())
	}
}

// TestDormerBetweenValleys: the legs of a U, 6 m wide, rise over its base, 4 m wide. Slope 1 is as high as max(4 - y, 6 - x,
// x - 10) lets it: 2 m in between the valleys, 3 m in at x = 3 and 13. A dormer from 3.2 to 12.8 m whose ceiling meets the
// slope 2.5 m in has its corners on slope 1 (6 - 3.2 = 2.8 >= 2.5) and leaves it between them; 1.9 m in it stands.
func TestDormerBetweenValleys(t *testing.T) {
	f := job.Face{Behind: job.Outside, Layer: job.Sheet}
	for height, stands := range map[q.MM]bool{2900: true, 3500: false} {
		var s []job.Slope
		for _, w := range []int{1, 2, 4, 5, 6, 8} {
			s = append(s, job.Slope{Edge: w, Height: 1000, Pitch: 45})
		}
		r := room(0, s, geometry.Point{X: 0, Y: 0}, geometry.Point{X: 16000, Y: 0}, geometry.Point{X: 16000, Y: 9000}, geometry.Point{X: 10000, Y: 9000},
			geometry.Point{X: 10000, Y: 4000}, geometry.Point{X: 6000, Y: 4000}, geometry.Point{X: 6000, Y: 9000}, geometry.Point{X: 0, Y: 9000})
		r.Dormers = []*job.Dormer{{ID: "B2-D1", Slope: 1, From: 3200, To: 12800, Sill: 1000, Height: height, Front: f, Cheeks: f, Top: f}}
		m, found := derive(r)
		if (found.Err() == nil) != stands {
			t.Errorf("ceiling at %d: %v", height, found.Sorted())
		}
		if bad := closed(m.Rooms[0]); bad != "" {
			t.Error(bad)
		}
	}
}
