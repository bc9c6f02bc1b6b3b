package rolls

import "math"

// maxRows bounds the linear program: the inverse of 700 rows takes 4 MB.
const maxRows = 700

// relax solves the relaxation of the whole delivery and raises the bound. If the split pieces make it too large it
// leaves joints out, for better plans only. nil if it is too large all the same or ran out of work.
func (s *solver) relax() *master {
	split := len(s.m.splits) > 0
	rows := len(s.m.items) + len(s.m.types)
	if s.partial = split && rows > maxRows; s.partial {
		split, rows = false, s.wholes()+len(s.m.types)
	}
	if rows > maxRows {
		return nil
	}
	root := newMaster(s, s.m.demand(), s.m.supply(), split)
	if s.best != nil {
		for _, p := range s.best.pats {
			root.addPattern(p)
		}
	}
	_, ok := root.solve(s.cost() - 1)
	if root.weight != nil && !s.partial {
		s.raise(root.weight, s.scale(), s.m.holds(s.m.level(root.weight)), ByDual)
	}
	if !ok {
		return nil
	}
	return root
}

// wholes is the number of different strips.
func (s *solver) wholes() int {
	n := 0
	for _, it := range s.m.items {
		if !it.part {
			n++
		}
	}
	return n
}

// dives runs passes from..to-1 of diving.
func (s *solver) dives(root *master, from, to int) {
	for pass := from; pass < to && !s.closed() && !s.w.out(); pass++ {
		s.dive(root.clone(), pass)
	}
}

// dive fixes patterns of the relaxation until nothing is open or the bound shows that nothing better can come. Whole
// parts are fixed first, then the patterns nearest to one; passes differ by a nudge of the values.
func (s *solver) dive(ms *master, pass int) {
	for !s.closed() {
		if bound, ok := ms.solve(s.cost() - 1); !ok || bound >= s.cost() {
			return
		}
		if s.finish(ms) || !ms.fixNearest(pass) {
			return
		}
		ms.reopen()
	}
}

// finish completes a residual greedily, or takes it as done if nothing is open.
func (s *solver) finish(ms *master) bool {
	if s.m.length(ms.d) == 0 {
		s.accept(ms.done, ms.splits)
		return true
	}
	pats, ok := s.complete(ms.d, ms.supply, s.cost()-1-ms.cost, 1, 0)
	if ok {
		s.accept(append(pats, ms.done...), ms.splits)
	}
	return ok
}

// fixNearest takes the whole parts of all choices, or else those nearest to one; false if there was nothing to take.
func (ms *master) fixNearest(pass int) bool {
	choices := ms.choices()
	fixed := false
	for _, c := range choices {
		for range int(c.x + intTol) {
			fixed = ms.take(c) || fixed
		}
	}
	if fixed {
		return true
	}
	at, best := -1, 0.0
	for k, c := range choices {
		if v := c.x * (1 + nudge(c, pass)); v > best {
			at, best = k, v
		}
	}
	return at >= 0 && ms.take(choices[at])
}

// nudge is a number in 0..0.6 that depends on the choice and the pass only; 0 in pass 0.
func nudge(c choice, pass int) float64 {
	if pass == 0 {
		return 0
	}
	h := uint64(pass)*0x9e3779b97f4a7c15 + uint64(c.split+1) + uint64(c.pat.t)<<20
	for _, k := range c.pat.cuts {
		h = (h ^ uint64(k.item)<<8 ^ uint64(k.n)) * 0xbf58476d1ce4e5b9
		h ^= h >> 29
	}
	return float64(0.6 * float64(h>>11) / float64(math.MaxUint64>>11))
}
