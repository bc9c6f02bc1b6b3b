package rolls

import (
	"context"
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	q "lapwork/generator/quantity"
)

// drawInstance draws a small delivery: few lengths, up to three roll types with prices, leftovers, sometimes splits.
func drawInstance(t *rapid.T, lengths, count int, splits bool) Instance {
	var in Instance
	unit := rapid.SampledFrom([]int{1, 5, 10}).Draw(t, "unit")
	top := 20
	for k := range rapid.IntRange(1, 3).Draw(t, "types") {
		r := Roll{Name: fmt.Sprint("type ", k), Supply: Unlimited, Cost: int64(rapid.IntRange(0, 30).Draw(t, "cost"))}
		r.Length = q.MM(rapid.IntRange(8, top).Draw(t, "roll") * unit)
		if k > 0 || rapid.IntRange(0, 5).Draw(t, "scarce") == 0 {
			r.Supply = rapid.IntRange(1, 3).Draw(t, "supply")
		}
		in.Rolls = append(in.Rolls, r)
	}
	for k := range rapid.IntRange(1, lengths).Draw(t, "lengths") {
		d := Demand{Length: q.MM(rapid.IntRange(2, 12).Draw(t, "length") * unit), Count: rapid.IntRange(1, count).Draw(t, "count")}
		for n := range d.Count {
			d.IDs = append(d.IDs, fmt.Sprintf("S%d.%d", k, n))
		}
		if splits && d.Length > q.MM(3*unit) && rapid.Bool().Draw(t, "joinable") {
			lap := q.MM(rapid.IntRange(0, 1).Draw(t, "lap") * unit)
			a := q.MM(rapid.IntRange(2, int(d.Length)/unit-1).Draw(t, "at") * unit)
			if b := d.Length + lap - a; b < d.Length {
				d.Splits = append(d.Splits, Split{a, b})
			}
		}
		in.Demands = append(in.Demands, d)
	}
	in.JointCost = int64(rapid.IntRange(0, 10).Draw(t, "joint"))
	return in
}

// solveOrShort solves, or reports that the stock was proven too small.
func solveOrShort(t *rapid.T, in Instance) (Plan, bool) {
	p, err := Solve(context.Background(), in, Limits{Work: 30_000_000})
	var short *SupplyError
	var long *TooLongError
	if errors.As(err, &short) || errors.As(err, &long) {
		return p, false
	}
	if err != nil {
		t.Fatalf("%+v: %v", in, err)
	}
	return p, true
}

// cheapestByTrial tries every way to split the strips and every way to put the pieces on rolls. It shares nothing with
// the solver. noCost if there is no way.
func cheapestByTrial(in Instance) int64 {
	best := int64(noCost)
	left := make([]int, len(in.Rolls))
	for t, r := range in.Rolls {
		left[t] = r.Supply
	}
	var rest []q.MM
	var place func(pieces []q.MM, cost int64)
	place = func(pieces []q.MM, cost int64) {
		if cost >= best {
			return
		}
		if len(pieces) == 0 {
			best = cost
			return
		}
		tried := map[q.MM]bool{}
		for b := range rest {
			if r := rest[b]; r >= pieces[0] && !tried[r] {
				tried[r] = true
				rest[b] -= pieces[0]
				place(pieces[1:], cost)
				rest[b] = r
			}
		}
		for t, r := range in.Rolls {
			if r.Length >= pieces[0] && left[t] != 0 {
				left[t]--
				rest = append(rest, r.Length-pieces[0])
				place(pieces[1:], cost+r.Cost)
				rest = rest[:len(rest)-1]
				left[t]++
			}
		}
	}
	var choose func(k, n int, pieces []q.MM, joints int64)
	choose = func(k, n int, pieces []q.MM, joints int64) {
		if k == len(in.Demands) {
			sorted := slices.Clone(pieces)
			slices.Sort(sorted)
			slices.Reverse(sorted)
			place(sorted, joints*in.JointCost)
			return
		}
		d := in.Demands[k]
		if n == d.Count {
			choose(k+1, 0, pieces, joints)
			return
		}
		choose(k, n+1, append(slices.Clip(pieces), d.Length), joints)
		for _, s := range d.Splits {
			choose(k, n+1, append(slices.Clip(pieces), s.A, s.B), joints+1)
		}
	}
	choose(0, 0, nil, 0)
	return best
}

// Every tiny delivery is solved to the optimum that trial finds, and proven; no plan is found where there is none.
func TestTrialAgrees(t *testing.T) {
	for _, splits := range []bool{false, true} {
		rapid.Check(t, func(t *rapid.T) {
			in := drawInstance(t, 3, 2, splits)
			want := cheapestByTrial(in)
			p, ok := solveOrShort(t, in)
			switch {
			case !ok && want != noCost:
				t.Fatalf("no plan found, trial finds one for %d", want)
			case ok && (p.Cost != want || !p.Proven()):
				t.Fatalf("cost %d bound %d, trial finds %d\n%+v", p.Cost, p.Bound, want, in)
			}
		})
	}
}

// The relaxation and the branching alone, without the stages that settle tiny deliveries before them, find the same.
func TestBranchAgrees(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawInstance(t, 3, 2, rapid.Bool().Draw(t, "splits"))
		m, err := newModel(in)
		if err != nil || len(m.types) == 0 {
			t.Skip("nothing to cut from")
		}
		s := newSolver(m, &meter{ctx: context.Background(), most: 100_000_000})
		if s.coverBound(); !s.infeasible {
			if root := s.relax(); root != nil && !s.infeasible {
				s.branch(root)
			}
		}
		want := cheapestByTrial(in)
		if s.cost() != want || s.infeasible != (want == noCost) || (!s.infeasible && s.bound != want) {
			t.Fatalf("cost %d bound %d infeasible %v, trial finds %d\n%+v", s.cost(), s.bound, s.infeasible, want, in)
		}
	})
}

// The invariants of a plan: Verify repeats feasibility from scratch; the certificate holds; the remainders are what the
// rolls have over the pieces; first fit is never cheaper; the order of the input does not matter.
func TestLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawInstance(t, 8, 9, rapid.Bool().Draw(t, "splits"))
		p, ok := solveOrShort(t, in)
		if !ok {
			return
		}
		if err := Verify(in, p); err != nil {
			t.Fatal(err)
		}
		if b, err := CheckCertificate(in, p.Certificate); err != nil || b > p.Bound || (b < p.Bound && p.Proof != BySearch) {
			t.Fatalf("the certificate shows %d (%v), the plan states %d by %s", b, err, p.Bound, p.Proof)
		}
		if ff, err := FirstFit(in); err == nil && ff.Cost < p.Cost {
			t.Fatalf("first fit costs %d, the plan %d", ff.Cost, p.Cost)
		}
		other := shuffled(t, in)
		if p2, _ := solveOrShort(t, other); !reflect.DeepEqual(p, p2) {
			t.Fatalf("the order of the input changes the plan:\n%+v\n%+v", p, p2)
		}
	})
}

// shuffled reorders demands, marks, rolls and splits, and divides a demand in two.
func shuffled(t *rapid.T, in Instance) Instance {
	out := in
	out.Rolls = rapid.Permutation(in.Rolls).Draw(t, "rolls")
	out.Demands = nil
	for _, d := range rapid.Permutation(in.Demands).Draw(t, "demands") {
		d.IDs = rapid.Permutation(d.IDs).Draw(t, "ids")
		cut := rapid.IntRange(0, d.Count).Draw(t, "cut")
		a, b := d, d
		a.Count, a.IDs = cut, d.IDs[:cut]
		b.Count, b.IDs = d.Count-cut, d.IDs[cut:]
		out.Demands = append(out.Demands, b, a)
	}
	return out
}

// How the optimum moves: a further strip never lowers it, a further free leftover never raises it, scaled lengths leave
// it, joints never raise it.
func TestOptimumMoves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawInstance(t, 4, 4, true)
		cost := func(in Instance) int64 {
			p, ok := solveOrShort(t, in)
			if !ok {
				return math.MaxInt64
			}
			if !p.Proven() {
				t.Skip("not proven within the limit")
			}
			return p.Cost
		}
		base := cost(in)
		more := in
		more.Demands = append(slices.Clone(in.Demands), Demand{Length: in.Demands[0].Length, Count: 1, IDs: []string{"more"}})
		if c := cost(more); c < base {
			t.Fatalf("a further strip lowers %d to %d", base, c)
		}
		stock := in
		stock.Rolls = append(slices.Clone(in.Rolls), Roll{Name: "leftover", Length: 15, Supply: 1})
		if c := cost(stock); c > base {
			t.Fatalf("a leftover raises %d to %d", base, c)
		}
		if c := cost(scaled(in, 3)); c != base {
			t.Fatalf("three times the lengths change %d to %d", base, c)
		}
		if c := cost(withoutSplits(in)); c < base {
			t.Fatalf("joints raise %d to %d", c, base)
		}
	})
}

func scaled(in Instance, by q.MM) Instance {
	out := Instance{JointCost: in.JointCost}
	for _, r := range in.Rolls {
		r.Length *= by
		out.Rolls = append(out.Rolls, r)
	}
	for _, d := range in.Demands {
		d.Length *= by
		d.Splits = slices.Clone(d.Splits)
		for k := range d.Splits {
			d.Splits[k] = Split{d.Splits[k].A * by, d.Splits[k].B * by}
		}
		out.Demands = append(out.Demands, d)
	}
	return out
}

func withoutSplits(in Instance) Instance {
	out := in
	out.Demands = slices.Clone(in.Demands)
	for k := range out.Demands {
		out.Demands[k].Splits = nil
	}
	return out
}
