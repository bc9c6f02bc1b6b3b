package airtight_test

import (
	"errors"
	"math"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"lapwork/generator/calc/airtight"
	_ "lapwork/generator/lawtest"
	q "lapwork/generator/quantity"
)

// exact is a test of q = 40 dp^0.65 m³/h with count steps, dry air of 20 °C both sides: every correction is one.
func exact(count int) airtight.Input {
	in := airtight.Input{Building: airtight.Building{Volume: 300, Envelope: 360, Floor: 120, Height: 5}}
	s := airtight.Series{Direction: airtight.Depressurise, Inside: airtight.Air{Temperature: 20}, Outside: airtight.Air{Temperature: 20}, Barometer: 101325}
	for i := range count {
		dp := 10 + 10*float64(i)
		s.Readings = append(s.Readings, airtight.Reading{Pressure: q.Pressure(-dp), Flow: q.AirFlow(40 * math.Pow(dp, 0.65) / 3600)})
	}
	in.Series = append(in.Series, s)
	return in
}

// drawInput draws a plausible noisy test of one or two directions.
func drawInput(t *rapid.T) airtight.Input {
	real := func(low, high float64, label string) float64 { return rapid.Float64Range(low, high).Draw(t, label) }
	in := airtight.Input{Building: airtight.Building{Volume: q.Volume(real(50, 5000, "V")), Envelope: q.Area(real(50, 5000, "AE")), Floor: q.Area(real(20, 2000, "AF"))},
		Parts: airtight.Parts{Device: q.Ratio(real(0, 0.1, "device")), Gauge: q.Pressure(real(0, 1, "gauge"))}}
	for d := range airtight.Direction(rapid.IntRange(1, 2).Draw(t, "directions")) {
		zero := real(-3, 3, "zero")
		s := airtight.Series{Direction: d, Barometer: q.Pressure(real(80_000, 105_000, "barometer")),
			Inside:  airtight.Air{Temperature: q.Temperature(real(10, 30, "inside")), Humidity: q.Ratio(real(0, 1, "rh"))},
			Outside: airtight.Air{Temperature: q.Temperature(real(-20, 30, "outside")), Humidity: q.Ratio(real(0, 1, "rh"))},
			Before:  airtight.AveragesOf([]q.Pressure{q.Pressure(zero)}), After: airtight.AveragesOf([]q.Pressure{q.Pressure(-zero / 2)})}
		c, n := real(5, 500, "C"), real(0.5, 1, "n")
		sign := float64(2*int(d) - 1)
		for i := range rapid.IntRange(5, 12).Draw(t, "steps") {
			dp := 12 + 6*float64(i) + real(-1, 1, "dp")
			s.Readings = append(s.Readings, airtight.Reading{Pressure: q.Pressure(sign * dp), Weight: real(0.1, 2, "weight"),
				Flow: q.AirFlow(c * math.Pow(dp, n) / 3600 * (1 + real(-0.05, 0.05, "noise")))})
		}
		in.Series = append(in.Series, s)
	}
	in.Method = airtight.FitMethod(rapid.IntRange(0, 3).Draw(t, "method"))
	in.LogFlow, in.Gauge = 0.03, 1
	return in
}

func mustAnalyse(t *rapid.T, in airtight.Input) airtight.Test {
	test, err := airtight.Analyse(in, airtight.ISO9972(), q.English)
	if err != nil {
		t.Fatal(err)
	}
	return test
}

// same compares results that may differ in their last bits.
func same(a, b float64) bool { return math.Abs(a-b) <= 1e-9*max(math.Abs(a), math.Abs(b)) }

func mustFlow(t *rapid.T, test airtight.Test, p q.Pressure) airtight.Flow {
	f, err := test.At(p)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func sameFlow(t *rapid.T, what string, a, b airtight.Flow, factor float64) {
	if !same(float64(a.Value)*factor, float64(b.Value)) || !same(float64(a.Low)*factor, float64(b.Low)) || !same(float64(a.High)*factor, float64(b.High)) {
		t.Fatalf("%s: %+v and %+v, factor %v", what, a, b, factor)
	}
}

// Neither the order of the readings nor that of the directions counts.
func TestOrderDoesNotCount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawInput(t)
		other := in
		other.Series = nil
		for i := len(in.Series) - 1; i >= 0; i-- {
			s := in.Series[i]
			s.Readings = rapid.Permutation(s.Readings).Draw(t, "order")
			other.Series = append(other.Series, s)
		}
		a, b := mustAnalyse(t, in), mustAnalyse(t, other)
		sameFlow(t, "order", mustFlow(t, a, 50), mustFlow(t, b, 50), 1)
		if a.Verdict != b.Verdict {
			t.Fatalf("%v and %v", a.Verdict, b.Verdict)
		}
	})
}

// A flow k times as large everywhere gives k times the result and band, and the same exponent and verdict.
func TestFlowsScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawInput(t)
		k := rapid.Float64Range(0.01, 100).Draw(t, "k")
		a := mustAnalyse(t, in)
		for i := range in.Series {
			for j := range in.Series[i].Readings {
				in.Series[i].Readings[j].Flow *= q.AirFlow(k)
			}
		}
		b := mustAnalyse(t, in)
		sameFlow(t, "scale", mustFlow(t, a, 50), mustFlow(t, b, 50), k)
		if math.Abs(a.Lines[0].Fit.Exponent-b.Lines[0].Fit.Exponent) > 1e-9 {
			t.Fatalf("exponent %v and %v", a.Lines[0].Fit.Exponent, b.Lines[0].Fit.Exponent)
		}
	})
}

// The mirror image of a test (signs, directions and the air on both sides swapped) has the same result. Wrong labels
// alone do not: every reading has the wrong sign then.
func TestDirectionsSwapped(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawInput(t)
		a := mustAnalyse(t, in)
		var mirrored, mislabelled airtight.Input = in, in
		mirrored.Series, mislabelled.Series = nil, nil
		for _, s := range in.Series {
			s.Direction = 1 - s.Direction
			mislabelled.Series = append(mislabelled.Series, s)
			s.Inside, s.Outside = s.Outside, s.Inside
			s.Before, s.After = mirror(s.Before), mirror(s.After)
			readings := make([]airtight.Reading, len(s.Readings))
			for i, r := range s.Readings {
				r.Pressure = -r.Pressure
				readings[i] = r
			}
			s.Readings = readings
			mirrored.Series = append(mirrored.Series, s)
		}
		b := mustAnalyse(t, mirrored)
		sameFlow(t, "mirror", mustFlow(t, a, 50), mustFlow(t, b, 50), 1)
		if a.Verdict != b.Verdict {
			t.Fatalf("%v and %v", a.Verdict, b.Verdict)
		}
		wrong := mustAnalyse(t, mislabelled)
		first := wrong.Lines[0].Breaches[0]
		if wrong.Verdict != airtight.DataError || first.Rule != airtight.RuleSign || len(first.Readings) != len(in.Series[0].Readings) {
			t.Fatalf("mislabelled: %v, %+v", wrong.Verdict, first)
		}
		if _, err := wrong.At(50); !errors.Is(err, airtight.ErrNoLine) {
			t.Fatalf("a figure of mislabelled readings: %v", err)
		}
	})
}

func mirror(a airtight.Averages) airtight.Averages {
	return airtight.Averages{All: -a.All, Positive: -a.Negative, Negative: -a.Positive, Samples: a.Samples}
}

// A pressure has the wrong sign as read, or once the baseline is off it; either is named. Derived: −1 Pa read over −3 Pa is
// 2 Pa of pressurisation; +0.5 Pa read over +3 Pa is no underpressure that anybody set.
func TestSignAsReadAndCorrected(t *testing.T) {
	for _, c := range []struct{ read, zero q.Pressure }{{-1, -3}, {0.5, 3}} {
		in := exact(6)
		in.Series[0].Readings[2].Pressure = c.read
		in.Series[0].Before.All, in.Series[0].After.All = c.zero, c.zero
		b := analyse(t, in, airtight.ISO9972()).Breaches()[0]
		if b.Rule != airtight.RuleSign || !reflect.DeepEqual(b.Readings, []int{3}) {
			t.Errorf("%v Pa over %v Pa: %+v", c.read, c.zero, b)
		}
	}
}

// The exponent of a mean is its slope in logarithms; the band of a figure without other uncertainties is that of the
// flow, asymmetric as it is; below the lowest pressure measured a figure is extrapolated. Series S04, derived.
func TestFiguresOfTheMean(t *testing.T) {
	_, tests := loadTests(t, checks)
	in := tests["S04"]
	both := analyse(t, in, airtight.ISO9972())
	n, err := both.Exponent(50)
	slope := math.Log(float64(flow(t, both, 50.005).Value/flow(t, both, 49.995).Value)) / math.Log(50.005/49.995)
	if err != nil || math.Abs(n-slope) > 1e-6 {
		t.Errorf("exponent %v, %v; slope %v", n, err, slope)
	}
	if !flow(t, both, 4).Extrapolated || flow(t, both, 50).Extrapolated || !flow(t, both, 100).Extrapolated {
		t.Error("4 and 100 Pa lie outside the pressures measured, 50 Pa within")
	}
	in.Series = in.Series[:1]
	one := analyse(t, in, airtight.ISO9972())
	f := flow(t, one, 50)
	m, err := one.Measure(airtight.N50())
	if err != nil || !same(float64(m.Low), float64(f.Low)*3600/520) || !same(float64(m.High), float64(f.High)*3600/520) {
		t.Errorf("%+v of %+v, %v", m, f, err)
	}
	if !flow(t, one, 4).Extrapolated || f.Extrapolated {
		t.Error("one direction: 4 Pa is extrapolated, 50 Pa is not")
	}
}

// Low ≤ value ≤ high, the rate grows with the pressure, the mean lies between the directions.
func TestResultsAreOrdered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		test := mustAnalyse(t, drawInput(t))
		before := q.AirFlow(0)
		for _, p := range []q.Pressure{4, 10, 50, 100} {
			f := mustFlow(t, test, p)
			if !(0 <= f.Low && f.Low <= f.Value && f.Value <= f.High) || f.Value <= before {
				t.Fatalf("%+v after %v", f, before)
			}
			before = f.Value
			if first, err := test.Lines[0].At(p); err != nil || len(test.Lines) == 1 && first.Value != f.Value {
				t.Fatalf("%v, %v: one line, two answers", first, err)
			}
			m, err := test.Measure(airtight.Metric{Per: airtight.PerEnvelope, At: p})
			if err != nil || !(m.Low <= m.Value && m.Value <= m.High) || m.Uncertainty <= 0 {
				t.Fatalf("%+v, %v", m, err)
			}
		}
	})
}

// Whatever is measured, every number that leaves is finite, and hostile numbers are refused.
func TestNoNaNLeaves(t *testing.T) {
	hostile := rapid.OneOf(rapid.Float64(), rapid.SampledFrom([]float64{0, math.NaN(), math.Inf(1), math.Inf(-1), 1e-320, 1e308, -1e-320}), rapid.Float64Range(-100, 100))
	rapid.Check(t, func(t *rapid.T) {
		in := drawInput(t)
		for range rapid.IntRange(1, 4).Draw(t, "changes") {
			x := hostile.Draw(t, "x")
			s := &in.Series[0]
			i := rapid.IntRange(0, len(s.Readings)-1).Draw(t, "i")
			switch rapid.IntRange(0, 8).Draw(t, "where") {
			case 0:
				s.Readings[i].Pressure = q.Pressure(x)
			case 1, 2:
				s.Readings[i].Flow = q.AirFlow(x)
			case 3:
				s.Readings[i].Weight = x
			case 4:
				s.Before.All = q.Pressure(x)
			case 5:
				s.Inside.Temperature = q.Temperature(x)
			case 6:
				in.Building.Volume = q.Volume(x)
			case 7:
				s.Readings = s.Readings[:i]
				if i == 0 {
					s.Readings = append(s.Readings, airtight.Reading{Pressure: -20, Flow: 1e-300, Weight: 1}, airtight.Reading{Pressure: -20.0000001, Flow: 1, Weight: 1})
				}
			case 8:
				in.Gauge = q.Pressure(x)
			}
			if len(s.Readings) == 0 {
				break
			}
		}
		test, err := airtight.Analyse(in, airtight.ISO9972(), q.English)
		if err != nil {
			if !errors.Is(err, airtight.ErrInput) {
				t.Fatal(err)
			}
			return
		}
		allFinite(t, "test", reflect.ValueOf(test))
		for _, p := range []q.Pressure{1e-3, 4, 50, 1000} {
			f, err := test.At(p)
			allFinite(t, "flow", reflect.ValueOf(f))
			if err != nil {
				continue
			}
			a, err := airtight.AreaOf(f, airtight.SharpEdge)
			if err != nil {
				t.Fatal(err)
			}
			allFinite(t, "area", reflect.ValueOf(a))
			m, err := test.Measure(airtight.Metric{Per: airtight.PerVolume, At: p})
			allFinite(t, "figure", reflect.ValueOf(m))
			if err == nil && m.Value <= 0 {
				t.Fatalf("%+v", m)
			}
		}
	})
}

// allFinite walks a value and finds a float that is no number.
func allFinite(t *rapid.T, name string, v reflect.Value) {
	switch v.Kind() {
	case reflect.Float64:
		if x := v.Float(); math.IsNaN(x) || math.IsInf(x, 0) {
			t.Fatalf("%s is %v", name, x)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			allFinite(t, name+"."+v.Type().Field(i).Name, v.Field(i))
		}
	case reflect.Slice:
		for i := range v.Len() {
			allFinite(t, name, v.Index(i))
		}
	}
}

// The rules that no series of the reference breaks, one at a time; limits from rules.csv, wind near the ground and
// Beaufort by trade practice.
func TestOtherRules(t *testing.T) {
	for _, c := range []struct {
		name    string
		change  func(*airtight.Input)
		rules   airtight.Rules
		rule    airtight.Rule
		verdict airtight.Verdict
	}{
		{"wind near the ground", func(in *airtight.Input) { in.Weather.Ground = 3 }, airtight.ISO9972(), airtight.RuleGround, airtight.ValidWithWarning},
		{"wind force", func(in *airtight.Input) { in.Weather.Beaufort = 3 }, airtight.ISO9972(), airtight.RuleBeaufort, airtight.ValidWithWarning},
		{"few zero-flow values", func(in *airtight.Input) {
			in.Series[0].Before = airtight.AveragesOf(make([]q.Pressure, 9))
		}, airtight.ISO9972(), airtight.RuleSamples, airtight.ValidWithWarning},
		{"poor gauge", func(in *airtight.Input) { in.Parts.Gauge = 1.5 }, airtight.ISO9972(), airtight.RuleGauge, airtight.Valid},
		{"uncertain device", func(in *airtight.Input) { in.Parts.Device = 0.12 }, airtight.ISO9972(), airtight.RuleUncertainty, airtight.Valid},
		{"stack, strict", func(in *airtight.Input) { in.Building.Height, in.Series[0].Outside.Temperature = 10, -2 }, airtight.E779(), airtight.RuleStack, airtight.Invalid},
		{"one direction, strict", func(*airtight.Input) {}, airtight.E779(), airtight.RuleBothDirection, airtight.Invalid},
		{"above the range", func(in *airtight.Input) { *in = exact(7) }, airtight.CGSB149(), airtight.RuleRange, airtight.Invalid},
		{"one pressure", func(in *airtight.Input) {
			for i := range in.Series[0].Readings {
				in.Series[0].Readings[i].Pressure = -50
			}
		}, airtight.ISO9972(), airtight.RuleLine, airtight.DataError},
		{"no reading", func(in *airtight.Input) { in.Series[0].Readings = nil }, airtight.ISO9972(), airtight.RuleLine, airtight.DataError},
	} {
		in := exact(6)
		c.change(&in)
		test := analyse(t, in, c.rules)
		seen := false
		for _, b := range test.Breaches() {
			seen = seen || b.Rule == c.rule
		}
		if !seen || test.Verdict != c.verdict {
			t.Errorf("%s: %v, %+v", c.name, test.Verdict, test.Breaches())
		}
	}
	// The older edition: 280 m·K and an r² of 0.977 are no reason to object.
	_, tests := loadTests(t, checks)
	for _, id := range []string{"I06", "I11"} {
		if test := analyse(t, tests[id], airtight.EN13829()); test.Verdict != airtight.Valid {
			t.Errorf("%s by EN 13829: %v, %+v", id, test.Verdict, test.Breaches())
		}
	}
	// Sign and flow errors name the readings.
	for id, want := range map[string][]int{"I13": {3}, "I14": {2, 5}} {
		if b := analyse(t, tests[id], airtight.ISO9972()).Breaches()[0]; !reflect.DeepEqual(b.Readings, want) {
			t.Errorf("%s names %v, want %v: %s", id, b.Readings, want, b.Text)
		}
	}
}

// Two points have a line but no band; three of a wild series have one too wide to be a number.
func TestNoBand(t *testing.T) {
	f := flow(t, analyse(t, exact(2), airtight.ISO9972()), 50)
	if f.Banded || f.Low != f.Value || f.High != f.Value {
		t.Errorf("%+v", f)
	}
}

// Inputs that no test can have measured.
func TestRefusals(t *testing.T) {
	for name, change := range map[string]func(*airtight.Input){
		"no series":        func(in *airtight.Input) { in.Series = nil },
		"twice under":      func(in *airtight.Input) { in.Series = append(in.Series, in.Series[0]) },
		"hot":              func(in *airtight.Input) { in.Series[0].Inside.Temperature = 294 },
		"percent":          func(in *airtight.Input) { in.Series[0].Inside.Humidity = 45 },
		"hectopascals":     func(in *airtight.Input) { in.Series[0].Barometer = 1013 },
		"negative volume":  func(in *airtight.Input) { in.Building.Volume = -1 },
		"no weights":       func(in *airtight.Input) { in.Method = airtight.Weighted },
		"no uncertainties": func(in *airtight.Input) { in.Method = airtight.Iterated },
		"averages swapped": func(in *airtight.Input) { in.Series[0].Before.Positive = -1 },
		"device":           func(in *airtight.Input) { in.Parts.Device = 5 },
	} {
		in := exact(6)
		change(&in)
		if _, err := airtight.Analyse(in, airtight.ISO9972(), q.English); !errors.Is(err, airtight.ErrInput) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
