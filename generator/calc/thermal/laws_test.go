package thermal_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"lapwork/generator/calc/thermal"
	_ "lapwork/generator/lawtest"
	"lapwork/generator/lawtest/values"
	q "lapwork/generator/quantity"
)

// drawElement draws an element of up to six layers, some bridged, some on a common grid.
func drawElement(t *rapid.T) thermal.Element {
	e := thermal.Element{Films: thermal.FilmsFor(thermal.Horizontal, thermal.OutsideAir)}
	share := q.Ratio(rapid.Float64Range(0, 0.3).Draw(t, "share of the grid"))
	for range rapid.IntRange(1, 6).Draw(t, "layers") {
		r := thermal.Resistance(rapid.Float64Range(0.05, 5).Draw(t, "r"))
		member := r * thermal.Resistance(rapid.Float64Range(0.2, 1).Draw(t, "member"))
		switch rapid.IntRange(0, 2).Draw(t, "kind") {
		case 0:
			e.Layers = append(e.Layers, thermal.Plain("plain", r))
		case 1:
			e.Layers = append(e.Layers, thermal.Bridged("own", r, q.Ratio(rapid.Float64Range(0, 0.4).Draw(t, "f")), member))
		case 2:
			l := thermal.Bridged("studs", r, share, member)
			l.Grid = "studs"
			e.Layers = append(e.Layers, l)
		}
	}
	return e
}

func resistance(t interface{ Fatal(...any) }, e thermal.Element) thermal.Combined {
	c, err := e.Resistance()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// The limits bracket the result and the paths cover the area once.
func TestLimitsBracket(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := resistance(t, drawElement(t))
		var area float64
		for _, p := range c.Paths {
			area += float64(p.Fraction)
		}
		if c.Lower > c.Upper*(1+1e-12) || math.Abs(area-1) > 1e-9 || math.Abs(float64(c.Total-(c.Upper+c.Lower)/2)) > 1e-12 {
			t.Fatalf("upper %v, lower %v, total %v, area %v", c.Upper, c.Lower, c.Total, area)
		}
	})
}

// Heat does not know inside from outside: the element turned round, films included, has the same resistance.
func TestTurnedRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := drawElement(t)
		turned := thermal.Element{Films: thermal.Films{Inside: e.Films.Outside, Outside: e.Films.Inside}}
		for i := len(e.Layers) - 1; i >= 0; i-- {
			turned.Layers = append(turned.Layers, e.Layers[i])
		}
		a, b := resistance(t, e), resistance(t, turned)
		if math.Abs(float64(a.Total-b.Total)) > 1e-9 {
			t.Fatalf("%v one way, %v the other", a.Total, b.Total)
		}
	})
}

// A layer cut into two slices on its own grid changes neither limit of a plain layer, and the upper limit of a bridged
// one: the same members run through both slices.
func TestSplitLayer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := drawElement(t)
		i := rapid.IntRange(0, len(e.Layers)-1).Draw(t, "which")
		cut := thermal.Resistance(rapid.Float64Range(0.1, 0.9).Draw(t, "cut"))
		a, b := e.Layers[i], e.Layers[i]
		if a.Grid == "" {
			a.Grid, b.Grid = "split", "split"
		}
		a.Parts, b.Parts = nil, nil
		for _, p := range e.Layers[i].Parts {
			first, second := p, p
			first.R, second.R = p.R*cut, p.R*(1-cut)
			a.Parts, b.Parts = append(a.Parts, first), append(b.Parts, second)
		}
		split := e
		split.Layers = append(append(append([]thermal.Layer{}, e.Layers[:i]...), a, b), e.Layers[i+1:]...)
		one, two := resistance(t, e), resistance(t, split)
		if math.Abs(float64(one.Upper-two.Upper)) > 1e-9 || math.Abs(float64(one.Lower-two.Lower)) > 1e-9 {
			t.Fatalf("whole %v/%v, split %v/%v", one.Upper, one.Lower, two.Upper, two.Lower)
		}
	})
}

// More resistance anywhere never lowers the total.
func TestMoreResistanceNeverLowers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := drawElement(t)
		before := resistance(t, e)
		i := rapid.IntRange(0, len(e.Layers)-1).Draw(t, "layer")
		j := rapid.IntRange(0, len(e.Layers[i].Parts)-1).Draw(t, "part")
		e.Layers[i].Parts[j].R += thermal.Resistance(rapid.Float64Range(0, 3).Draw(t, "more"))
		if after := resistance(t, e); after.Total < before.Total-1e-12 {
			t.Fatalf("%v fell to %v", before.Total, after.Total)
		}
	})
}

// Studs and crossing battens: fractions multiply, four paths. By hand: films 0.17, layers 2.0|1.0 with 10 % and
// 1.0|0.4 with 20 %: 0.72/3.17 + 0.18/2.57 + 0.08/2.17 + 0.02/1.57 = 0.346774; lower 0.17 + 1/0.55 + 1/1.3 = 2.757413.
func TestCrossingMembers(t *testing.T) {
	e := thermal.Element{Films: thermal.FilmsFor(thermal.Horizontal, thermal.OutsideAir),
		Layers: []thermal.Layer{thermal.Bridged("studs", 2, 0.1, 1), thermal.Bridged("battens", 1, 0.2, 0.4)}}
	c := resistance(t, e)
	values.Within(t, "upper", float64(c.Upper), 1/(0.72/3.17+0.18/2.57+0.08/2.17+0.02/1.57), 1e-12)
	values.Within(t, "lower", float64(c.Lower), 0.17+1/0.55+1/1.3, 1e-12)
	if len(c.Paths) != 4 {
		t.Errorf("%d paths", len(c.Paths))
	}
}

func TestMetalInInsulationIsRefused(t *testing.T) {
	l := thermal.Bridged("wool between steel studs", 3, 0.002, 0.9)
	l.Parts[1].Metal = true
	c := resistance(t, thermal.Element{Films: thermal.FilmsFor(thermal.Horizontal, thermal.OutsideAir), Layers: []thermal.Layer{l}})
	if _, err := c.Transmittance(); !errors.Is(err, thermal.ErrRefused) {
		t.Errorf("steel studs accepted: %v", err)
	}
}

func TestDirections(t *testing.T) {
	for _, c := range []struct {
		pitch q.Degrees
		warm  bool
		want  thermal.Direction
	}{{0, true, thermal.Upward}, {0, false, thermal.Downward}, {45, true, thermal.Upward}, {59.9, true, thermal.Upward},
		{60, true, thermal.Horizontal}, {90, false, thermal.Horizontal}} {
		if got, err := thermal.DirectionAt(c.pitch, c.warm); err != nil || got != c.want {
			t.Errorf("pitch %v, warm side below %v: %v (%v), want %v", c.pitch, c.warm, got, err, c.want)
		}
	}
}

// Half way between 25 mm (0.18) and 15 mm (0.17), EN ISO 6946 allows linear interpolation in R.
func TestAirTableInterpolates(t *testing.T) {
	values.Within(t, "20 mm", float64(values.Must[thermal.Resistance](t)(thermal.TableAirLayer(20, thermal.Horizontal))), 0.175, 1e-12)
	values.Within(t, "200 mm", float64(values.Must[thermal.Resistance](t)(thermal.TableAirLayer(200, thermal.Downward))), 0.225, 1e-12)
}

func TestDeclared(t *testing.T) {
	for u, want := range map[thermal.Transmittance]thermal.Transmittance{0.28786: 0.29, 0.1449: 0.14, 1.268: 1.3, 0.0996: 0.1} {
		if got := u.Declared(); got != want {
			t.Errorf("%v declared as %v, want %v", u, got, want)
		}
	}
}

func TestWhatTheMethodRefuses(t *testing.T) {
	nan := math.NaN()
	layer := func(parts ...thermal.Part) func() error {
		return func() error {
			_, err := thermal.Element{Films: thermal.SurfaceFilms(), Layers: []thermal.Layer{{Parts: parts}}}.Resistance()
			return err
		}
	}
	for name, call := range map[string]func() error{
		"thick air":     func() error { _, err := thermal.TableAirLayer(301, thermal.Upward); return err },
		"thick formula": func() error { _, err := thermal.AirLayer{Thickness: 301}.Resistance(); return err },
		"void": func() error {
			_, err := thermal.AirLayer{Thickness: 50, NarrowestSide: 0.1, Emissivity: [2]q.Ratio{0.9, 0.9}}.Resistance()
			return err
		},
		"emissivity":   func() error { _, err := thermal.AirLayer{Thickness: 20}.Resistance(); return err },
		"pitch":        func() error { _, err := thermal.DirectionAt(91, true); return err },
		"lambda":       func() error { _, err := thermal.Of(0.1, 0); return err },
		"nan":          layer(thermal.Part{Fraction: 1, R: thermal.Resistance(nan)}),
		"sum":          layer(thermal.Part{Fraction: 0.5, R: 1}),
		"negative":     layer(thermal.Part{Fraction: 1.5, R: 1}, thermal.Part{Fraction: -0.5, R: 1}),
		"zero member":  layer(thermal.Part{Fraction: 0.5, R: 1}, thermal.Part{Fraction: 0.5, R: 0}),
		"openings":     func() error { _, err := thermal.Ventilated(-1, 1, 1); return err },
		"layer in sum": func() error { _, err := thermal.GapsThrough.Correction(3, 2); return err },
		"level":        func() error { _, err := thermal.Gaps(3).Correction(1, 2); return err },
		"fixing":       func() error { _, err := thermal.Fixing{}.Correction(1, 2); return err },
		"no films":     func() error { _, err := thermal.Element{}.Resistance(); return err },
	} {
		if err := call(); !errors.Is(err, thermal.ErrRange) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
