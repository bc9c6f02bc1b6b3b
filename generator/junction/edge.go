package junction

import (
	"math"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// flat is how far from 180° two planes may stand and still be joined like one. Common practice, no source.
const flat q.Degrees = 1

// edges gives the records of a room's edges.
func edges(room *surface.RoomShape, t Tables, found *diag.List) []Record {
	var out []Record
	var kept []surface.Edge
	for _, e := range room.Edges {
		if r, ok := edge(e, t, found); ok {
			out = append(out, r)
			kept = append(kept, e)
		}
	}
	for i := range out {
		out[i].Ends = turningEnds(kept, i)
	}
	return out
}

// edge gives the record of an edge; ok is false where no side carries the layer, where openings take the whole line, where
// wet plaster simply runs through the corner, and where a floor stated as a member owns the line.
func edge(e surface.Edge, t Tables, found *diag.List) (r Record, ok bool) {
	a, b := normalise(e)
	if !a.CarriesSheet || e.Net() <= 0 {
		return Record{}, false
	}
	r = at(a, e.ID, "")
	r.B, r.Runs = b, e.Runs
	r.Length, r.Upright = e.Net().Metres(), !e.Level
	r.Studs = studsCrossed(a, e)
	if r.Head = headFold(a, b, found); r.Head != nil {
		r.Movement = r.Head.Movement
	}
	if e.AngleDeg > 0 {
		r.Angle = e.AngleDeg
	}
	if b == nil {
		r.Edge = AbutmentEdge
		found.Openf(r.Pos, r.ID, "say what closes it: another surface, or a member with its substrate",
			"the layer of %s ends at %s without a neighbour", a.ID, r.ID)
		return r, true
	}
	r.SurfaceB, r.LayerB = b.Role.String(), layerOf(b)
	r.Where = append(r.Where, string(b.ID))
	r.LoadOnLayer = r.LoadOnLayer || b.Face.LooseFill
	switch {
	case b.Role == surface.Floor:
		r.Edge, r.Substrate = FloorEdge, floorSubstrate(a, b)
	case isParty(b) && !(isParty(a) && b.CarriesSheet): // between two lined party walls the sheet runs on in one home
		r.Edge, r.SurfaceB, r.Substrate = AbutmentEdge, "party-wall", b.Face.Substrate
	case b.CarriesSheet:
		if r.Layer == job.Plaster {
			return Record{}, false
		}
		layerToLayer(&r)
	default:
		if !layerToBare(&r, e, t) {
			return Record{}, false
		}
	}
	if r.Edge == FloorEdge || r.Edge == AbutmentEdge || r.Edge == CrossingPlane {
		askSubstrate(r, string(b.ID), found)
	}
	if a.Role == surface.Slope && b.Role == surface.KneeWall {
		r.Bays = r.Studs + 1
	}
	return r, true
}

// layerToLayer sets what joins two layers. A bend in sheet or board is an inside or outside edge; in one plane it is a
// lap. Where the second layer is another kind, the first is sealed to its substrate.
func layerToLayer(r *Record) {
	if r.LayerB != job.Sheet {
		r.Substrate = r.B.Face.Substrate
	}
	switch {
	case r.LayerB == job.Plaster:
		r.Edge = AbutmentEdge
	case math.Abs(float64(r.Angle-180)) < float64(flat):
		r.Edge = Lap
	case r.Angle < 180:
		r.Edge = InsideEdge
	case r.LayerB != r.LayerA:
		// Round an outside corner sheet is sealed to the board's face, not lapped with another sheet.
		r.Edge = AbutmentEdge
	default:
		r.Edge = OutsideEdge
	}
}

// layerToBare sets what joins the layer to a surface without one; false where a floor stated as a member owns the line.
// A framed inside wall is a partition and takes a strip; masonry and finishes are abutments. A framed floor between
// storeys is a cassette whose edge the layer must pass.
func layerToBare(r *Record, e surface.Edge, t Tables) bool {
	b := r.B
	r.Substrate = b.Face.Substrate
	r.Edge = AbutmentEdge
	if b.Face.Behind != job.Heated {
		return true
	}
	framed := t.Family[b.Face.Substrate] == "timber" || t.Family[b.Face.Substrate] == "panel" ||
		t.Family[b.Face.Substrate] == "metal"
	switch {
	case isWall(b):
		if framed {
			r.Edge, r.Item, r.SurfaceB = CrossingPlane, "partition", "partition"
		}
	case b.Role == surface.Ceiling && isWall(r.A):
		if owned := floorMembers(r.A); owned > 0 {
			if owned+ownedTolerance >= e.Net() {
				return false
			}
			r.Length = (e.Net() - owned).Metres()
		}
		if framed {
			r.Edge, r.Item, r.Corners = CrossingPlane, "floor-cassette", 0
		}
	}
	return true
}

// ownedTolerance is how much of an edge may be left beside a floor stated as a member: less than a stud bay end.
const ownedTolerance q.MM = 100

// floorMembers gives how much of a wall's head is taken by floors between storeys that the job states as members.
func floorMembers(wall *surface.Surface) q.MM {
	var sum q.MM
	for _, m := range wall.Members {
		if (m.Item == "floor-cassette" || m.Item == "joist-bays") && !m.Upright {
			sum += m.Member.Length
		}
	}
	return sum
}

// floorSubstrate gives what a layer meets at the floor: the wall's own joint, else the floor.
func floorSubstrate(a, floor *surface.Surface) job.SubstrateID {
	if w := statedWall(a); w != nil && w.FloorJoint.Substrate != "" {
		return w.FloorJoint.Substrate
	}
	return floor.Face.Substrate
}

// statedWall gives the wall of the job a surface stands for; nil for slopes, ceilings, floors and dormer walls.
func statedWall(s *surface.Surface) *job.Wall {
	for _, w := range s.Room.Walls {
		if &w.Face == s.Face {
			return w
		}
	}
	return nil
}
