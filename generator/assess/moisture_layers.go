package assess

import (
	"strings"

	"lapwork/generator/calc/condensation"
	"lapwork/generator/calc/material"
	"lapwork/generator/calc/thermal"
	"lapwork/generator/job"
	"lapwork/generator/library"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// CheckedLayer is a layer with the figures it was reckoned with.
type CheckedLayer struct {
	Stated  job.Layer
	Name    string
	Counted bool                 // false: it lies outside the ventilated air layer
	Lambda  thermal.Conductivity // 0: none, an air layer or a sheet
	R       thermal.Resistance   // of the fill where it is bridged
	Low     q.SdValue            // m; Low = High where one value holds
	High    q.SdValue
	Curve   *condensation.Curve // sd by humidity; Low is then the declared constant or 0
	Class   bool                // Low and High are those of the sheet's class: no product's value is stated
	Cup     string              // dry cup, wet cup; empty: neither
	Source  q.Source
}

// Framed is the framing that bridges layers.
type Framed struct {
	Share    q.Ratio // 0: none
	Stated   q.Ratio // in the build-up; 0: not
	Spaced   q.Ratio // stud width over spacing, the densest of the surfaces; 0: no spacing
	Material material.Material
	Metal    bool
}

// place finds how the build-up stands: as roof or wall, and what lies outside.
func (c *MoistureCheck) place() {
	direction, behind := thermal.Downward, thermal.IndoorAir
	for _, s := range c.Surfaces {
		d := thermal.Horizontal
		switch {
		case s.Role == surface.Floor:
			d = thermal.Downward
		case s.Role == surface.Slope || s.Role == surface.Ceiling:
			if s.Pitch < thermal.HorizontalFrom {
				d = thermal.Upward
			}
			c.Roof = c.Roof || s.Face.Behind == job.Outside
		}
		// The least film on the room side counts where a build-up stands both ways: the wall's over the floor's, the roof's over both.
		if d == thermal.Upward || d == thermal.Horizontal && direction == thermal.Downward {
			direction = d
		}
		if s.Face.Behind == job.Outside {
			behind = thermal.OutsideAir
		}
	}
	if c.BuildUp.Ventilated {
		behind = thermal.VentilatedAir
	}
	c.Films = thermal.FilmsFor(direction, behind)
	c.Framing.Spaced = spacedShare(c.Surfaces)
	c.direct = direction
}

// spacedShare is the greatest share of studs that the spacing of the surfaces gives, plates and noggins left out.
func spacedShare(on []*surface.Surface) q.Ratio {
	var most q.Ratio
	for _, s := range on {
		if f := s.Face.Framing; f.Pitch > 0 {
			width := f.Width
			if width == 0 {
				width = 45
			}
			most = max(most, min(q.Ratio(width)/q.Ratio(f.Pitch), 1))
		}
	}
	return most
}

// layers takes the figures of every layer from the tables and the job.
func (r *Results) layers(c *MoistureCheck) {
	b := c.BuildUp
	if len(b.Layers) == 0 {
		c.problem(r.say("it has no layers"), r.say("list them from inside to outside"))
		return
	}
	last, warm := len(b.Layers)-1, r.warmSide(b)
	if b.Ventilated {
		last = r.lastCounted(b, warm)
	}
	for i, l := range b.Layers {
		out := CheckedLayer{Stated: l, Counted: i <= last}
		switch {
		case l.Component != "":
			r.sheetLayer(c, &out)
		case l.Air:
			r.airLayer(c, &out)
		default:
			r.materialLayer(c, &out, i <= warm)
		}
		c.Layers = append(c.Layers, out)
		r.across(c, out)
	}
	r.framing(c)
}

// warmSide is the last layer on the warm side: the control layer, or what lies before the first insulation.
func (r *Results) warmSide(b *job.BuildUp) int {
	for i, l := range b.Layers {
		if l.Component != "" {
			return i
		}
	}
	for i, l := range b.Layers {
		if k := r.Library.Moisture.Kind(l.Material).Kind; k == library.Insulation || k == library.CapillaryInsulation {
			return i - 1
		}
	}
	return len(b.Layers) - 1
}

// lastCounted is the last layer inside the ventilated air layer: the outermost air layer beyond the warm side, or the
// space outside the whole build-up.
func (r *Results) lastCounted(b *job.BuildUp, warm int) int {
	for i := len(b.Layers) - 1; i > warm; i-- {
		if b.Layers[i].Air {
			return i - 1
		}
	}
	return len(b.Layers) - 1
}

func (r *Results) sheetLayer(c *MoistureCheck, out *CheckedLayer) {
	id := r.component(out.Stated.Component)
	out.Name = string(id)
	if row := r.Library.Components.Find(string(id)); row != nil {
		out.Name, _, _ = strings.Cut(row.Name, ",") // what follows the comma is the range of its class
	}
	out.Low, out.High = out.Stated.Sd, out.Stated.Sd
	declared := q.Source{Text: "declared value, stated in the job", Status: q.Confirmed}
	class, known := r.Library.Moisture.Class(id)
	curve, varies := r.Library.Moisture.Curves[string(id)]
	switch {
	case varies:
		out.Curve, out.Source = &curve, curve.Source
	case out.Stated.Sd > 0:
		out.Source = declared
	case known:
		out.Low, out.High, out.Class, out.Source = class.Low, class.High, true, class.Source
	case out.Counted:
		c.problem(r.say("no sd is known of %s", out.Name), r.say("state its declared sd in the layer: sd: …"))
	}
}

func (r *Results) airLayer(c *MoistureCheck, out *CheckedLayer) {
	out.Name, out.Low, out.High, out.Source = r.say("air layer"), condensation.AirLayerSd, condensation.AirLayerSd, thermal.AirTableSource()
	if !out.Counted {
		return
	}
	var err error
	if e := out.Stated.Emissivity; e > 0 {
		out.Source = q.Source{Text: "EN ISO 6946:2017 annex D.2", Status: q.Secondary}
		out.R, err = shinyAir(out.Stated.Thickness, c.direct, e)
	} else {
		out.R, err = thermal.TableAirLayer(out.Stated.Thickness, c.direct)
	}
	if err != nil {
		c.problem(r.say("an air layer of %d mm is no air layer of the method", out.Stated.Thickness), r.say("state it as a space: at most 300 mm count as an air layer"))
	}
}

func (r *Results) materialLayer(c *MoistureCheck, out *CheckedLayer, warm bool) {
	m, ok := r.Library.Moisture.Material(out.Stated.Material)
	if !ok {
		c.problem(r.say("there is no material %q", out.Stated.Material), r.say("add it to the table of materials"))
		return
	}
	out.Name, out.Source = m.Name, m.Source
	cup := material.WetCup
	if warm {
		cup = material.DryCup
	}
	sd, status, ok := m.VapourThickness(out.Stated.Thickness.Metres(), cup)
	if !m.Thin() {
		out.Cup = [...]string{r.say("dry cup"), r.say("wet cup")}[cup]
		out.Lambda = thermal.Conductivity(m.Lambda.X)
	}
	if curve, varies := r.Library.Moisture.Curves[m.ID]; varies {
		out.Curve = &curve
	}
	out.Low, out.High, out.Source.Status = sd, sd, out.Source.Status.Weaker(status)
	if m.Thin() && !warm {
		r.leastMeasured(out)
	}
	if !out.Counted {
		return
	}
	if !ok || sd <= 0 {
		c.problem(r.say("the layer of %s has no sd: its thickness or its mu is missing", m.Name), r.say("state its thickness, or add mu to the table of materials"))
		return
	}
	if m.Thin() {
		return
	}
	var err error
	if out.R, err = thermal.Of(out.Stated.Thickness.Metres(), out.Lambda); err != nil {
		c.problem(r.say("the layer of %s has no thermal resistance", m.Name), r.say("state its thickness and its conductivity"))
	}
}

// leastMeasured takes a thin layer on the cold side as German practice does: what a test measured below a bound counts as
// the bound.
func (r *Results) leastMeasured(out *CheckedLayer) {
	const least = condensation.LeastMeasuredSd
	if r.Job.Place.Country != "DE" || out.Low <= 0 || out.Low >= least {
		return
	}
	out.Low, out.High = least, least
	out.Source.Text += r.say("; less than %g m counts as %g m: DIN 4108-3", float64(least), float64(least))
	out.Source.Status = out.Source.Status.Weaker(q.Secondary)
}

// across finds the material of members that run across a layer.
func (r *Results) across(c *MoistureCheck, l CheckedLayer) {
	a := l.Stated.Across
	if a == nil || !l.Counted {
		return
	}
	if m, ok := r.Library.Moisture.Material(a.Material); !ok || !m.Lambda.Known {
		c.problem(r.say("the members' material %q has no conductivity", a.Material), r.say("name a material of the table"))
	}
}

// framing takes the stated share, or that of the studs' spacing where it is greater or nothing is stated.
func (r *Results) framing(c *MoistureCheck) {
	f := c.BuildUp.Framing
	if f == nil {
		return
	}
	c.Framing.Stated = f.Fraction
	c.Framing.Share = max(f.Fraction, c.Framing.Spaced)
	m, ok := r.Library.Moisture.Material(f.Material)
	if !ok || !m.Lambda.Known {
		c.problem(r.say("the framing's material %q has no conductivity", f.Material), r.say("name a material of the table"))
	}
	c.Framing.Material, c.Framing.Metal = m, r.Library.Moisture.Kind(f.Material).Kind == library.Metal
	if c.Framing.Share <= 0 {
		c.problem(r.say("its layers are bridged by framing, but neither share nor spacing is stated"), r.say("state the share, or the spacing of the surfaces"))
	}
}
