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

// TestSaturationTable: between its points the table gives the formula. The error of a cubic is step⁴/384 times the fourth
// derivative, here below 3e-8 of the value at -50 °C; of its slope, some 1e-6.
func TestSaturationTable(t *testing.T) {
	table := newSaturationTable()
	for c := -60.0; c < 110; c += 0.0371 {
		p, slope := table.at(c)
		want, wantSlope := saturation(c)
		if math.Abs(p/want-1) > 3e-8 || math.Abs(slope/wantSlope-1) > 3e-6 {
			t.Fatalf("%v °C: %v Pa and %v Pa/K, the formula has %v and %v", c, p, slope, want, wantSlope)
		}
	}
}
