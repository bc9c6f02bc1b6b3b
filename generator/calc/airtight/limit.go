package airtight

import (
	"errors"
	"fmt"
	"math"
	"strings"

	q "lapwork/generator/quantity"
)

// Comparison says which side of a limit passes.
type Comparison uint8

// The comparisons.
const (
	NotCompared Comparison = iota // the document gives no number to hold a test against
	AtMost
	Below
)

// Force says how a document asks.
type Force uint8

// The forces.
const (
	Required Force = iota
	Recommended
	Voluntary // binding for those who chose the scheme
	Target    // better than the limit
)

// Limit is one line of the table of limits.
type Limit struct {
	ID, Authority, Case string
	Metric              Metric
	Comparison          Comparison
	Value               Figure
	Published           string // value and unit as the document writes them
	Digits              int    // the result is rounded to these decimals before comparing; < 0: never rounded
	Force               Force
	BothDirections      bool
	Edition, Note       string
	Source              q.Source
}

// passes compares one figure, rounded by the limit's own rule.
func (l Limit) passes(x Figure) bool {
	x = l.rounded(x)
	if l.Comparison == Below {
		return x < l.Value
	}
	return x <= l.Value
}

// rounded rounds half up as a person does with the decimals in sight; 0.85 is stored a little below itself.
func (l Limit) rounded(x Figure) Figure {
	if l.Digits < 0 {
		return x
	}
	scale := math.Pow10(l.Digits)
	return Figure(math.Floor(float64(x)*scale+0.5+1e-9) / scale)
}

// Decision is the outcome of a comparison.
type Decision uint8

// The decisions.
const (
	NotProven  Decision = iota // the test cannot prove it, see Reasons
	Fails                      // with the whole band
	FailsClose                 // the value fails, the band reaches the limit
	PassClose                  // the value passes, the band reaches over the limit
	Passes                     // with the whole band
)

// String gives the decision in words.
func (d Decision) String() string {
	return [...]string{"not proven", "fails", "fails on the value", "passes on the value", "passes"}[d]
}

// Outcome is a result held against a limit.
type Outcome struct {
	Limit     Limit
	Measured  Measured
	Compared  Figure // after the limit's rounding
	Decision  Decision
	Straddles bool     // the band holds the limit: result and band must be shown together
	Reasons   []string // what has to be said with the decision
}

// ErrNoNumber is returned by Judge for a limit without a figure.
var ErrNoNumber = errors.New("airtight: the document gives no number to compare with")

// Judge holds a result against the limit. ErrMetric if they are different figures: other denominator or pressure; the
// error says what to form from the test instead. ErrNoNumber if there is nothing to compare with.
func (l Limit) Judge(m Measured) (Outcome, error) {
	if l.Comparison == NotCompared {
		return Outcome{}, fmt.Errorf("%w: %s, %s", ErrNoNumber, l.Authority, l.Case)
	}
	if l.Metric != m.Metric {
		return Outcome{}, fmt.Errorf("%w: the limit is a %v (per %v at %g Pa), the result a %v (per %v at %g Pa); form %v from the test with its measured exponent",
			ErrMetric, l.Metric, l.Metric.Per, float64(l.Metric.At), m.Metric, m.Metric.Per, float64(m.Metric.At), l.Metric)
	}
	if !finite(float64(m.Value)) || !finite(float64(m.Low)) || !finite(float64(m.High)) {
		return Outcome{}, fmt.Errorf("%w: a result that is no number", ErrInput)
	}
	o := Outcome{Limit: l, Measured: m, Compared: l.rounded(m.Value), Straddles: l.passes(m.Low) != l.passes(m.High)}
	proves := false
	o.Reasons, proves = o.reasons(q.English)
	switch pass := l.passes(m.Value); {
	case !proves:
		o.Decision = NotProven
	case pass && o.Straddles:
		o.Decision = PassClose
	case pass:
		o.Decision = Passes
	case o.Straddles:
		o.Decision = FailsClose
	default:
		o.Decision = Fails
	}
	return o, nil
}

// reasons are what has to be said, in the language of a format; proves is false if the test proves nothing.
func (o Outcome) reasons(f q.Format) (out []string, proves bool) {
	m := o.Measured
	add := func(text string) { out = append(out, text) }
	proves = true
	if m.Verdict >= Invalid {
		add(f.Says("the test is not valid"))
		proves = false
	}
	if m.OneDirection {
		if o.Limit.BothDirections {
			add(f.Says("the limit asks for the mean of both directions, one was measured"))
			proves = false
		} else {
			add(f.Says("one direction was measured"))
		}
	}
	if m.Verdict == Conditional {
		add(f.Says("usable under the exception for large buildings only"))
	}
	if m.Extrapolated {
		add(f.Says("%g Pa lies outside the pressures measured", float64(m.Metric.At)))
	}
	if !m.Banded {
		add(f.Says("no band is known for the line"))
	}
	if o.Limit.Force == Recommended {
		add(f.Says("the limit is recommended, not required"))
	}
	return out, proves
}

// Text says the outcome in a sentence, in the language of the format: result, band, limit, decision, and what belongs to it.
func (o Outcome) Text(f q.Format) string {
	digits := o.digits()
	number := func(x Figure) string { return f.Number(float64(x), digits) }
	text := fmt.Sprintf("%v %s %s", o.Measured.Metric, number(o.Measured.Value), o.Measured.Metric.Unit())
	if o.Measured.Low != o.Measured.High {
		text = f.Says("%s (%s to %s)", text, number(o.Measured.Low), number(o.Measured.High))
	}
	if o.Limit.Digits >= 0 {
		text += f.Says(", rounded to %s before comparing", f.Number(float64(o.Compared), o.Limit.Digits))
	}
	decision, limit := f.Word(o.Decision.String()), number(o.Limit.Value)
	parts := []string{text}
	if o.Limit.Comparison == Below {
		text = f.Says("limit below %s: %s", limit, decision)
	} else {
		text = f.Says("limit at most %s: %s", limit, decision)
	}
	if o.Straddles {
		text += f.Says(", the limit lies within the band")
	}
	reasons, _ := o.reasons(f)
	return strings.Join(append(append(parts, text), reasons...), "; ")
}

// digits shows enough decimals to tell the result from the limit.
func (o Outcome) digits() int {
	digits := 2
	if o.Measured.Value < 1 {
		digits = 3
	}
	for ; digits < 7; digits++ {
		half := Figure(0.5 * math.Pow10(-digits))
		if o.Measured.Value == o.Limit.Value || max(o.Measured.Value-o.Limit.Value, o.Limit.Value-o.Measured.Value) > half {
			break
		}
	}
	return digits
}
