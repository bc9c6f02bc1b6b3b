package junction

import (
	"math"
	"slices"
	"strings"
	"testing"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// r1 is the corner bedroom of the worked example of the trade specification (junctions.md, section 3): 4.0 x 3.0 x 2.4 m,
// two outer timber walls, flat ceiling under a cold loft, screed, one window 1.2 x 1.2 m, stud partitions else.
func r1() *surface.RoomShape {
	room := box("R1", 4000, 3000, 2400, [6]job.Face{outer, outer, inside, inside, loft, slab})
	for _, s := range room.Surfaces[:2] {
		s.Face.Framing = job.Framing{Pitch: 600}
		s.Face.Cavity = 50
	}
	room.Surfaces[4].Face.Cavity = 50
	addOpening(room.Surfaces[0], "R1-O1", "window", 1400, 900, 1200, 1200)
	addPenetration(room.Surfaces[4], job.Penetration{ID: "R1-P1", Item: "cable", X: 500, Y: 500, Diameter: 10, Count: 3})
	addPenetration(room.Surfaces[4], job.Penetration{ID: "R1-P2", Item: "conduit", X: 1500, Y: 500, Diameter: 25})
	addPenetration(room.Surfaces[4], job.Penetration{ID: "R1-P3", Item: "soil-pipe", X: 3500, Y: 500, Diameter: 110})
	addPenetration(room.Surfaces[4], job.Penetration{ID: "R1-P4", Item: "duct", X: 3500, Y: 2000, Diameter: 125})
	return room
}

// Want: records and drivers of the worked example (junctions.md, section 3), which the catalogue's author computed apart
// from this code. Field 27.36 m² is 2.4 x (4.0 + 3.0) - 1.44 + 12.0.
func TestWorkedExample(t *testing.T) {
	byID, _ := derive(t, model(r1()))
	type line struct {
		records int
		sum     float64
	}
	got := map[string]line{}
	for _, r := range byID {
		key := string(r.Edge)
		switch r.Edge {
		case InsideEdge:
			key += " " + r.SurfaceB
		case OpeningEdge, OpeningCorner:
			key += " " + r.Part
		case CrossingPlane, PenetrationAt, Fixing:
			key += " " + r.Item
		}
		l := got[key]
		l.records++
		switch r.Edge {
		case Field:
			l.sum += float64(r.Area)
		case OpeningCorner:
			l.sum += float64(r.Count * r.Corners)
		case PenetrationAt:
			l.sum += float64(r.Count)
		case Fixing:
			if r.Item == "batten" {
				l.sum += float64(r.Area) / 0.4 // one batten every 400 mm
			}
		default:
			l.sum += float64(r.Length)
		}
		got[key] = l
	}
	want := map[string]line{
		"field":                    {3, 27.36}, // the example keeps both walls in one record
		"inside-edge wall":         {1, 2.40},
		"inside-edge flat-ceiling": {2, 7.00},
		"crossing-plane partition": {4, 11.80},
		"floor-edge":               {2, 7.00},
		"opening-edge sill":        {1, 1.20},
		"opening-edge jamb":        {1, 3.60},
		"opening-corner corner":    {1, 4},
		"penetration cable":        {1, 3},
		"penetration conduit":      {1, 1},
		"penetration soil-pipe":    {1, 1},
		"penetration duct":         {1, 1},
		"fixing batten":            {3, 68.40},
		"fixing staple":            {3, 0},
	}
	for key, w := range want {
		if g := got[key]; g.records != w.records || math.Abs(g.sum-w.sum) > 1e-9 { // sums of whole millimetres
			t.Errorf("%s: %d records, %g; want %d, %g", key, g.records, g.sum, w.records, w.sum)
		}
	}
	if len(got) != len(want) {
		t.Errorf("kinds: got %v", got)
	}
}

// Defaults: the attribute table (junctions.md, section 1) and variables.csv.
func TestDefaults(t *testing.T) {
	room := box("B2", 4000, 3000, 2400, [6]job.Face{outer, outer, outer, outer, loft, slab})
	room.Edges[0].AngleDeg = 0
	byID, _ := derive(t, model(room))
	r := byID["B2-W1+C1"]
	if r.Layer != job.Sheet || r.LayerA != job.Sheet || !r.Supported || r.LoadOnLayer || r.Angle != 90 || r.Movement != 0 ||
		r.Spacing != 1000 || r.Cables != 1 || r.Count != 1 || r.Corners != 4 || r.Ends != 2 || r.Hot || !r.StripLayoutRun {
		t.Errorf("%+v", r)
	}
	if w := byID["B2-W1"]; w.LayerB != "" || w.SurfaceB != "" || w.B != nil {
		t.Errorf("a field has no second side: %+v", w)
	}
}

// The order of a room: surfaces, edges, openings, penetrations, members; the order of the job between rooms.
func TestOrder(t *testing.T) {
	first, second := r1(), box("A1", 3000, 3000, 2400, [6]job.Face{outer, outer, outer, outer, loft, slab})
	addMember(first.Surfaces[0], job.Member{ID: "R1-M1", Item: "timber-member", Own: "timber-old", Width: 100, Height: 200})
	var found diag.List
	var ids []string
	for _, r := range Derive(model(first, second), families, &found) {
		ids = append(ids, r.ID)
	}
	at := -1
	for _, id := range []string{"R1-W1", "R1-W1/battens", "R1-W1/staples", "R1-W2", "R1-C1", "R1-W1+C1", "R1-W1+F1", "R1-W1+W2",
		"R1-O1/jamb", "R1-O1/sill", "R1-O1/corner", "R1-P1", "R1-P2", "R1-M1", "A1-W1", "A1-W4+W1"} {
		i := slices.Index(ids, id)
		if i <= at {
			t.Errorf("%s stands at %d, after %d: %s", id, i, at, strings.Join(ids, " "))
		}
		at = i
	}
}

// Lengths net of openings, and the studs an edge crosses outside them. 4 m wall, studs at 600, 1200 ... 3600 from its left
// end; a door 1.0 m wide takes 1500 to 2500 and with it the stud at 1800 and at 2400: four are left of six.
func TestNetLengthAndStuds(t *testing.T) {
	room := box("B2", 4000, 3000, 2400, [6]job.Face{outer, outer, outer, outer, loft, slab})
	room.Surfaces[0].Face.Framing = job.Framing{Pitch: 600}
	addOpening(room.Surfaces[0], "B2-O1", "door", 1500, 0, 1000, 2100)
	for i, e := range room.Edges {
		if e.ID == "B2-W1+F1" {
			room.Edges[i].Runs = []surface.Run{{From: 0, To: 1500}, {From: 2500, To: 4000}}
		}
	}
	byID, _ := derive(t, model(room))
	floor, head := byID["B2-W1+F1"], byID["B2-W1+C1"]
	if floor.Length != 3 || len(floor.Runs) != 2 || floor.Studs != 4 {
		t.Errorf("floor edge: %v m, %d runs, %d studs; want 3, 2, 4", floor.Length, len(floor.Runs), floor.Studs)
	}
	if head.Length != 4 || head.Studs != 6 {
		t.Errorf("head: %v m, %d studs; want 4, 6", head.Length, head.Studs)
	}
	if corner := byID["B2-W1+W2"]; corner.Studs != 0 || !corner.Upright {
		t.Errorf("an upright edge crosses no stud: %+v", corner)
	}
	// Staple lines: four studs of full height 2.4 m, two of 0.3 m over the door.
	if s := byID["B2-W1/staples"]; math.Abs(float64(s.Length)-(4*2.4+2*0.3)) > 1e-9 || s.Studs != 6 || !s.Optional {
		t.Errorf("staples: %v m on %d studs, want 10.2 on 6", s.Length, s.Studs)
	}
	// Field 9.6 m² less the door 2.1 m²; a hatch of 0.48 m² would not be taken off (junctions.md, section 1: above 0.5 m²).
	if f := byID["B2-W1"]; math.Abs(float64(f.Area)-7.5) > 1e-9 || f.Length != 4 || f.Height != 2.4 {
		t.Errorf("field: %v m², %v x %v m", f.Area, f.Length, f.Height)
	}
	addOpening(room.Surfaces[4], "B2-O2", "hatch", 500, 500, 800, 600)
	byID, _ = derive(t, model(room))
	if c := byID["B2-C1"]; math.Abs(float64(c.Area)-12) > 1e-9 {
		t.Errorf("small hatch taken off: %v m²", c.Area)
	}
}

// Ends: an edge alone turns onto nothing; where a door cuts the edge off at its start, the tape turns onto the frame.
func TestEnds(t *testing.T) {
	room := pair(surface.Wall, outer, surface.Floor, slab, 90)
	byID, _ := derive(t, model(room))
	if r := byID["R1-W1+F2"]; r.Ends != 0 {
		t.Errorf("free run: %d ends, want 0", r.Ends)
	}
	room.Edges[0].Runs = []surface.Run{{From: 900, To: 3000}}
	byID, _ = derive(t, model(room))
	if r := byID["R1-W1+F2"]; r.Ends != 1 || r.Length != q.Length(2.1) {
		t.Errorf("run cut by a door: %d ends, %v m; want 1, 2.1", r.Ends, r.Length)
	}
}

// Adding any object renames nothing (DESIGN: "adding anything renames nothing else").
func TestIDsStay(t *testing.T) {
	base, _ := derive(t, model(r1()))
	grow := map[string]func(*surface.RoomShape){
		"opening": func(r *surface.RoomShape) { addOpening(r.Surfaces[1], "R1-O0", "window", 500, 900, 800, 800) },
		"penetration": func(r *surface.RoomShape) {
			addPenetration(r.Surfaces[0], job.Penetration{ID: "R1-P0", Item: "pipe", X: 300, Y: 300, Diameter: 22})
		},
		"member": func(r *surface.RoomShape) {
			addMember(r.Surfaces[4], job.Member{ID: "R1-M1", Item: "partition", X: 100, Y: 900, Length: 2000, Own: "timber-planed"})
		},
	}
	for name, add := range grow {
		room := r1()
		add(room)
		got, _ := derive(t, model(room))
		for id, r := range base {
			if g, ok := got[id]; !ok || g.Edge != r.Edge || g.Item != r.Item || g.Part != r.Part {
				t.Errorf("%s added: %s is now %q %q", name, id, g.Edge, g.Item)
			}
		}
		if len(got) <= len(base) {
			t.Errorf("%s added: no new record", name)
		}
	}
}

// Ceiling framing 4.0 x 3.0 m at 500 mm: joists along y stand at x = 500 ... 3500 (7), along x at y = 500 ... 2500 (5);
// unstated they span the shorter way, along y. Loose fill on the ceiling loads its edges too. On steel there are no
// staples (junctions.md, field-sheet-hang: double-sided tape).
func TestCeilingFraming(t *testing.T) {
	for along, want := range map[string]int{"x": 5, "y": 7, "": 7} {
		room := box("B2", 4000, 3000, 2400, [6]job.Face{outer, outer, outer, outer, with(loft, "steel-galv"), slab})
		ceiling := room.Surfaces[4]
		ceiling.Face.Framing, ceiling.Face.LooseFill = job.Framing{Pitch: 500, Along: along}, true
		byID, _ := derive(t, model(room))
		if got := byID["B2-C1"].Studs; got != want {
			t.Errorf("along %q: %d joists, want %d", along, got, want)
		}
		if !byID["B2-W1+C1"].LoadOnLayer || byID["B2-W1+W2"].LoadOnLayer {
			t.Error("loose fill loads the edges of its ceiling and no others")
		}
		if _, ok := byID["B2-C1/staples"]; ok {
			t.Error("staples in steel")
		}
	}
}
