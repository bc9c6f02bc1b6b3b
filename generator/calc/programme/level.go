package programme

import (
	"cmp"
	"slices"

	q "lapwork/generator/quantity"
)

// level places the activities one after the other: of those whose predecessors stand, the lowest rank goes first, then the
// one with the earliest possible start, then the one with the earliest latest start, then input order. Each takes the
// first time its crews are free for the whole of it, also between activities placed before.
func (n *network) level(slots []Slot, crews map[string]int, cal Calendar) {
	use := map[string]*usage{}
	for crew, size := range crews {
		use[crew] = &usage{size: size}
	}
	waits := make([]int, len(slots))
	released := make([]Instant, len(slots)) // of the ready ones: their predecessors stand, so it stays
	var ready []int
	offer := func(i int) {
		released[i], _, _ = n.release(i, slots, cal)
		ready = append(ready, i)
	}
	for i := range slots {
		if waits[i] = len(n.before[i]); waits[i] == 0 {
			offer(i)
		}
	}
	for len(ready) > 0 {
		i := slices.MinFunc(ready, func(a, b int) int {
			return cmp.Or(cmp.Compare(slots[a].Rank, slots[b].Rank), cmp.Compare(released[a], released[b]),
				cmp.Compare(slots[a].LateStart, slots[b].LateStart), cmp.Compare(a, b))
		})
		ready = slices.DeleteFunc(ready, func(x int) bool { return x == i })
		n.place(i, slots, use, cal)
		for _, e := range n.after[i] {
			if waits[e.node]--; waits[e.node] == 0 {
				offer(e.node)
			}
		}
	}
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
			crew.take(span{best.Start, best.Finish, need.Size, i})
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

// firstClash gives the span that ends first of those that keep a crew from being free for an activity where it stands.
func firstClash(use map[string]*usage, s *Slot) (first span, ok bool) {
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

// usage is what a crew is taken for, in order of the starts.
type usage struct {
	size    int
	taken   []span
	longest Instant // of the spans
	buffer  []span  // of during
}

type span struct {
	from, to Instant
	persons  int
	node     int // activity
}

func (u *usage) take(s span) {
	at, _ := slices.BinarySearchFunc(u.taken, s.from, func(t span, from Instant) int { return cmp.Compare(t.from, from) })
	u.taken = slices.Insert(u.taken, at, s)
	u.longest = max(u.longest, s.to-s.from)
}

// during gives the spans that share a time with [from, to). They are good until the next call.
func (u *usage) during(from, to Instant) []span {
	first, _ := slices.BinarySearchFunc(u.taken, from-u.longest, func(t span, from Instant) int { return cmp.Compare(t.from, from) })
	out := u.buffer[:0]
	for _, s := range u.taken[first:] {
		if s.from >= to {
			break
		}
		if s.to > from {
			out = append(out, s)
		}
	}
	u.buffer = out
	return out
}

// clash gives the span that ends first of those that keep size persons from being free throughout [from, to). The number
// of persons taken can rise at from and at the start of a span only.
func (u *usage) clash(from, to Instant, size int) (first span, ok bool) {
	spans := u.during(from, to)
	for i := -1; i < len(spans); i++ {
		at := from
		if i >= 0 {
			at = max(at, spans[i].from)
		}
		busy := 0
		var next span
		for _, s := range spans {
			if s.from <= at && at < s.to {
				if busy += s.persons; next.persons == 0 || s.to < next.to {
					next = s
				}
			}
		}
		if busy+size > u.size && (!ok || next.to < first.to) {
			first, ok = next, true
		}
	}
	return first, ok
}
