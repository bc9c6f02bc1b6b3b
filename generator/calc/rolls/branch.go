package rolls

import (
	"cmp"
	"encoding/binary"
	"slices"
)

// brancher searches for a plan of at most target cost. It first decides which strips are split. Then some roll holds the
// longest open piece, so every pattern with that piece is tried whose price leaves room, each with the relaxation of the rest. When the
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

// branch raises the bound step by step, or finds the plan that meets it. While there is no plan at all it looks for any.
func (s *solver) branch(root *master) {
	for !s.closed() && !s.w.out() {
		b := &brancher{s: s, target: s.bound, failed: map[string]bool{}}
		if s.best == nil {
			b.target = s.m.dearestPlan()
		}
		none := b.visit(root.clone())
		if s.closed() || (!none && s.cost() > b.target) {
			return
		}
		if none && s.best == nil {
			s.infeasible = true
			return
		}
		if none {
			s.bound, s.proof = min(s.cost(), s.ladder.atLeast(b.target+1)), BySearch
		}
	}
}

// dearestPlan is more than any plan can cost.
func (m *model) dearestPlan() int64 {
	cost := int64(0)
	for _, t := range m.types {
		cost += t.cost * int64(t.supply)
	}
	for _, it := range m.items {
		if len(it.splits) > 0 {
			cost += m.jointCost * int64(it.count)
		}
	}
	return cost
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
	none := b.below(ms)
	if none {
		b.failed[key] = true
	}
	return none
}

// below runs through the children of a node. Splits come first: as long as strips may be split, a child either rules
// out further splits or makes one more, in ascending order.
func (b *brancher) below(ms *master) bool {
	if ms.split {
		last := 0
		for k, n := range ms.splits {
			if n > 0 {
				last = k
			}
		}
		child := ms.clone()
		child.split = false
		none := b.visit(child)
		for k := last; k < len(ms.splits) && b.going(); k++ {
			none = b.try(ms, choice{split: k}) && none
		}
		return none && b.going()
	}
	kids, none := b.kids(ms)
	for _, k := range kids {
		if none = b.try(ms, k) && none; !b.going() {
			return false
		}
	}
	return none
}

// going reports that the search is neither successful nor out of work.
func (b *brancher) going() bool { return b.s.cost() > b.target && !b.s.w.out() }

// try visits the child that a choice leads to; nothing is there if it cannot be taken.
func (b *brancher) try(ms *master, c choice) bool {
	child := ms.clone()
	return !child.take(c) || b.visit(child)
}

// visit leaves out the rolls that the target no longer pays for and goes into a child.
func (b *brancher) visit(child *master) bool {
	for t, typ := range child.s.m.types {
		if typ.cost > b.target-child.cost {
			child.supply[t] = 0
		}
	}
	child.reopen()
	return b.node(child)
}

// key names a residual: what is open, what is in stock, what may still be spent.
func (b *brancher) key(ms *master) string {
	k := binary.AppendVarint(nil, b.target-ms.cost)
	if ms.split {
		k = append(k, 's')
		for _, n := range ms.splits { // the splits that may follow depend on the last one
			k = binary.AppendVarint(k, int64(n))
		}
	}
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
	complete = e.leaves <= leavesMost && !b.s.w.out()
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
// w(d) - w(p) <= S*(target - cost - c_t) + sum of s_t*max(0, K_t - S*c_t) over the rolls still there.
func (b *brancher) enumeration(ms *master, i int) *enumeration {
	m, scale := ms.s.m, ms.s.scale()
	e := &enumeration{ms: ms, avail: m.available(ms.d, false), need: make([]int64, len(m.types)), ahead: make([]float64, len(ms.d)+1)}
	open, over, pieces := int64(0), int64(0), int64(0)
	for k, n := range ms.d {
		open += int64(n) * ms.weight[k]
		pieces += int64(max(0, n))
	}
	for t, typ := range m.types {
		over += min(int64(ms.supply[t]), 2*pieces) * max(0, ms.most[t]-scale*typ.cost)
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
	e.ms.s.w.spend(20)
	for k < len(m.items) && (e.avail[k] == 0 || m.items[k].size > rest) {
		k++
	}
	// The small addition covers the rounding of the product.
	if float64(weight)+float64(float64(rest)*e.ahead[k]*(1+1e-12))+2 < float64(e.need[e.p.t]) || e.leaves > leavesMost || e.ms.s.w.out() {
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

// leaf keeps a pattern unless a further open piece fits: moving it here from another roll is always possible.
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
		if e.ms.d[k]-used[k] > 0 {
			return
		}
	}
	p := pattern{t: e.p.t, cuts: slices.Clone(e.p.cuts)}
	e.found = append(e.found, weighed{choice{pat: p, split: -1}, weight - e.need[p.t]})
}
