package programme

import (
	"cmp"
	"slices"
)

// level places the activities one after the other: of those whose predecessors stand, the one with the earliest possible
// start goes first, then the one with the earliest latest start, then input order. Each takes the first time its crew is
// free for the whole of it; other work may lie between two pieces of a crew's day.
func (n *network) level(slots []Slot, crews map[string]int, cal Calendar) {
	use := map[string]*usage{}
	for crew, size := range crews {
		use[crew] = &usage{size: size}
	}
	waits := make([]int, len(slots))
	var ready []int
	for i := range slots {
		if waits[i] = len(n.before[i]); waits[i] == 0 {
			ready = append(ready, i)
		}
	}
	for len(ready) > 0 {
		i := slices.MinFunc(ready, func(a, b int) int {
			ra, _, _ := n.release(a, slots, cal)
			rb, _, _ := n.release(b, slots, cal)
			return cmp.Or(cmp.Compare(ra, rb), cmp.Compare(slots[a].LateStart, slots[b].LateStart), cmp.Compare(a, b))
		})
		ready = slices.DeleteFunc(ready, func(x int) bool { return x == i })
		n.place(i, slots, use, cal)
		for _, e := range n.after[i] {
			if waits[e.node]--; waits[e.node] == 0 {
				ready = append(ready, e.node)
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
	if work(slots[i].Activity) > 0 {
		t = cal.next(t)
	}
	return t, by, lag
}

func (n *network) place(i int, slots []Slot, use map[string]*usage, cal Calendar) {
	s := &slots[i]
	released, by, lag := n.release(i, slots, cal)
	s.Start, s.SetBy = released, "start"
	if by >= 0 {
		s.SetBy, s.Lag = slots[by].ID, minutes(lag)
	}
	w := work(s.Activity)
	crew := use[s.Crew]
	if crew == nil || s.Size == 0 || w == 0 {
		s.Finish = cal.add(s.Start, w)
		return
	}
	for {
		finish := cal.add(s.Start, w)
		clash := crew.clash(s.Start, finish, s.Size)
		if clash < 0 {
			s.Finish = finish
			crew.taken = append(crew.taken, span{s.Start, finish, s.Size})
			break
		}
		s.Start = cal.next(clash)
	}
	if s.Start > released {
		s.SetBy, s.Lag = "crew", 0
	}
}

// usage is what a crew is taken for.
type usage struct {
	size  int
	taken []span
}

type span struct {
	from, to Instant
	persons  int
}

// clash gives the first finish of a span that keeps size persons from being free throughout [from, to), or -1.
func (u *usage) clash(from, to Instant, size int) Instant {
	first := Instant(-1)
	for _, at := range u.changes(from, to) {
		busy, until := 0, Instant(-1)
		for _, s := range u.taken {
			if s.from <= at && at < s.to {
				busy += s.persons
				if until < 0 || s.to < until {
					until = s.to
				}
			}
		}
		if busy+size > u.size && (first < 0 || until < first) {
			first = until
		}
	}
	return first
}

// changes lists the instants of [from, to) at which the number of taken persons can rise.
func (u *usage) changes(from, to Instant) []Instant {
	at := []Instant{from}
	for _, s := range u.taken {
		if from < s.from && s.from < to {
			at = append(at, s.from)
		}
	}
	return at
}
