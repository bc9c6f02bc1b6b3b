package condensation

import (
	"fmt"

	q "lapwork/generator/quantity"
)

// Block is a period of constant climate, as in the German block method.
type Block struct {
	Condensing Boundary   // Month is not used
	Drying     q.Pressure // vapour pressure of the air on both sides while drying
	Wet        q.Pressure // saturation pressure in the wet planes while drying
	Days       int        // of each period
	Source     q.Source
}

// GermanBlock is the block climate of DIN 4108-3: 90 days of −5 °C 80 % outside and 20 °C 50 % inside (secondary), then
// 90 days of 1200 Pa on both sides with 1700 Pa in the wet planes of walls, 2000 Pa in those of roofs (from memory).
func GermanBlock(pi, pe q.Pressure, roof bool) Block {
	b := Block{Condensing: Boundary{Month: 1, Te: -5, Ti: 20, Pe: pe, Pi: pi}, Drying: 1200, Wet: 1700, Days: 90,
		Source: q.Source{Text: "DIN 4108-3, block climate", Status: q.FromMemory}}
	if roof {
		b.Wet = 2000
	}
	return b
}

// BlockPlane is a plane at which the block condenses.
type BlockPlane struct {
	Plane           Plane
	Name            string
	Temperature     q.Temperature
	Saturation      q.Pressure
	Rate            Flow // condensing
	Condensed       Water
	DryingRate      Flow // positive: drying
	MayDry          Water
	DriesWithinTime bool
}

// RunBlock computes a block climate. It is a national rule with its own films (inside 0.25, outside 0.04 or 0.08) and its own
// limits; layers stay whole.
func RunBlock(e Element, k Block, o Options) ([]BlockPlane, error) {
	o, err := o.complete()
	if err == nil {
		err = e.check()
	}
	if err == nil {
		err = k.Condensing.check()
	}
	if err != nil {
		return nil, err
	}
	if e.variable() || k.Days <= 0 || !(k.Wet > k.Drying && k.Drying > 0) {
		return nil, fmt.Errorf("%w: block of %d days, %v and %v Pa", ErrInput, k.Days, float64(k.Wet), float64(k.Drying))
	}
	g := e.cut(e.firstSd(), true)
	c, err := g.temperatures(k.Condensing, o.Set)
	if err != nil {
		return nil, err
	}
	winter := g.profile(c, make([]bool, len(g.x)), o.Delta0)
	wet := make([]bool, len(g.x))
	summer := climate{psat: make([]float64, len(g.x)), pi: float64(k.Drying), pe: float64(k.Drying)}
	for i, rate := range winter.rate {
		wet[i], summer.psat[i] = rate > least, float64(k.Wet)
	}
	drying := g.profile(summer, wet, o.Delta0)
	var out []BlockPlane
	seconds := float64(k.Days) * 86400
	for i := range wet {
		if !wet[i] {
			continue
		}
		p := BlockPlane{Plane: g.planes[i], Name: e.PlaneName(g.planes[i]), Temperature: q.Temperature(c.theta[i]), Saturation: q.Pressure(c.psat[i]),
			Rate: Flow(winter.rate[i]), Condensed: Water(winter.rate[i] * seconds), DryingRate: Flow(-drying.rate[i]), MayDry: Water(-drying.rate[i] * seconds)}
		p.DriesWithinTime = p.MayDry >= p.Condensed
		out = append(out, p)
	}
	return out, nil
}
