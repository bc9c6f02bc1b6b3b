package rolls

import (
	"cmp"
	"math"
	"slices"
)

// coverItem is a roll type (or the joint) in a covering problem: each one covers gain at cost.
type coverItem struct {
	gain, cost int64
	supply     int
}

// coverNodes bounds the search of minCover. Real jobs have one to three prices and need some dozens.
const coverNodes = 200_000

// minCover gives the least cost of a set of items whose gains sum to need, or a lower bound of it when the search is
// cut off. ok is false if all items together do not suffice.
func minCover(need int64, items []coverItem) (cost int64, ok bool) {
	c := cover{best: math.MaxInt64}
	total := int64(0)
	for _, it := range items {
		if it.gain <= 0 || it.supply == 0 {
			continue
		}
		total += it.gain * int64(it.supply)
		if it.cost == 0 {
			need -= it.gain * int64(it.supply)
			total -= it.gain * int64(it.supply)
			continue
		}
		c.items = append(c.items, it)
	}
	if need <= 0 {
		return 0, true
	}
	if total < need {
		return 0, false
	}
	slices.SortStableFunc(c.items, func(a, b coverItem) int { return cmp.Compare(a.ratio(), b.ratio()) })
	relaxed := c.relaxed(need)
	c.search(0, need, 0)
	if c.nodes >= coverNodes {
		return relaxed, true
	}
	return c.best, true
}

func (i coverItem) ratio() float64 { return float64(i.cost) / float64(i.gain) }

type cover struct {
	items []coverItem // by cost per gain
	best  int64
	nodes int
}

// relaxed is the cost with fractional items, rounded down by more than the floating-point error and then up.
func (c *cover) relaxed(need int64) int64 {
	cost, rest := 0.0, float64(need)
	for _, it := range c.items {
		part := min(rest, float64(it.gain)*float64(it.supply))
		cost += float64(part * it.ratio())
		rest -= part
	}
	return int64(math.Ceil(cost * (1 - 1e-9)))
}

func (c *cover) search(k int, need, cost int64) {
	if need <= 0 {
		c.best = min(c.best, cost)
		return
	}
	if c.nodes++; k == len(c.items) || c.nodes >= coverNodes || c.hopeless(k, need, cost) {
		return
	}
	it := c.items[k]
	most := min(int64(it.supply), (need+it.gain-1)/it.gain)
	for n := most; n >= 0; n-- {
		rest, spent := need-n*it.gain, cost+n*it.cost
		if n < most && c.hopeless(k+1, rest, spent) {
			return // fewer of the better item only make it worse
		}
		c.search(k+1, rest, spent)
	}
}

// hopeless reports that items from k on cannot cover need below the best cost. It errs towards searching.
func (c *cover) hopeless(k int, need, cost int64) bool {
	if c.best == math.MaxInt64 {
		return false
	}
	if k == len(c.items) {
		return need > 0 || cost >= c.best
	}
	return float64(cost)+float64(float64(need)*c.items[k].ratio()*(1-1e-9)) > float64(c.best-1)
}
