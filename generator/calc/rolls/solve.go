package rolls

import (
	"context"
	"math"
	"slices"

	q "lapwork/generator/quantity"
)

// solver is one run: the model, the best plan and the best bound so far.
type solver struct {
	m      *model
	w      *meter
	f      filler
	p      pricer
	ladder *ladder
	fill   []int64      // per type the longest total that pieces can fill
	sizes  map[int]bool // lengths of strips in units

	best        *solution
	bound       int64
	lengthBound int64 // bound 1: what the rolls alone cost at least, joints or not
	proof       Proof
	cert        Certificate
	infeasible  bool
	exhausted   bool // the limit ended the search
	partial     bool // the relaxation leaves joints out
}

// noCost stands for the cost of a plan when there is none.
const noCost = math.MaxInt64 / 4

// Solve cuts the delivery at least cost. Errors: InputError, SizeError, TooLongError, SupplyError. A context that ends
// stops the search early with the best plan so far, marked Aborted.
func Solve(ctx context.Context, in Instance, lim Limits) (Plan, error) {
	if err := in.check(); err != nil {
		return Plan{}, err
	}
	m, err := newModel(in)
	if err != nil {
		return Plan{}, err
	}
	if lim.Work <= 0 {
		lim.Work = DefaultWork
	}
	s := newSolver(m, &meter{ctx: ctx, most: lim.Work})
	s.run()
	s.exhausted = !s.closed() && !s.w.aborted && s.w.out()
	if s.best == nil {
		return Plan{}, in.supplyError(s.infeasible)
	}
	s.tidy()
	p := s.plan()
	return p, Verify(in, p)
}

func newSolver(m *model, w *meter) *solver {
	s := &solver{m: m, w: w, f: filler{m: m, w: w}, p: pricer{m: m, w: w}, ladder: m.ladder(), proof: NoProof, sizes: map[int]bool{}}
	for _, it := range m.items {
		s.sizes[it.size] = true
	}
	s.fill = m.fills(w)
	return s
}

// supplyError says that the stock does not hold the strips.
func (in Instance) supplyError(proven bool) error {
	e := &SupplyError{Proven: proven}
	for _, d := range in.Demands {
		e.Need += d.Length * q.MM(d.Count)
	}
	for _, r := range in.Rolls {
		e.Have += r.Length * q.MM(max(0, r.Supply))
	}
	return e
}

// run goes through the stages until cost and bound meet or the work is used up.
func (s *solver) run() {
	if s.coverBound(); s.infeasible {
		return
	}
	s.weightBounds()
	for _, stage := range []func(){
		func() { s.greedy(quick, 0) },
		func() { s.w.slice(0.2, s.thin) },
		func() { s.greedy(quick, 3) },
		func() { s.w.slice(0.2, func() { s.greedy(thorough, 1) }) },
		func() { s.w.slice(0.02, s.pack) },
	} {
		if stage(); s.closed() {
			return
		}
	}
	root := s.relax()
	if root == nil || s.closed() || s.infeasible {
		return
	}
	if s.dives(root, 0, 6); !s.closed() {
		s.w.slice(0.3, s.pack)
	}
	if !s.partial {
		s.w.slice(0.4, func() { s.branch(root) })
	}
	s.dives(root, 6, 40)
	if !s.partial {
		s.branch(root)
	}
}

// cost is the cost of the best plan.
func (s *solver) cost() int64 {
	if s.best == nil {
		return noCost
	}
	return s.best.cost
}

// closed reports that the best plan is proven.
func (s *solver) closed() bool { return s.cost() <= s.bound }

// accept keeps a plan if it is better. Split pieces that no split asked for are left out of it.
func (s *solver) accept(pats []pattern, splits []int) {
	sol := s.m.solution(pats, splits)
	if sol.cost < s.cost() {
		s.best = sol
	}
}

// solution makes a plan of patterns and splits, dropping surplus pieces and empty rolls.
func (m *model) solution(pats []pattern, splits []int) *solution {
	open := m.demand()
	sol := &solution{splits: slices.Clone(splits)}
	for k, n := range splits {
		sp := m.splits[k]
		open[sp.whole] -= n
		open[sp.a] += n
		open[sp.b] += n
		sol.cost += int64(n) * m.jointCost
	}
	for _, p := range pats {
		kept := pattern{t: p.t}
		for _, c := range p.cuts {
			if n := min(c.n, open[c.item]); n > 0 {
				kept.cuts = append(kept.cuts, count{c.item, n})
			}
		}
		subtract(open, kept)
		if len(kept.cuts) > 0 {
			sol.pats = append(sol.pats, kept)
			sol.cost += m.types[p.t].cost
		}
	}
	return sol
}

// Effort of greedy: the mixes of rolls tried. A quick one takes two methods, a thorough one all six.
const (
	quick    = 2
	thorough = 12
)

// greedy finds a first plan and improves it while a cheaper mix of rolls can be filled.
func (s *solver) greedy(effort, spare int) {
	d, splits, ok := s.forced()
	if !ok {
		return
	}
	if len(s.m.items) == 0 {
		s.accept(nil, nil)
		return
	}
	joints := s.m.solution(nil, splits).cost
	for range 8 {
		pats, ok := s.complete(d, s.m.supply(), s.cost()-1-joints, effort, spare)
		if !ok {
			break
		}
		if s.accept(pats, splits); s.closed() {
			return
		}
	}
	if s.best == nil {
		if pats, ok := s.firstFit(d); ok {
			s.accept(pats, splits)
		}
	}
}

// forced splits the strips that fit on no roll, at the first place where both pieces fit.
func (s *solver) forced() (d, splits []int, ok bool) {
	d, splits = s.m.demand(), make([]int, len(s.m.splits))
	if len(s.m.types) == 0 {
		return d, splits, len(s.m.items) == 0
	}
	longest := s.m.types[0].size
	for i, it := range s.m.items {
		if it.size <= longest || d[i] == 0 {
			continue
		}
		k := slices.IndexFunc(it.splits, func(k int) bool {
			sp := s.m.splits[k]
			return max(s.m.items[sp.a].size, s.m.items[sp.b].size) <= longest
		})
		if k < 0 {
			return d, splits, false
		}
		sp := s.m.splits[it.splits[k]]
		splits[it.splits[k]] = d[i]
		d[sp.a] += d[i]
		d[sp.b] += d[i]
		d[i] = 0
	}
	return d, splits, true
}
