package programme

import (
	"cmp"
	"slices"
)

// usage is what a crew is taken for: how many persons are busy at any time, and, for each number of persons, the times
// in which fewer are free. Those times are kept merged, so that an activity released early steps over a full week at once.
type usage struct {
	size  int
	steps []step    // in order of time; before the first nobody is busy
	short [][]spell // short[k-1]: fewer than k persons are free; in order, apart from each other
}

// step is an instant at which the number of busy persons may change.
type step struct {
	at   Instant
	busy int // from here to the next step
	ends int // an activity that ends here, or -1
}

// spell is a time without enough free persons. The activity at its end frees them.
type spell struct {
	from, to Instant
	node     int
}

func newUsage(size int) *usage { return &usage{size: size, short: make([][]spell, max(0, size))} }

// take books persons of the crew for an activity.
func (u *usage) take(from, to Instant, persons, node int) {
	first := u.split(from, -1)
	last := u.split(to, node)
	for i := first; i < last; i++ {
		u.steps[i].busy += persons
	}
	for k := range u.short {
		u.shorten(k, first, last)
	}
}

// split makes t a step and gives its place. The first activity that ends there is remembered.
func (u *usage) split(t Instant, ends int) int {
	i, found := slices.BinarySearchFunc(u.steps, t, func(s step, t Instant) int { return cmp.Compare(s.at, t) })
	if !found {
		s := step{at: t, ends: -1}
		if i > 0 {
			s.busy = u.steps[i-1].busy
		}
		u.steps = slices.Insert(u.steps, i, s)
	}
	if u.steps[i].ends < 0 {
		u.steps[i].ends = ends
	}
	return i
}

// shorten marks the times between two steps in which k+1 persons are not free.
func (u *usage) shorten(k, first, last int) {
	for i := first; i < last; i++ {
		if u.steps[i].busy+k+1 <= u.size {
			continue
		}
		from := u.steps[i].at
		for i+1 < last && u.steps[i+1].busy+k+1 > u.size {
			i++
		}
		u.short[k] = merge(u.short[k], spell{from, u.steps[i+1].at, u.steps[i+1].ends})
	}
}

// merge adds a spell and joins it with those it meets or touches.
func merge(spells []spell, s spell) []spell {
	first, _ := slices.BinarySearchFunc(spells, s.from, func(x spell, t Instant) int { return cmp.Compare(x.to, t) })
	last := first
	for ; last < len(spells) && spells[last].from <= s.to; last++ {
		s.from = min(s.from, spells[last].from)
		if spells[last].to >= s.to {
			s.to, s.node = spells[last].to, spells[last].node
		}
	}
	return slices.Replace(spells, first, last, s)
}

// clash gives the first time that keeps size persons from being free throughout [from, to).
func (u *usage) clash(from, to Instant, size int) (spell, bool) {
	if size > u.size {
		return spell{}, false // refused before: see check
	}
	spells := u.short[size-1]
	i, _ := slices.BinarySearchFunc(spells, from+1, func(x spell, t Instant) int { return cmp.Compare(x.to, t) })
	if i < len(spells) && spells[i].from < to {
		return spells[i], true
	}
	return spell{}, false
}
