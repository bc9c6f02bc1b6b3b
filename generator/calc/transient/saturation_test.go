package transient

import (
	"math"
	"testing"

	"lapwork/generator/calc/vapour"
	q "lapwork/generator/quantity"
)

// TestSaturation: the value is that of package vapour (checked there against EN ISO 13788 annex E), the slope that of small
// differences; both also just beside 0 °C, where the branch changes.
func TestSaturation(t *testing.T) {
	for _, c := range []float64{-40, -20, -5, -0.01, 0.01, 5, 20, 40, 80} {
		p, slope := saturation(c)
		want, err := vapour.ISO13788.Saturation(q.Temperature(c))
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(p/float64(want)-1) > 1e-12 {
			t.Errorf("%v °C: %v Pa, vapour has %v", c, p, want)
		}
		const d = 0.001
		up, _ := saturation(c + d)
		down, _ := saturation(c - d)
		if got := (up - down) / (2 * d); math.Abs(got/slope-1) > 1e-6 {
			t.Errorf("%v °C: slope %v Pa/K, by differences %v", c, slope, got)
		}
	}
}
