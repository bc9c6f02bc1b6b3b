package rolls

import (
	"cmp"
	"slices"
)

// filler fills one roll as far as possible with given pieces, long pieces preferred. It keeps its tables between calls.
type filler struct {
	m     *model
	w     *meter
	after []bitset // reachable lengths after each chunk
	chunk []count

	shortFirst bool // prefer short pieces
}

func (f *filler) table(k, size int) bitset {
	if k == len(f.after) {
		f.after = append(f.after, nil)
	}
	if n := size/64 + 1; cap(f.after[k]) < n {
		f.after[k] = newBitset(size)
	} else {
		f.after[k] = f.after[k][:n]
	}
	return f.after[k]
}

// best gives the fullest set of pieces of d within size, as counts by item.
func (f *filler) best(size int, d []int) []count {
	f.chunk = f.chunk[:0]
	last := f.table(0, size)
	clear(last)
	last.set(0)
	for k := range f.m.items {
		i := k
		if f.shortFirst {
			i = len(f.m.items) - 1 - k
		}
		it := f.m.items[i]
		if it.size > size || d[i] <= 0 {
			continue
		}
		chunks(min(d[i], size/it.size), func(k int) bool {
			f.chunk = append(f.chunk, count{i, k})
			next := f.table(len(f.chunk), size)
			copy(next, last)
			next.orShift(last, k*it.size)
			last = next
			return f.w.spend(len(last)) && !last.has(size)
		})
		if last.has(size) {
			break
		}
	}
	return f.trace(last.highest(size))
}

// trace finds the pieces of a reachable length, taking each from the earliest table that reaches it.
func (f *filler) trace(length int) []count {
	var cuts []count
	for k := len(f.chunk); length > 0; {
		for k > 0 && f.after[k-1].has(length) {
			k--
		}
		c := f.chunk[k-1]
		length -= c.n * f.m.items[c.item].size
		cuts = addCount(cuts, c)
		k--
	}
	slices.SortFunc(cuts, func(a, b count) int { return cmp.Compare(a.item, b.item) })
	return cuts
}

func addCount(cuts []count, c count) []count {
	for i := range cuts {
		if cuts[i].item == c.item {
			cuts[i].n += c.n
			return cuts
		}
	}
	return append(cuts, c)
}

// anchored fills a roll with the longest open piece that fits, then the best fill of the rest.
func (f *filler) anchored(size int, d []int) []count {
	for i, it := range f.m.items {
		if d[i] > 0 && it.size <= size {
			d[i]--
			cuts := addCount(f.best(size-it.size, d), count{i, 1})
			d[i]++
			slices.SortFunc(cuts, func(a, b count) int { return cmp.Compare(a.item, b.item) })
			return cuts
		}
	}
	return nil
}

// fillAll fills the rolls in the order given; ok reports that nothing of d is left.
func (f *filler) fillAll(d []int, rolls []int, anchored bool) (pats []pattern, ok bool) {
	d = slices.Clone(d)
	open := f.m.length(d)
	for _, t := range rolls {
		if open == 0 {
			break
		}
		fill := f.best
		if anchored {
			fill = f.anchored
		}
		p := pattern{t: t, cuts: fill(f.m.types[t].size, d)}
		if len(p.cuts) == 0 {
			continue
		}
		subtract(d, p)
		open -= int64(f.m.used(p))
		pats = append(pats, p)
		if f.w.out() {
			break
		}
	}
	return pats, open == 0
}

func subtract(d []int, p pattern) {
	for _, c := range p.cuts {
		d[c.item] -= c.n
	}
}

// decreasing places pieces longest first into the given rolls: on the first that holds them, or on the one with the
// smallest rest (fit = best).
func (f *filler) decreasing(d []int, rolls []int, best bool) ([]pattern, bool) {
	pats := make([]pattern, len(rolls))
	rest := make([]int, len(rolls))
	for b, t := range rolls {
		pats[b].t, rest[b] = t, f.m.types[t].size
	}
	for i, it := range f.m.items {
		for range max(0, d[i]) {
			b := pick(rest, it.size, best)
			f.w.spend(len(rest))
			if b < 0 {
				return nil, false
			}
			rest[b] -= it.size
			pats[b].cuts = addCount(pats[b].cuts, count{i, 1})
		}
	}
	return slices.DeleteFunc(pats, func(p pattern) bool { return len(p.cuts) == 0 }), true
}

func pick(rest []int, size int, best bool) int {
	b := -1
	for k, r := range rest {
		if r >= size && (b < 0 || r < rest[b]) {
			b = k
			if !best {
				break
			}
		}
	}
	return b
}

// complete looks for patterns that cut all of d from the supply for at most budget. It tries the cheapest mixes of rolls,
// then mixes with up to spare more rolls than the lengths ask for.
func (s *solver) complete(d, supply []int, budget int64, effort, spare int) ([]pattern, bool) {
	need, roll := s.m.length(d), s.smallestFill()
	for k := range int64(spare) + 1 {
		for _, x := range s.mixes(need+k*roll, supply, budget, effort) {
			if pats, ok := s.packMix(d, x.rolls, effort); ok {
				return pats, true
			}
			if s.w.out() {
				return nil, false
			}
		}
	}
	return nil, false
}

// smallestFill is what one more roll adds at least.
func (s *solver) smallestFill() int64 {
	roll := int64(0)
	for t, typ := range s.m.types {
		if f := s.fill[t]; typ.cost > 0 && (roll == 0 || f < roll) {
			roll = f
		}
	}
	return roll
}

// packMix tries the greedy methods on the rolls, longest first in down; a small effort takes the two best methods only.
func (s *solver) packMix(d, down []int, effort int) ([]pattern, bool) {
	up := slices.Clone(down)
	slices.Reverse(up)
	for v := range 6 {
		if effort < thorough && v != 2 && v != 4 {
			continue
		}
		if pats, ok := s.variant(v, d, up, down); ok {
			return pats, true
		}
		if s.w.out() {
			return nil, false
		}
	}
	return nil, false
}

// variant runs one of the six greedy methods on the rolls in ascending or descending length.
func (s *solver) variant(v int, d, up, down []int) ([]pattern, bool) {
	switch v {
	case 0:
		return s.f.decreasing(d, up, false)
	case 1:
		return s.f.decreasing(d, down, true)
	case 2:
		return s.f.fillAll(d, up, true)
	case 3:
		return s.f.fillAll(d, down, true)
	case 4:
		return s.f.fillAll(d, up, false)
	}
	return s.f.fillAll(d, down, false)
}

func (m *model) costOf(pats []pattern) int64 {
	cost := int64(0)
	for _, p := range pats {
		cost += m.types[p.t].cost
	}
	return cost
}
