package rolls

import (
	"cmp"
	"slices"
)

// mix is a choice of rolls, longest first, that might hold the strips.
type mix struct {
	rolls []int // types
	cost  int64
}

// mixSearch lists the cheapest choices of bought rolls that cover a length; free rolls are always in.
type mixSearch struct {
	s      *solver
	supply []int
	priced []int // types with a price, cheapest per fill first
	number []int // how many of each type
	budget int64
	most   int
	found  []mix
	nodes  int
}

const mixNodes = 20_000

// mixes gives up to most choices within budget, cheapest first.
func (s *solver) mixes(need int64, supply []int, budget int64, most int) []mix {
	x := mixSearch{s: s, supply: supply, number: make([]int, len(supply)), budget: budget, most: most}
	for t, typ := range s.m.types {
		switch {
		case typ.cost > 0:
			x.priced = append(x.priced, t)
		case s.fill[t] > 0:
			x.number[t] = min(supply[t], int((need+s.fill[t]-1)/s.fill[t])+8)
			need -= int64(x.number[t]) * s.fill[t]
			need = max(need, 0)
		}
	}
	ratio := func(t int) float64 { return float64(s.m.types[t].cost) / float64(max(1, s.fill[t])) }
	slices.SortStableFunc(x.priced, func(a, b int) int { return cmp.Compare(ratio(a), ratio(b)) })
	x.search(0, need, 0)
	x.trim()
	return x.found
}

func (x *mixSearch) search(k int, need, cost int64) {
	if x.nodes++; cost > x.budget || x.nodes > mixNodes {
		return
	}
	if need <= 0 {
		x.add(cost)
		return
	}
	if k == len(x.priced) {
		return
	}
	t := x.priced[k]
	gain, price := x.s.fill[t], x.s.m.types[t].cost
	if float64(cost)+float64(float64(need)/float64(max(1, gain))*float64(price)*(1-1e-9)) > float64(x.budget) {
		return
	}
	for n := min(int64(x.supply[t]), (need+gain-1)/gain); n >= 0; n-- {
		x.number[t] = int(n)
		x.search(k+1, need-n*gain, cost+n*price)
	}
	x.number[t] = 0
}

func (x *mixSearch) add(cost int64) {
	m := mix{cost: cost}
	for t, n := range x.number { // types are sorted longest first
		for range n {
			m.rolls = append(m.rolls, t)
		}
	}
	x.found = append(x.found, m)
	if len(x.found) >= 4*x.most {
		x.trim()
	}
}

// trim keeps the cheapest choices and lowers the budget to the dearest of them once there are enough.
func (x *mixSearch) trim() {
	slices.SortStableFunc(x.found, func(a, b mix) int {
		return cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(len(a.rolls), len(b.rolls)), slices.Compare(a.rolls, b.rolls))
	})
	if len(x.found) >= x.most {
		x.found = x.found[:x.most]
		x.budget = min(x.budget, x.found[x.most-1].cost)
	}
}
