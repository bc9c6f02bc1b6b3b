package assess

import (
	"slices"

	"lapwork/generator/calc/bill"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// Cost is what material and fitting come to as far as prices are stated, in hundredths of the job's currency. Where
// Unpriced names a component the sum is of the others.
type Cost struct {
	Currency string // empty: nobody stated a price
	Material int64
	Lines    int               // to be bought
	Unpriced []job.ComponentID // bought without a price, each once, in order
	Labour   *Wages            // of the whole job; nil: no price of an hour
}

// Wages are what the fitting of junctions and sheet costs: likely, with its low and high.
type Wages struct{ Low, Likely, High int64 }

// CostOf gives the material of one delivery.
func (r *Results) CostOf(d *Delivery) Cost {
	c := Cost{Currency: r.Job.Currency()}
	for _, p := range r.Purchases(d) {
		if p.Leftover || p.Packs == 0 {
			continue
		}
		c.Lines++
		if amount, ok := p.Amount(); ok {
			c.Material += amount
		} else if !slices.Contains(c.Unpriced, p.Component) {
			c.Unpriced = append(c.Unpriced, p.Component)
		}
	}
	slices.Sort(c.Unpriced)
	return c
}

// Cost gives the material of all deliveries and the fitting.
func (r *Results) Cost() Cost {
	sum := Cost{Currency: r.Job.Currency()}
	for _, d := range r.Deliveries {
		c := r.CostOf(d)
		sum.Material += c.Material
		sum.Lines += c.Lines
		sum.Unpriced = append(sum.Unpriced, c.Unpriced...)
	}
	slices.Sort(sum.Unpriced)
	sum.Unpriced = slices.Compact(sum.Unpriced)
	sum.Labour = r.WagesOf(r.Fitting())
	return sum
}

// Fitting is the person-minutes of all junctions and sheets, as the method statements count them: set-up, checks and
// tests, which the programme plans too, are not in it.
func (r *Results) Fitting() Range {
	var sum Range
	for _, p := range r.Places {
		sum = sum.Plus(p.Minutes)
	}
	return sum
}

// WagesOf gives what a time of fitting costs; nil where no price of an hour is stated.
func (r *Results) WagesOf(t Range) *Wages {
	if r.Job.Rates.Hour == nil {
		return nil
	}
	var out Wages
	for _, x := range []struct {
		time q.Minutes
		sum  *int64
	}{{t.Low, &out.Low}, {t.Likely, &out.Likely}, {t.High, &out.High}} {
		sum, err := bill.Wage(x.time, r.Job.Rates.Hour.Amount)
		if err != nil {
			return nil
		}
		*x.sum = sum
	}
	return &out
}
