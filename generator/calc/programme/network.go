package programme

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	q "lapwork/generator/quantity"
	"lapwork/generator/sorting"
)

// network is the activities in an order in which each stands after its predecessors.
type network struct {
	order  []int
	index  map[string]int
	before [][]edge // predecessors
	after  [][]edge // successors
}

type edge struct {
	node int
	lag  int
}

// newNetwork sorts the activities so that each follows its predecessors; among the ready ones the input order stands.
func newNetwork(acts []Activity) (*network, error) {
	n := &network{index: map[string]int{}, before: make([][]edge, len(acts)), after: make([][]edge, len(acts))}
	for i, a := range acts {
		n.index[a.ID] = i
	}
	waits := make([]int, len(acts))
	for i, a := range acts {
		for _, l := range a.After {
			p, lag := n.index[l.ID], int(math.Ceil(float64(l.Lag)))
			n.before[i] = append(n.before[i], edge{p, lag})
			n.after[p] = append(n.after[p], edge{i, lag})
			waits[i]++
		}
	}
	ready := []int{}
	for i, w := range waits {
		if w == 0 {
			ready = append(ready, i)
		}
	}
	for len(ready) > 0 {
		i := ready[0]
		ready = ready[1:]
		n.order = append(n.order, i)
		for _, e := range n.after[i] {
			if waits[e.node]--; waits[e.node] == 0 {
				at, _ := slices.BinarySearch(ready, e.node)
				ready = slices.Insert(ready, at, e.node)
			}
		}
	}
	if len(n.order) < len(acts) {
		for i, w := range waits {
			if w > 0 {
				return nil, fmt.Errorf("%w: %s is among them", ErrCycle, acts[i].ID)
			}
		}
	}
	return n, nil
}

// work is an activity's duration in whole working minutes, rounded up.
func work(a Activity) int { return int(math.Ceil(float64(a.Duration) - 1e-9)) }

// forward computes the earliest times with unlimited crews.
func (n *network) forward(slots []Slot, cal Calendar) {
	for _, i := range n.order {
		start := cal.next(0)
		for _, e := range n.before[i] {
			start = max(start, slots[e.node].EarlyFinish+Instant(e.lag))
		}
		start = cal.ready(start, slots[i].Activity)
		slots[i].EarlyStart, slots[i].EarlyFinish = start, cal.add(start, work(slots[i].Activity))
	}
}

// backward computes the latest times that keep the end, and the float between early and late start.
func (n *network) backward(slots []Slot, cal Calendar, end Instant) {
	for _, i := range slices.Backward(n.order) {
		finish := end
		for _, e := range n.after[i] {
			finish = min(finish, slots[e.node].LateStart-Instant(e.lag))
		}
		s := &slots[i]
		s.LateFinish, s.LateStart = finish, cal.latest(finish, s.Activity)
		s.Float = cal.between(s.EarlyStart, s.LateStart)
	}
}

// plan collects the result.
func (n *network) plan(slots []Slot, earliest Instant) Plan {
	p := Plan{Earliest: earliest}
	for _, s := range slots {
		p.Finish = max(p.Finish, s.Finish)
	}
	p.Critical, p.Low, p.Likely, p.High, p.Deviation = n.critical(slots)
	p.Driving = n.driving(slots, p.Finish)
	p.Slots = slices.Clone(slots)
	sorting.StableFunc(p.Slots, func(a, b Slot) int { return cmp.Compare(a.Start, b.Start) })
	return p
}

// critical gives the longest path and the sums of its work: the three-point mean is (low + 4·likely + high)/6, its
// deviation (high − low)/6 (programme evaluation and review technique, 1959, from memory).
func (n *network) critical(slots []Slot) (ids []string, low, likely, high, deviation q.Minutes) {
	var variance float64
	for _, i := range n.longest(slots) {
		a := slots[i].Activity
		ids = append(ids, a.ID)
		lo, hi := a.Low, a.High
		if lo == 0 && hi == 0 {
			lo, hi = a.Duration, a.Duration
		}
		low, likely, high = low+lo, likely+a.Duration, high+hi
		variance += math.Pow(float64(hi-lo)/6, 2)
	}
	return ids, low, likely, high, q.Minutes(math.Sqrt(variance))
}

// longest traces the early times back from the last finish: at each step the predecessor that, with its lag, lets it
// start last; of equal ones the first that is without float. Float alone would not do: where a lag ends at night, every
// predecessor has some.
func (n *network) longest(slots []Slot) []int {
	last := -1
	for _, i := range n.order {
		if last < 0 || slots[i].EarlyFinish >= slots[last].EarlyFinish {
			last = i
		}
	}
	var path []int
	for i := last; i >= 0; {
		path = append(path, i)
		next, best := -1, Instant(-1)
		for _, e := range n.before[i] {
			reach := slots[e.node].EarlyFinish + Instant(e.lag)
			if reach > best || reach == best && slots[e.node].Float < slots[next].Float {
				next, best = e.node, reach
			}
		}
		i = next
	}
	slices.Reverse(path)
	return path
}
