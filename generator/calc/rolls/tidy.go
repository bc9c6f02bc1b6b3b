package rolls

import (
	"cmp"
	"fmt"
	"slices"
)

// tidyWork is the effort of the last stage. It comes on top of the limit: every plan is tidied.
const tidyWork = 60_000_000

// quality is what plans of one cost are compared by.
type quality struct {
	cost     int64
	largest  int // longest remainder in units; 0 if none is long enough to keep
	kept     int // remainders long enough to keep
	patterns int // different patterns
}

// compare is negative if a is the better plan.
func (a quality) compare(b quality) int {
	return cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(b.largest, a.largest), cmp.Compare(a.kept, b.kept),
		cmp.Compare(a.patterns, b.patterns))
}

func (m *model) quality(sol *solution) quality {
	v := quality{cost: sol.cost}
	kinds := map[string]bool{}
	for _, p := range sol.pats {
		kinds[fmt.Sprint(p)] = true
		if rest := m.types[p.t].size - m.used(p); rest > 0 && rest*int(m.unit) >= int(m.minKept) {
			v.kept++
			v.largest = max(v.largest, rest)
		}
	}
	v.patterns = len(kinds)
	return v
}

// tidy improves the best plan at equal cost: it compares it with the greedy plans on the same rolls, then moves the
// remainders of all rolls into one, and the rest of them into a second.
func (s *solver) tidy() {
	if s.w.aborted {
		return
	}
	s.w.most = s.w.used + tidyWork
	best := s.best
	try := func(pats []pattern) {
		if sol := s.m.solution(pats, s.best.splits); s.m.quality(sol).compare(s.m.quality(best)) < 0 {
			best = sol
		}
	}
	for _, pats := range s.sameRolls() {
		try(pats)
		for k := range 3 {
			try(s.gather(pats, k))
		}
	}
	s.best = best
}

// sameRolls gives the best plan and the greedy plans on its rolls.
func (s *solver) sameRolls() [][]pattern {
	down := make([]int, len(s.best.pats))
	for k, p := range s.best.pats {
		down[k] = p.t
	}
	slices.Sort(down)
	up := slices.Clone(down)
	slices.Reverse(up)
	d := s.m.demand()
	for k, n := range s.best.splits {
		sp := s.m.splits[k]
		d[sp.whole] -= n
		d[sp.a] += n
		d[sp.b] += n
	}
	all := [][]pattern{s.best.pats}
	for v := range 6 {
		if pats, ok := s.variant(v, d, up, down); ok {
			all = append(all, pats)
		}
	}
	return all
}

// gather moves remainders into the roll that has the k-th longest one, then into further rolls, as far as they go.
func (s *solver) gather(pats []pattern, k int) []pattern {
	pats = slices.Clone(pats)
	rest := func(p pattern) int { return s.m.types[p.t].size - s.m.used(p) }
	byRest := func(a, b pattern) int { return cmp.Compare(rest(b), rest(a)) }
	slices.SortStableFunc(pats, byRest)
	if k >= len(pats) {
		return pats
	}
	pats[0], pats[k] = pats[k], pats[0]
	for first := range min(3, len(pats)) {
		for s.absorb(pats, first) && !s.w.out() {
		}
		slices.SortStableFunc(pats[first+1:], byRest)
	}
	return pats
}

// absorb refills each roll after first from its own pieces and those of first, so that first empties. It reports
// whether anything moved.
func (s *solver) absorb(pats []pattern, first int) bool {
	moved := false
	d := make([]int, len(s.m.items))
	for k := first + 1; k < len(pats); k++ {
		size := s.m.types[pats[k].t].size
		if s.m.used(pats[k]) == size || len(pats[first].cuts) == 0 {
			continue
		}
		for _, p := range []pattern{pats[first], pats[k]} {
			for _, c := range p.cuts {
				d[c.item] += c.n
			}
		}
		cuts := s.f.best(size, d)
		full := pattern{t: pats[k].t, cuts: cuts}
		if s.m.used(full) > s.m.used(pats[k]) {
			subtract(d, full)
			pats[k], pats[first] = full, pattern{t: pats[first].t, cuts: counts(d)}
			moved = true
		}
		clear(d)
	}
	return moved
}

func counts(d []int) []count {
	var cuts []count
	for i, n := range d {
		if n > 0 {
			cuts = append(cuts, count{i, n})
		}
	}
	return cuts
}
