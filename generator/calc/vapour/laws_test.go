package vapour_test

import (
	"errors"
	"math"
	"testing"

	"lapwork/generator/calc/vapour"
	_ "lapwork/generator/lawtest"
	q "lapwork/generator/quantity"

	"pgregory.net/rapid"
)

func sets(t *rapid.T) vapour.Set {
	return rapid.SampledFrom([]vapour.Set{vapour.ISO13788, vapour.Handbook}).Draw(t, "set")
}

// The dew point of saturated air is its temperature. The handbook's branches miss each other by about 1e-3 Pa at the
// triple point, 1e-5 K; the rest is rounding.
func TestDewPointInvertsSaturation(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, at := sets(t), rapid.Float64Range(-99, 199).Draw(t, "t")
		p, err := s.Saturation(q.Temperature(at))
		if err != nil {
			t.Fatal(err)
		}
		back, err := s.DewPoint(p)
		if err != nil || math.Abs(float64(back)-at) > 1e-4 {
			t.Fatalf("%v: %v °C comes back as %v (%v)", s, at, back, err)
		}
	})
}

func TestSaturationRises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, at := sets(t), rapid.Float64Range(-99, 199).Draw(t, "t")
		step := rapid.Float64Range(0.01, 1).Draw(t, "step")
		low, errLow := s.Saturation(q.Temperature(at))
		high, errHigh := s.Saturation(q.Temperature(at + step))
		if errLow != nil || errHigh != nil || low >= high {
			t.Fatalf("%v: psat(%v) = %v, psat(%v) = %v", s, at, low, at+step, high)
		}
	})
}

// Below freezing, air over liquid water holds more than over ice; at the branch change they meet.
func TestBranchesMeet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, at := sets(t), q.Temperature(rapid.Float64Range(-60, -0.1).Draw(t, "t"))
		ice, errIce := s.Saturation(at)
		water, errWater := s.SaturationOverWater(at)
		if errIce != nil || errWater != nil || water <= ice {
			t.Fatalf("%v at %v °C: over ice %v, over water %v", s, at, ice, water)
		}
	})
	for s, at := range map[vapour.Set]q.Temperature{vapour.ISO13788: 0, vapour.Handbook: 0.01} {
		below, err := s.Saturation(at - 1e-9)
		above, err2 := s.Saturation(at + 1e-9)
		if err != nil || err2 != nil || math.Abs(float64(below-above)) > 0.01 {
			t.Errorf("%v jumps from %v to %v Pa", s, below, above)
		}
	}
}

func TestWetBulbLiesBetween(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := q.Temperature(rapid.Float64Range(-20, 45).Draw(t, "t"))
		rh := q.Ratio(rapid.Float64Range(0.05, 0.99).Draw(t, "rh"))
		p, err := vapour.Handbook.Pressure(at, rh)
		if err != nil {
			t.Fatal(err)
		}
		dew, errDew := vapour.Handbook.DewPoint(p)
		wet, errWet := vapour.Handbook.WetBulb(at, p, 101325)
		if errDew != nil || errWet != nil || wet < dew-1e-6 || wet > at+1e-6 {
			t.Fatalf("dew point %v, wet bulb %v, air %v", dew, wet, at)
		}
	})
}

func TestParallelIsBetweenAndBelowTheMean(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.Float64Range(0, 1).Draw(t, "f")
		a, b := rapid.Float64Range(0.01, 1500).Draw(t, "a"), rapid.Float64Range(0.01, 1500).Draw(t, "b")
		got, err := vapour.Parallel([]vapour.Share{{Fraction: q.Ratio(f), Sd: q.SdValue(a)}, {Fraction: q.Ratio(1 - f), Sd: q.SdValue(b)}})
		mean := f*a + (1-f)*b
		if err != nil || float64(got) > mean*(1+1e-9) || float64(got) < min(a, b)*(1-1e-9) {
			t.Fatalf("sd %v of %v and %v, mean %v (%v)", got, a, b, mean, err)
		}
	})
}

func TestOutOfRangeIsAnError(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for name, call := range map[string]func() error{
		"cold":        func() error { _, err := vapour.ISO13788.Saturation(-101); return err },
		"nan":         func() error { _, err := vapour.Handbook.Saturation(q.Temperature(nan)); return err },
		"over water":  func() error { _, err := vapour.ISO13788.SaturationOverWater(201); return err },
		"no vapour":   func() error { _, err := vapour.ISO13788.DewPoint(0); return err },
		"share":       func() error { _, err := vapour.ISO13788.Pressure(20, 65); return err },
		"negative p":  func() error { _, err := vapour.ISO13788.Humidity(20, -1); return err },
		"all vapour":  func() error { _, err := vapour.Ratio(101325, 101325); return err },
		"infinite":    func() error { _, err := vapour.Ratio(1, q.Pressure(inf)); return err },
		"no pressure": func() error { _, err := vapour.SpecificVolume(20, 0, 0); return err },
		"space":       func() error { _, err := vapour.Atmosphere(20000); return err },
		"wet above":   func() error { _, err := vapour.Handbook.RatioAtWetBulb(20, 21, 101325); return err },
		"super":       func() error { _, err := vapour.Handbook.WetBulb(20, 3000, 101325); return err },
		"perms":       func() error { _, err := vapour.SdOfPerms(0, vapour.StillAir); return err },
		"fractions":   func() error { _, err := vapour.Parallel([]vapour.Share{{Fraction: 0.9, Sd: 1}}); return err },
		"no sd":       func() error { _, err := vapour.Parallel([]vapour.Share{{Fraction: 1}}); return err },
	} {
		if err := call(); !errors.Is(err, vapour.ErrRange) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
