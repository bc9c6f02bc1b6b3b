package airtight

import (
	"fmt"
	"math"
	"strings"

	q "lapwork/generator/quantity"
)

// Breach is one rule that a series does not keep.
type Breach struct {
	Rule            Rule
	Consequence     Consequence
	Measured, Limit float64
	Unit            string
	Readings        []int // numbers of the readings, from 1, where some are to blame
	Clause          q.Source
	Text            string // a sentence
}

// Verdict is what the rules say of a series or a test, best first.
type Verdict uint8

// The verdicts.
const (
	Valid Verdict = iota
	ValidWithWarning
	Conditional // only under the exception for large buildings
	Invalid
	DataError // no result at all
)

// String gives the verdict in words.
func (v Verdict) String() string {
	return [...]string{"valid", "valid with warning", "conditional", "invalid", "error"}[v]
}

// verdictOf is the verdict of the gravest breach.
func verdictOf(found []Breach) Verdict {
	verdict := Valid
	for _, b := range found {
		verdict = max(verdict, map[Consequence]Verdict{Warn: ValidWithWarning, Condition: Conditional, Reject: Invalid, Fatal: DataError}[b.Consequence])
	}
	return verdict
}

// checker collects the breaches of one series.
type checker struct {
	rules  Rules
	format q.Format
	in     Input
	line   *Line
	found  []Breach
}

func (c *checker) add(rule Rule, what Consequence, measured, limit float64, unit, format string, args ...any) *Breach {
	c.found = append(c.found, Breach{Rule: rule, Consequence: what, Measured: measured, Limit: limit, Unit: unit,
		Clause: c.rules.Clause(rule), Text: c.format.Says(format, args...)})
	return &c.found[len(c.found)-1]
}

func (c *checker) broken(rule Rule) bool {
	for _, b := range c.found {
		if b.Rule == rule {
			return true
		}
	}
	return false
}

// direction is the word for the direction of the series.
func (c *checker) direction() string {
	return c.format.Word(c.line.Direction.String())
}

// pa gives a pressure to a tenth of a pascal, the resolution of the gauges.
func (c *checker) pa(p q.Pressure) string { return c.format.Number(float64(p), 1) + " Pa" }

// data checks what the logarithms need. A pressure is wrong if its sign is, as read or after the baseline.
func (c *checker) data(s Series) {
	var sign, flow []int
	for i, r := range s.Readings {
		if s.Direction.sign()*float64(r.Pressure) <= 0 || c.line.Points[i].Induced <= 0 {
			sign = append(sign, i+1)
		}
		if r.Flow <= 0 {
			flow = append(flow, i+1)
		}
	}
	if len(sign) > 0 {
		c.add(RuleSign, Fatal, float64(s.Readings[sign[0]-1].Pressure), 0, "Pa",
			"%s: the pressure does not have the sign of %s (inside less outside, zero-flow pressure taken off)", c.numbers(sign), c.direction()).Readings = sign
	}
	if len(flow) > 0 {
		c.add(RuleFlow, Fatal, float64(s.Readings[flow[0]-1].Flow)*3600, 0, "m³/h",
			"%s: the flow is not above zero, it has no logarithm", c.numbers(flow)).Readings = flow
	}
}

// numbers names readings: "reading 3", "readings 2, 5".
func (c *checker) numbers(list []int) string {
	words := make([]string, len(list))
	for i, n := range list {
		words[i] = fmt.Sprint(n)
	}
	if len(list) == 1 {
		return c.format.Says("reading %s", words[0])
	}
	return c.format.Says("readings %s", strings.Join(words, ", "))
}

// baseline checks the worst average, not the mean of before and after, and not the start alone.
func (c *checker) baseline(s Series) {
	if limit := c.rules.MaxBaseline; limit > 0 && c.line.WorstZero > limit+decimal {
		c.add(RuleBaseline, Reject, float64(c.line.WorstZero), float64(limit), "Pa",
			"the worst zero-flow average is %s, at most %s are allowed before and after", c.pa(c.line.WorstZero), c.pa(limit))
	}
	for _, a := range []Averages{s.Before, s.After} {
		if a.Samples > 0 && a.Samples < c.rules.MinSamples && !c.broken(RuleSamples) {
			c.add(RuleSamples, Warn, float64(a.Samples), float64(c.rules.MinSamples), "values",
				"a zero-flow recording has %d values, it should have %d over 30 s with the fan sealed", a.Samples, c.rules.MinSamples)
		}
	}
}

// points checks number, range and spacing.
func (c *checker) points() {
	l, r := c.line, c.rules
	if n := len(l.Points); n < r.MinPoints {
		c.add(RulePoints, Reject, float64(n), float64(r.MinPoints), "points", "%d steps, at least %d are needed", n, r.MinPoints)
	}
	c.highest()
	need := max(r.Lowest, q.Pressure(r.BaselineFactor)*l.WorstZero)
	if need > 0 && !c.broken(RuleBaseline) && l.Lowest < need-r.Slack-decimal {
		c.add(RuleLowest, Reject, float64(l.Lowest), float64(need), "Pa",
			"the lowest pressure is %s, at least %s are needed: %s or %s times the worst zero-flow average",
			c.pa(l.Lowest), c.pa(need), c.pa(r.Lowest), c.format.Number(r.BaselineFactor, 0))
	}
	if r.MaxStep > 0 && l.Step > r.MaxStep+r.Slack+decimal {
		c.add(RuleStep, Reject, float64(l.Step), float64(r.MaxStep), "Pa",
			"a step between neighbouring pressures is %s, about %s are allowed", c.pa(l.Step), c.pa(r.MaxStep))
	}
	if r.RangeHigh > 0 && (l.Lowest < r.RangeLow-r.Slack-decimal || l.Highest > r.RangeHigh+r.Slack+decimal) {
		c.add(RuleRange, Warn, float64(l.Highest), float64(r.RangeHigh), "Pa", "the pressures run from %s to %s, the standard names %s to %s",
			c.pa(l.Lowest), c.pa(l.Highest), c.pa(r.RangeLow), c.pa(r.RangeHigh))
	}
}

// highest checks the highest pressure; only a large building may stay below the reference pressure, down to the floor.
func (c *checker) highest() {
	l, r := c.line, c.rules
	if r.Highest == 0 || l.Highest >= r.Highest-decimal {
		return
	}
	below := l.Highest < r.Floor-decimal
	if !below && r.Large > 0 && c.in.Building.Volume > r.Large {
		c.add(RuleLarge, Condition, float64(l.Highest), float64(r.Highest), "Pa",
			"the highest pressure is %s: usable for a large building only, and the result at %s is an extrapolation", c.pa(l.Highest), c.pa(r.Highest))
		return
	}
	c.add(RuleHighest, Reject, float64(l.Highest), float64(r.Highest), "Pa", "the highest pressure is %s, %s are needed", c.pa(l.Highest), c.pa(r.Highest))
	if below {
		c.add(RuleFloor, Reject, float64(l.Highest), float64(r.Floor), "Pa",
			"the highest pressure is %s, even a large building needs %s", c.pa(l.Highest), c.pa(r.Floor))
	}
}

// fitted checks the exponent and the correlation, both unrounded.
func (c *checker) fitted() {
	f, r := c.line.Fit, c.rules
	if f.Exponent < r.MinExponent || f.Exponent > r.MaxExponent {
		limit := r.MinExponent
		if f.Exponent > r.MaxExponent {
			limit = r.MaxExponent
		}
		c.add(RuleExponent, Reject, f.Exponent, limit, "", "the flow exponent is %s, it has to lie within %s to %s",
			c.format.Number(f.Exponent, 3), c.format.Number(r.MinExponent, 1), c.format.Number(r.MaxExponent, 1))
	}
	if f.R2 < r.MinR2 {
		c.add(RuleFitted, Reject, f.R2, r.MinR2, "", "r² of the logarithms is %s, at least %s is needed",
			c.format.Number(f.R2, 4), c.format.Number(r.MinR2, 2))
	}
}

// weather warns; of these only a standard that forbids a stack product rejects.
func (c *checker) weather(s Series) {
	r, w := c.rules, c.in.Weather
	stack := math.Abs(float64(s.Inside.Temperature-s.Outside.Temperature)) * float64(c.in.Building.Height)
	if r.Stack > 0 && stack > r.Stack+decimal {
		c.add(RuleStack, r.StackConsequence, stack, r.Stack, "m·K", "temperature difference times height is %s m·K, above %s m·K a steady zero-flow pressure is unlikely",
			c.format.Number(stack, 0), c.format.Number(r.Stack, 0))
	}
	if r.Wind > 0 && w.Wind > r.Wind {
		c.add(RuleWind, Warn, float64(w.Wind), float64(r.Wind), "m/s", "the wind blew at %s m/s, above %s m/s",
			c.format.Number(float64(w.Wind), 1), c.format.Number(float64(r.Wind), 1))
	}
	if r.Ground > 0 && w.Ground >= r.Ground {
		c.add(RuleGround, Warn, float64(w.Ground), float64(r.Ground), "m/s", "the wind near the ground blew at %s m/s, from %s m/s on a steady zero-flow pressure is unlikely",
			c.format.Number(float64(w.Ground), 1), c.format.Number(float64(r.Ground), 1))
	}
	if r.Beaufort > 0 && w.Beaufort >= r.Beaufort {
		c.add(RuleBeaufort, Warn, float64(w.Beaufort), float64(r.Beaufort), "Beaufort", "the wind force was %d, from %d on a steady zero-flow pressure is unlikely",
			w.Beaufort, r.Beaufort)
	}
	if r.GaugeLimit > 0 && c.in.Parts.Gauge > r.GaugeLimit {
		c.add(RuleGauge, Inform, float64(c.in.Parts.Gauge), float64(r.GaugeLimit), "Pa", "the pressure gauge is uncertain by %s, at most %s are asked for",
			c.pa(c.in.Parts.Gauge), c.pa(r.GaugeLimit))
	}
}

// oneDirection marks a test of one direction.
func (c *checker) oneDirection() {
	if len(c.in.Series) == 1 {
		c.add(RuleBothDirection, c.rules.OneDirection, 1, 2, "directions", "only %s was measured", c.direction())
	}
}
