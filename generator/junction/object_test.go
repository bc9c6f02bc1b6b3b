package junction

import (
	"math"
	"testing"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// A window is three records, any other opening one (junctions.md section 1, "Who owns what"); the jamb record measures
// both jambs and the head, as the formula of window-jamb-head-timber does: 2*height_m+width_m.
func TestOpenings(t *testing.T) {
	room := pair(surface.Wall, outer, surface.Wall, masonry, 90)
	w := addOpening(room.Surfaces[0], "R1-O1", "window", 500, 800, 1200, 1000)
	w.Depth = 180
	plastered := addOpening(room.Surfaces[1], "R1-O2", "window", 500, 800, 600, 600)
	plastered.Substrate = "aac"
	for i, kind := range []string{"door", "roof-window", "hatch", "temporary"} {
		addOpening(room.Surfaces[0], "R1-O"+string(rune('3'+i)), kind, 100, 0, 900, 2000)
	}
	byID, found := derive(t, model(room))
	for id, want := range map[string]struct {
		edge   Edge
		part   string
		length q.Length
	}{
		"R1-O1/jamb":   {OpeningEdge, "jamb", 3.2},
		"R1-O1/sill":   {OpeningEdge, "sill", 1.2},
		"R1-O1/corner": {OpeningCorner, "corner", 0},
		"R1-O3":        {OpeningEdge, "", 5.8},
		"R1-O6":        {OpeningEdge, "", 5.8},
	} {
		r := byID[id]
		if r.Edge != want.edge || r.Part != want.part || math.Abs(float64(r.Length-want.length)) > 1e-9 {
			t.Errorf("%s: %q %q %v m", id, r.Edge, r.Part, r.Length)
		}
	}
	r := byID["R1-O1/corner"]
	if r.Count != 1 || r.Corners != 4 || r.Depth != 0.18 || r.Width != 1.2 || r.Height != 1 || r.Object != "R1-O1" {
		t.Errorf("corner: %+v", r)
	}
	if r := byID["R1-O2/sill"]; r.Layer != job.Plaster || r.Substrate != "aac" {
		t.Errorf("window in plaster: layer %q, substrate %q", r.Layer, r.Substrate)
	}
	if r := byID["R1-O1/sill"]; r.Substrate != "timber-planed" {
		t.Errorf("reveal without a substrate takes the wall's, not %q", r.Substrate)
	}
	if n := found.Count(diag.Open); n != 0 {
		t.Errorf("open findings: %v", found.Sorted())
	}
}

// Holes in an inside wall are none in the envelope; holes in a bare slab on the ground are.
func TestWhichHolesCount(t *testing.T) {
	room := pair(surface.Wall, inside, surface.Floor, slab, 90)
	addOpening(room.Surfaces[0], "R1-O1", "door", 500, 0, 800, 2000)
	addPenetration(room.Surfaces[0], job.Penetration{ID: "R1-P1", Item: "pipe", Diameter: 22})
	addPenetration(room.Surfaces[1], job.Penetration{ID: "R1-P2", Item: "soil-pipe", Diameter: 110})
	addMember(room.Surfaces[1], job.Member{ID: "R1-M1", Item: "partition", Length: 2000, Own: "timber-planed"})
	byID, _ := derive(t, model(room))
	if len(byID) != 1 || byID["R1-P2"].Substrate != "screed" || byID["R1-P2"].Layer != "" {
		t.Errorf("want the soil pipe only: %v", byID)
	}
}

func TestPenetrations(t *testing.T) {
	room := pair(surface.Wall, outer, surface.Slope, loft, 90)
	room.Surfaces[1].Face.Cavity = 40
	wall, slope := room.Surfaces[0], room.Surfaces[1]
	for _, p := range []job.Penetration{
		{ID: "P01", Item: "cable", X: 500, Y: 500, Diameter: 10},             // 30 mm clear of P02
		{ID: "P02", Item: "cable", X: 540, Y: 500, Diameter: 10, Count: 1},   //
		{ID: "P03", Item: "pipe", X: 1500, Y: 500, Diameter: 22},             //
		{ID: "P04", Item: "cable", X: 2000, Y: 500, Cables: 5},               // a bundle
		{ID: "P05", Item: "cable", X: 2500, Y: 500, Cables: 3, Spacing: 100}, // three single cables
		{ID: "P06", Item: "flue", X: 2800, Y: 1500, Diameter: 150},           //
		{ID: "P07", Item: "duct", X: 300, Y: 1500, Width: 220, Height: 55},   //
		{ID: "P08", Item: "back-box", X: 300, Y: 300, Diameter: 68},          //
		{ID: "P09", Item: "bracket", X: 100, Y: 100, Count: 4},               //
		{ID: "P10", Item: "gas-pipe", X: 1000, Y: 1800, Diameter: 22},        //
	} {
		addPenetration(wall, p)
	}
	addPenetration(slope, job.Penetration{ID: "P11", Item: "luminaire", X: 500, Y: 500, Diameter: 80})
	byID, found := derive(t, model(room))
	for id, want := range map[string]struct {
		edge    Edge
		spacing q.MM
		count   int
		cables  int
		hot     bool
	}{
		"P01": {PenetrationAt, 30, 1, 1, false},
		"P02": {PenetrationAt, 30, 1, 1, false},
		"P03": {PenetrationAt, 489, 1, 1, false}, // to the bundle, whose girth is not stated: 500 - 11
		"P04": {PenetrationAt, 0, 1, 5, false},
		"P05": {PenetrationAt, 100, 3, 1, false},
		"P06": {PenetrationAt, 969, 1, 1, true},  // to P05: √(300² + 1000²) - 75
		"P07": {PenetrationAt, 640, 1, 1, false}, // to P10: √(700² + 300²) - 110 - 11
		"P08": {Recess, 1000, 1, 1, false},
		"P09": {Fixing, 1000, 4, 1, false},
		"P10": {PenetrationAt, 640, 1, 1, false},
	} {
		r := byID[id]
		if r.Edge != want.edge || r.Spacing != want.spacing || r.Count != want.count || r.Cables != want.cables || r.Hot != want.hot {
			t.Errorf("%s: %q, %d mm clear, %d of %d cables, hot %v; want %+v", id, r.Edge, r.Spacing, r.Count, r.Cables, r.Hot, want)
		}
	}
	if p := byID["P06"].Perimeter; math.Abs(float64(p)-0.4712389) > 1e-6 { // π · 150 mm
		t.Errorf("flue: %v m round", p)
	}
	if p := byID["P07"].Perimeter; math.Abs(float64(p)-0.55) > 1e-9 {
		t.Errorf("flat duct: %v m round", p)
	}
	if _, ok := byID["P11"]; ok || found.Count(diag.Note) != 1 {
		t.Errorf("a luminaire inside the cavity is a note: %v", found.Sorted())
	}
}

func TestMembers(t *testing.T) {
	room := pair(surface.Wall, with(outer, "brick-bare"), surface.Slope, loft, 90)
	room.Surfaces[0].Face.Framing.Pitch = 600
	for _, m := range []job.Member{
		{ID: "M1", Item: "partition", X: 900, Length: 2000, Upright: true, Own: "timber-planed", Stands: "before"},
		{ID: "M2", Item: "floor-cassette", Y: 1700, Length: 3000, Own: "osb"},
		{ID: "M3", Item: "joist-bays", Y: 100, Length: 3000, Height: 220, Own: "timber-old"},
		{ID: "M4", Item: "joist", X: 100, Y: 1500, Width: 80, Height: 220, Count: 6, Own: "timber-old"},
		{ID: "M5", Item: "timber-member", X: 700, Y: 1500, Width: 100, Height: 200, Own: "timber-planed"},
		{ID: "M6", Item: "steel-member", X: 700, Y: 1500, Width: 100, Height: 200, Own: "steel-galv"},
		{ID: "M7", Item: "stair", Y: 100, Length: 2800, Own: "timber-planed"},
		{ID: "M8", Item: "chimney", X: 1000, Y: 500, Width: 600, Height: 450, Substrate: "brick-bare"},
		{ID: "M9", Item: "masonry", X: 1000, Length: 2000, Width: 240, Upright: true, Own: "brick-bare"},
		{ID: "M10", Item: "masonry", X: 0, Length: 2000, Width: 240, Upright: true, Own: "brick-bare"},
		{ID: "M11", Item: "masonry", X: 1000, Length: 2000, Upright: true, Own: "brick-bare"},
	} {
		addMember(room.Surfaces[0], m)
	}
	byID, found := derive(t, model(room))
	for id, want := range map[string]struct {
		edge      Edge
		item, b   string
		substrate job.SubstrateID
		length    q.Length
		perimeter q.Length
		count     int
		bays      int
	}{
		"M1":  {CrossingPlane, "partition", "partition", "timber-planed", 2, 0, 1, 0},
		"M2":  {CrossingPlane, "floor-cassette", "", "osb", 3, 0, 1, 0},
		"M3":  {CrossingPlane, "joist-bays", "", "timber-old", 3, 1.55, 1, 5}, // bay 600 - 45 wide, 220 high
		"M4":  {CrossingMember, "joist", "", "brick-bare", 0, 0.6, 6, 0},
		"M5":  {CrossingMember, "timber-member", "", "timber-planed", 0, 0.6, 1, 0},
		"M6":  {CrossingMember, "steel-member", "", "steel-galv", 0, 0.6, 1, 0},
		"M7":  {CrossingPlane, "stair", "", "brick-bare", 2.8, 0, 1, 0},
		"M8":  {AbutmentEdge, "chimney", "chimney", "brick-bare", 2.1, 2.1, 1, 0}, // all round the stack
		"M9":  {AbutmentEdge, "", "wall", "brick-bare", 4, 0.48, 1, 0},            // both faces of the cross wall
		"M10": {AbutmentEdge, "", "wall", "brick-bare", 2, 0.48, 1, 0},            // stands at the end of the wall
		"M11": {AbutmentEdge, "", "wall", "brick-bare", 2, 0, 1, 0},               // one line stated
	} {
		r := byID[id]
		if r.Edge != want.edge || r.Item != want.item || r.SurfaceB != want.b || r.Substrate != want.substrate ||
			math.Abs(float64(r.Length-want.length)) > 1e-9 || math.Abs(float64(r.Perimeter-want.perimeter)) > 1e-9 ||
			r.Count != want.count || r.Bays != want.bays {
			t.Errorf("%s: %q %q %q %q, %v m, %v m round, %d, %d bays", id, r.Edge, r.Item, r.SurfaceB, r.Substrate, r.Length,
				r.Perimeter, r.Count, r.Bays)
		}
	}
	if m := byID["M4"]; m.MemberSubstrate != "timber-old" {
		t.Errorf("the joist's own substrate: %q", m.MemberSubstrate)
	}
	if byID["M1"].Stands != "before" || found.Count(diag.Open) != 0 {
		t.Errorf("stands %q, open: %v", byID["M1"].Stands, found.Sorted())
	}
}

func TestSeams(t *testing.T) {
	room := box("B2", 4000, 3000, 2400, [6]job.Face{outer, outer, outer, boarded, loft, slab})
	room.Surfaces[4].Face.LooseFill = true
	got := Seams(model(room), []SurfaceSeams{
		{Surface: room.Surfaces[4], Laps: []Seam{{Strip: 1, Length: 3900, Studs: 6}}},
		{Surface: room.Surfaces[0], Laps: []Seam{{Strip: 3, Length: 2400, Upright: true, Supported: true}, {Strip: 4}},
			EndJoints: []Seam{{Strip: 3, Joint: 1, Length: 1500, Supported: true}}},
	})
	var ids []string
	for _, r := range got {
		ids = append(ids, r.ID)
	}
	if len(got) != 3 || ids[0] != "B2-W1/3+4" || ids[1] != "B2-W1/3.1" || ids[2] != "B2-C1/1+2" {
		t.Fatalf("ids %v", ids)
	}
	lap, joint, over := got[0], got[1], got[2]
	if lap.Edge != Lap || !lap.Upright || !lap.Supported || lap.Length != 2.4 || lap.Ends != 2 || lap.Layer != job.Sheet {
		t.Errorf("lap: %+v", lap)
	}
	if joint.Edge != EndJoint || joint.Length != 1.5 {
		t.Errorf("end joint: %+v", joint)
	}
	if over.SurfaceA != "flat-ceiling" || over.Supported || over.Studs != 6 || !over.LoadOnLayer {
		t.Errorf("overhead lap: %+v", over)
	}
}
