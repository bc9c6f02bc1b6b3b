package programme

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	q "lapwork/generator/quantity"
)

// placedPlainly is the levelling as it is described and nothing else: of the activities whose predecessors stand the one
// that goes first, at the first of all ends of work before it at which its crews are free throughout. It looks at every
// activity placed, at every candidate, and shares neither queue nor bookkeeping with level.
func placedPlainly(n *network, slots []Slot, crews map[string]int, cal Calendar) {
	placed := make([]bool, len(slots))
	for range slots {
		best, bestAt := -1, Instant(0)
		for i := range slots {
			if placed[i] || slices.ContainsFunc(n.before[i], func(e edge) bool { return !placed[e.node] }) {
				continue
			}
			at, _, _ := n.release(i, slots, cal)
			if best < 0 || slots[i].Rank < slots[best].Rank || slots[i].Rank == slots[best].Rank && (at < bestAt ||
				at == bestAt && slots[i].LateStart < slots[best].LateStart) {
				best, bestAt = i, at
			}
		}
		s := plainFit(slots[best], bestAt, slots, placed, crews, cal)
		if single, ok := alone(slots[best]); ok {
			if f := plainFit(single, bestAt, slots, placed, crews, cal); f.Finish < s.Finish {
				s = f
			}
		}
		slots[best], placed[best] = s, true
	}
}

func plainFit(s Slot, from Instant, slots []Slot, placed []bool, crews map[string]int, cal Calendar) Slot {
	starts := []Instant{from}
	for i, o := range slots {
		if placed[i] && o.Finish > from {
			starts = append(starts, o.Finish)
		}
	}
	slices.Sort(starts)
	for _, at := range starts {
		s.Start = cal.ready(at, s.Activity)
		s.Finish = cal.add(s.Start, work(s.Activity))
		if plainlyFree(s, slots, placed, crews) {
			break
		}
	}
	return s
}

// plainlyFree counts the persons busy at every start of work inside an activity's time.
func plainlyFree(s Slot, slots []Slot, placed []bool, crews map[string]int) bool {
	if s.Finish == s.Start {
		return true
	}
	for _, need := range s.Needs {
		for j := -1; j < len(slots); j++ {
			at := s.Start
			if j >= 0 {
				if at = slots[j].Start; !placed[j] || at < s.Start || at >= s.Finish {
					continue
				}
			}
			busy := need.Size
			for i, o := range slots {
				for _, other := range o.Needs {
					if placed[i] && other.Crew == need.Crew && o.Start <= at && at < o.Finish {
						busy += other.Size
					}
				}
			}
			if busy > crews[need.Crew] {
				return false
			}
		}
	}
	return true
}

// Levelling with bookkeeping gives the plan of levelling without, on networks of up to 40 activities.
func TestLevelEqualsThePlainWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		crews := map[string]int{"fitters": rapid.IntRange(2, 3).Draw(t, "fitters"), "lead": 1}
		acts := make([]Activity, rapid.IntRange(1, 40).Draw(t, "n"))
		for i := range acts {
			a := &acts[i]
			a.ID, a.Duration = fmt.Sprint("a", i), q.Minutes(rapid.IntRange(0, 900).Draw(t, "work"))
			a.Rank, a.Alone = rapid.IntRange(0, 2).Draw(t, "rank"), rapid.Bool().Draw(t, "alone")
			a.Whole = rapid.IntRange(0, 3).Draw(t, "whole") == 0
			if rapid.IntRange(0, 3).Draw(t, "crew") > 0 {
				a.Needs = append(a.Needs, Need{"fitters", rapid.IntRange(1, 2).Draw(t, "size")})
			}
			if rapid.IntRange(0, 3).Draw(t, "lead") == 0 {
				a.Needs = append(a.Needs, Need{"lead", 1})
			}
			for j := max(0, i-6); j < i; j++ {
				if rapid.IntRange(0, 4).Draw(t, "link") == 0 {
					a.After = append(a.After, Link{fmt.Sprint("a", j), q.Minutes(rapid.IntRange(0, 3000).Draw(t, "lag"))})
				}
			}
		}
		cal := Weekdays
		cal.FirstDay = rapid.IntRange(0, 6).Draw(t, "weekday")
		got, err := Schedule(acts, crews, cal)
		if err != nil {
			t.Fatal(err)
		}
		n, err := newNetwork(acts)
		if err != nil {
			t.Fatal(err)
		}
		slots := make([]Slot, len(acts))
		for _, s := range got.Slots {
			i := n.index[s.ID]
			slots[i] = s
			slots[i].Activity, slots[i].Start, slots[i].Finish = acts[i], 0, 0
		}
		placedPlainly(n, slots, crews, cal)
		for _, s := range got.Slots {
			if want := slots[n.index[s.ID]]; s.Start != want.Start || s.Finish != want.Finish {
				t.Fatalf("%s from %d to %d, plainly from %d to %d", s.ID, s.Start, s.Finish, want.Start, want.Finish)
			}
		}
	})
}
