package programme

import (
	"cmp"
	"container/heap"
	"slices"

	q "lapwork/generator/quantity"
)

// level places the activities one after the other: of those whose predecessors stand, the lowest rank goes first, then the
// one with the earliest possible start, then the one with the earliest latest start, then input order. Each takes the
// first time its crews are free for the whole of it, also between activities placed before.
func (n *network) level(slots []Slot, crews map[string]int, cal Calendar) {
	use := map[string]*usage{}
	for crew, size := range crews {
		use[crew] = newUsage(size)
	}
	waits := make([]int, len(slots))
	released := make([]Instant, len(slots)) // of the ready ones: their predecessors stand, so it stays
	ready := &queue{less: func(a, b int) bool {
		return cmp.Or(cmp.Compare(slots[a].Rank, slots[b].Rank), cmp.Compare(released[a], released[b]),
			cmp.Compare(slots[a].LateStart, slots[b].LateStart), cmp.Compare(a, b)) < 0
	}}
	offer := func(i int) {
		released[i], _, _ = n.release(i, slots, cal)
		heap.Push(ready, i)
	}
	for i := range slots {
		if waits[i] = len(n.before[i]); waits[i] == 0 {
			offer(i)
		}
	}
	for ready.Len() > 0 {
		i := heap.Pop(ready).(int)
		n.place(i, slots, use, cal)
		for _, e := range n.after[i] {
			if waits[e.node]--; waits[e.node] == 0 {
				offer(e.node)
			}
		}
	}
}

// queue holds the activities that may be placed, the next one first: a heap of package container/heap.
type queue struct {
	nodes []int
	less  func(a, b int) bool
}

func (h *queue) Len() int           { return len(h.nodes) }
func (h *queue) Less(i, j int) bool { return h.less(h.nodes[i], h.nodes[j]) }
func (h *queue) Swap(i, j int)      { h.nodes[i], h.nodes[j] = h.nodes[j], h.nodes[i] }

// Push adds a node; use heap.Push.
func (h *queue) Push(x any) { h.nodes = append(h.nodes, x.(int)) }

// Pop takes the last node away; use heap.Pop.
func (h *queue) Pop() any {
	last := len(h.nodes) - 1
	x := h.nodes[last]
	h.nodes = h.nodes[:last]
	return x
}

// release gives the first instant an activity may start for its predecessors, the one that sets it, and its lag.
func (n *network) release(i int, slots []Slot, cal Calendar) (t Instant, by int, lag int) {
	t, by = cal.next(0), -1
	for _, e := range n.before[i] {
		if r := slots[e.node].Finish + Instant(e.lag); by < 0 || r > t {
			t, by, lag = max(t, r), e.node, e.lag
		}
	}
	return cal.ready(t, slots[i].Activity), by, lag
}

func (n *network) place(i int, slots []Slot, use map[string]*usage, cal Calendar) {
	s := slots[i]
	released, by, lag := n.release(i, slots, cal)
	s.Start, s.SetBy = released, SetByStart
	if by >= 0 {
		s.SetBy, s.Lag = slots[by].ID, minutes(lag)
	}
	best := n.fit(s, slots, use, cal)
	if single, ok := alone(s); ok {
		if f := n.fit(single, slots, use, cal); f.Finish < best.Finish {
			best = f
		}
	}
	slots[i] = best
	for _, need := range best.Needs {
		if crew := use[need.Crew]; crew != nil && need.Size > 0 && best.Finish > best.Start {
			crew.take(best.Start, best.Finish, need.Size, i)
		}
	}
}

// fit moves an activity to the first time its crews are free for the whole of it.
func (n *network) fit(s Slot, slots []Slot, use map[string]*usage, cal Calendar) Slot {
	w := work(s.Activity)
	s.Start = cal.ready(s.Start, s.Activity)
	s.Finish = cal.add(s.Start, w)
	for w > 0 {
		clash, ok := firstClash(use, &s)
		if !ok {
			break
		}
		s.Start = cal.ready(clash.to, s.Activity)
		s.Finish = cal.add(s.Start, w)
		s.SetBy, s.Lag, s.FreedBy = SetByCrew, 0, slots[clash.node].ID
	}
	return s
}

// alone gives the activity as one person does it; ok is false where none may.
func alone(s Slot) (single Slot, ok bool) {
	if !s.Alone || len(s.Needs) == 0 || s.Needs[0].Size < 2 {
		return s, false
	}
	times := q.Minutes(s.Needs[0].Size)
	s.Needs = slices.Clone(s.Needs)
	s.Needs[0].Size = 1
	s.Duration, s.Low, s.High = s.Duration*times, s.Low*times, s.High*times
	return s, true
}

// firstClash gives the time that ends first of those in which a crew is too small for an activity where it stands.
func firstClash(use map[string]*usage, s *Slot) (first spell, ok bool) {
	for _, need := range s.Needs {
		crew := use[need.Crew]
		if crew == nil || need.Size == 0 {
			continue
		}
		if c, clash := crew.clash(s.Start, s.Finish, need.Size); clash && (!ok || c.to < first.to) {
			first, ok = c, true
		}
	}
	return first, ok
}
