package condensation

import (
	q "lapwork/generator/quantity"
)

// Verdict is the outcome of a run, best first.
type Verdict uint8

// The verdicts of clause 6.
const (
	NoCondensation Verdict = iota
	DriesOut               // condenses at one plane or more, and each dries within the year
	DoesNotDry             // water stays at a plane: the part fails
)

// String gives the verdict in words.
func (v Verdict) String() string {
	return [...]string{"no condensation", "condenses and dries within the year", "does not dry out within the year"}[v]
}

// Worse gives the worse of two verdicts.
func (v Verdict) Worse(w Verdict) Verdict { return max(v, w) }

// Scope says what a result may be used for.
type Scope uint8

// The scopes.
const (
	Proof     Scope = iota // within the scope of the method
	Screening              // outside it: shows a tendency, proves nothing
)

// String gives the scope's word.
func (s Scope) String() string { return [...]string{"proof", "screening"}[s] }

// Month is one month of a run. The slices follow Result.Planes.
type Month struct {
	Year        int // from 1
	Boundary    Boundary
	Temperature []q.Temperature
	Saturation  []q.Pressure
	Pressure    []q.Pressure // with the water held at the start of the month
	Rate        []Flow       // at the start of the month
	Change      []Water      // over the month
	Stock       []Water      // at its end
	In, Out     Water        // through the surfaces, outward positive
	Made        Water        // by clipping; 0 where months are split
	Surface     bool         // a surface is at saturation: vapour condenses on it, outside this check
	Variable    []VariableState
}

// Total is the water held at the end of the month.
func (m Month) Total() Water {
	var sum Water
	for _, s := range m.Stock {
		sum += s
	}
	return sum
}

// YearBalance is a year of a run.
type YearBalance struct {
	Peak      Water // the most held at a month's end
	PeakMonth int
	End       Water
}

// Peak is the most water held, in the first year.
type Peak struct {
	Total Water
	Month int // 0: none
	Plane int // the plane that holds most of it, an index in Result.Planes
	Most  Water
}

// Result is a run over one or more years.
type Result struct {
	Verdict    Verdict
	Scope      Scope
	Source     q.Source
	Planes     []Plane
	Names      []string
	Start      int // first month of the run
	Condenses  bool
	Peak       Peak
	Months     []Month
	Years      []YearBalance
	DryAfter   int  // months until all planes are dry for the first time; 0: never, or never wet
	Ambiguous  bool // a variable layer could settle at more than one sd
	SurfaceWet bool // in some month vapour condenses on a surface
}

// Growing says that a year ends with more water than the one before: water gathers year on year.
func (r Result) Growing() bool {
	for i := 1; i < len(r.Years); i++ {
		if r.Years[i].End > r.Years[i-1].End+1e-6 {
			return true
		}
	}
	return false
}

// HighestHumidity gives the highest relative humidity at each plane over the first year.
func (r Result) HighestHumidity() []q.Ratio {
	out := make([]q.Ratio, len(r.Planes))
	for _, m := range r.Months {
		if m.Year > 1 {
			break
		}
		for i := range out {
			out[i] = max(out[i], q.Ratio(m.Pressure[i]/m.Saturation[i]))
		}
	}
	return out
}

// DryMonth is the month at whose end all planes are dry for the first time; 0: never, or never wet.
func (r Result) DryMonth() int {
	if r.DryAfter < 1 || r.DryAfter > len(r.Months) {
		return 0
	}
	return r.Months[r.DryAfter-1].Boundary.Month
}
