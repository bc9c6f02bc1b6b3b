// Package assess computes everything a pack shows from a job's shape and its library: which statement answers each place,
// how the sheet is laid and cut, what is to be ordered, how long it takes, what is checked and what is still open. It
// translates between the job's words and the inputs of calc; the arithmetic is theirs.
package assess

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"lapwork/generator/calc/bill"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/junction"
	"lapwork/generator/lang"
	"lapwork/generator/library"
	"lapwork/generator/parallel"
	q "lapwork/generator/quantity"
)

// Place is one junction record with its answer.
type Place struct {
	Record  junction.Record
	Env     *library.Env
	Chosen  library.Selection
	Lines   []bill.Line // what it takes, waste included
	Driver  float64     // in the unit of the statement's labour
	Minutes Range       // person-minutes, with the retrofit factor and the firm's pace
	Problem string      // why it is unresolved and whom to ask; empty: resolved
	Settled *job.Resolution
}

// Range is a figure with its low and high.
type Range struct{ Low, Likely, High q.Minutes }

// Plus adds two ranges.
func (r Range) Plus(o Range) Range { return Range{r.Low + o.Low, r.Likely + o.Likely, r.High + o.High} }

// Times scales a range.
func (r Range) Times(k float64) Range {
	f := q.Minutes(k)
	return Range{r.Low * f, r.Likely * f, r.High * f}
}

// Answered reports whether a statement stands behind the place.
func (p *Place) Answered() bool { return p.Chosen.Statement != nil }

// Context is what every stage of assess reads.
type Context struct {
	Job     *job.Job
	Library *library.Library
	Facts   library.Facts
	Lang    *lang.Catalogue  // what results say is said in it; nil: English
	Chooser *library.Chooser // of Library, so that like places are looked up once; nil: each by itself
	known   *knownLayouts    // while a job's sheet is laid

	Measured AsMeasured // what was measured on site; nil: nothing

	// Search is open as long as rolls that counted work leaves unproven may be searched further; nil: they are not. What it ends
	// by the clock is marked: another run may find another plan.
	Search context.Context
}

// say gives the text of a pattern with its values in the language of the results.
func (c Context) say(pattern string, values ...any) string { return c.Lang.Say(pattern, values...) }

// word gives a word that data chooses.
func (c Context) word(english string) string { return c.Lang.Text(english) }

// Select finds the statement, variant, materials and labour of each record. What stays unresolved, and every formula that
// gives no quantity, becomes a finding.
func (c Context) Select(records []junction.Record, found *diag.List) []*Place {
	settled := map[string]*job.Resolution{}
	for i := range c.Job.Resolutions {
		settled[c.Job.Resolutions[i].Junction] = &c.Job.Resolutions[i]
	}
	lists := make([]diag.List, len(records))
	tried := parallel.Map(len(records), func(i int) *Place {
		r := &records[i]
		p := &Place{Record: *r, Env: c.Library.Env(r, c.Facts), Settled: settled[r.ID]}
		c.choose(p, &lists[i])
		if !p.Answered() && r.Optional {
			return nil
		}
		c.measure(p, &lists[i])
		return p
	})
	for i := range lists {
		found.Add(lists[i].Sorted()...)
	}
	return slices.DeleteFunc(tried, func(p *Place) bool { return p == nil })
}

// choose selects a place's statement, or takes what was decided on site.
func (c Context) choose(p *Place, found *diag.List) {
	p.Chosen = c.selection(p.Env, found)
	if s := p.Settled; s != nil && s.Statement != "licensed" {
		sel, ok := c.Library.SelectBy(library.StatementID(s.Statement), s.Variant, p.Env)
		if !ok {
			found.Faultf(s.Pos, "name a statement and a variant of the library", "no statement %s %s to settle %s with", s.Statement, s.Variant, p.Record.ID)
		}
		p.Chosen = sel
	}
	p.Problem = p.Chosen.Unresolved
	if p.Settled != nil {
		p.Problem = ""
	}
	if p.Problem != "" && !(p.Record.Optional && !p.Answered()) {
		found.Openf(p.Record.Pos, p.Record.ID, "settle it in the job under resolved: who decided, and what",
			"%s: %s", p.Record.ID, p.Problem)
	}
}

func (c Context) selection(env *library.Env, found *diag.List) library.Selection {
	if c.Chooser != nil {
		return c.Chooser.Select(env, found)
	}
	return c.Library.Select(env, found)
}

// measure evaluates a place's materials and labour.
func (c Context) measure(p *Place, found *diag.List) {
	s := p.Chosen.Statement
	if s == nil || s.Driver.Source == "" {
		return
	}
	var err error
	if p.Driver, err = s.Driver.Amount(p.Env); err != nil {
		found.Faultf(s.Pos, "correct the labour driver", "%s: %v", p.Record.ID, err)
	}
	labour := p.Chosen.Labour
	base := Range{labour.Low, labour.Likely, labour.High}
	p.Minutes = base.Times(p.Driver * c.retrofitFactor() * c.pace())
	for _, line := range p.Chosen.Lines {
		amount, err := line.Amount.Amount(p.Env)
		if err != nil {
			found.Faultf(line.Pos, "correct the amount of "+string(line.Component), "%s: %v", p.Record.ID, err)
			continue
		}
		if amount > 0 {
			p.Lines = append(p.Lines, bill.Line{Component: string(c.component(line.Component)), Place: p.Record.ID,
				Room: string(p.Record.Room.ID), Amount: amount, Unit: line.Unit, Formula: line.Amount.Source,
				Inputs: inputs(line.Amount, p.Env), Source: line.Source})
		}
	}
	if line, ok := primer(p); ok {
		p.Lines = append(p.Lines, line)
	}
}

// primer is the primer under a seal that the substrate table allows on a primed ground only, where the statement itself
// brings none (section 1, item 6 of the junction catalogue).
func primer(p *Place) (bill.Line, bool) {
	run := p.Env.LengthM
	if run == 0 {
		run = p.Env.PerimeterM * p.Env.Count
	}
	brings := slices.ContainsFunc(p.Lines, func(l bill.Line) bool { return strings.HasPrefix(l.Component, "primer") })
	if !p.Chosen.Primed || brings || run == 0 {
		return bill.Line{}, false
	}
	amount := run * p.Env.PrimerBandMM / 1000 * p.Env.PrimerMlM2 * (1 + p.Env.WastePrimerPct/100)
	return bill.Line{Component: "primer-water", Place: p.Record.ID, Room: string(p.Record.Room.ID), Amount: amount, Unit: "ml",
		Formula: "run*primer_band_mm/1000*primer_ml_m2*(1+waste_primer_pct/100); the substrate asks for primer",
		Inputs: fmt.Sprintf("run = %g, primer_band_mm = %g, primer_ml_m2 = %g, waste_primer_pct = %g", run, p.Env.PrimerBandMM,
			p.Env.PrimerMlM2, p.Env.WastePrimerPct),
		Source: q.Source{Text: "R-PRIM-1, R-PRIM-2", Status: q.CommonPractice}}, true
}

// component resolves a placeholder to what the job chose.
func (c Context) component(id job.ComponentID) job.ComponentID {
	if chosen, ok := c.Job.Components[string(id)]; ok {
		return chosen
	}
	return id
}

// retrofitFactor is R-LAB-2: 1.3 empty and even, 1.6 normal, 2.2 occupied and crooked. Common practice, no source.
func (c Context) retrofitFactor() float64 {
	s := c.Job.State
	switch {
	case !s.Retrofit:
		return 1
	case s.Occupied && s.Crooked:
		return 2.2
	case s.Occupied || s.Crooked:
		return 1.6
	}
	return 1.3
}

// pace is the firm's own minutes over the statements' typical ones.
func (c Context) pace() float64 {
	if c.Job.Rates.Pace > 0 {
		return float64(c.Job.Rates.Pace)
	}
	return 1
}

// inputs writes the variables of a formula with their values: "length_m = 4.2, tape_end_mm = 50".
func inputs(f library.Formula, env *library.Env) string {
	var parts []string
	for _, in := range f.Inputs(env) {
		parts = append(parts, in.Name+" = "+strconv.FormatFloat(math.Round(in.Value*1000)/1000, 'f', -1, 64))
	}
	return strings.Join(parts, ", ")
}

// ComponentFor resolves a placeholder component to what the job chose.
func (c Context) ComponentFor(id job.ComponentID) job.ComponentID { return c.component(id) }
