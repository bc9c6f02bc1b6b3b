package junction

import (
	"fmt"
	"testing"

	"lapwork/generator/diag"
	"lapwork/generator/geometry"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// families are rows of the substrate table of the trade specification (substrates.csv).
var families = Tables{Family: map[job.SubstrateID]string{
	"timber-planed": "timber", "timber-old": "timber", "osb": "panel", "plasterboard": "panel", "screed": "mineral",
	"concrete-cast": "mineral", "brick-bare": "mineral", "block-bare": "mineral", "plaster-gypsum": "mineral",
	"lath-plaster": "unsealable", "paint-old": "coated", "steel-galv": "metal", "bitumen": "bituminous",
}}

// The faces the tests build with.
var (
	outer   = job.Face{Behind: job.Outside, Layer: job.Sheet, Substrate: "timber-planed"}
	loft    = job.Face{Behind: job.Unheated, Layer: job.Sheet, Substrate: "timber-planed"}
	slab    = job.Face{Behind: job.Ground, Layer: job.NoLayer, Substrate: "screed"}
	inside  = job.Face{Behind: job.Heated, Layer: job.NoLayer, Substrate: "plasterboard"}
	masonry = job.Face{Behind: job.Outside, Layer: job.Plaster, Substrate: "block-bare"}
	boarded = job.Face{Behind: job.Outside, Layer: job.Board, Substrate: "osb"}
	party   = job.Face{Behind: job.Party, Layer: job.NoLayer, Substrate: "brick-bare"}
)

// with gives the face with another substrate.
func with(f job.Face, id job.SubstrateID) job.Face {
	f.Substrate = id
	return f
}

func newSurface(room *job.Room, id string, role surface.Role, face *job.Face, w, h q.MM) *surface.Surface {
	carries := face.Layer != job.NoLayer
	return &surface.Surface{
		ID: job.SurfaceID(string(room.ID) + "-" + id), Room: room, Role: role, Face: face,
		Frame:   surface.Frame{X: [3]float64{1, 0, 0}, Y: [3]float64{0, 0, 1}},
		Outline: geometry.Polygon{{X: 0, Y: 0}, {X: w, Y: 0}, {X: w, Y: h}, {X: 0, Y: h}},

		CarriesSheet: carries, AirBoundary: face.Behind != job.Heated,
	}
}

// box builds a room w by d by h with the given faces: walls 1 to 4 (south, east, north, west), ceiling, floor.
func box(id string, w, d, h q.MM, faces [6]job.Face) *surface.RoomShape {
	room := &job.Room{ID: job.RoomID(id), Heated: true, CeilingFace: faces[4], Floor: faces[5]}
	shape := &surface.RoomShape{Room: room}
	W, D, H := float64(w)/1000, float64(d)/1000, float64(h)/1000
	corners := [4][3]float64{{0, 0, 0}, {W, 0, 0}, {W, D, 0}, {0, D, 0}}
	lengths := [4]q.MM{w, d, w, d}
	up := func(p [3]float64) [3]float64 { return [3]float64{p[0], p[1], H} }
	for i := range 4 {
		wall := &job.Wall{Edge: i + 1, Face: faces[i]}
		room.Walls = append(room.Walls, wall)
		s := newSurface(room, fmt.Sprintf("W%d", i+1), surface.Wall, &wall.Face, lengths[i], h)
		s.PlanEdge = i + 1
		a, b := corners[i], corners[(i+1)%4] // seen from inside, b is on the left
		s.Frame.Origin = b
		for k := range 3 {
			s.Frame.X[k] = (a[k] - b[k]) * 1000 / float64(lengths[i])
		}
		shape.Surfaces = append(shape.Surfaces, s)
	}
	ceiling := newSurface(room, "C1", surface.Ceiling, &room.CeilingFace, w, d)
	floor := newSurface(room, "F1", surface.Floor, &room.Floor, w, d)
	ceiling.Frame = surface.Frame{Origin: [3]float64{0, 0, H}, X: [3]float64{1}, Y: [3]float64{0, 1}}
	floor.Frame = surface.Frame{X: [3]float64{1}, Y: [3]float64{0, 1}}
	shape.Surfaces = append(shape.Surfaces, ceiling, floor)
	for i := range 4 {
		wall, next := shape.Surfaces[i], shape.Surfaces[(i+1)%4]
		a, b := corners[i], corners[(i+1)%4]
		shape.Edges = append(shape.Edges,
			newEdge(wall, ceiling, up(a), up(b), lengths[i], 90),
			newEdge(wall, floor, a, b, lengths[i], 90),
			newEdge(wall, next, b, up(b), h, 90))
	}
	return shape
}

func newEdge(a, b *surface.Surface, from, to [3]float64, length q.MM, angle q.Degrees) surface.Edge {
	second := "-"
	if b != nil {
		second = string(b.ID)[len(b.Room.ID)+1:]
	}
	return surface.Edge{
		ID: string(a.ID) + "+" + second, A: a, B: b, From: from, To: to, Length: length, AngleDeg: angle,
		Level: from[2] == to[2], Runs: []surface.Run{{From: 0, To: length}},
	}
}

// pair builds a room of two surfaces that meet in one level line of 3 m.
func pair(roleA surface.Role, a job.Face, roleB surface.Role, b job.Face, angle q.Degrees) *surface.RoomShape {
	room := &job.Room{ID: "R1", Walls: []*job.Wall{{Edge: 1, Face: a}, {Edge: 2, Face: b}}}
	x := newSurface(room, roleA.Letter()+"1", roleA, &room.Walls[0].Face, 3000, 2000)
	y := newSurface(room, roleB.Letter()+"2", roleB, &room.Walls[1].Face, 3000, 2000)
	return &surface.RoomShape{
		Room: room, Surfaces: []*surface.Surface{x, y},
		Edges: []surface.Edge{newEdge(x, y, [3]float64{}, [3]float64{3}, 3000, angle)},
	}
}

func model(rooms ...*surface.RoomShape) *surface.Model {
	m := &surface.Model{Job: &job.Job{}, Rooms: rooms, ByID: map[job.SurfaceID]*surface.Surface{}}
	for _, r := range rooms {
		for _, s := range r.Surfaces {
			m.ByID[s.ID] = s
		}
	}
	return m
}

func addOpening(s *surface.Surface, id, kind string, x, y, w, h q.MM) *job.Opening {
	o := &job.Opening{ID: job.OpeningID(id), Kind: kind, Room: s.Room, X: x, Y: y, Width: w, Height: h}
	s.Openings = append(s.Openings, surface.Opening{Opening: o, Outline: geometry.Polygon{
		{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + h}, {X: x, Y: y + h},
	}})
	return o
}

func addPenetration(s *surface.Surface, p job.Penetration) *job.Penetration {
	s.Penetrations = append(s.Penetrations, surface.Penetration{Penetration: &p, At: geometry.Point{X: p.X, Y: p.Y}})
	return &p
}

func addMember(s *surface.Surface, m job.Member) *job.Member {
	to := geometry.Point{X: m.X + m.Length, Y: m.Y}
	if m.Upright {
		to = geometry.Point{X: m.X, Y: m.Y + m.Length}
	}
	s.Members = append(s.Members, surface.Member{Member: &m, From: geometry.Point{X: m.X, Y: m.Y}, To: to})
	return &m
}

// derive gives the records by id; it fails on an id that occurs twice.
func derive(t testing.TB, m *surface.Model) (map[string]Record, *diag.List) {
	t.Helper()
	var found diag.List
	byID := map[string]Record{}
	for _, r := range Derive(m, families, &found) {
		if _, twice := byID[r.ID]; twice {
			t.Fatalf("%s is derived twice", r.ID)
		}
		byID[r.ID] = r
	}
	return byID, &found
}
