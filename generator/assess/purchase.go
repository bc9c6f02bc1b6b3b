package assess

import (
	"lapwork/generator/calc/bill"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// Purchase is one line of a delivery as a merchant takes it: whole packs of a component, rolls of one size of sheet, or a
// leftover that is used up. The lines of one component add up to its need.
type Purchase struct {
	Component     job.ComponentID
	Width, Length q.MM   // of rolls of sheet; 0: packs
	Leftover      bool   // not bought
	ByClock       bool   // the clock ended the search for its rolls: another run may find others
	Article       string // empty: none
	Need          float64
	Unit          string
	Packs         int // rolls or packs
	PackSize      float64
	Over          float64    // what stays of the packs
	Price         *job.Price // of one pack; nil: nobody stated it
	PackMass      q.Mass     // of one pack, in its wrapping; 0: not known
}

// Amount gives what the line costs; ok is false where it has no price. A leftover costs nothing.
func (p Purchase) Amount() (hundredths int64, ok bool) {
	if p.Leftover || p.Packs == 0 {
		return 0, true
	}
	if p.Price == nil {
		return 0, false
	}
	sum, err := bill.Charge(p.Packs, p.Price.Amount)
	return sum, err == nil
}

// Mass gives what is carried in for the line; ok is false where the weight of a pack is not known.
func (p Purchase) Mass() (mass q.Mass, ok bool) {
	if p.Packs == 0 {
		return p.PackMass, p.PackMass > 0
	}
	return p.PackMass * q.Mass(p.Packs), p.PackMass > 0
}

// Purchases lists what a delivery takes: the sheet by width and length of roll, then the other components by id.
func (r *Results) Purchases(d *Delivery) []Purchase {
	var out []Purchase
	for _, s := range d.Sheets {
		out = append(out, r.SheetPurchases(s)...)
	}
	for _, it := range d.Items {
		out = append(out, r.ItemPurchase(it))
	}
	return out
}

// SheetPurchases gives a line for each length of roll, in the order of the cutting plan's list, and one for the leftovers.
func (r *Results) SheetPurchases(s SheetOrder) []Purchase {
	var out []Purchase
	of := func(length q.MM, leftover bool) *Purchase {
		for i := range out {
			if out[i].Leftover == leftover && (leftover || out[i].Length == length) {
				return &out[i]
			}
		}
		out = append(out, Purchase{Component: s.Component, Width: s.Width, Length: length, Leftover: leftover, ByClock: s.Plan.Aborted, Unit: "m2"})
		return &out[len(out)-1]
	}
	for _, b := range s.Buy {
		p := of(b.Length, false)
		p.Article, p.Packs, p.PackSize = b.Article, b.Count, float64(s.Width.Metres().Times(b.Length.Metres()))
		p.PackMass, _ = r.Library.MassOf(s.Component, p.PackSize)
		if price, ok := r.Job.RollPrice(s.Component, s.Width, b.Length); ok {
			p.Price = &price
		}
	}
	for _, roll := range s.Rolls {
		p := of(roll.Length, roll.Leftover)
		p.Over += float64(s.Width.Metres().Times(roll.Remainder.Metres()))
		for _, c := range roll.Cuts {
			p.Need += float64(s.Width.Metres().Times(c.Cut.Metres()))
		}
	}
	if s.Reused > 0 {
		of(0, true).Need += float64(s.Reused)
	}
	return out
}

// ItemPurchase gives the line of a component that comes in packs.
func (r *Results) ItemPurchase(it bill.Item) Purchase {
	id := job.ComponentID(it.Component)
	p := Purchase{Component: id, Need: it.Need, Unit: it.Unit, Packs: it.Packs, PackSize: it.PackSize, Over: it.Over}
	if c := r.Library.Components.Find(it.Component); c != nil {
		p.Article = c.Article
	}
	if price, ok := r.Job.Rates.Pack(id); ok {
		p.Price = &price
	}
	amount := it.PackSize
	if it.Packs == 0 {
		amount = it.Need
	}
	p.PackMass, _ = r.Library.MassOf(id, amount)
	return p
}
