package transient_test

import (
	"context"
	"errors"
	"math"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"lapwork/generator/calc/transient"
	q "lapwork/generator/quantity"
)

// anyWall draws a wall of one to six layers out of the fixtures.
func anyWall(t *rapid.T) transient.Wall {
	w := transient.Wall{Start: q.Ratio(rapid.Float64Range(0.05, 1).Draw(t, "start")), Temperature: q.Temperature(rapid.Float64Range(-10, 30).Draw(t, "temperature")),
		Inside:  transient.Surface{R: 0.13, Sd: q.SdValue(rapid.SampledFrom([]float64{0, 0.01, 3}).Draw(t, "sd inside"))},
		Outside: transient.Surface{R: 0.04, Sd: q.SdValue(rapid.SampledFrom([]float64{0, 0.003, 100}).Draw(t, "sd outside"))}}
	for range rapid.IntRange(1, 6).Draw(t, "layers") {
		d := q.Length(rapid.Float64Range(0.002, 0.3).Draw(t, "thickness"))
		l := transient.Layer{Thickness: d, BuiltIn: transient.MassPerArea(rapid.SampledFrom([]float64{0, 0, 0.5, 20}).Draw(t, "built in"))}
		switch k := rapid.IntRange(0, 7).Draw(t, "kind"); k {
		case 0:
			l.Name, l.Material = "OSB", osb()
		case 1:
			l.Name, l.Material = "fibre", woodFibre()
		case 2:
			l.Name, l.Material = "gypsum", gypsum()
		case 3:
			l.Name, l.Material = "wool", wool()
		case 4:
			l.Name, l.Material = "benchmark", benchMaterial()
		case 7:
			l.Name, l.Material = "brick", brick()
		case 5:
			l = transient.Layer{Name: "film", Film: variableFilm()}
		case 6:
			f := transient.FixedFilm(q.SdValue(rapid.SampledFrom([]float64{0, 0.02, 100, 1e5}).Draw(t, "sd")))
			l = transient.Layer{Name: "fixed", Film: &f}
		}
		w.Layers = append(w.Layers, l)
	}
	return w
}

// anyClimate draws some days of weather that jumps from hour to hour.
func anyClimate(t *rapid.T) transient.Climate {
	n := 24 * rapid.IntRange(1, 3).Draw(t, "days")
	te := rapid.Float64Range(-20, 35).Draw(t, "te")
	jump := rapid.Float64Range(0, 15).Draw(t, "jump")
	out := make(transient.Climate, n)
	for i := range out {
		t2 := te + jump*math.Sin(float64(i*i))
		out[i] = transient.Hour{Inside: moist(20, 0.5), Outside: moist(t2, 0.5+0.5*math.Sin(float64(i))), Absorbed: q.Irradiance(300 * math.Max(0, math.Sin(float64(i)/4)))}
	}
	return out
}

// TestLawsOfAnyRun: no error but a stated one, nothing that is not a number, humidities between 0 and 1, temperatures
// within what air, sun and start can reach, water never below zero, closed balances, and the same again from the same.
func TestLawsOfAnyRun(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, c := anyWall(t), anyClimate(t)
		o := transient.Options{Years: 2, Profiles: []int{1}, Steps: 20000}
		r, err := transient.Simulate(context.Background(), w, c, o)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range r.Profiles[0].At {
			if !(p.Humidity > 0 && p.Humidity <= 1 && p.Temperature > -45 && p.Temperature < 90 && p.Free >= 0 && p.Content >= 0 && p.Pressure >= 0) {
				t.Fatalf("%+v", p)
			}
		}
		// What the last step left open: at most 0.1 g/m² and 0.01 K at each of up to 100 nodes; for these walls 1 g/m² and 20 kJ/m².
		if r.Balance.Water > 0.001 || r.Balance.Heat > 2e4 || math.IsNaN(float64(r.Balance.Heat)) {
			t.Fatalf("%+v", r.Balance)
		}
		for _, p := range r.Interfaces {
			if !slices.IsSorted(p.Counted) || p.Counted[len(p.Counted)-1] != p.Above[0] || p.Above[0] < p.Above[1] {
				t.Fatalf("hours above %v: %v, by day %v", p.Limits, p.Above, p.Counted)
			}
		}
		again, err := transient.Simulate(context.Background(), w, c, o)
		if err != nil || !reflect.DeepEqual(r, again) {
			t.Fatalf("another result from the same input: %v", err)
		}
	})
}

// turned gives the wall and its climate seen from the other side.
func turned(w transient.Wall, c transient.Climate) (transient.Wall, transient.Climate) {
	w.Layers = slices.Clone(w.Layers)
	slices.Reverse(w.Layers)
	w.Inside, w.Outside = w.Outside, w.Inside
	c = slices.Clone(c)
	for i := range c {
		c[i].Inside, c[i].Outside = c[i].Outside, c[i].Inside
		c[i].Absorbed = 0
	}
	return w, c
}

// TestTurnedWallBehavesTheSame: layers and climate mirrored, everything else mirrored. Without sun, which only the outer
// surface has. The order of the sums differs in the last digit, so a step may just be accepted here and be refused there: one
// twentieth of the error that a step may have, 0.0004 of humidity and 0.02 K.
func TestTurnedWallBehavesTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, c := anyWall(t), anyClimate(t)
		for i := range c {
			c[i].Absorbed = 0
		}
		o := transient.Options{Years: 1, Profiles: []int{1}, Steps: 20000}
		a, err := transient.Simulate(context.Background(), w, c, o)
		if err != nil {
			t.Fatal(err)
		}
		w2, c2 := turned(w, c)
		b, err := transient.Simulate(context.Background(), w2, c2, o)
		if err != nil {
			t.Fatal(err)
		}
		at, bt := a.Profiles[0].At, b.Profiles[0].At
		for i := range at {
			p, m := at[i], bt[len(bt)-1-i]
			if math.Abs(float64(p.Humidity-m.Humidity)) > 4e-4 || math.Abs(float64(p.Temperature-m.Temperature)) > 0.02 {
				t.Fatalf("plane %d: %+v, mirrored %+v", i, p, m)
			}
		}
	})
}

// TestSplittingALayerChangesNothing: a layer given as two of the same material is meshed anew, nothing else. Tolerance: the
// change of the mesh, 0.4 % of a layer's water and 0.1 kg/m³.
func TestSplittingALayerChangesNothing(t *testing.T) {
	w, c := timberWall(), mannheim(t, 3)
	whole := simulate(t, w, c, transient.Options{Years: 1})
	for _, k := range []int{0, 2, 3, 4} {
		split := w
		split.Layers = slices.Clone(w.Layers)
		half := w.Layers[k]
		half.Thickness /= 2
		split.Layers[k] = half
		split.Layers = slices.Insert(split.Layers, k, half)
		r := simulate(t, split, c, transient.Options{Years: 1})
		want, got := whole.Layers[k], [2]transient.LayerYear{r.Layers[k], r.Layers[k+1]}
		for d := range want.Water {
			sum := float64(got[0].Water[d] + got[1].Water[d])
			near(t, want.Name, sum, float64(want.Water[d]), 0.004*float64(want.Water[d])+1e-4)
		}
		for i, l := range r.Layers {
			j := i
			if i > k {
				j--
			}
			if j != k {
				near(t, l.Name, float64(l.Mean), float64(whole.Layers[j].Mean), 0.1)
			}
		}
	}
}

// TestSmoothKeepsTheMonthlyMeans: with no swing and no humidity near saturation, each month's mean is the given one.
func TestSmoothKeepsTheMonthlyMeans(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		first := rapid.IntRange(0, 11).Draw(t, "first")
		var months []transient.Month
		for i := range 12 {
			te := rapid.Float64Range(0, 25).Draw(t, "te")
			months = append(months, transient.Month{Month: (first+i)%12 + 1, Inside: moist(20, 0.5), Outside: transient.Air{T: q.Temperature(te), P: 200}, Absorbed: q.Irradiance(te)})
		}
		c, err := transient.Smooth(months, 0)
		if err != nil {
			t.Fatal(err)
		}
		k := 0
		for _, m := range months {
			n := 24 * [12]int{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}[m.Month-1]
			sum := transient.Hour{}
			for range n {
				sum.Outside.T += c[k].Outside.T / q.Temperature(n)
				sum.Outside.P += c[k].Outside.P / q.Pressure(n)
				sum.Absorbed += c[k].Absorbed / q.Irradiance(n)
				k++
			}
			// The repeated correction leaves less than 1e-6; the hours' middles on a bent line the rest.
			if math.Abs(float64(sum.Outside.T-m.Outside.T)) > 1e-3 || math.Abs(float64(sum.Absorbed-m.Absorbed)) > 1e-3 || math.Abs(float64(sum.Outside.P-200)) > 1e-6 {
				t.Fatalf("month %d: %+v, want %+v", m.Month, sum, m)
			}
		}
		if k != len(c) || k != 8760 {
			t.Fatalf("%d hours", len(c))
		}
	})
}

func TestMissingStorageIsRefused(t *testing.T) {
	w := timberWall()
	w.Layers[3].Material.Storage = nil
	_, err := transient.Simulate(context.Background(), w, constant(1, 20, 0.5, 0, 0.8), transient.Options{})
	var missing transient.MissingStorage
	if !errors.Is(err, transient.ErrStorage) || !errors.As(err, &missing) || missing.Layer != "OSB" {
		t.Errorf("%v", err)
	}
	w.Layers[3].Material.Storage = transient.Isotherm{}
	if _, err = transient.Simulate(context.Background(), w, constant(1, 20, 0.5, 0, 0.8), transient.Options{}); !errors.Is(err, transient.ErrStorage) {
		t.Errorf("empty isotherm: %v", err)
	}
}

func TestBoundedEffort(t *testing.T) {
	w, c := timberWall(), mannheim(t, 0)
	if _, err := transient.Simulate(context.Background(), w, c, transient.Options{Steps: 100}); !errors.Is(err, transient.ErrSteps) {
		t.Errorf("step limit: %v", err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := transient.Simulate(ctx, w, c, transient.Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
}
