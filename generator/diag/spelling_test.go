package diag

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	_ "lapwork/generator/lawtest"
)

// Worked by hand: each letter added, dropped or changed counts one, and so do two neighbours that changed places.
func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"", "", 0}, {"lap", "lap", 0}, {"lap", "laps", 1}, {"lap", "tap", 1}, {"lap", "alp", 1}, {"C-HIEGHT", "C-HEIGHT", 1}, {"tolerence", "tolerance", 1}, {"ab", "ba", 1}, {"kitten", "sitting", 3}, {"a", "abcde", math.MaxInt}} {
		if got := Distance(c.a, c.b); got != c.want {
			t.Errorf("%q to %q: %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

// It is the same both ways, nought for one word alone, and a changed letter adds one at most.
func TestDistanceLaws(t *testing.T) {
	word := rapid.StringMatching(`[a-c-]{0,12}`)
	rapid.Check(t, func(t *rapid.T) {
		a, b := word.Draw(t, "a"), word.Draw(t, "b")
		d := Distance(a, b)
		if d != Distance(b, a) || (d == 0) != (a == b) || d < 0 {
			t.Fatalf("%q to %q: %d, back %d", a, b, d, Distance(b, a))
		}
		if more := Distance(a+"x", b+"x"); d != math.MaxInt && more > d {
			t.Fatalf("%q to %q: %d; with an x after both %d", a, b, d, more)
		}
	})
}

// A word of megabytes is far from every other without a search.
func TestDistanceOfHostileWords(t *testing.T) {
	long := strings.Repeat("x", 4<<20)
	if Distance(long, long[:len(long)-1]) != math.MaxInt {
		t.Error("searched")
	}
}
