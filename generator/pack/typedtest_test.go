package pack

import "testing"

// Rounding is no difference, another figure is one. Two decimals are how a result is read off (own choice).
func TestSameResult(t *testing.T) {
	for _, c := range []struct {
		typed, analysed float64
		same            bool
	}{{1.04, 1.043, true}, {1.05, 1.043, true}, {1.0, 1.043, false}, {1.4, 1.043, false}, {0.3, 0.304, true}, {0.3, 0.33, false}, {12.1, 12.04, true}} {
		if got := sameResult(c.typed, c.analysed); got != c.same {
			t.Errorf("typed %g, analysed %g: the same %v", c.typed, c.analysed, got)
		}
	}
}
