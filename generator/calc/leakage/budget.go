package leakage

import (
	"cmp"
	"fmt"
	"math"

	q "lapwork/generator/quantity"
	"lapwork/generator/sorting"
)

// TestPressure is the pressure a budget is summed and ranked at.
const TestPressure q.Pressure = 50

// Item is a quantity of an element at a place.
type Item struct {
	Element  Element
	Place    string  // id of the junction, penetration or surface
	Quantity float64 // in the element's unit
}

// Contribution is what an item leaks at 50 Pa.
type Contribution struct {
	Item
	Flows       Flows
	Share       q.Ratio // of the expected sum; 0 where nothing leaks
	Placeholder bool    // its figure stands in until an own test gives one
}

// Budget is the estimate of a whole envelope.
type Budget struct {
	Contributions []Contribution // largest expected flow first
	Sum           Flows          // at 50 Pa
	Status        q.Status       // the weakest of all figures in it
	Placeholder   q.Ratio        // share of the expected sum that rests on placeholders
	rho           Density
}

// Sum adds the items as flows at 50 Pa for air of this density. Without items the budget is zero. Errors wrap ErrInput.
func Sum(items []Item, rho Density) (Budget, error) {
	if !within(float64(rho), 0.5, 2) {
		return Budget{}, fmt.Errorf("%w: a density of %v", ErrInput, float64(rho))
	}
	b := Budget{rho: rho}
	for _, it := range items {
		f, err := it.Element.At(it.Quantity, TestPressure, rho)
		if err != nil {
			return Budget{}, fmt.Errorf("%s: %w", it.Place, err)
		}
		b.Contributions = append(b.Contributions, Contribution{Item: it, Flows: f, Placeholder: it.Element.Source.Status == q.Placeholder})
		b.Status = b.Status.Weaker(it.Element.Source.Status)
	}
	// The sum is formed after sorting, so that its last bit does not depend on the order of the items.
	sorting.StableFunc(b.Contributions, func(x, y Contribution) int {
		return cmp.Or(cmp.Compare(y.Flows.Expected, x.Flows.Expected), cmp.Compare(x.Place, y.Place),
			cmp.Compare(x.Element.ID, y.Element.ID), cmp.Compare(y.Flows.High, x.Flows.High), cmp.Compare(y.Flows.Low, x.Flows.Low))
	})
	var standIn q.AirFlow
	for _, c := range b.Contributions {
		b.Sum = b.Sum.plus(c.Flows)
		if c.Placeholder {
			standIn += c.Flows.Expected
		}
	}
	for i := range b.Contributions {
		b.Contributions[i].Share = share(b.Contributions[i].Flows.Expected, b.Sum.Expected)
	}
	b.Placeholder = share(standIn, b.Sum.Expected)
	return b, nil
}

func share(part, whole q.AirFlow) q.Ratio {
	if !(whole > 0) {
		return 0
	}
	return q.Ratio(part / whole)
}

// At is the flow of the whole envelope at a pressure (0.1 … 1000 Pa, else ErrInput): each item by its own exponent.
func (b Budget) At(p q.Pressure) (Flows, error) {
	var sum Flows
	for _, c := range b.Contributions {
		f, err := c.Element.At(c.Quantity, p, b.rho)
		if err != nil {
			return Flows{}, err
		}
		sum = sum.plus(f)
	}
	return sum, nil
}

// Exponent is the effective exponent of the mix at a pressure, Σ Q n/Σ Q; 0 where nothing leaks.
func (b Budget) Exponent(p q.Pressure) (float64, error) {
	var sum, weighted float64
	for _, c := range b.Contributions {
		f, err := c.Element.At(c.Quantity, p, b.rho)
		if err != nil {
			return 0, err
		}
		sum += float64(f.Expected)
		weighted += float64(f.Expected) * c.Element.Exponent
	}
	if !(sum > 0) {
		return 0, nil
	}
	return weighted / sum, nil
}

// Apparent is the exponent a test between two pressures would show, ln(Q2/Q1)/ln(p2/p1); 0 where nothing leaks. Two
// different pressures, else ErrInput.
func (b Budget) Apparent(low, high q.Pressure) (float64, error) {
	first, err := b.At(low)
	if err != nil {
		return 0, err
	}
	second, err := b.At(high)
	if err != nil {
		return 0, err
	}
	if len(b.Contributions) > 0 && math.Abs(float64(high/low)-1) < 1e-9 {
		return 0, fmt.Errorf("%w: an exponent between %v Pa and %v Pa", ErrInput, float64(low), float64(high))
	}
	if !(first.Expected > 0) || !(second.Expected > 0) {
		return 0, nil
	}
	return math.Log(float64(second.Expected/first.Expected)) / math.Log(float64(high/low)), nil
}

// Rates are three estimates of an air change rate.
type Rates struct{ Low, Expected, High q.AirChangeRate }

// N50 is the air change rate of the budget at 50 Pa for this internal volume, > 0, else ErrInput.
func (b Budget) N50(v q.Volume) (Rates, error) {
	if !within(float64(v), 1e-3, 1e9) {
		return Rates{}, fmt.Errorf("%w: a volume of %v m³", ErrInput, float64(v))
	}
	rate := func(f q.AirFlow) q.AirChangeRate { return q.AirChangeRate(float64(f) * 3600 / float64(v)) }
	return Rates{rate(b.Sum.Low), rate(b.Sum.Expected), rate(b.Sum.High)}, nil
}

// Permeabilities are three estimates of a rate per area.
type Permeabilities struct{ Low, Expected, High q.AirPermeability }

// Per is the budget at 50 Pa per area: qE50 of the envelope area, qF50 of the floor area. Area > 0, else ErrInput.
func (b Budget) Per(a q.Area) (Permeabilities, error) {
	if !within(float64(a), 1e-3, 1e9) {
		return Permeabilities{}, fmt.Errorf("%w: an area of %v m²", ErrInput, float64(a))
	}
	rate := func(f q.AirFlow) q.AirPermeability { return q.AirPermeability(float64(f) * 3600 / float64(a)) }
	return Permeabilities{rate(b.Sum.Low), rate(b.Sum.Expected), rate(b.Sum.High)}, nil
}

// Gain is what halving one contribution buys.
type Gain struct {
	Contribution
	Saved q.AirFlow // half its expected flow
	After q.AirFlow // expected sum once this one and all before it are halved
}

// Halve lists what halving the largest contributions buys, one after the other: at most count of them.
func (b Budget) Halve(count int) []Gain {
	var out []Gain
	left := b.Sum.Expected
	for _, c := range b.Contributions[:min(max(count, 0), len(b.Contributions))] {
		saved := c.Flows.Expected / 2
		left = max(left-saved, 0)
		out = append(out, Gain{Contribution: c, Saved: saved, After: left})
	}
	return out
}
