package airtight

import (
	"fmt"
	"math"

	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

// Direction is the sign of the pressure in the building.
type Direction uint8

// The directions.
const (
	Depressurise Direction = iota // under: inside pressure below outside
	Pressurise                    // over
)

// String names the direction.
func (d Direction) String() string { return [...]string{"depressurisation", "pressurisation"}[d] }

// sign is that of inside less outside pressure.
func (d Direction) sign() float64 { return float64(2*int(d) - 1) }

// Speed is an air speed in m/s.
type Speed float64

// Reading is one step of a series: pressures are inside less outside.
type Reading struct {
	Pressure q.Pressure // as measured, with its sign, baseline not taken off
	Flow     q.AirFlow  // in the fan, at the state of the air there
	Weight   float64    // > 0 where the fit is weighted; any scale
	Pos      diag.Pos
}

// Averages are the zero-flow pressures of one recording: fan sealed, at least 30 s.
type Averages struct {
	All      q.Pressure
	Positive q.Pressure // mean of the values above zero; 0: there are none
	Negative q.Pressure // mean of the values below zero; 0: there are none
	Samples  int        // 0: only the averages are known
}

// AveragesOf forms the averages of ISO 9972:2015 5.3.3 from the recorded values. Without values all are zero.
func AveragesOf(samples []q.Pressure) Averages {
	var all, above, below, nAbove, nBelow float64
	for _, s := range samples {
		all += float64(s)
		switch {
		case s > 0:
			above, nAbove = above+float64(s), nAbove+1
		case s < 0:
			below, nBelow = below+float64(s), nBelow+1
		}
	}
	mean := func(sum, n float64) q.Pressure { return q.Pressure(sum / max(n, 1)) }
	return Averages{All: mean(all, float64(len(samples))), Positive: mean(above, nAbove), Negative: mean(below, nBelow),
		Samples: len(samples)}
}

// worst is the largest magnitude among the averages.
func (a Averages) worst() q.Pressure {
	return q.Pressure(max(math.Abs(float64(a.All)), math.Abs(float64(a.Positive)), math.Abs(float64(a.Negative))))
}

// Series is one direction of a test.
type Series struct {
	Direction       Direction
	Inside, Outside Air
	Barometer       q.Pressure
	Before, After   Averages
	Readings        []Reading
}

// Building is what a flow is related to. A size of zero is not known, and no figure is formed from it.
type Building struct {
	Volume   q.Volume // V, internal
	Envelope q.Area   // AE
	Floor    q.Area   // AF
	Loss     q.Area   // heat-loss area without the lowest floor, as French rules take it
	Height   q.Length // of the tested part
}

// Weather is the wind during the test; zero is calm or not recorded.
type Weather struct {
	Wind     Speed // meteorological
	Ground   Speed // near the ground
	Beaufort int
}

// Input is a whole test: one or two directions.
type Input struct {
	Setup    Setup
	Building Building
	Weather  Weather
	Series   []Series
	Parts    Parts // uncertainties besides that of the line
	Method   FitMethod
	// Standard uncertainties of one reading, for Iterated: of ln q and of the pressure difference.
	LogFlow q.Ratio
	Gauge   q.Pressure
}

// check refuses what no test can have measured.
func (in Input) check() error {
	if len(in.Series) < 1 || len(in.Series) > 2 {
		return fmt.Errorf("%w: %d series, a test has one or two directions", ErrInput, len(in.Series))
	}
	if len(in.Series) == 2 && in.Series[0].Direction == in.Series[1].Direction {
		return fmt.Errorf("%w: both series are of %v", ErrInput, in.Series[0].Direction)
	}
	b, w := in.Building, in.Weather
	for _, x := range []float64{float64(b.Volume), float64(b.Envelope), float64(b.Floor), float64(b.Loss), float64(b.Height),
		float64(w.Wind), float64(w.Ground), float64(in.LogFlow), float64(in.Gauge)} {
		if !within(x, 0, 1e9) {
			return fmt.Errorf("%w: a size, wind speed or uncertainty of %v", ErrInput, x)
		}
	}
	if err := in.Parts.check(); err != nil {
		return err
	}
	if in.Method == Iterated && in.LogFlow == 0 && in.Gauge == 0 {
		return fmt.Errorf("%w: iterated weights need the uncertainty of flow or pressure", ErrInput)
	}
	for _, s := range in.Series {
		if err := s.check(in.Method); err != nil {
			return err
		}
	}
	return nil
}

func (s Series) check(method FitMethod) error {
	for _, a := range []Averages{s.Before, s.After} {
		if !within(float64(a.worst()), 0, 1000) || a.Positive < 0 || a.Negative > 0 {
			return fmt.Errorf("%w: zero-flow averages %v, %v, %v Pa", ErrInput, a.All, a.Positive, a.Negative)
		}
	}
	for i, r := range s.Readings {
		if !within(float64(r.Pressure), -1e4, 1e4) || !within(float64(r.Flow), -1e5, 1e5) {
			return fmt.Errorf("%w: reading %d is %v Pa, %v m³/s", ErrInput, i+1, float64(r.Pressure), float64(r.Flow))
		}
		if method == Weighted && !within(r.Weight, 1e-12, 1e12) {
			return fmt.Errorf("%w: reading %d has the weight %v", ErrInput, i+1, r.Weight)
		}
	}
	return nil
}
