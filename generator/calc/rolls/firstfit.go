package rolls

import (
	"context"
	"slices"
)

// FirstFit plans by the rule of thumb that the optimum is compared with: longest piece first onto the first roll that
// holds it, leftovers before new rolls, new rolls of the best price per length, each exchanged at the end for the
// cheapest length that still holds its pieces. No joints but where a strip fits on no roll. Errors as Solve.
func FirstFit(in Instance) (Plan, error) {
	if err := in.check(); err != nil {
		return Plan{}, err
	}
	m, err := newModel(in)
	if err != nil {
		return Plan{}, err
	}
	s := newSolver(m, &meter{ctx: context.Background(), most: DefaultWork})
	s.coverBound()
	d, splits, ok := s.forced()
	var pats []pattern
	if ok {
		pats, ok = s.firstFit(d)
	}
	if !ok {
		return Plan{}, in.supplyError(s.infeasible)
	}
	s.accept(pats, splits)
	p := s.plan()
	return p, Verify(in, p)
}

// firstFit is the rule of FirstFit on demand d.
func (s *solver) firstFit(d []int) ([]pattern, bool) {
	m := s.m
	left := m.supply()
	var pats []pattern
	var rest []int
	open := func(t int) {
		left[t]--
		pats, rest = append(pats, pattern{t: t}), append(rest, m.types[t].size)
	}
	for t, typ := range m.types {
		for range left[t] {
			if typ.cost == 0 {
				open(t)
			}
		}
	}
	for i, it := range m.items {
		for range max(0, d[i]) {
			b := pick(rest, it.size, false)
			if b < 0 {
				t := m.bestPrice(it.size, left)
				if t < 0 {
					return nil, false
				}
				b = len(pats)
				open(t)
			}
			rest[b] -= it.size
			pats[b].cuts = addCount(pats[b].cuts, count{i, 1})
		}
	}
	pats = slices.DeleteFunc(pats, func(p pattern) bool { return len(p.cuts) == 0 })
	for k, p := range pats {
		left[p.t]++
		pats[k].t = m.cheapest(m.used(p), left)
		left[pats[k].t]--
	}
	return pats, true
}

// bestPrice is the type with the least cost per length that holds a piece of size, or -1.
func (m *model) bestPrice(size int, left []int) int {
	at := -1
	for t, typ := range m.types {
		if left[t] == 0 || typ.size < size {
			continue
		}
		if at < 0 || typ.cost*int64(m.types[at].size) < m.types[at].cost*int64(typ.size) {
			at = t
		}
	}
	return at
}

// cheapest is the type of least cost that holds size; the shortest of them.
func (m *model) cheapest(size int, left []int) int {
	at := -1
	for t, typ := range m.types {
		if left[t] > 0 && typ.size >= size && (at < 0 || typ.cost <= m.types[at].cost) {
			at = t
		}
	}
	return at
}
