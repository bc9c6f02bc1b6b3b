package surface_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"lapwork/generator/diag"
	"lapwork/generator/geometry"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// room makes a heated room with outside behind every surface but the floor.
func room(height q.MM, slopes []job.Slope, corners ...geometry.Point) *job.Room {
	outside := job.Face{Behind: job.Outside, Layer: job.Sheet}
	r := &job.Room{ID: "B2", Heated: true, Ceiling: job.CeilingShape{Height: height, Slopes: slopes},
		CeilingFace: outside, Floor: job.Face{Behind: job.Ground, Layer: job.NoLayer}}
	for i, c := range corners {
		r.Footprint = append(r.Footprint, job.Corner{X: c.X, Y: c.Y})
		r.Walls = append(r.Walls, &job.Wall{Edge: i + 1, Face: outside})
	}
	for i := range slopes {
		r.Slopes = append(r.Slopes, &job.SlopeFace{Slope: i + 1, Face: outside})
	}
	return r
}

func derive(rooms ...*job.Room) (*surface.Model, *diag.List) {
	var found diag.List
	m := surface.Derive(&job.Job{Rooms: rooms}, &found)
	return m, &found
}

func rectangle(w, d q.MM) []geometry.Point {
	return []geometry.Point{{X: 0, Y: 0}, {X: w, Y: 0}, {X: w, Y: d}, {X: 0, Y: d}}
}

// solid is a body with known answers. Areas are m² to four places, edges "id length angle".
type solid struct {
	name   string
	room   *job.Room
	dormer *job.Dormer
	areas  map[string]string
	edges  []string // those worth checking
	count  int      // all edges: by Euler V - E + F = 2, and one more for the slope with a hole
	volume float64
	floor  float64
}

// Want: elementary geometry, worked by hand beside each figure.
var solids = []solid{
	{
		name: "prism 4 x 3 x 2.4 m", room: room(2400, nil, rectangle(4000, 3000)...),
		// walls 4 x 2.4 = 9.6 and 3 x 2.4 = 7.2; 12 above and below; V = 12 x 2.4
		areas: map[string]string{"W1": "9.6000", "W2": "7.2000", "W3": "9.6000", "W4": "7.2000", "C1": "12.0000", "F1": "12.0000"},
		edges: []string{"W1+W2 2400 90", "W1+W4 2400 90", "W1+C1 4000 90", "W4+F1 3000 90"},
		count: 12, volume: 28.8, floor: 12,
	},
	{
		name: "gable roof 5 x 4 m, walls 1 m, 45 degrees to a ridge, no ceiling",
		room: room(0, []job.Slope{{Edge: 1, Height: 1000, Pitch: 45}, {Edge: 3, Height: 1000, Pitch: 45}}, rectangle(5000, 4000)...),
		// ridge 2 m over the walls; gable 4 x 1 + 4 x 2 / 2 = 8; slope 5 x 2 x sqrt 2 = 14.1421; V = 8 x 5
		areas: map[string]string{"K1": "5.0000", "G2": "8.0000", "K3": "5.0000", "G4": "8.0000", "S1": "14.1421", "S2": "14.1421", "F1": "20.0000"},
		// rafters 2 sqrt 2 = 2.828; the ridge closes 180 - 2 x 45 = 90, the knee wall meets the slope at 90 + 45
		edges: []string{"S1+S2 5000 90", "K1+S1 5000 135", "G2+S1 2828 90", "K1+G2 1000 90"},
		count: 15, volume: 40, floor: 20,
	},
	{
		name: "hip 6 x 4 m, walls 1 m, 45 degrees all round",
		room: room(0, []job.Slope{{Edge: 1, Height: 1000, Pitch: 45}, {Edge: 2, Height: 1000, Pitch: 45},
			{Edge: 3, Height: 1000, Pitch: 45}, {Edge: 4, Height: 1000, Pitch: 45}}, rectangle(6000, 4000)...),
		// ridge 2 m long, 2 m over the walls. Long slope (6 + 2) / 2 x 2 sqrt 2 = 11.3137, hip 4 x 2 / 2 x sqrt 2 = 5.6569.
		// V = 24 x 1 + wedge b h (2 a + c) / 6 = 4 x 2 x (12 + 2) / 6 = 18.6667
		areas: map[string]string{"K1": "6.0000", "K2": "4.0000", "K3": "6.0000", "K4": "4.0000",
			"S1": "11.3137", "S2": "5.6569", "S3": "11.3137", "S4": "5.6569", "F1": "24.0000"},
		// hip line sqrt(2² + 2² + 2²) = 3.464; cosine of the normals 0.5, so it closes 180 - 60 = 120
		edges: []string{"S1+S3 2000 90", "S1+S2 3464 120", "S3+S4 3464 120", "K2+S2 4000 135"},
		count: 17, volume: 42.66667, floor: 24,
	},
	{
		name: "attic 5 x 6 m, knee walls 1 m, 45 degrees, collar ceiling at 2.4 m",
		room: room(2400, []job.Slope{{Edge: 1, Height: 1000, Pitch: 45}, {Edge: 3, Height: 1000, Pitch: 45}}, rectangle(5000, 6000)...),
		// slopes reach 1.4 m in: 5 x 1.4 sqrt 2 = 9.8995; ceiling 5 x (6 - 2.8) = 16;
		// gable 6 x 2.4 - 2 x 1.4² / 2 = 12.44; V = 12.44 x 5
		areas: map[string]string{"K1": "5.0000", "G2": "12.4400", "K3": "5.0000", "G4": "12.4400", "S1": "9.8995", "S2": "9.8995", "C1": "16.0000", "F1": "30.0000"},
		edges: []string{"S1+C1 5000 135", "G2+C1 3200 90", "G2+S1 1980 90", "K3+S2 5000 135"},
		count: 18, volume: 62.2, floor: 30,
	},
	{
		name: "L, 6 x 5 m less 3 x 2 m, 2.5 m high",
		room: room(2500, nil, geometry.Point{X: 0, Y: 0}, geometry.Point{X: 6000, Y: 0}, geometry.Point{X: 6000, Y: 3000},
			geometry.Point{X: 3000, Y: 3000}, geometry.Point{X: 3000, Y: 5000}, geometry.Point{X: 0, Y: 5000}),
		// 30 - 6 = 24 m²; V = 24 x 2.5; walls 2.5 x length
		areas: map[string]string{"W1": "15.0000", "W2": "7.5000", "W3": "7.5000", "W4": "5.0000", "W5": "7.5000", "W6": "12.5000", "C1": "24.0000", "F1": "24.0000"},
		edges: []string{"W3+W4 2500 270", "W2+W3 2500 90", "W1+W6 2500 90", "W4+C1 2000 90"},
		count: 18, volume: 60, floor: 24,
	},
	{
		name: "hip roof over an L, both legs 4 m wide, walls 1 m, 45 degrees all round",
		room: room(0, []job.Slope{{Edge: 1, Height: 1000, Pitch: 45}, {Edge: 2, Height: 1000, Pitch: 45}, {Edge: 3, Height: 1000, Pitch: 45},
			{Edge: 4, Height: 1000, Pitch: 45}, {Edge: 5, Height: 1000, Pitch: 45}, {Edge: 6, Height: 1000, Pitch: 45}},
			geometry.Point{X: 0, Y: 0}, geometry.Point{X: 10000, Y: 0}, geometry.Point{X: 10000, Y: 4000},
			geometry.Point{X: 4000, Y: 4000}, geometry.Point{X: 4000, Y: 9000}, geometry.Point{X: 0, Y: 9000}),
		// ridges 2 m over the walls, from the middle of the elbow (2, 2) to (8, 2) and (2, 7). In plan: slope 1 (10 + 6)/2 x 2 = 16,
		// hips 2 and 5 4 x 2/2 = 4, slope 3 from the valley (4, 4) to (2, 2): 6 x 2 = 12, slope 4 5 x 2 = 10, slope 6 (9 + 5)/2 x 2 = 14;
		// together 60 = 10 x 4 + 4 x 5. Each times sqrt 2.
		areas: map[string]string{"K1": "10.0000", "K2": "4.0000", "K3": "6.0000", "K4": "5.0000", "K5": "4.0000", "K6": "9.0000",
			"S1": "22.6274", "S2": "5.6569", "S3": "16.9706", "S4": "14.1421", "S5": "5.6569", "S6": "19.7990", "F1": "60.0000"},
		// hips and valley sqrt(2² + 2² + 2²) = 3.464; the hips close 120 degrees, the valley opens 360 - 120 = 240
		edges: []string{"S1+S3 6000 90", "S4+S6 5000 90", "S1+S6 3464 120", "S3+S4 3464 240", "K3+K4 1000 270", "K3+S3 6000 135"},
		// faces 13, corners 6 below, 6 above, ridge ends 3 (the elbow's is one): E = V + F - 2 = 15 + 13 - 2
		count: 26,
		// 60 x 1, and above the walls a prism of section 4 x 2/2 = 4 m², mitred in the elbow, whose middle runs along both ridges:
		// 4 x (6 + 5) = 44; two hip ends, each half a pyramid on 4 x 4: 2 x 4 x 4 x 2/6 = 10.66667
		volume: 114.66667, floor: 60,
	},
	{
		name: "mono-pitch from the floor, 4 x 3 m, 30 degrees",
		room: room(0, []job.Slope{{Edge: 4, Height: 0, Pitch: 30}}, rectangle(4000, 3000)...),
		// no wall on edge 4; high wall 4 tan 30 = 2.3094 m: 3 x 2.3094 = 6.9282; gables 4 x 2.3094 / 2 = 4.6188;
		// slope 3 x 4 / cos 30 = 13.8564; V = 4.6188 x 3
		areas: map[string]string{"G1": "4.6188", "W2": "6.9282", "G3": "4.6188", "S1": "13.8564", "F1": "12.0000"},
		edges: []string{"S1+F1 3000 30", "W2+S1 3000 60", "G1+S1 4619 90", "W2+G1 2309 90"},
		count: 9, volume: 13.85641, floor: 12,
	},
	{
		name: "attic with a dormer in slope 1, from 1 to 2.5 m, front 0.3 m in, ceiling at 2.2 m",
		room: room(2400, []job.Slope{{Edge: 1, Height: 1000, Pitch: 45}, {Edge: 3, Height: 1000, Pitch: 45}}, rectangle(5000, 6000)...),
		// front from 1.3 m: 1.5 x 0.9 = 1.35; it runs back 0.9 m: top 1.35, cheeks 0.9 x 0.9 / 2 = 0.405;
		// slope 9.8995 - 1.5 x 0.9 sqrt 2 = 7.9903; V = 62.2 + 0.405 x 1.5
		dormer: &job.Dormer{ID: "B2-D1", Slope: 1, From: 1000, To: 2500, Depth: 300, Sill: 1300, Height: 2200,
			Front: job.Face{Behind: job.Outside}, Cheeks: job.Face{Behind: job.Outside}, Top: job.Face{Behind: job.Outside}},
		areas: map[string]string{"K1": "5.0000", "G2": "12.4400", "K3": "5.0000", "G4": "12.4400", "S1": "7.9903", "S2": "9.8995", "C1": "16.0000",
			"D1-W1": "1.3500", "D1-W2": "0.4050", "D1-W3": "0.4050", "D1-C1": "1.3500", "F1": "30.0000"},
		// below the front the slope turns up by 45: 180 + 45; the cheek stands at 270 on the slope; top and slope 180 + 45
		edges: []string{"D1-W1+S1 1500 225", "D1-W2+S1 1273 270", "S1+D1-C1 1500 225", "D1-W1+D1-C1 1500 90", "D1-W1+D1-W3 900 90"},
		count: 27, volume: 62.8075, floor: 30,
	},
	{
		name: "attic with a dormer whose front stands on wall 1 and whose top is the collar ceiling's height",
		room: room(2400, []job.Slope{{Edge: 1, Height: 1000, Pitch: 45}, {Edge: 3, Height: 1000, Pitch: 45}}, rectangle(5000, 6000)...),
		// front 2 x 1.4 = 2.8, top 2.8, cheeks 1.4² / 2 = 0.98, slope 3 x 1.4 sqrt 2 = 5.9397 in two pieces of 1 and 2 m:
		// 1.9799 and 3.9598; V = 62.2 + 0.98 x 2
		dormer: &job.Dormer{ID: "B2-D1", Slope: 1, From: 1000, To: 3000, Height: 2400,
			Front: job.Face{Behind: job.Outside}, Cheeks: job.Face{Behind: job.Outside}, Top: job.Face{Behind: job.Outside}},
		areas: map[string]string{"K1": "5.0000", "G2": "12.4400", "K3": "5.0000", "G4": "12.4400", "S1": "1.9799", "S1.2": "3.9598", "S2": "9.8995",
			"C1": "16.0000", "D1-W1": "2.8000", "D1-W2": "0.9800", "D1-W3": "0.9800", "D1-C1": "2.8000", "F1": "30.0000"},
		edges: []string{"D1-W1+K1 2000 180", "C1+D1-C1 2000 180", "K1+S1 1000 135", "K1+S1.2 2000 135", "D1-W2+S1 1980 270"},
		count: 29, volume: 64.16, floor: 30,
	},
	{
		name: "U, open to the north, slopes on both tips in one plane, a slope on the south side",
		room: room(2400, []job.Slope{{Edge: 1, Height: 1400, Pitch: 45}, {Edge: 3, Height: 1400, Pitch: 45}, {Edge: 7, Height: 1400, Pitch: 45}},
			geometry.Point{X: 0, Y: 0}, geometry.Point{X: 8000, Y: 0}, geometry.Point{X: 8000, Y: 6000}, geometry.Point{X: 6000, Y: 6000},
			geometry.Point{X: 6000, Y: 1000}, geometry.Point{X: 2000, Y: 1000}, geometry.Point{X: 2000, Y: 6000}, geometry.Point{X: 0, Y: 6000}),
		// the south slope reaches 1 m in, just to the inner wall, so the flat ceiling falls in two: 2 x (5 - 1) = 8 each.
		// S1 8 x sqrt 2 = 11.3137; S2 2 sqrt 2 = 2.8284 twice. W5 stands where the slope ends: 4 x 2.4 = 9.6.
		// outer legs 6 x 2.4 - 2 x 0.5 = 13.4, inner legs 5 x 2.4 - 0.5 = 11.5; V = 28 x 2.4 - 0.5 x 8 - 2 x 0.5 x 2 = 61.2
		areas: map[string]string{"K1": "11.2000", "G2": "13.4000", "K3": "2.8000", "G4": "11.5000", "W5": "9.6000", "G6": "11.5000", "W7": "2.8000", "G8": "13.4000",
			"S1": "11.3137", "S2": "2.8284", "S2.2": "2.8284", "C1": "8.0000", "C2": "8.0000", "F1": "28.0000"},
		edges: []string{"S1+C1 2000 135", "S1+C2 2000 135", "W5+S1 4000 45", "W5+G4 2400 270"},
		count: 34, volume: 61.2, floor: 28,
	},
}

func TestSolids(t *testing.T) {
	for _, s := range solids {
		t.Run(s.name, func(t *testing.T) {
			r := *s.room
			if s.dormer != nil {
				r.Dormers = []*job.Dormer{s.dormer}
			}
			m, found := derive(&r)
			if err := found.Err(); err != nil {
				t.Fatal(err)
			}
			shape := m.Rooms[0]
			areas := map[string]string{}
			for _, f := range shape.Surfaces {
				areas[strings.TrimPrefix(string(f.ID), "B2-")] = fmt.Sprintf("%.4f", float64(f.Gross))
			}
			if d := cmp.Diff(s.areas, areas); d != "" {
				t.Errorf("areas (-want +got):\n%s", d)
			}
			edges := map[string]bool{}
			for _, e := range shape.Edges {
				edges[fmt.Sprintf("%s %d %g", strings.TrimPrefix(e.ID, "B2-"), e.Length, float64(e.AngleDeg))] = true
			}
			for _, want := range s.edges {
				if !edges[want] {
					t.Errorf("no edge %q among %v", want, edges)
				}
			}
			if len(shape.Edges) != s.count {
				t.Errorf("%d edges, want %d: %v", len(shape.Edges), s.count, edges)
			}
			// hand figures carry five places
			if math.Abs(float64(shape.Volume)-s.volume) > 1e-5 || math.Abs(float64(shape.FloorArea)-s.floor) > 1e-9 {
				t.Errorf("volume %v, floor %v, want %v and %v", shape.Volume, shape.FloorArea, s.volume, s.floor)
			}
			if bad := closed(shape); bad != "" {
				t.Error(bad)
			}
		})
	}
}
