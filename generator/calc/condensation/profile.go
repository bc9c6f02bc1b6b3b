package condensation

import (
	"lapwork/generator/calc/vapour"
	q "lapwork/generator/quantity"
)

// climate is the part of a boundary that a profile needs, with the saturation pressures of the nodes.
type climate struct {
	theta  []float64 // °C at the nodes
	psat   []float64 // Pa at the nodes
	pi, pe float64   // Pa at the surfaces, at most saturation there
	capped bool      // a surface is at saturation
}

// temperatures gives θ = ti − (ti−te)·R/RT at the nodes and the saturation pressure there.
func (g grid) temperatures(b Boundary, set vapour.Set) (climate, error) {
	c := climate{theta: make([]float64, len(g.r)), psat: make([]float64, len(g.r)), pi: float64(b.Pi), pe: float64(b.Pe)}
	for i, r := range g.r {
		c.theta[i] = float64(b.Ti) - float64(b.Ti-b.Te)*r/g.total
		p, err := set.Saturation(q.Temperature(c.theta[i]))
		if err != nil {
			return climate{}, err
		}
		c.psat[i] = float64(p)
	}
	last := len(c.psat) - 1
	c.capped = c.pi > c.psat[0] || c.pe > c.psat[last]
	c.pi, c.pe = min(c.pi, c.psat[0]), min(c.pe, c.psat[last])
	return c, nil
}

// profile is the vapour pressure through the element and what it makes of the planes.
type profile struct {
	p       []float64 // Pa at the nodes
	rate    []float64 // kg/(m²·s) at the nodes, 0 where the string runs straight
	in, out float64   // flow from the room, flow to outside, kg/(m²·s)
}

// profile finds the vapour pressure: wet nodes sit at saturation; between them and the surfaces the string is the
// lowest taut one that stays on or below saturation, the lower convex hull of the saturation pressures over sd. Where
// it touches, vapour condenses; at wet nodes it may also dry.
func (g grid) profile(c climate, wet []bool, delta0 vapour.Permeability) profile {
	last := len(g.x) - 1
	at := func(i int) float64 {
		switch i {
		case 0:
			return c.pi
		case last:
			return c.pe
		}
		return c.psat[i]
	}
	knots := []int{0}
	from := 0
	for i := 1; i <= last; i++ {
		if i == last || wet[i] {
			knots = append(knots, g.hull(from, i, at)...)
			from = i
		}
	}
	return g.along(knots, at, float64(delta0))
}

// hull gives the nodes after from, up to to, at which the taut string between the two bends.
func (g grid) hull(from, to int, at func(int) float64) []int {
	chain := []int{from}
	for i := from + 1; i <= to; i++ {
		for len(chain) >= 2 {
			a, b := chain[len(chain)-2], chain[len(chain)-1]
			if (at(b)-at(a))*(g.x[i]-g.x[a]) < (at(i)-at(a))*(g.x[b]-g.x[a]) {
				break
			}
			chain = chain[:len(chain)-1]
		}
		chain = append(chain, i)
	}
	return chain[1:]
}

// along fills the string between its knots and takes the rates from its bends.
func (g grid) along(knots []int, at func(int) float64, delta0 float64) profile {
	out := profile{p: make([]float64, len(g.x)), rate: make([]float64, len(g.x))}
	var before float64
	for k := 1; k < len(knots); k++ {
		a, b := knots[k-1], knots[k]
		slope := (at(b) - at(a)) / (g.x[b] - g.x[a])
		for i := a; i <= b; i++ {
			out.p[i] = at(a) + slope*(g.x[i]-g.x[a])
		}
		out.p[b] = at(b)
		flow := -delta0 * slope
		if k == 1 {
			out.in = flow
		} else {
			out.rate[a] = before - flow
		}
		before = flow
	}
	out.out = before
	return out
}
