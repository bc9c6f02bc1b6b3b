package library

import (
	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// Weight is what one unit of a component weighs with its pack.
type Weight struct {
	Component         job.ComponentID
	Low, Likely, High float64 // kg per unit of the component, > 0
	Source            q.Source
	Pos               diag.Pos `hash:"ignore"`
}

// Substitute is what can stand for a component where it cannot be had.
type Substitute struct {
	ID                 string
	Component, Instead job.ComponentID
	Factor             float64 // units of the other for one of the component, > 0
	Changes            string  // what is to be minded with it
	Source             q.Source
	Pos                diag.Pos `hash:"ignore"`
}

var weightSpec = spec[*Weight]{"weights", []string{"component", "low", "likely", "high", "source", "status"}, func(l line) *Weight {
	w := &Weight{Component: job.ComponentID(l.text("component")), Source: l.source(), Pos: l.pos}
	w.Low, w.Likely, w.High = l.positive("low"), l.positive("likely"), l.positive("high")
	if w.Low > w.Likely || w.Likely > w.High {
		l.found.Faultf(l.pos, "", "low, likely and high are not in this order")
	}
	return w
}}

var substituteSpec = spec[*Substitute]{"substitutes", []string{"id", "component", "instead", "factor", "changes", "source", "status"},
	func(l line) *Substitute {
		return &Substitute{ID: l.text("id"), Component: job.ComponentID(l.need("component")), Instead: job.ComponentID(l.need("instead")),
			Factor: l.positive("factor"), Changes: l.need("changes"), Source: l.source(), Pos: l.pos}
	}}

// positive reads a number that must be stated and more than zero.
func (l line) positive(col string) float64 {
	l.need(col)
	x, ok := l.number(col)
	if ok && !(x > 0 && x < 1e9) {
		l.found.Faultf(l.cells[col].pos, "", "column %q is no amount over zero", col)
	}
	return x
}

// GoodsTables are the tables about material as it is bought and carried, of all layers together.
type GoodsTables struct {
	Weights     Table[*Weight]
	Substitutes Table[*Substitute]
}

func (t *GoodsTables) loadGoods(from Layer, found *diag.List) {
	weightSpec.load(&t.Weights, from, found)
	substituteSpec.load(&t.Substitutes, from, found)
}

// checkGoods resolves the components that these tables name.
func (l *Library) checkGoods(found *diag.List) {
	known := func(id job.ComponentID, pos diag.Pos) *Component {
		c := l.Components.Find(string(id))
		if c == nil {
			found.Faultf(pos, suggest(string(id), l.Components.IDs()), "unknown component %q", id)
		}
		return c
	}
	for _, w := range l.Weights.All() {
		known(w.Component, w.Pos)
	}
	for _, s := range l.Substitutes.All() {
		a, b := known(s.Component, s.Pos), known(s.Instead, s.Pos)
		switch {
		case a == nil || b == nil:
		case a == b:
			found.Faultf(s.Pos, "", "%s stands for itself", a.ID)
		case a.Unit != b.Unit:
			found.Faultf(s.Pos, "", "%s is counted in %s, %s in %s", a.ID, a.Unit, b.ID, b.Unit)
		case a.Class == "sheet" || b.Class == "sheet":
			found.Faultf(s.Pos, "the sheet class is the one whose moisture check was made", "a sheet has no substitute")
		}
	}
}

// SubstitutesOf gives what can stand for a component, in table order.
func (t *GoodsTables) SubstitutesOf(id job.ComponentID) []*Substitute {
	var out []*Substitute
	for _, s := range t.Substitutes.All() {
		if s.Component == id {
			out = append(out, s)
		}
	}
	return out
}

// MassOf gives the likely mass of an amount of a component; ok is false where the table of weights lacks it.
func (t *GoodsTables) MassOf(id job.ComponentID, amount float64) (mass q.Mass, ok bool) {
	w := t.Weights.Find(string(id))
	if w == nil {
		return 0, false
	}
	return q.Mass(w.Likely * amount), true
}
