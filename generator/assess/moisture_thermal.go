package assess

import (
	"errors"
	"math"
	"slices"

	"lapwork/generator/calc/thermal"
	"lapwork/generator/library"
	q "lapwork/generator/quantity"
)

// transmittance computes U with the framing, members that run across it, a slightly ventilated air layer, fixings and air gaps. A
// refusal is no stop: it is told, and the temperatures are those between the members.
func (r *Results) transmittance(c *MoistureCheck, _ *Moisture) error {
	var err error
	if c.Thermal, err = r.combined(c, c.Layers, c.Films); err != nil {
		return err
	}
	total := c.Thermal.Total
	if c.Vented, err = r.vented(c); err != nil {
		return err
	}
	if c.Vented > 0 {
		total = c.Vented
	}
	if c.U, err = c.Thermal.Transmittance(); err != nil {
		if errors.Is(err, thermal.ErrRefused) {
			return nil
		}
		return err
	}
	if c.U, err = total.Transmittance(); err != nil {
		return err
	}
	return c.correct(total)
}

// combined is the resistance of layers between films by the combined method.
func (r *Results) combined(c *MoistureCheck, layers []CheckedLayer, films thermal.Films) (thermal.Combined, error) {
	e := thermal.Element{Films: films}
	for _, l := range layers {
		if !l.Counted || l.R == 0 {
			continue
		}
		layer, err := r.thermalLayer(c, l)
		if err != nil {
			return thermal.Combined{}, err
		}
		e.Layers = append(e.Layers, layer)
	}
	return e.Resistance()
}

// thermalLayer is one layer with what crosses it: the framing on one grid, members that run across on one of their own.
func (r *Results) thermalLayer(c *MoistureCheck, l CheckedLayer) (thermal.Layer, error) {
	grid, share, id := "framing", c.Framing.Share, ""
	switch a := l.Stated.Across; {
	case a != nil:
		grid, share, id = "", a.Fraction, a.Material
	case l.Stated.Bridged && share > 0:
		id = c.Framing.Material.ID
	default:
		return thermal.Plain(l.Name, l.R), nil
	}
	m, _ := r.Library.Moisture.Material(id)
	member, err := thermal.Of(l.Stated.Thickness.Metres(), thermal.Conductivity(m.Lambda.X))
	if err != nil {
		return thermal.Layer{}, err
	}
	out := thermal.Bridged(l.Name, l.R, share, member)
	out.Parts[1].Metal, out.Insulation = r.Library.Moisture.Kind(id).Kind == library.Metal, !l.Stated.Air
	out.Grid = grid
	return out, nil
}

// vented is RT where an air layer is slightly ventilated: between that of the whole and that without the layer and what lies
// outside it, in still air. 0 where none is. The moisture checks take the layer as closed, which is the safe side.
func (r *Results) vented(c *MoistureCheck) (thermal.Resistance, error) {
	i := slices.IndexFunc(c.Layers, func(l CheckedLayer) bool { return l.Counted && l.Stated.Air && l.Stated.Openings > 0 })
	if i < 0 {
		return 0, nil
	}
	films := c.Films
	films.Outside = films.Inside
	well, err := r.combined(c, c.Layers[:i], films)
	if err != nil {
		return 0, err
	}
	return thermal.Ventilated(thermal.Openings(c.Layers[i].Stated.Openings), c.Thermal.Total, well.Total)
}

// correct adds what fixings and air gaps cost to U.
func (c *MoistureCheck) correct(total thermal.Resistance) error {
	var sum []thermal.Transmittance
	for _, l := range c.Layers {
		if !l.Counted {
			continue
		}
		pierced := min(l.R, total) // bridged heavily, the whole may insulate less than the fill alone
		if f := l.Stated.Fixings; f != nil {
			fixing := thermal.Fixing{Layer: l.Stated.Thickness.Metres(), Depth: min(f.Depth, l.Stated.Thickness.Metres()), Lambda: thermal.Conductivity(f.Lambda), Area: q.Area(math.Pi / 4 * float64(f.Diameter) * float64(f.Diameter)), PerM2: f.PerM2}
			added, err := fixing.Correction(pierced, total)
			if err != nil {
				return err
			}
			sum = append(sum, added)
		}
		if gaps, some := gapsOf[l.Stated.Gaps]; some {
			added, err := gaps.Correction(pierced, total)
			if err != nil {
				return err
			}
			sum = append(sum, added)
		}
	}
	c.Added = c.U.Correct(sum...)
	c.U = c.Added.U
	return nil
}

// gapsOf are the levels of air gaps by the job's words.
var gapsOf = map[string]thermal.Gaps{"through": thermal.GapsThrough, "circulating": thermal.GapsCirculate}

// shinyAir is an air layer with one face of low emissivity, at 10 °C and 5 K across as in the table.
func shinyAir(thickness q.MM, d thermal.Direction, emissivity q.Ratio) (thermal.Resistance, error) {
	return thermal.AirLayer{Thickness: thickness, Direction: d, Emissivity: [2]q.Ratio{emissivity, 0.9}, Mean: 10, Difference: 5}.Resistance()
}
