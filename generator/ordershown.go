package generator

import (
	"math"
	"slices"
	"strconv"

	q "lapwork/generator/quantity"
)

// Shown is the order as people and other programs read it, with each figure as exact as its unit can bear: whole pieces
// and millilitres, hundredths of the rest, tenths of a kilogram. The exact figures are for sums.
func (o Order) Shown() Order {
	o.Lines, o.Deliveries, o.Loads, o.Picks = slices.Clone(o.Lines), slices.Clone(o.Deliveries), slices.Clone(o.Loads), slices.Clone(o.Picks)
	for i := range o.Lines {
		l := &o.Lines[i]
		if l.Over = math.Ceil(l.Over*100-0.5-1e-7) / 100; q.Whole(l.Unit) { // down where what is needed is rounded up
			l.Over = math.Floor(l.Over)
		}
		l.Need, l.Kilograms = q.Borne(l.Need, l.Unit), tenths(l.Kilograms)
	}
	for i := range o.Deliveries {
		o.Deliveries[i].Kilograms = tenths(o.Deliveries[i].Kilograms)
	}
	for i := range o.Loads {
		o.Loads[i].Kilograms = tenths(o.Loads[i].Kilograms)
	}
	for i := range o.Picks {
		o.Picks[i].Need = q.Borne(o.Picks[i].Need, o.Picks[i].Unit)
	}
	return o
}

func tenths(x float64) float64 { return math.Round(x*10) / 10 }

// amount writes an amount for other programs: a point, and no digits behind it where its unit is counted whole.
func amount(x float64, unit string) string {
	if x == math.Trunc(x) && q.Whole(unit) {
		return strconv.FormatFloat(x, 'f', 0, 64)
	}
	return decimal(x)
}
