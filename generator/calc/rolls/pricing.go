package rolls

import (
	"cmp"
	"math"
	"slices"
)

// pricer finds the heaviest sets of pieces on each roll type: the bounded knapsack by lists of undominated states.
// A state that cannot beat what is already known for any type is dropped, so the proof that nothing better exists is
// mostly cheap, whatever the number of units of a roll.
type pricer struct {
	m     *model
	w     *meter
	pool  []state
	front []front
	next  []front
	order []int // items by weight per length

	supply []int
	most   []int64 // per type the heaviest value so far, or the threshold
	best   []int   // per type the state of it in pool, or 0
	hits   []int   // states that were the best of some type when found
}

// state is a set of pieces: the set of its parent and one chunk more.
type state struct {
	parent int
	chunk  count
	size   int
	value  int64
}

// front is an undominated set in the list being built.
type front struct {
	size  int
	value int64
	at    int // in pool
}

// priced is what a pricing round found.
type priced struct {
	most  []int64   // per type the heaviest value, at least the threshold: a valid upper bound if exact
	found []pattern // patterns above the threshold of their type, heaviest first
	exact bool
}

// poolMost bounds the states of one round. Beyond it the round is not exact.
const poolMost = 3_000_000

// price finds patterns of at most avail pieces that weigh more than the threshold of their type.
func (p *pricer) price(weight []int64, avail, supply []int, threshold []int64) priced {
	p.sortItems(weight, avail)
	p.supply, p.most, p.best = supply, slices.Clone(threshold), make([]int, len(threshold))
	p.pool, p.front, p.hits = append(p.pool[:0], state{parent: -1}), append(p.front[:0], front{}), p.hits[:0]
	out := priced{exact: true}
	for k, i := range p.order {
		ahead := filling{weight[i], int64(p.m.items[i].size)}
		chunks(avail[i], func(n int) bool {
			p.extend(count{i, n}, ahead)
			return true
		})
		if k+1 < len(p.order) {
			next := p.order[k+1]
			p.prune(filling{weight[next], int64(p.m.items[next].size)})
		}
		if len(p.pool) > poolMost || p.w.out() {
			out.exact = false
			break
		}
	}
	for t, at := range p.best {
		if at > 0 {
			out.found = append(out.found, p.pattern(t, at))
		}
	}
	out.most, out.found = p.most, append(out.found, p.more(threshold)...)
	return out
}

// filling is the weight and size of the item that fills best from here on.
type filling struct{ weight, size int64 }

func (p *pricer) sortItems(weight []int64, avail []int) {
	p.order = p.order[:0]
	for i := range weight {
		if weight[i] > 0 && avail[i] > 0 {
			p.order = append(p.order, i)
		}
	}
	slices.SortStableFunc(p.order, func(a, b int) int {
		return cmp.Compare(weight[b]*int64(p.m.items[a].size), weight[a]*int64(p.m.items[b].size))
	})
}

// extend merges the list with the list moved by a chunk of one item.
func (p *pricer) extend(c count, ahead filling) {
	size, value := c.n*int(ahead.size), int64(c.n)*ahead.weight
	p.next = p.next[:0]
	old := p.front
	i, last := 0, int64(-1)
	keep := func(until front) { // old states up to the new one
		for ; i < len(old) && (old[i].size < until.size || (old[i].size == until.size && old[i].value >= until.value)); i++ {
			if old[i].value > last {
				p.next = append(p.next, old[i])
				last = old[i].value
			}
		}
	}
	for _, f := range old {
		s := front{size: f.size + size, value: f.value + value}
		if keep(s); s.value <= last || !p.promising(s, ahead) {
			continue
		}
		s.at = len(p.pool)
		p.pool = append(p.pool, state{f.at, c, s.size, s.value})
		p.next = append(p.next, s)
		last = s.value
		p.record(s)
	}
	keep(front{size: math.MaxInt})
	p.w.spend(6 * (len(p.next) + len(p.front)))
	p.front, p.next = p.next, p.front
}

// promising reports that a state can still beat the best of some type when the rest of the roll is filled with the
// heaviest item ahead. Products stay below 1e11 x 8 x 1e6, inside 64 bits.
func (p *pricer) promising(s front, ahead filling) bool {
	for t, typ := range p.m.types {
		if typ.size < s.size {
			break // types are sorted longest first
		}
		if p.supply[t] > 0 && int64(typ.size-s.size)*ahead.weight > (p.most[t]-s.value)*ahead.size {
			return true
		}
	}
	return false
}

// record notes a state that is the best so far on some type.
func (p *pricer) record(s front) {
	hit := false
	for t, typ := range p.m.types {
		if typ.size < s.size {
			break
		}
		if p.supply[t] > 0 && s.value > p.most[t] {
			p.most[t], p.best[t] = s.value, s.at
			hit = true
		}
	}
	if hit {
		p.hits = append(p.hits, s.at)
	}
}

// prune drops the states that the items still ahead cannot lift above the best.
func (p *pricer) prune(ahead filling) {
	kept := p.front[:0]
	for _, f := range p.front {
		if p.promising(f, ahead) {
			kept = append(kept, f)
		}
	}
	p.front = kept
}

// more picks further patterns from the states that once were the best: the latest few, that is the heaviest.
func (p *pricer) more(threshold []int64) []pattern {
	var out []pattern
	for k := len(p.hits) - 1; k >= 0 && len(out) < 6; k-- {
		t := p.cheapest(p.pool[p.hits[k]], threshold)
		if t >= 0 && !slices.Contains(p.best, p.hits[k]) {
			out = append(out, p.pattern(t, p.hits[k]))
		}
	}
	return out
}

// cheapest gives the type on which the state gains most over the threshold.
func (p *pricer) cheapest(s state, threshold []int64) int {
	at, gain := -1, int64(math.MinInt64)
	for t, typ := range p.m.types {
		if typ.size >= s.size && p.supply[t] > 0 && s.value-threshold[t] > gain && s.value > threshold[t] {
			at, gain = t, s.value-threshold[t]
		}
	}
	return at
}

// pattern reads the pieces of a state.
func (p *pricer) pattern(t, at int) pattern {
	out := pattern{t: t}
	for ; at > 0; at = p.pool[at].parent {
		out.cuts = addCount(out.cuts, p.pool[at].chunk)
	}
	slices.SortFunc(out.cuts, func(a, b count) int { return cmp.Compare(a.item, b.item) })
	return out
}
