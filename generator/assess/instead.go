package assess

import (
	"cmp"

	"lapwork/generator/calc/bill"
	"lapwork/generator/job"
	"lapwork/generator/library"
	"lapwork/generator/sorting"
)

// Instead is a component of the job beside one that can stand for it, over all deliveries.
type Instead struct {
	Substitute  *library.Substitute
	Unit        string
	Need, Other float64 // in Unit, waste included
	Packs, Swap int     // packs of the one, and of the other, each delivery rounded by itself
	Price       *int64  // of all packs, in hundredths; nil: no price
	SwapPrice   *int64
}

// Instead lists what can stand for the components of the job.
func (r *Results) Instead() []Instead {
	out := map[string]*Instead{}
	for _, d := range r.Deliveries {
		for _, it := range d.Items {
			for _, s := range r.Library.SubstitutesOf(job.ComponentID(it.Component)) {
				other := r.Library.Components.Find(string(s.Instead))
				if other == nil || other.Pack.Likely <= 0 {
					continue
				}
				if out[s.ID] == nil {
					out[s.ID] = &Instead{Substitute: s, Unit: it.Unit}
				}
				x := out[s.ID]
				x.Need, x.Packs = x.Need+it.Need, x.Packs+it.Packs
				x.Other += it.Need * s.Factor
				x.Swap += int(bill.Ceil(it.Need * s.Factor / other.Pack.Likely))
			}
		}
	}
	var list []Instead
	for _, x := range out {
		x.Price, x.SwapPrice = r.packsCost(x.Substitute.Component, x.Packs), r.packsCost(x.Substitute.Instead, x.Swap)
		list = append(list, *x)
	}
	sorting.Func(list, func(a, b Instead) int {
		return cmp.Or(cmp.Compare(a.Substitute.Component, b.Substitute.Component), cmp.Compare(a.Substitute.ID, b.Substitute.ID))
	})
	return list
}

// packsCost is what a number of packs costs; nil where no price is stated.
func (r *Results) packsCost(id job.ComponentID, packs int) *int64 {
	price, ok := r.Job.Rates.Pack(id)
	if !ok {
		return nil
	}
	sum, err := bill.Charge(packs, price.Amount)
	if err != nil {
		return nil
	}
	return &sum
}
