package airtight

import (
	"fmt"
	"math"

	q "lapwork/generator/quantity"
)

// Parts are the relative 95 % uncertainties of a result besides that of the fitted line.
type Parts struct {
	Device      q.Ratio    // flow device
	Gauge       q.Pressure // pressure gauge; counts n u/dp
	Denominator q.Ratio    // volume or area
}

func (p Parts) check() error {
	if !within(float64(p.Device), 0, 1) || !within(float64(p.Gauge), 0, 100) || !within(float64(p.Denominator), 0, 1) {
		return fmt.Errorf("%w: uncertainties %v, %v Pa, %v", ErrInput, float64(p.Device), float64(p.Gauge), float64(p.Denominator))
	}
	return nil
}

// Combine is the overall relative uncertainty of a rate at a pressure: the root of the sum of the squares of the line's
// part and the others (product rule of JCGM 100). Pressure > 0, exponent within 0 … 5, else ErrInput.
func (p Parts) Combine(regression q.Ratio, exponent float64, at q.Pressure) (q.Ratio, error) {
	if err := p.check(); err != nil {
		return 0, err
	}
	if !within(float64(regression), 0, 1e6) || !within(exponent, -maxExponent, maxExponent) || !within(float64(at), 1e-3, maxPressure) {
		return 0, fmt.Errorf("%w: uncertainty of %v, exponent %v at %v Pa", ErrInput, float64(regression), exponent, float64(at))
	}
	return p.combine(regression, exponent, at), nil
}

func (p Parts) combine(regression q.Ratio, exponent float64, at q.Pressure) q.Ratio {
	gauge := exponent * float64(p.Gauge/at)
	return q.Ratio(math.Sqrt(float64(regression*regression+p.Device*p.Device+p.Denominator*p.Denominator) + gauge*gauge))
}
