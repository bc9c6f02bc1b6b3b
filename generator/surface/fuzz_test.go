package surface_test

import (
	"math"
	"testing"

	"lapwork/generator/geometry"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

func mm(v int) q.MM { return q.MM(v) }

// FuzzDerive: whatever the figures, a room is either refused with a finding or a closed body without NaN.
func FuzzDerive(f *testing.F) {
	f.Add([]byte{0, 0, 50, 0, 50, 40, 0, 40}, 2400, []byte{1, 10, 45}, 300, 10, 20)
	f.Add([]byte{0, 0, 60, 0, 60, 30, 30, 30, 30, 50, 0, 50}, 0, []byte{1, 10, 30, 2, 10, 30, 5, 10, 30}, 0, 0, 0)
	f.Add([]byte{0, 0, 60, 60, 60, 0, 0, 60}, 2400, []byte{}, 0, 0, 0)
	f.Fuzz(func(t *testing.T, plan []byte, height int, roof []byte, depth, from, width int) {
		var corners []geometry.Point
		for i := 0; i+1 < min(len(plan), 24); i += 2 {
			corners = append(corners, geometry.Point{X: mm(int(plan[i]) * 100), Y: mm(int(plan[i+1]) * 100)})
		}
		var slopes []job.Slope
		for i := 0; i+2 < min(len(roof), 18); i += 3 {
			slopes = append(slopes, job.Slope{Edge: int(roof[i]), Height: mm(int(roof[i+1]) * 100), Pitch: q.Degrees(roof[i+2])})
		}
		r := room(mm(height), slopes, corners...)
		r.Dormers = []*job.Dormer{{Slope: 1, Depth: mm(depth), From: mm(from), To: mm(from) + mm(width), Height: mm(height)}}
		m, found := derive(r)
		s := m.Rooms[0]
		if len(s.Surfaces) == 0 {
			if found.Err() == nil {
				t.Fatal("no surfaces and no fault")
			}
			return
		}
		if bad := closed(s); bad != "" {
			t.Fatal(bad)
		}
		if v := float64(s.Volume); math.IsNaN(v) || v < 0 {
			t.Fatalf("volume %v", v)
		}
	})
}

// BenchmarkDerive takes a thousand attics with a dormer each.
func BenchmarkDerive(b *testing.B) {
	var rooms []*job.Room
	for range 1000 {
		r := attic()
		r.Openings = []*job.Opening{{ID: "B2-O1", Surface: "wall 2", X: 1500, Y: 900, Width: 900, Height: 900},
			{ID: "B2-O2", Surface: "dormer 1 front", X: 100, Y: 100, Width: 900, Height: 700}}
		rooms = append(rooms, r)
	}
	for b.Loop() {
		derive(rooms...)
	}
}
