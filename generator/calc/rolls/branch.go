package rolls

import (
	"cmp"
	"encoding/binary"
	"slices"
)

// brancher searches for a plan of at most target cost: some roll holds the longest open piece (or the strip is split),
// so every pattern with that piece is tried whose price leaves room, each with the relaxation of the rest. When the
// search ends without a plan, none exists. This is branch and price with the longest piece as the rule: a node is just
// a smaller delivery, so pricing and bound stay as they are.
type brancher struct {
	s      *solver
	target int64
	failed map[string]bool // residuals known not to be possible
	nodes  int
}

// leavesMost bounds the patterns looked at in one node, kidsMost those kept. A node beyond them proves nothing.
const (
	leavesMost = 30_000
	kidsMost   = 600
)

// branch raises the bound step by step, or finds the plan that meets it.
func (s *solver) branch(root *master) {
	for !s.closed() && !s.w.out() {
		b := &brancher{s: s, target: s.bound, failed: map[string]bool{}}
		if s.best != nil && s.ladder.atLeast(s.bound+1) >= s.cost() {
			b.target = s.bound
		}
		none := b.node(root.clone())
		if s.closed() || !none {
			return
		}
		s.bound, s.proof = min(s.cost(), s.ladder.atLeast(b.target+1)), BySearch
	}
}

// node reports that no plan of the target cost exists below ms. A plan that is found ends the search through closed.
func (b *brancher) node(ms *master) bool {
	s := b.s
	b.nodes++
	key := b.key(ms)
	if b.failed[key] {
		return true
	}
	bound, ok := ms.solve(b.target)
	if bound > b.target {
		b.failed[key] = true
		return true
	}
	if !ok || !ms.exact {
		return false
	}
	if s.finish(ms); s.cost() <= b.target || s.m.length(ms.d) == 0 {
		return false
	}
	kids, none := b.kids(ms)
	for _, k := range kids {
		child := ms.clone()
		if !child.take(k) {
			continue
		}
		child.reopen()
		none = b.node(child) && none
		if s.cost() <= b.target || s.w.out() {
			return false
		}
	}
	if none {
		b.failed[key] = true
	}
	return none
}

// key names a residual: what is open, what is in stock, what may still be spent.
func (b *brancher) key(ms *master) string {
	k := binary.AppendVarint(nil, b.target-ms.cost)
	for _, n := range ms.d {
		k = binary.AppendVarint(k, int64(n))
	}
	for t, n := range ms.supply {
		if ms.supRow[t] >= 0 {
			k = binary.AppendVarint(k, int64(n))
		}
	}
	return string(k)
}

// kids lists the ways to deal with the longest open item, likeliest first; complete is false if some were left out.
func (b *brancher) kids(ms *master) (kids []choice, complete bool) {
	i := slices.IndexFunc(ms.d, func(n int) bool { return n > 0 })
	e := b.enumeration(ms, i)
	for t := range ms.s.m.types {
		if ms.supply[t] > 0 {
			e.run(t, i)
		}
	}
	if e.leaves <= leavesMost {
		complete = true
	}
	inUse := ms.choices()
	for k := range e.found {
		c := &e.found[k]
		if at, ok := slices.BinarySearchFunc(inUse, c.choice, compareChoices); ok {
			c.x = inUse[at].x
		}
	}
	slices.SortStableFunc(e.found, func(x, y weighed) int {
		return cmp.Or(cmp.Compare(y.x, x.x), cmp.Compare(y.spare, x.spare), compareChoices(x.choice, y.choice))
	})
	if len(e.found) > kidsMost {
		e.found, complete = e.found[:kidsMost], false
	}
	for _, w := range e.found {
		kids = append(kids, w.choice)
	}
	for _, k := range ms.s.m.items[i].splits {
		kids = append(kids, choice{split: k})
	}
	return kids, complete
}

// weighed is a choice with the weight it has above the least that the target allows.
type weighed struct {
	choice
	spare int64
}

// enumeration lists the patterns of one node.
type enumeration struct {
	ms     *master
	avail  []int
	need   []int64   // per type the least weight a pattern must have
	ahead  []float64 // per item the most weight per length from it on
	p      pattern
	found  []weighed
	leaves int
}

// enumeration prepares the least weights. With weights w, at most K_t on a roll, and S weight per cost, what is left
// after pattern p must weigh no more than the rolls still affordable hold:
// w(d) - w(p) <= S*(target - cost - c_t) + sum of s_t*max(0, K_t - S*c_t) over the rolls still there (and joints likewise).
func (b *brancher) enumeration(ms *master, i int) *enumeration {
	m, scale := ms.s.m, ms.s.scale()
	e := &enumeration{ms: ms, avail: m.available(ms.d), need: make([]int64, len(m.types)), ahead: make([]float64, len(ms.d)+1)}
	open, over, pieces := int64(0), int64(0), int64(0)
	for k, n := range ms.d {
		open += int64(n) * ms.weight[k]
		pieces += int64(max(0, n))
	}
	for t, typ := range m.types {
		over += min(int64(ms.supply[t]), 2*pieces) * max(0, ms.most[t]-scale*typ.cost)
	}
	if len(m.splits) > 0 {
		over += pieces * max(0, m.jointGain(ms.weight)-scale*m.jointCost)
	}
	for t, typ := range m.types {
		mine := int64(0)
		if int64(ms.supply[t]) <= 2*pieces {
			mine = max(0, ms.most[t]-scale*typ.cost)
		}
		e.need[t] = open - (over - mine) - scale*(b.target-ms.cost-typ.cost)
	}
	for k := len(ms.d) - 1; k >= 0; k-- {
		e.ahead[k] = e.ahead[k+1]
		if e.avail[k] > 0 {
			e.ahead[k] = max(e.ahead[k], float64(ms.weight[k])/float64(m.items[k].size))
		}
	}
	return e
}

// run lists the patterns on type t that hold item i and weigh enough.
func (e *enumeration) run(t, i int) {
	it := e.ms.s.m.items[i]
	size := e.ms.s.m.types[t].size
	e.p = pattern{t: t}
	for n := min(e.avail[i], size/it.size); n >= 1; n-- {
		e.p.cuts = append(e.p.cuts[:0], count{i, n})
		e.search(i+1, size-n*it.size, int64(n)*e.ms.weight[i])
	}
}

func (e *enumeration) search(k, rest int, weight int64) {
	m := e.ms.s.m
	for k < len(m.items) && (e.avail[k] == 0 || m.items[k].size > rest) {
		k++
	}
	// The small addition covers the rounding of the product.
	if float64(weight)+float64(rest)*e.ahead[k]*(1+1e-12)+2 < float64(e.need[e.p.t]) || e.leaves > leavesMost {
		return
	}
	if k == len(m.items) {
		e.leaf(rest, weight)
		return
	}
	it, depth := m.items[k], len(e.p.cuts)
	for n := min(e.avail[k], rest/it.size); n >= 0; n-- {
		if n > 0 {
			e.p.cuts = append(e.p.cuts[:depth], count{k, n})
		} else {
			e.p.cuts = e.p.cuts[:depth]
		}
		e.search(k+1, rest-n*it.size, weight+int64(n)*e.ms.weight[k])
	}
}

// leaf keeps a pattern unless a further open strip fits: moving it here from another roll is always possible.
func (e *enumeration) leaf(rest int, weight int64) {
	e.leaves++
	e.ms.s.w.spend(len(e.ms.d))
	if weight < e.need[e.p.t] {
		return
	}
	used := make(map[int]int, len(e.p.cuts))
	for _, c := range e.p.cuts {
		used[c.item] = c.n
	}
	for k := len(e.ms.d) - 1; k >= 0; k-- {
		it := e.ms.s.m.items[k]
		if it.size > rest {
			break
		}
		if !it.part && e.ms.d[k]-used[k] > 0 {
			return
		}
	}
	p := pattern{t: e.p.t, cuts: slices.Clone(e.p.cuts)}
	e.found = append(e.found, weighed{choice{pat: p, split: -1}, weight - e.need[p.t]})
}
