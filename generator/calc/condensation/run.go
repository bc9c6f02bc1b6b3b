package condensation

import (
	"fmt"

	q "lapwork/generator/quantity"
)

// Run computes the element through the months of the year, over and over, until a year ends as it began or the years
// of the options are done. Errors wrap ErrInput, or ErrBalance where water was lost.
func Run(e Element, y Year, o Options) (Result, error) {
	o, err := o.complete()
	if err == nil {
		err = e.check()
	}
	if err == nil {
		err = y.check()
	}
	if err != nil {
		return Result{}, err
	}
	r := run{e: e, y: y, o: o, sd: e.firstSd()}
	g := e.cut(r.sd, o.Whole)
	r.out = Result{Planes: g.planes, Source: Source()}
	if o.MonthEnd == ClipStock {
		r.out.Source.Status = q.FromMemory
	}
	for _, p := range g.planes {
		r.out.Names = append(r.out.Names, e.PlaneName(p))
	}
	if e.variable() {
		r.out.Scope = Screening
		r.out.Source = q.Source{Text: "method of EN ISO 13788:2012 with sd by humidity: outside its scope", Status: q.Computed}
	}
	if err := r.begin(g); err != nil {
		return Result{}, err
	}
	if err := r.years(); err != nil {
		return Result{}, err
	}
	r.judge()
	return r.out, nil
}

// run is the state of a run.
type run struct {
	e     Element
	y     Year
	o     Options
	sd    []q.SdValue
	stock []float64
	first int // index in y of the first month
	out   Result
}

func (e Element) variable() bool {
	for _, l := range e.Layers {
		if l.Curve != nil {
			return true
		}
	}
	return false
}

// firstSd are the declared constants, and the driest value of variable layers as a first guess.
func (e Element) firstSd() []q.SdValue {
	out := make([]q.SdValue, len(e.Layers))
	for i, l := range e.Layers {
		out[i] = l.Sd
		if l.Curve != nil {
			out[i] = l.Curve.Points[0].Sd
		}
	}
	return out
}

// begin finds the first month and lays out the water of the start.
func (r *run) begin(g grid) error {
	r.stock = make([]float64, len(g.planes))
	wetted := false
	for _, w := range r.o.Wetted {
		if !(w.Water >= 0 && w.Water <= 1000) {
			return fmt.Errorf("%w: %v kg/m² at the start", ErrInput, float64(w.Water))
		}
		i := index(g.planes, w.At)
		if i <= 0 || i == len(g.planes)-1 {
			return fmt.Errorf("%w: no plane %+v inside the element", ErrInput, w.At)
		}
		r.stock[i] += float64(w.Water)
		wetted = wetted || w.Water > 0
	}
	condenses, err := r.condensing()
	if err != nil {
		return err
	}
	for _, c := range condenses {
		r.out.Condenses = r.out.Condenses || c
	}
	r.out.Condenses = r.out.Condenses || wetted
	r.first = firstMonth(condenses)
	for i, b := range r.y {
		if b.Month == r.o.Start {
			r.first = i
		}
	}
	r.out.Start = r.y[r.first].Month
	return nil
}

func index(planes []Plane, p Plane) int {
	for i, have := range planes {
		if have == p {
			return i
		}
	}
	return -1
}

// condensing says for each month whether vapour condenses in a dry element.
func (r *run) condensing() ([12]bool, error) {
	var out [12]bool
	for i, b := range r.y {
		sd, _, err := settle(r.e, b, nil, r.o, r.sd)
		if err != nil {
			return out, err
		}
		g := r.e.cut(sd, r.o.Whole)
		c, err := g.temperatures(b, r.o.Set)
		if err != nil {
			return out, err
		}
		for _, rate := range g.profile(c, make([]bool, len(g.x)), r.o.Delta0).rate {
			out[i] = out[i] || rate > least
		}
	}
	return out, nil
}

// firstMonth is the first month with condensation after a dry one; of several the one after the longest dry spell. If
// every month condenses, or none, it is the first given.
func firstMonth(condenses [12]bool) int {
	best, longest := 0, 0
	for i := range condenses {
		spell := 0
		for spell < 12 && !condenses[(i+11-spell)%12] {
			spell++
		}
		if condenses[i] && spell > longest {
			best, longest = i, spell
		}
	}
	return best
}

// years runs year after year.
func (r *run) years() error {
	limit := r.o.Years
	if limit == 0 {
		limit = mostYears
	}
	for n := 1; n <= limit; n++ {
		before := append([]float64(nil), r.stock...)
		balance := YearBalance{}
		for k := range 12 {
			m, err := r.month(n, r.y[(r.first+k)%12])
			if err != nil {
				return err
			}
			if total := m.Total(); total > balance.Peak {
				balance.Peak, balance.PeakMonth = total, m.Boundary.Month
			}
			balance.End = m.Total()
			r.out.Months = append(r.out.Months, m)
		}
		r.out.Years = append(r.out.Years, balance)
		if r.o.Years == 0 && same(before, r.stock) {
			return nil
		}
	}
	return nil
}

// same says that two years end alike, to a tenth of a milligram per m².
func same(a, b []float64) bool {
	for i := range a {
		if d := a[i] - b[i]; d > 1e-7 || d < -1e-7 {
			return false
		}
	}
	return true
}

// month runs one month and moves the stocks on.
func (r *run) month(year int, b Boundary) (Month, error) {
	sd, states, err := settle(r.e, b, r.stock, r.o, r.sd)
	if err != nil {
		return Month{}, err
	}
	r.sd = sd
	g := r.e.cut(sd, r.o.Whole)
	c, err := g.temperatures(b, r.o.Set)
	if err != nil {
		return Month{}, err
	}
	done, err := g.run(c, r.stock, b.seconds(), r.o)
	if err != nil {
		return Month{}, err
	}
	m := Month{Year: year, Boundary: b, In: Water(done.in), Out: Water(done.out), Made: Water(done.made), Surface: c.capped,
		Variable: append([]VariableState(nil), states...)}
	for i := range g.planes {
		m.Temperature = append(m.Temperature, q.Temperature(c.theta[i]))
		m.Saturation = append(m.Saturation, q.Pressure(c.psat[i]))
		m.Pressure = append(m.Pressure, q.Pressure(done.first.p[i]))
		m.Rate = append(m.Rate, Flow(done.first.rate[i]))
		m.Change = append(m.Change, Water(done.stock[i]-r.stock[i]))
		m.Stock = append(m.Stock, Water(done.stock[i]))
	}
	r.stock = done.stock
	for _, s := range states {
		r.out.Ambiguous = r.out.Ambiguous || s.Ambiguous()
	}
	r.out.SurfaceWet = r.out.SurfaceWet || c.capped
	return m, nil
}

// judge takes peak and verdict from the months.
func (r *run) judge() {
	out := &r.out
	for n, m := range out.Months {
		total := m.Total()
		if m.Year == 1 && total > out.Peak.Total {
			out.Peak.Total, out.Peak.Month, out.Peak.Most = total, m.Boundary.Month, 0
			for i, s := range m.Stock {
				if s > out.Peak.Most {
					out.Peak.Plane, out.Peak.Most = i, s
				}
			}
		}
		if total <= dry && out.DryAfter == 0 && out.Condenses && (n > 0 && out.Months[n-1].Total() > dry || n == 0 && len(r.o.Wetted) > 0) {
			out.DryAfter = n + 1
		}
	}
	if !out.Condenses {
		return
	}
	out.Verdict = DriesOut
	last := out.Months[len(out.Months)-12:]
	for i := range out.Planes {
		wet := true
		for _, m := range last {
			wet = wet && m.Stock[i] > dry
		}
		if wet {
			out.Verdict = DoesNotDry
		}
	}
}
