package condensation

import (
	"math"

	q "lapwork/generator/quantity"
)

// VariableState is what a humidity-variable layer settles at in a month.
type VariableState struct {
	Layer        int // index in the element
	Sd           q.SdValue
	Inner, Outer q.Ratio     // relative humidity at its faces
	Roots        []q.SdValue // every sd at which the layer agrees with its own humidity
}

// Ambiguous says that the layer could settle at more than one sd: the outcome of the month depends on its history. The
// run goes on with the root that brings most water.
func (v VariableState) Ambiguous() bool { return len(v.Roots) > 1 }

// searchSteps is how finely the range of sd is searched for roots. Steps of 2 to 4 % separate roots that differ enough
// to matter.
const searchSteps = 160

// rounds bounds how often several variable layers are adjusted to each other.
const rounds = 40

// scene is one month of an element with given stocks, in which variable layers settle.
type scene struct {
	e      Element
	b      Boundary
	stock  []float64
	o      Options
	sd     []q.SdValue
	states []VariableState
}

// settle finds the sd of every layer for a month: declared constants, and for variable layers the fixed point of curve
// and mean humidity of the faces. With several such layers each is settled in turn until none moves.
func settle(e Element, b Boundary, stock []float64, o Options, start []q.SdValue) ([]q.SdValue, []VariableState, error) {
	s := scene{e: e, b: b, stock: stock, o: o, sd: append([]q.SdValue(nil), start...)}
	var variable []int
	for i, l := range e.Layers {
		if l.Curve != nil {
			variable = append(variable, i)
		}
	}
	for range rounds {
		var moved float64
		s.states = s.states[:0]
		for _, i := range variable {
			before := s.sd[i]
			state, err := s.root(i)
			if err != nil {
				return nil, nil, err
			}
			s.sd[i] = state.Sd
			s.states = append(s.states, state)
			moved = max(moved, math.Abs(float64(state.Sd-before)/float64(before)))
		}
		if len(variable) < 2 || moved < 1e-9 {
			break
		}
	}
	return s.sd, s.states, nil
}

// trial is the month with layer i at a given sd.
type trial struct {
	excess       float64 // curve's sd at the mean humidity, less the sd tried
	water        float64 // sum of the rates, kg/(m²·s)
	inner, outer q.Ratio
}

func (s *scene) try(i int, sd q.SdValue) (trial, error) {
	all := append([]q.SdValue(nil), s.sd...)
	all[i] = sd
	g := s.e.cut(all, s.o.Whole)
	c, err := g.temperatures(s.b, s.o.Set)
	if err != nil {
		return trial{}, err
	}
	stock := s.stock
	if stock == nil {
		stock = make([]float64, len(g.x))
	}
	p := g.profile(c, wetAt(stock), s.o.Delta0)
	inner, outer := 0, g.last[i]
	if i > 0 {
		inner = g.last[i-1]
	}
	t := trial{inner: q.Ratio(min(p.p[inner]/c.psat[inner], 1)), outer: q.Ratio(min(p.p[outer]/c.psat[outer], 1))}
	t.excess = float64(s.e.Layers[i].Curve.At((t.inner+t.outer)/2) - sd)
	for _, rate := range p.rate {
		t.water += rate
	}
	return t, nil
}

// root searches the whole range of the curve for sds at which layer i agrees with its humidity.
func (s *scene) root(i int) (VariableState, error) {
	least, greatest := s.e.Layers[i].Curve.Range()
	best := VariableState{Layer: i}
	most := math.Inf(-1)
	step := math.Pow(float64(greatest/least), 1.0/searchSteps)
	low := least
	at, err := s.try(i, low)
	for k := 1; k <= searchSteps && err == nil; k++ {
		high := low * q.SdValue(step)
		if k == searchSteps {
			high = greatest
		}
		var next trial
		if next, err = s.try(i, high); err != nil {
			break
		}
		if at.excess == 0 && k == 1 || at.excess > 0 && next.excess <= 0 || at.excess < 0 && next.excess >= 0 {
			var sd q.SdValue
			var t trial
			if sd, t, err = s.narrow(i, low, high, at.excess >= 0); err != nil {
				break
			}
			best.Roots = append(best.Roots, sd)
			if t.water > most {
				most = t.water
				best.Sd, best.Inner, best.Outer = sd, t.inner, t.outer
			}
		}
		low, at = high, next
	}
	return best, err
}

// narrow halves the range around a root; falling says that the excess falls through zero.
func (s *scene) narrow(i int, low, high q.SdValue, falling bool) (q.SdValue, trial, error) {
	for range 60 {
		mid := (low + high) / 2
		t, err := s.try(i, mid)
		if err != nil {
			return 0, trial{}, err
		}
		if t.excess > 0 == falling {
			low = mid
		} else {
			high = mid
		}
	}
	sd := (low + high) / 2
	t, err := s.try(i, sd)
	return sd, t, err
}
