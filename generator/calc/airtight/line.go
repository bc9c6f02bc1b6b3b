package airtight

import (
	"errors"
	"fmt"
	"math"
	"slices"

	q "lapwork/generator/quantity"
)

// FlowCoefficient is the C of q = C dp^n in m³/(s·Paⁿ).
type FlowCoefficient float64

// PerHour gives the coefficient in m³/(h·Paⁿ), as reports print it.
func (c FlowCoefficient) PerHour() float64 { return float64(c) * 3600 }

// Confidence is that of every interval here.
const Confidence = 0.95

// Bounds outside which a line is no law of flow, and no figure is formed from it.
const (
	maxExponent = 5.0
	maxPressure = 1000.0 // Pa
)

// ErrNoLine is wrapped where a figure is asked of a direction whose readings do not give a line.
var ErrNoLine = errors.New("airtight: the readings give no line")

// Point is a reading after the corrections.
type Point struct {
	Induced  q.Pressure // magnitude
	Envelope q.AirFlow
}

// Fit is the fitted line of one direction. The intervals are of the line, not of one reading, and multiplicative.
type Fit struct {
	Method                          FitMethod
	Points                          int
	Exponent                        float64
	Envelope                        FlowCoefficient // C_env
	Coefficient                     FlowCoefficient // C_L, at the reference state
	R2                              float64         // of the logarithms
	SlopeError, LogError            float64         // s_n and s_lnC
	T                               float64         // Student's t for Points − 2
	Banded                          bool            // false with two points: no interval can be given
	ExponentLow, ExponentHigh       float64
	CoefficientLow, CoefficientHigh FlowCoefficient
}

// Line is the result of one direction.
type Line struct {
	Direction       Direction
	Inside, Outside Density
	Zero            q.Pressure // mean of the zero-flow averages before and after, signed
	WorstZero       q.Pressure // largest magnitude of any of the averages
	Points          []Point    // in the order of the readings
	Lowest, Highest q.Pressure
	Step            q.Pressure // largest between neighbouring pressures
	Fitted          bool       // false: data errors, see Breaches
	Fit             Fit
	Verdict         Verdict
	Breaches        []Breach // in the order the rules are checked

	line      line
	reference float64 // C_L/C_env
}

// Flow is a flow at a pressure, at the reference state, with its 95 % band.
type Flow struct {
	At               q.Pressure
	Value, Low, High q.AirFlow
	Banded           bool // false: Low and High equal Value because no interval is known
	Extrapolated     bool // outside the pressures measured
	OneDirection     bool
}

// At is the flow at a pressure (up to 1000 Pa, else ErrInput), C_L dp^n.
func (l Line) At(p q.Pressure) (Flow, error) {
	if !l.Fitted {
		return Flow{}, fmt.Errorf("%w: %v", ErrNoLine, l.Direction)
	}
	if !within(float64(p), 1e-3, maxPressure) {
		return Flow{}, fmt.Errorf("%w: a pressure of %v Pa", ErrInput, float64(p))
	}
	x := math.Log(float64(p))
	value := float64(l.Fit.Coefficient) * math.Exp(l.Fit.Exponent*x)
	f := Flow{At: p, Value: q.AirFlow(value), Banded: l.Fit.Banded, OneDirection: true,
		Extrapolated: p < l.Lowest-decimal || p > l.Highest+decimal}
	spread := 1.0
	if f.Banded {
		spread = math.Exp(l.Fit.T * l.line.errorAt(x))
	}
	f.Low, f.High = q.AirFlow(value/spread), q.AirFlow(value*spread)
	return f, nil
}

// decimal allows for readings being decimals: their differences miss by the last bits.
const decimal = 1e-6

// correct takes off the baseline and brings the flows to the envelope. The input has been checked.
func correct(s Series) (Line, error) {
	l := Line{Direction: s.Direction, Zero: (s.Before.All + s.After.All) / 2, WorstZero: max(s.Before.worst(), s.After.worst())}
	var err error
	if l.Inside, err = s.Inside.Density(s.Barometer); err != nil {
		return l, err
	}
	if l.Outside, err = s.Outside.Density(s.Barometer); err != nil {
		return l, err
	}
	ratio := float64(l.Inside / l.Outside)
	if s.Direction == Pressurise {
		ratio = 1 / ratio
	}
	var sorted []q.Pressure
	for _, r := range s.Readings {
		p := Point{q.Pressure(s.Direction.sign()) * (r.Pressure - l.Zero), r.Flow * q.AirFlow(ratio)}
		l.Points = append(l.Points, p)
		sorted = append(sorted, p.Induced)
	}
	slices.Sort(sorted)
	if len(sorted) > 0 {
		l.Lowest, l.Highest = sorted[0], sorted[len(sorted)-1]
	}
	for i := 1; i < len(sorted); i++ {
		l.Step = max(l.Step, sorted[i]-sorted[i-1])
	}
	return l, nil
}

// fit puts the line through the corrected points, all of which are above zero; ok is false where there is none.
func (l *Line) fit(in Input, s Series, viscosity bool) (ok bool) {
	points := make([]point, len(l.Points))
	for i, p := range l.Points {
		points[i] = point{math.Log(float64(p.Induced)), math.Log(float64(p.Envelope)), 1}
		if in.Method == Weighted {
			points[i].w = s.Readings[i].Weight
		}
	}
	switch in.Method {
	case Iterated:
		l.line, ok = iterated(points, float64(in.LogFlow), float64(in.Gauge))
	default:
		l.line, ok = leastSquares(points)
	}
	if ok && in.Method == Organic {
		l.line = l.line.organic()
	}
	if !ok || !within(l.line.n, -maxExponent, maxExponent) {
		return false
	}
	inflow, density := s.Outside, l.Outside
	if s.Direction == Pressurise {
		inflow, density = s.Inside, l.Inside
	}
	n := l.line.n
	l.reference = math.Pow(float64(density/ReferenceDensity), 1-n)
	if viscosity {
		l.reference *= math.Pow(float64(inflow.Viscosity()/Air{Temperature: ReferenceTemperature}.Viscosity()), 2*n-1)
	}
	l.Fit = l.line.report(in.Method, l.reference)
	// Far outside of any building; within them no power of a pressure leaves the range of numbers.
	l.Fitted = within(float64(l.Fit.Coefficient), 1e-30, 1e30) && within(float64(l.Fit.Envelope), 1e-30, 1e30)
	return l.Fitted
}

// widest is the largest logarithm of a band's half-width that is still an interval; beyond it nothing is known.
const widest = 20

// report turns the line into its figures, with intervals where there are degrees of freedom for one.
func (l line) report(method FitMethod, reference float64) Fit {
	f := Fit{Method: method, Points: l.count, Exponent: l.n, R2: l.r2, SlopeError: l.slopeError(), LogError: l.errorAt(0),
		Envelope: FlowCoefficient(math.Exp(l.a))}
	f.Coefficient = f.Envelope * FlowCoefficient(reference)
	f.ExponentLow, f.ExponentHigh, f.CoefficientLow, f.CoefficientHigh = l.n, l.n, f.Coefficient, f.Coefficient
	t, err := StudentT(Confidence, l.count-2)
	if err != nil {
		return f
	}
	f.T = t
	// 0.001 Pa and 1000 Pa are the ends of what may be asked of the line.
	if t*max(l.errorAt(math.Log(1e-3)), l.errorAt(math.Log(maxPressure))) > widest {
		return f
	}
	f.Banded = true
	f.ExponentLow, f.ExponentHigh = l.n-t*f.SlopeError, l.n+t*f.SlopeError
	spread := FlowCoefficient(math.Exp(t * f.LogError))
	f.CoefficientLow, f.CoefficientHigh = f.Coefficient/spread, f.Coefficient*spread
	return f
}

// Off is how far reading i lies off the fitted line, as a share of the line's flow; false without a line or such a reading.
func (l Line) Off(i int) (off float64, ok bool) {
	if !l.Fitted || i < 0 || i >= len(l.Points) || l.Points[i].Induced <= 0 {
		return 0, false
	}
	on := float64(l.Fit.Envelope) * math.Pow(float64(l.Points[i].Induced), l.Fit.Exponent)
	return float64(l.Points[i].Envelope)/on - 1, true
}
