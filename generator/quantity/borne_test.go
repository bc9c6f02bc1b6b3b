package quantity

import "testing"

// Amounts as exact as their unit can bear: no half screw, no tenth of a millilitre, and what is whole but for the error of
// sums stays as it is.
func TestBorne(t *testing.T) {
	for _, c := range []struct {
		x    float64
		unit string
		want float64
	}{{77.7, "each", 78}, {78.0000000001, "each", 78}, {256.4595, "ml", 257}, {30.4776, "m", 30.48}, {1.236, "kg", 1.24}, {0, "each", 0}} {
		if got := Borne(c.x, c.unit); got != c.want {
			t.Errorf("%g %s: %g, want %g", c.x, c.unit, got, c.want)
		}
	}
}
