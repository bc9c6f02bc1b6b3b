package assess

import (
	"fmt"

	"lapwork/generator/calc/condensation"
	"lapwork/generator/calc/transient"
	"lapwork/generator/calc/vapour"
	q "lapwork/generator/quantity"
)

// elements are the build-up as the monthly method takes it, between the members: one, or one for each end of the sheet's
// class.
func (r *Results) elements(c *MoistureCheck) (out []condensation.Element, names []string) {
	class := false
	for _, l := range c.Layers {
		class = class || l.Class && l.Counted
	}
	ends := []bool{false}
	if class {
		ends = append(ends, true)
	}
	for _, high := range ends {
		e := condensation.Element{Rsi: c.Films.Inside, Rse: c.Films.Outside}
		name := ""
		for _, l := range c.Layers {
			if !l.Counted {
				continue
			}
			sd := l.Low
			if high {
				sd = l.High
			}
			if l.Class {
				name = r.say("%s with sd %g m", l.Name, float64(sd))
			}
			e.Layers = append(e.Layers, condensation.Layer{Name: l.Name, R: l.R, Sd: sd, Curve: l.Curve})
		}
		out, names = append(out, e), append(names, name)
	}
	return out, names
}

// runCases runs every case over the years and finds the one that decides: the worst verdict, of equal ones the most water,
// of dry ones the one nearest to saturation.
func (r *Results) runCases(c *MoistureCheck, _ *Moisture) error {
	elements, names := r.elements(c)
	for i, e := range elements {
		s, err := condensation.Screen(e, c.Year, condensation.Options{})
		if err != nil {
			return fmt.Errorf("build-up %s: %w", c.BuildUp.ID, err)
		}
		c.Cases = append(c.Cases, r.casesOf(e, s, names[i])...)
	}
	for i := range c.Cases {
		if worse(c.Cases[i].Result, c.Worst().Result) {
			c.Shown = i
		}
	}
	return nil
}

// casesOf splits a screening into its runs: by humidity, and with constants.
func (r *Results) casesOf(e condensation.Element, s condensation.Screened, name string) []Case {
	if len(s.Fixed) == 0 {
		return []Case{{Name: name, Layers: e.Layers, Result: s.Variable}}
	}
	out := []Case{{Name: r.say("sd by humidity"), Layers: e.Layers, Result: s.Variable}}
	for n, result := range s.Fixed {
		layers, said := r.constants(e.Layers, n == 1)
		out = append(out, Case{Name: said, Layers: layers, Result: result})
	}
	return out
}

// constants are the layers with a constant in place of each curve: the declared one, or the curve's least or greatest.
func (r *Results) constants(layers []condensation.Layer, greatest bool) (out []condensation.Layer, name string) {
	for _, l := range layers {
		if l.Curve != nil {
			if least, most := l.Curve.Range(); l.Sd <= 0 {
				if l.Sd = least; greatest {
					l.Sd = most
				}
			}
			l.Curve = nil
			name = r.say("constant sd %g m", float64(l.Sd))
		}
		out = append(out, l)
	}
	return out, name
}

func worse(a, b condensation.Result) bool {
	if a.Verdict != b.Verdict {
		return a.Verdict > b.Verdict
	}
	if mostHeld(a) != mostHeld(b) {
		return mostHeld(a) > mostHeld(b)
	}
	return a.Verdict == condensation.NoCondensation && wettest(a) > wettest(b)
}

// mostHeld is the most water at a month's end over all years of a run: it grows where water stays.
func mostHeld(r condensation.Result) (most condensation.Water) {
	for _, y := range r.Years {
		most = max(most, y.Peak)
	}
	return most
}

func wettest(r condensation.Result) (most q.Ratio) {
	all := r.HighestHumidity()
	for _, rh := range all[1 : len(all)-1] {
		most = max(most, rh)
	}
	return most
}

// Reserve is the check of the drying reserve: this much more water at the cold side of the insulation, put there at the
// start, has to leave within a year.
type Reserve struct {
	Water   condensation.Water
	At      string
	Start   int // month
	Dry     int // months until it has gone, the slowest case; 0: it has not
	Source  q.Source
	Skipped string // why it was not reckoned; empty: it was
}

// The reserve of DIN 68800-2 and DIN 4108-3, from memory.
const (
	RoofReserve = condensation.Water(transient.RoofReserve)
	WallReserve = condensation.Water(transient.WallReserve)
)

// reserve runs every case once more with the reserve in it. It is asked where timber or wood panels stand in the build-up.
func (r *Results) reserve(c *MoistureCheck, _ *Moisture) error {
	if !r.hasTimber(c) {
		return nil
	}
	c.Reserve = &Reserve{Water: WallReserve, Source: q.Source{Text: "DIN 68800-2 / DIN 4108-3", Status: q.FromMemory}}
	if c.Roof {
		c.Reserve.Water = RoofReserve
	}
	elements, _ := r.elements(c)
	for _, e := range elements {
		at, ok := r.coldPlane(c, e)
		if !ok {
			c.Reserve.Skipped = r.say("no insulation in it at whose cold side the water could lie")
			return nil
		}
		c.Reserve.At = e.PlaneName(at)
		start := 10
		if w := c.Worst().Result; w.Condenses {
			start = w.Start
		}
		c.Reserve.Start = start
		s, err := condensation.Screen(e, c.Year, condensation.Options{Start: start, Years: 1, Wetted: []condensation.Wetted{{At: at, Water: c.Reserve.Water}}})
		if err != nil {
			return fmt.Errorf("build-up %s, drying reserve: %w", c.BuildUp.ID, err)
		}
		for _, run := range append(s.Fixed, s.Variable) {
			if run.DryAfter == 0 {
				c.Reserve.Dry = 0
				return nil
			}
			c.Reserve.Dry = max(c.Reserve.Dry, run.DryAfter)
		}
	}
	return nil
}

// surfaceHumidity finds the temperature factor each month asks of the inside surface, and the part's own.
func (r *Results) surfaceHumidity(c *MoistureCheck, m *Moisture) error {
	var err error
	if c.Surface, err = condensation.Surface(vapour.ISO13788, m.Year[:], condensation.MouldHumidity); err != nil {
		return err
	}
	if c.U > 0 {
		c.Factor, err = condensation.OwnFactor(c.U, c.Films)
	}
	return err
}
