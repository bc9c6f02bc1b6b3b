package strips

import (
	"encoding/json"
	"errors"
	"math"
	"os"
	"path/filepath"
	"testing"

	"lapwork/generator/geometry"
	q "lapwork/generator/quantity"
)

// instance is a surface of testdata/layout/layouts.json.
type instance struct {
	ID    string
	Outer [][2]q.MM
	Turn  []q.MM
	Holes []struct {
		Poly   [][2]q.MM
		TurnIn q.MM `json:"turn_in"`
	}
	Direction    string
	RollWidth    q.MM `json:"roll_width"`
	Lap          q.MM
	EndAllowance q.MM  `json:"end_allowance"`
	MaxPiece     *q.MM `json:"max_piece"`
	JointLap     q.MM  `json:"joint_lap"`
	StopGap      *q.MM `json:"stop_gap"`
	Studs        struct {
		Axis    string
		Centres []q.MM
	}
	JointAt    []q.MM  `json:"joint_at"`
	SeamAt     *[]q.MM `json:"seam_at"`
	SeamTol    q.MM    `json:"seam_tol"`
	StapleStud q.MM    `json:"staple_stud"`
	StapleEdge q.MM    `json:"staple_edge"`
}

// answer is its entry in layouts.expected.json.
type answer struct {
	ID        string
	Feasible  bool
	Objective struct {
		Length float64 `json:"total_cut_length_mm"`
		Pieces int
		Tape   float64 `json:"tape_mm"`
	}
	Strips []struct {
		At     q.MM
		Useful float64 `json:"useful_width"`
		Pieces []struct {
			From, To float64
			Cut      q.MM `json:"cut_length"`
		}
		JointsAt  []q.MM  `json:"end_joints_at"`
		JointTape float64 `json:"end_joint_tape"`
	}
	Seams []struct {
		At, Lap  q.MM
		Tape     float64
		Segments [][2]float64
	}
	SeamTape  float64 `json:"seam_tape_mm"`
	JointTape float64 `json:"end_joint_tape_mm"`
	Sheet     float64 `json:"sheet_used_mm2"`
	Net       float64 `json:"surface_net_mm2"`
	Cover     float64 `json:"cover_domain_mm2"`
	InLap     float64 `json:"lap_in_domain_mm2"`
	Outside   float64 `json:"outside_domain_mm2"`
	Waste     float64 `json:"waste_vs_net"`
	MinStrips int     `json:"min_strips_bound"`
	MinLength float64 `json:"length_bound_mm"`
	Staples   struct {
		OnStuds int `json:"on_studs"`
		OnEdges int `json:"on_edges"`
		Total   int
	}
	Positions []q.MM `json:"canonical_positions"`
	Weighted  struct {
		Grid    q.MM `json:"grid_mm"`
		Weights struct {
			Length int64 `json:"cut_length_mm"`
			Piece  int64
			Tape   int64 `json:"tape_mm"`
		}
		Optimum *float64
	} `json:"weighted_grid50"`
}

func polygon(points [][2]q.MM) geometry.Polygon {
	out := make(geometry.Polygon, len(points))
	for i, p := range points {
		out[i] = geometry.Point{X: p[0], Y: p[1]}
	}
	return out
}

func (in instance) problem() Problem {
	p := Problem{Outline: polygon(in.Outer), Turns: in.Turn, RollWidth: in.RollWidth, Lap: in.Lap, EndAllowance: in.EndAllowance,
		EndJointLap: in.JointLap, JointAt: in.JointAt, SeamTol: in.SeamTol, SeamAnywhere: in.SeamAt == nil}
	for _, h := range in.Holes {
		p.Holes = append(p.Holes, Hole{polygon(h.Poly), h.TurnIn})
	}
	if in.Direction == "vertical" {
		p.Direction = Upright
	}
	if in.MaxPiece != nil {
		p.MaxPiece = *in.MaxPiece
	}
	if in.StopGap != nil {
		p.StopGap = *in.StopGap
	}
	if in.SeamAt != nil {
		p.SeamAt = *in.SeamAt
	}
	return p
}

// reference reads the surfaces and their answers; a further folder of the same form can be named in LAPWORK_REFERENCE.
func reference(t testing.TB) ([]instance, []answer) {
	t.Helper()
	folders := []string{filepath.Join("..", "..", "..", "testdata", "layout")}
	if more := os.Getenv("LAPWORK_REFERENCE"); more != "" {
		folders = append(folders, filepath.Join(more, "layout"))
	}
	var ins []instance
	var outs []answer
	for _, folder := range folders {
		var in []instance
		var out []answer
		read(t, filepath.Join(folder, "layouts.json"), &in)
		read(t, filepath.Join(folder, "layouts.expected.json"), &out)
		ins, outs = append(ins, in...), append(outs, out...)
	}
	return ins, outs
}

func read(t testing.TB, path string, into any) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, into); err != nil {
		t.Fatalf("%s: %v", path, err)
	}
}

// near3 reports a figure that is off. The stored values are rounded to 0.001, so half of that, and a little for adding.
func near3(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 0.00051 {
		t.Errorf("%s = %.4f, want %.4f", what, got, want)
	}
}

// Source: testdata/layout, see the README there: every value is the exact optimum of an independent program on the 1 mm
// grid, most of them also proven by enumeration and by an integer program on coarser grids.
func TestReference(t *testing.T) {
	ins, outs := reference(t)
	if len(ins) < 38 || len(ins) != len(outs) {
		t.Fatalf("%d surfaces, %d answers", len(ins), len(outs))
	}
	for i, in := range ins {
		want := outs[i]
		t.Run(in.ID, func(t *testing.T) {
			got, err := Lay(in.problem(), LeastLength())
			if !want.Feasible {
				var none *InfeasibleError
				if !errors.As(err, &none) || none.Backed == nil {
					t.Fatalf("want an InfeasibleError with a way out, got %v", err)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			checkTotals(t, got, want)
			checkStrips(t, got, want)
			checkBounds(t, in, want)
			checkStaples(t, in, want)
		})
	}
}

func checkTotals(t *testing.T, got Layout, want answer) {
	near3(t, "length", float64(got.Length), want.Objective.Length)
	near3(t, "tape", float64(got.Tape())*1000, want.Objective.Tape)
	near3(t, "seam tape", float64(got.SeamTape)*1000, want.SeamTape)
	near3(t, "joint tape", float64(got.JointTape)*1000, want.JointTape)
	near3(t, "sheet", float64(got.SheetUsed)*1e6, want.Sheet)
	near3(t, "net", float64(got.SurfaceNet)*1e6, want.Net)
	near3(t, "cover domain", float64(got.CoverDomain)*1e6, want.Cover)
	near3(t, "lap in domain", float64(got.LapInDomain)*1e6, want.InLap)
	near3(t, "outside domain", float64(got.OutsideDomain)*1e6, want.Outside)
	if got.Pieces != want.Objective.Pieces {
		t.Errorf("pieces = %d, want %d", got.Pieces, want.Objective.Pieces)
	}
	if math.Abs(float64(got.Waste())-want.Waste) > 0.00006 { // stored to 4 places
		t.Errorf("waste = %v, want %v", got.Waste(), want.Waste)
	}
}

func checkStrips(t *testing.T, got Layout, want answer) {
	if len(got.Strips) != len(want.Positions) {
		t.Fatalf("%d strips, want %d", len(got.Strips), len(want.Positions))
	}
	for i, s := range got.Strips {
		w := want.Strips[i]
		if s.At != want.Positions[i] {
			t.Errorf("strip %d at %d, want %d", s.No, s.At, want.Positions[i])
		}
		if s.Useful != q.MM(math.Ceil(w.Useful)) {
			t.Errorf("strip %d: useful width %d, want %v", s.No, s.Useful, w.Useful)
		}
		near3(t, "joint tape of a strip", float64(s.JointTape)*1000, w.JointTape)
		if len(s.Pieces) != len(w.Pieces) || len(s.Joints) != len(w.JointsAt) {
			t.Fatalf("strip %d: pieces %v, joints %v, want %v, %v", s.No, s.Pieces, s.Joints, w.Pieces, w.JointsAt)
		}
		for k, p := range s.Pieces {
			if p.Cut != w.Pieces[k].Cut || !rounds(p.From, w.Pieces[k].From) || !rounds(p.To, w.Pieces[k].To) {
				t.Errorf("strip %d: piece %v, want %v", s.No, p, w.Pieces[k])
			}
		}
		for k, j := range s.Joints {
			if j.At != w.JointsAt[k] {
				t.Errorf("strip %d: joint at %d, want %d", s.No, j.At, w.JointsAt[k])
			}
		}
		if i > 0 {
			seam := want.Seams[i-1]
			near3(t, "seam tape of a strip", float64(s.SeamTape)*1000, seam.Tape)
			if s.Lap != seam.Lap || len(s.Seam) != len(seam.Segments) {
				t.Errorf("strip %d: lap %d, seam %v, want %v", s.No, s.Lap, s.Seam, seam)
			}
		}
	}
}

// rounds allows for the stored 0.001 beside the rounding to the millimetre.
func rounds(got q.MM, want float64) bool { return math.Abs(float64(got)-want) <= 0.501 }

func checkBounds(t *testing.T, in instance, want answer) {
	b, err := BoundsOf(in.problem())
	if err != nil {
		t.Fatal(err)
	}
	near3(t, "length bound", float64(b.Length)*1000, want.MinLength)
	if b.Strips != want.MinStrips {
		t.Errorf("least strips %d, want %d", b.Strips, want.MinStrips)
	}
}

func checkStaples(t *testing.T, in instance, want answer) {
	got, err := StaplesOn(polygon(in.Outer), in.problem().Holes,
		Framing{Lines: in.Studs.Centres, Level: in.Studs.Axis == "y", Spacing: in.StapleStud, EdgeSpacing: in.StapleEdge})
	if err != nil {
		t.Fatal(err)
	}
	if got != (Staples{want.Staples.OnStuds, want.Staples.OnEdges}) || got.Total() != want.Staples.Total {
		t.Errorf("staples %+v, want %+v", got, want.Staples)
	}
}

// Source: testdata/layout, weighted_grid50: optimum of an integer program (shortest path, HiGHS) with positions on the lower
// edge of D and multiples of 50 mm from it.
func TestWeighted(t *testing.T) {
	ins, outs := reference(t)
	for i, in := range ins {
		w := outs[i].Weighted
		t.Run(in.ID, func(t *testing.T) {
			p := in.problem()
			p.Raster = w.Grid
			got, err := Lay(p, LeastCost(Rates{w.Weights.Length, w.Weights.Piece, w.Weights.Tape}))
			if w.Optimum == nil {
				if err == nil {
					t.Fatal("want no arrangement")
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			price := float64(w.Weights.Length)*float64(got.Length) + float64(w.Weights.Piece)*float64(got.Pieces) +
				float64(w.Weights.Tape)*float64(got.Tape())*1000
			near3(t, "price", price, *w.Optimum)
			if math.Abs(float64(got.Price)-*w.Optimum) > 0.5 {
				t.Errorf("rounded price %d, want %v", got.Price, *w.Optimum)
			}
			p.Raster = 0
			free, err := Lay(p, LeastCost(Rates{w.Weights.Length, w.Weights.Piece, w.Weights.Tape}))
			if err != nil || free.Price > got.Price {
				t.Errorf("on every millimetre %d, on the raster %d (%v)", free.Price, got.Price, err)
			}
		})
	}
}

// The positions tried on right-angled surfaces give the same layout as every millimetre.
func TestCandidatesAreEnough(t *testing.T) {
	ins, _ := reference(t)
	for _, in := range ins {
		p := in.problem()
		every := p
		every.Raster = 1
		for _, o := range []Objective{LeastLength(), LeastCost(Rates{30, 4000, 8})} {
			a, errA := Lay(p, o)
			b, errB := Lay(every, o)
			if text(t, a) != text(t, b) || (errA == nil) != (errB == nil) {
				t.Errorf("%s: %s\nevery millimetre: %s", in.ID, text(t, a), text(t, b))
			}
		}
	}
}

func text(t testing.TB, v any) string {
	t.Helper()
	out, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

func BenchmarkLay(b *testing.B) {
	ins, _ := reference(b)
	for b.Loop() {
		for _, in := range ins {
			if _, err := Lay(in.problem(), LeastLength()); err != nil {
				var none *InfeasibleError
				if !errors.As(err, &none) {
					b.Fatal(err)
				}
			}
		}
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*len(ins)), "µs/surface")
}
