package rolls

import (
	"encoding/binary"
	"slices"
)

// packing: on a small delivery the question whether the strips fit on given rolls is settled roll by roll, by trying
// every filling to which nothing can be added and whose waste the other rolls can make up for (bin completion). It
// proves what the relaxation leaves open when there are few rolls of many lengths.

// packPieces is the largest delivery tried, packMixes the most choices of rolls, packFailed the most residuals kept.
const (
	packPieces = 120
	packMixes  = 60
	packFailed = 400_000
)

// pack raises the bound as long as it can show that no choice of rolls within it holds the strips.
func (s *solver) pack() {
	d := s.m.demand()
	pieces := 0
	for _, n := range d {
		pieces += n
	}
	if pieces > packPieces || s.best == nil {
		return
	}
	for !s.closed() && !s.w.out() {
		mixes, complete := s.fullMixes(s.m.length(d), s.bound)
		if len(s.m.splits) > 0 && s.bound >= s.lengthBound+s.m.jointCost {
			complete = false // the money might pay for a joint: strips need not be whole
		}
		for _, x := range mixes {
			k := packer{s: s, d: slices.Clone(d), rolls: x.rolls, failed: map[string]bool{}}
			if k.start() {
				s.accept(k.done, nil)
				break
			}
		}
		if s.closed() || !complete || s.w.out() {
			return
		}
		s.bound, s.proof = min(s.cost(), s.ladder.atLeast(s.bound+1)), BySearch
	}
}

// fullMixes lists the choices of rolls within budget that could hold need and to which no roll can be added within
// budget, shortest first; complete is false if there are too many.
func (s *solver) fullMixes(need, budget int64) (found []mix, complete bool) {
	supply := s.m.supply()
	number := make([]int, len(supply))
	complete = true
	var search func(t int, rest, cost int64)
	search = func(t int, rest, cost int64) {
		if len(found) >= packMixes || !s.w.spend(10) {
			complete = false
			return
		}
		if t < len(number) {
			price := s.m.types[t].cost
			most := supply[t]
			if price > 0 {
				most = min(most, int((budget-cost)/price))
			}
			for n := most; n >= 0; n-- {
				number[t] = n
				search(t+1, rest-int64(n)*s.fill[t], cost+int64(n)*price)
				if price == 0 {
					break
				}
			}
			return
		}
		for t, typ := range s.m.types {
			if number[t] < supply[t] && cost+typ.cost <= budget {
				return
			}
		}
		if rest <= 0 {
			x := mix{cost: cost}
			for t := len(number) - 1; t >= 0; t-- {
				for range number[t] {
					x.rolls = append(x.rolls, t)
				}
			}
			found = append(found, x)
		}
	}
	search(0, need, 0)
	return found, complete
}

// packer places the strips on the rolls of one mix.
type packer struct {
	s      *solver
	d      []int
	rolls  []int // types, shortest first
	done   []pattern
	failed map[string]bool
}

func (k *packer) start() bool {
	slack := -k.s.m.length(k.d)
	for _, t := range k.rolls {
		slack += k.s.fill[t]
	}
	return k.roll(0, slack)
}

// roll fills rolls from number r on; the slack may still be wasted. true if everything is placed.
func (k *packer) roll(r int, slack int64) bool {
	if k.s.m.length(k.d) == 0 {
		return true
	}
	key := k.key(r)
	if r == len(k.rolls) || k.failed[key] || !k.s.w.spend(2*len(k.d)) {
		return false
	}
	t := k.rolls[r]
	first := 0
	if k.rolls[len(k.rolls)-1] == t { // the rest are equal: one of them holds the longest piece
		first = slices.IndexFunc(k.d, func(n int) bool { return n > 0 })
	}
	f := packFill{k: k, r: r, slack: slack, must: first}
	f.p.t = t
	if f.search(first, k.s.m.types[t].size) {
		return true
	}
	if len(k.failed) < packFailed && !k.s.w.out() {
		k.failed[key] = true
	}
	return false
}

func (k *packer) key(r int) string {
	b := binary.AppendUvarint(nil, uint64(r))
	for _, n := range k.d {
		b = binary.AppendUvarint(b, uint64(max(0, n)))
	}
	return string(b)
}

// packFill tries the fillings of one roll.
type packFill struct {
	k     *packer
	r     int
	slack int64
	must  int // item that has to be in, where all further rolls are equal
	p     pattern
}

// search goes on with item i; rest is what is free.
func (f *packFill) search(i, rest int) bool {
	k, m := f.k, f.k.s.m
	for i < len(k.d) && (k.d[i] <= 0 || m.items[i].size > rest) {
		i++
	}
	if i == len(k.d) {
		return f.leaf(rest)
	}
	it, depth := m.items[i], len(f.p.cuts)
	least := 0
	if k.rolls[len(k.rolls)-1] == f.p.t && i == f.must {
		least = 1
	}
	for n := min(k.d[i], rest/it.size); n >= least && k.s.w.spend(10); n-- {
		f.p.cuts = f.p.cuts[:depth]
		if n > 0 {
			f.p.cuts = append(f.p.cuts, count{i, n})
		}
		if f.search(i+1, rest-n*it.size) {
			return true
		}
	}
	f.p.cuts = f.p.cuts[:depth]
	return false
}

// leaf goes on to the next roll if the waste is affordable and no further strip fits.
func (f *packFill) leaf(rest int) bool {
	k, m := f.k, f.k.s.m
	waste := k.s.fill[f.p.t] - int64(m.types[f.p.t].size-rest)
	if waste > f.slack {
		return false
	}
	p := pattern{t: f.p.t, cuts: slices.Clone(f.p.cuts)}
	subtract(k.d, p)
	defer func() {
		for _, c := range p.cuts {
			k.d[c.item] += c.n
		}
	}()
	for i := len(k.d) - 1; i >= 0 && m.items[i].size <= rest; i-- {
		if k.d[i] > 0 {
			return false
		}
	}
	if len(p.cuts) > 0 {
		k.done = append(k.done, p)
	}
	if k.roll(f.r+1, f.slack-waste) {
		return true
	}
	if len(p.cuts) > 0 {
		k.done = k.done[:len(k.done)-1]
	}
	return false
}
