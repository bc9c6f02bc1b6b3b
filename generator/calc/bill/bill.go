// Package bill sums what junctions, surfaces and penetrations need into whole packs: once per component and delivery,
// never per junction or room. Rule R-QTY-1 of the trade specification: add each component over a delivery, waste
// included, take off stock, round up to packs once. Status: common practice, no source.
package bill

import (
	"cmp"
	"fmt"
	"math"

	q "lapwork/generator/quantity"
	"lapwork/generator/sorting"
)

// Line is one contribution to a component: what one place needs, waste included.
type Line struct {
	Component string
	Place     string // id of the junction or surface
	Room      string
	Amount    float64 // in Unit, ≥ 0
	Unit      string
	Formula   string // as the statement writes it
	Inputs    string // the values that went in
	Source    q.Source
}

// Pack is how a component is sold. Size ≤ 0 means it is not sold in packs, as sheet by the roll.
type Pack struct {
	Size float64 // in the component's unit
	Unit string
}

// Item is one component of one delivery.
type Item struct {
	Component string
	Unit      string
	Need      float64 // sum of the lines
	Stock     float64 // taken off
	Packs     int     // whole packs to order; 0 where not sold in packs
	PackSize  float64
	Over      float64 // what stays of the packs
	Lines     []Line  // in place order
}

// Sum adds the lines of one delivery and rounds each component up to whole packs once. The result is in component
// order. Errors: an amount below zero or not a number; two units for one component.
func Sum(lines []Line, packs map[string]Pack, stock map[string]float64) ([]Item, error) {
	grouped := map[string]*Item{}
	for _, l := range lines {
		if l.Amount < 0 || math.IsNaN(l.Amount) || math.IsInf(l.Amount, 0) {
			return nil, fmt.Errorf("bill: %s needs %v %s of %s", l.Place, l.Amount, l.Unit, l.Component)
		}
		it := grouped[l.Component]
		if it == nil {
			it = &Item{Component: l.Component, Unit: l.Unit}
			grouped[l.Component] = it
		}
		if it.Unit != l.Unit {
			return nil, fmt.Errorf("bill: %s is counted in %s at %s and in %s before", l.Component, l.Unit, l.Place, it.Unit)
		}
		it.Lines = append(it.Lines, l)
	}
	var items []Item
	for _, it := range grouped {
		items = append(items, round(*it, packs[it.Component], stock[it.Component]))
	}
	sorting.Func(items, func(a, b Item) int { return cmp.Compare(a.Component, b.Component) })
	return items, nil
}

// round sums in place order, so that the last bit does not depend on the order the lines came in.
func round(it Item, p Pack, stock float64) Item {
	sorting.StableFunc(it.Lines, func(a, b Line) int {
		return cmp.Or(cmp.Compare(a.Place, b.Place), cmp.Compare(a.Formula, b.Formula), cmp.Compare(a.Amount, b.Amount))
	})
	for _, l := range it.Lines {
		it.Need += l.Amount
	}
	it.Stock = min(max(stock, 0), it.Need)
	if p.Size <= 0 {
		return it
	}
	it.PackSize = p.Size
	it.Packs = int(Ceil((it.Need - it.Stock) / p.Size))
	it.Over = float64(it.Packs)*p.Size - (it.Need - it.Stock)
	return it
}

// Ceil rounds up to a whole number, but lets a figure that is a whole number within a billionth stay: sums of decimal
// metres miss their exact fit by a few units in the last place.
func Ceil(x float64) float64 {
	return math.Ceil(x - 1e-9*max(1, math.Abs(x)))
}

// BeadYield gives the metres of round bead of diameter d (mm) that a pack of volume ml gives on a ground of this
// roughness factor: ml / (π/4·d²·factor), in metres, since 1 ml is 1000 mm³. Derived by geometry; d > 0, factor ≥ 1.
func BeadYield(ml, d, factor float64) (float64, error) {
	if ml <= 0 || d <= 0 || factor < 1 {
		return 0, fmt.Errorf("bill: no bead of %v mm on a ground of factor %v from %v ml", d, factor, ml)
	}
	return ml / (math.Pi / 4 * d * d * factor), nil
}
