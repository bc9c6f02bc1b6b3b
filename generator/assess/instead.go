package assess

import (
	"cmp"
	"slices"

	"lapwork/generator/calc/bill"
	"lapwork/generator/job"
	"lapwork/generator/library"
	q "lapwork/generator/quantity"
)

// WidthTally is the sheet of the whole job as laid, or with every surface in rolls of one width.
type WidthTally struct {
	Width  q.MM // 0: as laid
	Kept   int  // surfaces that cannot be laid in it and stay as they are
	Pieces int
	Sheet  q.Area
	Tape   q.Length // of laps and end joints, net
	Cost   LayCost  // known where it is on every surface
}

// Widths sets the roll widths of the stock side by side: the job as laid first, then everything in one width each, narrow
// first. Nil where there is one width only. What a whole delivery buys of each is not in it: that needs its rolls cut anew.
func (r *Results) Widths() []WidthTally {
	var widths []q.MM
	for _, l := range r.Layouts {
		if l.DownFrom != nil {
			continue
		}
		for _, c := range append([]Choice{l.Choice}, l.Others...) {
			if !slices.Contains(widths, c.RollWidth) {
				widths = append(widths, c.RollWidth)
			}
		}
	}
	if len(widths) < 2 {
		return nil
	}
	slices.Sort(widths)
	out := []WidthTally{r.inWidth(0)}
	for _, w := range widths {
		out = append(out, r.inWidth(w))
	}
	return out
}

// inWidth sums the best arrangement of that width on each surface.
func (r *Results) inWidth(width q.MM) WidthTally {
	t := WidthTally{Width: width, Cost: LayCost{Known: true}}
	for _, l := range r.Layouts {
		if l.DownFrom != nil {
			continue
		}
		choice := l.Choice
		if width > 0 && choice.RollWidth != width {
			i := slices.IndexFunc(l.Others, func(c Choice) bool { return c.RollWidth == width })
			if i < 0 {
				t.Kept++
			} else {
				choice = l.Others[i]
			}
		}
		t.Pieces += choice.Pieces
		t.Sheet += choice.SheetUsed
		t.Tape += choice.Tape()
		t.Cost = LayCost{t.Cost.Known && choice.Cost.Known, t.Cost.Sheet + choice.Cost.Sheet, t.Cost.Seams + choice.Cost.Seams,
			t.Cost.Cuts + choice.Cost.Cuts}
	}
	return t
}

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
	slices.SortFunc(list, func(a, b Instead) int {
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
