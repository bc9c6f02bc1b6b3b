package assess

import (
	"slices"
	"strconv"

	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// MassOf gives what is carried in for a delivery, packs and wrapping included, and the components whose weight is not
// known, which are not in it.
func (r *Results) MassOf(d *Delivery) (mass q.Mass, unknown []job.ComponentID) {
	for _, p := range r.Purchases(d) {
		switch m, ok := p.Mass(); {
		case ok:
			mass += m
		case !p.Leftover && !slices.Contains(unknown, p.Component):
			unknown = append(unknown, p.Component)
		}
	}
	return mass, unknown
}

// Guide are the guide weights for lifting by hand, in kilograms.
type Guide struct{ Overhead, One, Two q.Mass }

// LiftRule is the rule of guide weights for lifting by hand.
const LiftRule = "R-LIFT-1"

// guide reads the rule of guide weights: overhead, one lifter with the lighter guide, one with the heavier. ok is false
// where the library has none.
func (r *Results) guide() (Guide, bool) {
	rule := r.Library.Rules.Find(LiftRule)
	if rule == nil {
		return Guide{}, false
	}
	var kg [3]float64
	for i, text := range []string{rule.Low, rule.Likely, rule.High} {
		x, err := strconv.ParseFloat(text, 64)
		if err != nil {
			return Guide{}, false
		}
		kg[i] = x
	}
	return Guide{q.Mass(kg[0]), q.Mass(kg[1]), q.Mass(kg[2])}, true
}

// Heavy is a pack or roll at or over a guide weight for lifting by hand.
type Heavy struct {
	Purchase
	Two bool // at or over the heavier guide: more than one person, or a lifting aid
}

// Heavies lists the packs and rolls of a delivery at or over the lighter guide weight.
func (r *Results) Heavies(d *Delivery) []Heavy {
	g, ok := r.guide()
	if !ok {
		return nil
	}
	var out []Heavy
	for _, p := range r.Purchases(d) {
		if p.Packs > 0 && p.PackMass >= g.One {
			out = append(out, Heavy{p, p.PackMass >= g.Two})
		}
	}
	return out
}

// HeavyPieces lists the pieces of sheet of a ceiling or slope at or over the guide weight for lifting at head height.
func (r *Results) HeavyPieces(d *Delivery) []CutPiece {
	g, ok := r.guide()
	if !ok {
		return nil
	}
	var out []CutPiece
	for _, s := range d.Sheets {
		for _, p := range s.Pieces {
			mass, known := r.Library.MassOf(s.Component, float64(p.Width.Metres().Times(p.Cut.Metres())))
			if known && over(p.Surface) && mass >= g.Overhead {
				out = append(out, p)
			}
		}
	}
	return out
}
