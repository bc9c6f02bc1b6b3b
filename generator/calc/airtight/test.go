package airtight

import (
	"fmt"
	"math"

	q "lapwork/generator/quantity"
)

// Test is the result of a whole fan test.
type Test struct {
	Standard string
	Building Building
	Lines    []Line // as the series were given
	Verdict  Verdict
	parts    Parts
}

// Analyse corrects, fits and judges each direction. Errors wrap ErrInput: values no test can have measured. Whatever the
// rules object to is in the breaches of the lines, worded with the format's numbers.
func Analyse(in Input, rules Rules, format q.Format) (Test, error) {
	if err := in.check(); err != nil {
		return Test{}, err
	}
	t := Test{Standard: rules.Standard, Building: in.Building, parts: in.Parts}
	for _, s := range in.Series {
		l, err := correct(s)
		if err != nil {
			return Test{}, fmt.Errorf("%v: %w", s.Direction, err)
		}
		c := checker{rules: rules, format: format, in: in, line: &l}
		c.run(s)
		l.Breaches = c.found
		l.Verdict = verdictOf(c.found)
		t.Lines = append(t.Lines, l)
		t.Verdict = max(t.Verdict, l.Verdict)
	}
	return t, nil
}

// run checks in the order data, baseline, points, fit, weather, directions.
func (c *checker) run(s Series) {
	c.data(s)
	clean := len(c.found) == 0
	c.baseline(s)
	if clean {
		c.points()
		if c.line.fit(c.in, s, c.rules.Viscosity) {
			c.fitted()
			c.uncertainty()
		} else {
			c.add(RuleLine, Fatal, float64(len(c.line.Points)), 2, "points", "the readings give no line: at least two pressures and two flows that rise with them are needed")
		}
	}
	c.weather(s)
	c.oneDirection()
}

// uncertainty informs when the overall uncertainty at 50 Pa is above what the standard leads one to expect. It is asked
// only where somebody stated the parts.
func (c *checker) uncertainty() {
	r, p := c.rules, c.in.Parts
	f, err := c.line.At(50)
	if err != nil || !f.Banded || r.Calm == 0 || p == (Parts{}) {
		return
	}
	limit := r.Calm
	if w := c.in.Weather; w.Ground >= r.Ground || w.Beaufort >= r.Beaufort || w.Wind > r.Wind {
		limit = r.Windy
	}
	total := p.combine(q.Ratio(f.High/f.Value-1), c.line.Fit.Exponent, 50)
	if total > limit {
		c.add(RuleUncertainty, Inform, float64(total), float64(limit), "", "the overall uncertainty is %s, the standard expects up to %s",
			c.format.Percent(total, 1), c.format.Percent(limit, 0))
	}
}

// At is the flow at a pressure: the mean of the directions' flows. The band of a mean is half the root of the sum of the
// squares of the two half-widths (own combination). ErrNoLine if a direction has no line.
func (t Test) At(p q.Pressure) (Flow, error) {
	if len(t.Lines) == 0 {
		return Flow{}, fmt.Errorf("%w: nothing was measured", ErrNoLine)
	}
	mean := Flow{At: p, Banded: true, OneDirection: len(t.Lines) == 1}
	var squares float64
	for _, l := range t.Lines {
		f, err := l.At(p)
		if err != nil {
			return Flow{}, err
		}
		if mean.OneDirection {
			return f, nil
		}
		mean.Value += f.Value / 2
		half := float64(f.High-f.Low) / 2
		squares += half * half
		mean.Banded = mean.Banded && f.Banded
		mean.Extrapolated = mean.Extrapolated || f.Extrapolated
	}
	mean.Low, mean.High = mean.Value, mean.Value
	if mean.Banded {
		half := q.AirFlow(math.Sqrt(squares) / 2)
		mean.Low, mean.High = max(mean.Value-half, 0), mean.Value+half
	}
	return mean, nil
}

// Exponent is the exponent of the result at a pressure: that of the line, or of two lines weighted with their flows,
// which is the slope of their mean there.
func (t Test) Exponent(p q.Pressure) (float64, error) {
	var sum, weighted float64
	for _, l := range t.Lines {
		f, err := l.At(p)
		if err != nil {
			return 0, err
		}
		sum += float64(f.Value)
		weighted += float64(f.Value) * l.Fit.Exponent
	}
	if !(sum > 0) {
		return 0, fmt.Errorf("%w: nothing was measured", ErrNoLine)
	}
	return weighted / sum, nil
}

// Difference is pressurisation less depressurisation at a pressure, as a share of their mean; ok is false for a test of
// one direction or without a line.
func (t Test) Difference(p q.Pressure) (share q.Ratio, ok bool) {
	if len(t.Lines) != 2 {
		return 0, false
	}
	mean, err := t.At(p)
	if err != nil || !(mean.Value > 0) {
		return 0, false
	}
	var sum float64
	for _, l := range t.Lines {
		f, err := l.At(p)
		if err != nil {
			return 0, false
		}
		sum += l.Direction.sign() * float64(f.Value)
	}
	return q.Ratio(sum / float64(mean.Value)), true
}

// Breaches gives the breaches of all directions, each rule of a direction once.
func (t Test) Breaches() []Breach {
	var out []Breach
	for _, l := range t.Lines {
		out = append(out, l.Breaches...)
	}
	return out
}
