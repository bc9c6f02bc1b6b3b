package rolls

import (
	"context"
	"errors"
	"math"
	"os"
	"strings"
	"testing"
)

// slowIDs take about a second or more.
var slowIDs = map[string]bool{"scholl3-1": true, "scholl3-3": true, "hard-trip-249": true}

// solveKnown solves an instance whose optimum is known and checks everything that can be checked about the plan.
func solveKnown(t *testing.T, f fixture) Plan {
	t.Helper()
	p, err := Solve(context.Background(), f.in, Limits{})
	if err != nil {
		t.Fatalf("%s: %v", f.id, err)
	}
	if p.Cost != f.optimum || !p.Proven() {
		t.Errorf("%s: cost %d, bound %d by %s; known optimum %d", f.id, p.Cost, p.Bound, p.Proof, f.optimum)
	}
	if err := Verify(f.in, p); err != nil {
		t.Errorf("%s: %v", f.id, err)
	}
	shown, err := CheckCertificate(f.in, p.Certificate)
	if err != nil || shown > p.Bound || (shown < p.Bound && p.Proof != BySearch) {
		t.Errorf("%s: the certificate shows %d (%v), the plan states %d by %s", f.id, shown, err, p.Bound, p.Proof)
	}
	return p
}

// Every stored delivery is cut at the known optimum, and proven. Want: testdata/cutting (how each is proven: README there).
func TestKnownOptima(t *testing.T) {
	for _, name := range []string{"cutting-real", "cutting-hard", "cutting-families"} {
		for _, f := range stored(t, name) {
			if slowIDs[f.id] && os.Getenv("LAPWORK_LONG") == "" {
				continue
			}
			solveKnown(t, f)
		}
	}
}

// With end joints, and without them. Want: testdata/cutting/cutting-joint.expected.json, two MILP solvers that agree.
func TestKnownJoints(t *testing.T) {
	for _, f := range storedJoints(t) {
		solveKnown(t, f)
		solveKnown(t, fixture{id: f.id + " whole", in: withoutSplits(f.in), optimum: f.whole})
	}
}

// The published bin-packing classes u120..u1000 and t60..t501 (OR-Library binpack1..8, J. E. Beasley; optima confirmed
// by the table of bounds of Delorme, Iori and Martello 2018). They are read from the reference folder.
func TestPublishedOptima(t *testing.T) {
	all := published(t)
	if all == nil {
		t.Skip("LAPWORK_REFERENCE is not set: 160 published instances not checked")
	}
	if len(all) != 160 {
		t.Fatalf("%d instances, want 160", len(all))
	}
	for k, f := range all {
		if k%8 == 0 || os.Getenv("LAPWORK_LONG") != "" {
			solveKnown(t, f)
		}
	}
}

// First fit decreasing costs what the stored values say (computed by an independent program).
func TestFirstFitKnown(t *testing.T) {
	all := published(t)
	for _, name := range []string{"cutting-real", "cutting-hard", "cutting-families"} {
		all = append(all, stored(t, name)...)
	}
	for _, f := range all {
		if p, err := FirstFit(f.in); err != nil || p.Cost != f.ffd {
			t.Errorf("%s: first fit costs %d (%v), stored %d", f.id, p.Cost, err, f.ffd)
		}
	}
}

// Bounds 1 and 2 alone have the stored values. The length bound is not stored for rounding up to a reachable cost, so
// only instances of one price are compared.
func TestStoredBounds(t *testing.T) {
	for _, name := range []string{"cutting-real", "cutting-hard", "cutting-families"} {
		for k, f := range stored(t, name) {
			want := storedBounds(t, name)[k]
			m, err := newModel(f.in)
			if err != nil {
				t.Fatal(err)
			}
			s := newSolver(m, &meter{ctx: context.Background(), most: DefaultWork})
			if s.coverBound(); s.bound != want.length {
				t.Errorf("%s: length bound %d, stored %d", f.id, s.bound, want.length)
			}
			s.bound = 0
			if s.weightBounds(); want.l2 != 0 && s.bound != want.l2 {
				t.Errorf("%s: large-piece bound %d, stored L2 %d", f.id, s.bound, want.l2)
			}
		}
	}
}

// Stored dual certificates (found by an independent program) prove the stored optima by our check, and lose the proof
// when the weights are lowered.
func TestStoredCertificates(t *testing.T) {
	checked := 0
	for k, f := range stored(t, "cutting-families") {
		c := storedCertificate(t, "cutting-families", k, f.in)
		if c.Scale == 0 {
			continue
		}
		checked++
		if b, err := CheckCertificate(f.in, c); err != nil || b != f.optimum {
			t.Errorf("%s: the stored certificate shows %d (%v), optimum %d", f.id, b, err, f.optimum)
		}
		for i := range c.Weights {
			c.Weights[i].Value = 1
		}
		if b, err := CheckCertificate(f.in, c); err != nil || b >= f.optimum {
			t.Errorf("%s: equal weights show %d (%v)", f.id, b, err)
		}
	}
	if checked == 0 {
		t.Error("no certificate stored")
	}
}

// By hand: five strips of 7.8 m from 20 m rolls at 4900 with joints at 350 and 100 mm lap. Whole strips go 2 to a roll,
// 3 rolls, 14700; 5*7.8 + 0.1 = 39.1 <= 40 m, so 2 rolls and 1 joint, 9800 + 350 = 10150.
func TestJointByHand(t *testing.T) {
	in := Instance{JointCost: 350, Rolls: []Roll{{Name: "20 m", Length: 20000, Cost: 4900, Supply: Unlimited}},
		Demands: []Demand{{Length: 7800, Count: 5, IDs: strings.Fields("a b c d e"), Splits: []Split{{4300, 3600}}}}}
	p := solveKnown(t, fixture{id: "by hand", in: in, optimum: 10150})
	if len(p.Joints) != 1 || len(p.Cuts) != 2 {
		t.Errorf("%d joints on %d rolls, want 1 on 2", len(p.Joints), len(p.Cuts))
	}
	whole := solveKnown(t, fixture{id: "by hand, whole", in: withoutSplits(in), optimum: 14700})
	if len(whole.Cuts) != 3 {
		t.Errorf("%d rolls, want 3", len(whole.Cuts))
	}
}

// Among plans of one cost the remainders are gathered. By hand: 60, 60, 30, 10 from rolls of 100 need 2 rolls; filling
// one to 60 + 30 + 10 leaves 40 in one piece, any other plan less.
func TestRemaindersGathered(t *testing.T) {
	in := Instance{MinKept: 5, Rolls: []Roll{{Length: 100, Cost: 7, Supply: Unlimited}},
		Demands: []Demand{{Length: 60, Count: 2}, {Length: 30, Count: 1}, {Length: 10, Count: 1}}}
	p := solveKnown(t, fixture{id: "by hand", in: in, optimum: 14})
	if got := p.Remainders(in.MinKept); len(got) != 1 || got[0] != 40 {
		t.Errorf("remainders %v, want [40]", got)
	}
}

func TestErrors(t *testing.T) {
	roll := Roll{Name: "r", Length: 1000, Cost: 5, Supply: 2}
	for _, c := range []struct {
		what string
		in   Instance
		want any
	}{
		{"strip longer than every roll", Instance{Rolls: []Roll{roll}, Demands: []Demand{{Length: 1001, Count: 1}}}, new(*TooLongError)},
		{"no roll at all", Instance{Demands: []Demand{{Length: 1, Count: 1}}}, new(*TooLongError)},
		{"too few rolls by length", Instance{Rolls: []Roll{roll}, Demands: []Demand{{Length: 700, Count: 3}}}, new(*SupplyError)},
		{"too few rolls by pieces", Instance{Rolls: []Roll{roll}, Demands: []Demand{{Length: 600, Count: 3}}}, new(*SupplyError)},
		{"negative supply", Instance{Rolls: []Roll{{Length: 5, Supply: -2}}}, new(*InputError)},
		{"one roll twice", Instance{Rolls: []Roll{roll, roll}}, new(*InputError)},
		{"marks missing", Instance{Rolls: []Roll{roll}, Demands: []Demand{{Length: 5, Count: 2, IDs: []string{"a"}}}}, new(*InputError)},
		{"split too short", Instance{Rolls: []Roll{roll}, Demands: []Demand{{Length: 50, Count: 1, Splits: []Split{{20, 20}}}}}, new(*InputError)},
		{"negative cost", Instance{Rolls: []Roll{{Length: 5, Cost: -1}}}, new(*SizeError)},
		{"too many strips", Instance{Rolls: []Roll{roll}, Demands: []Demand{{Length: 1, Count: MaxPieces}, {Length: 2, Count: 1}}}, new(*SizeError)},
	} {
		if _, err := Solve(context.Background(), c.in, Limits{}); err == nil || !errors.As(err, c.want) {
			t.Errorf("%s: %v, want %T", c.what, err, c.want)
		}
	}
}

// Nothing to cut costs nothing.
func TestEmpty(t *testing.T) {
	p, err := Solve(context.Background(), Instance{Rolls: []Roll{{Length: 5, Cost: 1, Supply: 1}}}, Limits{})
	if err != nil || p.Cost != 0 || !p.Proven() || len(p.Cuts) != 0 {
		t.Errorf("%+v, %v", p, err)
	}
}

// A short limit and an ended context still give a valid plan, and say so.
func TestCutShort(t *testing.T) {
	f := stored(t, "cutting-hard")[2] // triplets of 249: greedy alone does not close it
	p, err := Solve(context.Background(), f.in, Limits{Work: 3_000_000})
	if err != nil || !p.Exhausted || p.Aborted || p.Proven() || p.Bound > f.optimum || p.Cost < f.optimum {
		t.Errorf("limited: cost %d bound %d exhausted %v aborted %v, %v", p.Cost, p.Bound, p.Exhausted, p.Aborted, err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	p, err = Solve(ctx, f.in, Limits{})
	if err != nil || !p.Aborted || p.Bound > f.optimum || p.Cost < f.optimum {
		t.Errorf("ended: cost %d bound %d aborted %v, %v", p.Cost, p.Bound, p.Aborted, err)
	}
}

// Verify finds what is wrong with a plan.
func TestVerifyRefuses(t *testing.T) {
	in := Instance{JointCost: 1, Rolls: []Roll{{Name: "r", Length: 100, Cost: 7, Supply: 2}},
		Demands: []Demand{{Length: 60, Count: 2, IDs: []string{"a", "b"}}, {Length: 70, Count: 1, IDs: []string{"c"}, Splits: []Split{{40, 35}}}}}
	for what, spoil := range map[string]func(p *Plan){
		"cost":              func(p *Plan) { p.Cost++ },
		"bound":             func(p *Plan) { p.Bound = p.Cost + 1 },
		"remainder":         func(p *Plan) { p.Cuts[0].Remainder++ },
		"overfull":          func(p *Plan) { p.Cuts[0].Pieces = append(p.Cuts[0].Pieces, p.Cuts[1].Pieces...) },
		"missing piece":     func(p *Plan) { p.Cuts[0].Pieces = p.Cuts[0].Pieces[:1]; p.Cuts[0].Remainder = 40 },
		"wrong mark":        func(p *Plan) { p.Cuts[0].Pieces[0].ID = "x" },
		"one strip twice":   func(p *Plan) { p.Cuts[1] = p.Cuts[0] },
		"unknown roll":      func(p *Plan) { p.Cuts[0].Roll = "other" },
		"supply":            func(p *Plan) { p.Cuts = append(p.Cuts, p.Cuts[0]) },
		"joint not allowed": func(p *Plan) { p.Joints[0].Split.A++ },
		"joint unsaid":      func(p *Plan) { p.Joints = nil; p.Cost-- },
	} {
		p, err := Solve(context.Background(), in, Limits{})
		if err != nil || len(p.Joints) != 1 {
			t.Fatal(p, err)
		}
		if spoil(&p); Verify(in, p) == nil {
			t.Errorf("%s: not found", what)
		}
	}
}

// CheckCertificate refuses weights that are none.
func TestCertificateRefuses(t *testing.T) {
	in := Instance{Rolls: []Roll{{Length: 100, Cost: 7, Supply: 2}}, Demands: []Demand{{Length: 60, Count: 2}}}
	for _, w := range [][]Weight{{{60, false, -1}}, {{60, false, math.MaxInt64}}, {{60, false, 1}, {60, false, 2}}} {
		if b, err := CheckCertificate(in, Certificate{Weights: w}); err == nil {
			t.Errorf("%v: accepted, shows %d", w, b)
		}
	}
}
