package airtight

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	q "lapwork/generator/quantity"
)

// Denominator is what a flow is divided by.
type Denominator uint8

// The denominators.
const (
	PerVolume   Denominator = iota // V, internal volume
	PerEnvelope                    // AE, envelope area
	PerFloor                       // AF, floor area
	PerLoss                        // heat-loss area without the lowest floor
)

var denominators = [...]struct{ prefix, words string }{
	{"n", "internal volume"}, {"qE", "envelope area"}, {"qF", "floor area"}, {"qL", "heat-loss area without the lowest floor"},
}

// String names the denominator.
func (d Denominator) String() string { return denominators[d].words }

// Metric is what a figure of airtightness is: a flow at a pressure over a denominator. Two figures compare only if their
// metrics are equal.
type Metric struct {
	Per Denominator
	At  q.Pressure
}

// N50 is the air change rate at 50 Pa.
func N50() Metric { return Metric{PerVolume, 50} }

// QE50 is the air permeability per envelope area at 50 Pa.
func QE50() Metric { return Metric{PerEnvelope, 50} }

// QF50 is the specific leakage rate per floor area at 50 Pa.
func QF50() Metric { return Metric{PerFloor, 50} }

// String gives the name in the manner of ISO 9972:2015: n50, qE50, qF4.
func (m Metric) String() string {
	return denominators[m.Per].prefix + strconv.FormatFloat(float64(m.At), 'g', -1, 64)
}

// Unit is the unit every figure of the metric has here.
func (m Metric) Unit() string {
	if m.Per == PerVolume {
		return "1/h"
	}
	return "m³/(h·m²)"
}

// ErrMetric is wrapped where a name is none of a metric, or two metrics do not match.
var ErrMetric = errors.New("airtight: not this figure")

// ParseMetric reads n50, qE50, qF50 and the like at other pressures. Names of the older standard that mean something
// else today are refused; the error says what to write.
func ParseMetric(name string) (Metric, error) {
	switch lower := strings.ToLower(name); {
	case strings.HasPrefix(lower, "ach"):
		return Metric{}, fmt.Errorf("%w: %q; ISO 9972:2015 calls an air change rate n50", ErrMetric, name)
	case strings.HasPrefix(lower, "w") || strings.HasPrefix(lower, "v"):
		return Metric{}, fmt.Errorf("%w: %q; say qF50 for a rate per floor area, qE50 for one per envelope area", ErrMetric, name)
	case len(lower) > 1 && lower[0] == 'q' && lower[1] >= '0' && lower[1] <= '9':
		return Metric{}, fmt.Errorf("%w: %q is a flow in m³/h since ISO 9972:2015; EN 13829:2000 wrote q50 for the rate per envelope area, which is qE50 now: say qE50, qF50 or n50", ErrMetric, name)
	}
	for d := PerLoss + 1; d > 0; d-- {
		per := d - 1
		rest, ok := strings.CutPrefix(name, denominators[per].prefix)
		if !ok {
			continue
		}
		if p, err := strconv.ParseFloat(rest, 64); err == nil && within(p, 1, maxPressure) {
			return Metric{per, q.Pressure(p)}, nil
		}
	}
	return Metric{}, fmt.Errorf("%w: %q; known are n50, qE50, qF50 and qL4, also at other pressures", ErrMetric, name)
}

// Figure is a value in the unit of its metric: 1/h, or m³/(h·m²).
type Figure float64

// Measured is a figure with its overall 95 % band and what has to be said with it.
type Measured struct {
	Metric           Metric
	Value, Low, High Figure
	Banded           bool // false: no interval of the line is known
	Uncertainty      q.Ratio
	OneDirection     bool
	Extrapolated     bool
	Verdict          Verdict
}

// Rate is the figure as an air change rate; ok is false for another metric.
func (m Measured) Rate() (r q.AirChangeRate, ok bool) {
	return q.AirChangeRate(m.Value), m.Metric.Per == PerVolume
}

// Permeability is the figure as a rate per area; ok is false for an air change rate.
func (m Measured) Permeability() (p q.AirPermeability, ok bool) {
	return q.AirPermeability(m.Value), m.Metric.Per != PerVolume
}

// size gives the denominator in m³ or m².
func (b Building) size(d Denominator) float64 {
	return [...]float64{float64(b.Volume), float64(b.Envelope), float64(b.Floor), float64(b.Loss)}[d]
}

// Measure forms a metric from the test: the flow at the metric's own pressure, by the measured exponent, over its own
// denominator. The band holds the line's part, the device, the gauge and the denominator. Errors: ErrMetric if the
// denominator is not known, ErrNoLine.
func (t Test) Measure(m Metric) (Measured, error) {
	if m.Per > PerLoss {
		return Measured{}, fmt.Errorf("%w: unknown denominator", ErrMetric)
	}
	size := t.Building.size(m.Per)
	if !(size > 0) {
		return Measured{}, fmt.Errorf("%w: %v needs the %v", ErrMetric, m, m.Per)
	}
	f, err := t.At(m.At)
	if err != nil {
		return Measured{}, err
	}
	n, err := t.Exponent(m.At)
	if err != nil {
		return Measured{}, err
	}
	value := float64(f.Value) * 3600 / size
	up := t.parts.combine(q.Ratio(f.High/f.Value-1), n, m.At)
	down := t.parts.combine(q.Ratio(1-f.Low/f.Value), n, m.At)
	out := Measured{Metric: m, Value: Figure(value), Banded: f.Banded, Uncertainty: max(up, down), OneDirection: f.OneDirection,
		Extrapolated: f.Extrapolated, Verdict: t.Verdict}
	out.Low, out.High = Figure(value*max(0, 1-float64(down))), Figure(value*(1+float64(up)))
	if !finite(float64(out.High)) {
		return Measured{}, fmt.Errorf("%w: %v of this test is beyond numbers", ErrNoLine, m)
	}
	return out, nil
}

// ToPressure converts a figure to another pressure by the power law: value (to/from)^n. The exponent must be the measured
// one; a fixed 0.65 is no measurement. Pressures within 0.001 … 1000 Pa, exponent within ±5, else ErrInput.
func ToPressure(value Figure, from, to q.Pressure, exponent float64) (Figure, error) {
	if !within(float64(from), 1e-3, maxPressure) || !within(float64(to), 1e-3, maxPressure) ||
		!within(exponent, -maxExponent, maxExponent) || !within(float64(value), 0, 1e12) {
		return 0, fmt.Errorf("%w: %v from %v Pa to %v Pa with exponent %v", ErrInput, float64(value), float64(from), float64(to), exponent)
	}
	return value * Figure(math.Pow(float64(to/from), exponent)), nil
}

// Over converts a figure to another denominator of the same building: n50 = qE50 AE/V. ErrMetric if one is not known.
func (b Building) Over(value Figure, from, to Denominator) (Figure, error) {
	if from > PerLoss || to > PerLoss || !(b.size(from) > 0) || !(b.size(to) > 0) || !finite(float64(value)) {
		return 0, fmt.Errorf("%w: from %v to %v both sizes are needed", ErrMetric, from, to)
	}
	return Figure(float64(value) * b.size(from) / b.size(to)), nil
}
