package junction

import (
	"strings"
	"testing"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// Want: normalised pairs and kinds of edge after junctions.md sections 1 and 4 (triggers and predicates).
func TestEdgeKinds(t *testing.T) {
	heatedMasonry := with(inside, "plaster-gypsum")
	ceilingOver := job.Face{Behind: job.Heated, Layer: job.NoLayer, Substrate: "osb"}
	partySheet := party
	partySheet.Layer = job.Sheet
	for _, c := range []struct {
		name         string
		roleA, roleB surface.Role
		a, b         job.Face
		angle        q.Degrees
		want         string // edge item surface_a surface_b layer_a layer_b substrate; "" = no record
	}{
		{"two walls", surface.Wall, surface.Wall, outer, outer, 90, "inside-edge - wall wall sheet sheet -"},
		{"two walls outside", surface.Wall, surface.Wall, outer, outer, 270, "outside-edge - wall wall sheet sheet -"},
		{"two walls in one plane", surface.Wall, surface.Wall, outer, outer, 180, "lap - wall wall sheet sheet -"},
		{"knee wall first in the data", surface.KneeWall, surface.Slope, outer, loft, 135, "inside-edge - slope knee-wall sheet sheet -"},
		{"ceiling first in the data", surface.Ceiling, surface.Slope, loft, loft, 150, "inside-edge - slope flat-ceiling sheet sheet -"},
		{"ceiling before wall", surface.Ceiling, surface.Wall, loft, outer, 90, "inside-edge - wall flat-ceiling sheet sheet -"},
		{"slope before gable", surface.Slope, surface.Gable, loft, outer, 90, "inside-edge - gable slope sheet sheet -"},
		{"ridge", surface.Slope, surface.Slope, loft, loft, 100, "inside-edge - slope slope sheet sheet -"},
		{"board before sheet", surface.Wall, surface.Ceiling, boarded, loft, 90, "inside-edge - flat-ceiling wall sheet board osb"},
		{"board outside sheet", surface.Wall, surface.Wall, boarded, outer, 270, "abutment-edge - wall wall sheet board osb"},
		{"plaster and sheet", surface.Wall, surface.Ceiling, masonry, loft, 90, "abutment-edge - flat-ceiling wall sheet plaster block-bare"},
		{"plaster and board", surface.Gable, surface.Slope, masonry, boarded, 90, "abutment-edge - slope gable board plaster block-bare"},
		{"plaster runs through", surface.Wall, surface.Wall, masonry, masonry, 90, ""},
		{"plaster to the floor", surface.Floor, surface.Wall, slab, masonry, 90, "floor-edge - wall floor plaster - screed"},
		{"floor", surface.Wall, surface.Floor, outer, slab, 90, "floor-edge - wall floor sheet - screed"},
		{"floor with a board layer", surface.Floor, surface.Wall, boarded, masonry, 90, "floor-edge - wall floor plaster board osb"},
		{"sheet on a floor at an inner wall", surface.Floor, surface.Wall, outer, heatedMasonry, 90, "abutment-edge - floor wall sheet - plaster-gypsum"},
		{"stud partition", surface.Wall, surface.Wall, inside, outer, 90, "crossing-plane partition wall partition sheet - plasterboard"},
		{"ceiling at a stud partition", surface.Ceiling, surface.Wall, loft, inside, 90, "crossing-plane partition flat-ceiling partition sheet - plasterboard"},
		{"inner masonry", surface.Wall, surface.Wall, heatedMasonry, outer, 90, "abutment-edge - wall wall sheet - plaster-gypsum"},
		{"inner wall on laths", surface.Wall, surface.Wall, outer, with(inside, "lath-plaster"), 90, "abutment-edge - wall wall sheet - lath-plaster"},
		{"party wall", surface.Wall, surface.Slope, party, loft, 90, "abutment-edge - slope party-wall sheet - brick-bare"},
		{"party wall with its own sheet", surface.Wall, surface.Wall, partySheet, outer, 90, "abutment-edge - wall party-wall sheet sheet brick-bare"},
		{"two lined party walls", surface.Wall, surface.Wall, partySheet, partySheet, 90, "inside-edge - wall wall sheet sheet -"},
		{"lined and bare party wall", surface.Wall, surface.Wall, party, partySheet, 90, "abutment-edge - wall party-wall sheet - brick-bare"},
		{"partition at a lined party wall", surface.Wall, surface.Wall, inside, partySheet, 90, "crossing-plane partition wall partition sheet - plasterboard"},
		{"floor between storeys", surface.Wall, surface.Ceiling, outer, ceilingOver, 90, "crossing-plane floor-cassette wall flat-ceiling sheet - osb"},
		{"slab between storeys", surface.Wall, surface.Ceiling, outer, with(ceilingOver, "concrete-cast"), 90, "abutment-edge - wall flat-ceiling sheet - concrete-cast"},
		{"no layer at all", surface.Wall, surface.Floor, inside, slab, 90, ""},
	} {
		byID, _ := derive(t, model(pair(c.roleA, c.a, c.roleB, c.b, c.angle)))
		got := ""
		for _, r := range byID {
			if r.B == nil {
				continue
			}
			words := []string{string(r.Edge), r.Item, r.SurfaceA, r.SurfaceB, string(r.LayerA), string(r.LayerB), string(r.Substrate)}
			for i, w := range words {
				if w == "" {
					words[i] = "-"
				}
			}
			got = strings.Join(words, " ")
			if r.Length != 3 || len(r.Where) != 2 || r.Where[0] != string(r.A.ID) || r.Angle != c.angle {
				t.Errorf("%s: length %v, where %v, angle %v", c.name, r.Length, r.Where, r.Angle)
			}
		}
		if got != c.want {
			t.Errorf("%s:\n got %q\nwant %q", c.name, got, c.want)
		}
	}
}

func TestWallStatesItsFloorJointAndMovement(t *testing.T) {
	room := box("B2", 4000, 3000, 2400, [6]job.Face{outer, outer, outer, outer, loft, slab})
	room.Room.Walls[0].FloorJoint.Substrate = "bitumen"
	room.Room.Walls[0].MovementMM = 12
	byID, _ := derive(t, model(room))
	for id, want := range map[string]job.SubstrateID{"B2-W1+F1": "bitumen", "B2-W2+F1": "screed"} {
		if got := byID[id].Substrate; got != want {
			t.Errorf("%s: %s, want %s", id, got, want)
		}
	}
	for id, want := range map[string]q.MM{"B2-W1+C1": 12, "B2-W1+F1": 0, "B2-W1+W2": 0, "B2-W2+C1": 0} {
		if got := byID[id].Movement; got != want {
			t.Errorf("%s: movement %d, want %d", id, got, want)
		}
	}
}

// A floor stated as a member owns the line it takes; what is left of the line stays a record.
func TestFloorMemberOwnsTheHead(t *testing.T) {
	ceiling := job.Face{Behind: job.Heated, Layer: job.NoLayer, Substrate: "osb"}
	for _, c := range []struct {
		member q.MM
		left   q.Length // 0: no record of the edge
	}{{3000, 0}, {2950, 0}, {2000, 1}} {
		room := pair(surface.Wall, outer, surface.Ceiling, ceiling, 90)
		addMember(room.Surfaces[0], job.Member{ID: "R1-M1", Item: "joist-bays", Y: 1900, Length: c.member, Own: "timber-old", Count: 5})
		byID, _ := derive(t, model(room))
		if r, ok := byID["R1-W1+C2"]; ok != (c.left > 0) || r.Length != c.left {
			t.Errorf("member of %d mm: edge %v of %v m, want %v", c.member, ok, r.Length, c.left)
		}
		if byID["R1-M1"].Bays != 5 {
			t.Errorf("bays: %d", byID["R1-M1"].Bays)
		}
	}
}

// An edge of the layer that meets nothing, or a wall of unknown substance, is a record and an open finding.
func TestUnknownNeighbours(t *testing.T) {
	room := pair(surface.Wall, outer, surface.Wall, with(inside, ""), 90)
	room.Edges = append(room.Edges, newEdge(room.Surfaces[0], nil, [3]float64{0, 0, 2}, [3]float64{3, 0, 2}, 3000, 0))
	byID, found := derive(t, model(room))
	for _, id := range []string{"R1-W1+W2", "R1-W1+-"} {
		if r, ok := byID[id]; !ok || r.Edge != AbutmentEdge || r.Substrate != "" {
			t.Errorf("%s: %+v", id, r)
		}
	}
	if n := found.Count(diag.Open); n != 2 {
		t.Errorf("%d open findings, want 2: %v", n, found.Sorted())
	}
}
