package programme

import (
	"testing"

	"pgregory.net/rapid"

	_ "lapwork/generator/lawtest"
)

// A crew's short times are those that counting its persons minute by minute gives. The count shares no code with usage.
func TestShortTimesEqualCountByMinute(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const horizon = 60
		size := rapid.IntRange(1, 4).Draw(t, "size")
		u := newUsage(size)
		var busy [horizon + 40]int
		ends := map[Instant]bool{}
		for node := range rapid.IntRange(0, 15).Draw(t, "activities") {
			from := rapid.IntRange(0, horizon).Draw(t, "from")
			length := rapid.IntRange(1, 20).Draw(t, "length")
			persons := rapid.IntRange(1, size).Draw(t, "persons")
			fits := true
			for m := from; m < from+length; m++ {
				fits = fits && busy[m]+persons <= size
			}
			if !fits {
				continue // the leveller never books a crew beyond its size
			}
			for m := from; m < from+length; m++ {
				busy[m] += persons
			}
			ends[Instant(from+length)] = true
			u.take(Instant(from), Instant(from+length), persons, node)
		}
		from := rapid.IntRange(0, horizon).Draw(t, "ask from")
		to := from + rapid.IntRange(1, 20).Draw(t, "ask length")
		need := rapid.IntRange(1, size).Draw(t, "ask size")
		first := -1 // the first minute with too few free
		for m := from; m < to && first < 0; m++ {
			if busy[m]+need > size {
				first = m
			}
		}
		got, clash := u.clash(Instant(from), Instant(to), need)
		if clash != (first >= 0) {
			t.Fatalf("clash %v, by count %d", clash, first)
		}
		if !clash {
			return
		}
		end := first
		for busy[end]+need > size {
			end++
		}
		if int(got.to) != end || !ends[got.to] || got.node < 0 {
			t.Fatalf("short until %d by activity %d, by count until %d", got.to, got.node, end)
		}
	})
}
