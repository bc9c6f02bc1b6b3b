package pack

import (
	"strconv"

	"lapwork/generator/assess"
	"lapwork/generator/calc/condensation"
	"lapwork/generator/calc/vapour"
	"lapwork/generator/drawing"
	"lapwork/generator/drawing/svg"
	q "lapwork/generator/quantity"
)

// shownMonth is the month whose diagram is drawn: of the first year the one in which most condenses, or the coldest.
func shownMonth(r condensation.Result) condensation.Month {
	best := r.Months[0]
	var most condensation.Flow
	for _, m := range r.Months[:12] {
		var sum condensation.Flow
		for _, rate := range m.Rate {
			sum += max(rate, 0)
		}
		if sum > most || most == 0 && sum == 0 && m.Boundary.Te < best.Boundary.Te {
			best, most = m, sum
		}
	}
	return best
}

// leastRate is the rate below which a plane counts as dry, kg/(m²·s): 3e-5 g/m² in a month.
const leastRate condensation.Flow = 1e-14

// wetIn says that vapour condenses at a plane in the month, or that water lies there from before.
func wetIn(m condensation.Month, i int) bool {
	return m.Rate[i] > leastRate || m.Stock[i] > 0 || m.Change[i] < 0
}

func (a *assembler) planesOf(m condensation.Month) string {
	b := m.Boundary
	return a.say("%s: outside %s °C and %s Pa, inside %s °C and %s Pa", a.month(int(b.Month)), a.format.Number(float64(b.Te), 1), a.format.Number(float64(b.Pe), 0),
		a.format.Number(float64(b.Ti), 1), a.format.Number(float64(b.Pi), 0))
}

// planeRows are the interfaces of a month; planes inside a layer only where they are wet.
func (a *assembler) planeRows(r condensation.Result, m condensation.Month) []PlaneRow {
	var out []PlaneRow
	for i, p := range r.Planes {
		wet := wetIn(m, i)
		if p.Part < p.Of && !wet {
			continue
		}
		row := PlaneRow{Plane: a.planeNumber(p, len(r.Planes)-1 == i), Temperature: a.format.Number(float64(m.Temperature[i]), 1), Dew: a.say("none"), Saturation: a.format.Number(float64(m.Saturation[i]), 0),
			Pressure: a.format.Number(float64(m.Pressure[i]), 0), Humidity: a.format.Percent(q.Ratio(m.Pressure[i]/m.Saturation[i]), 0)}
		if dew, err := vapour.ISO13788.DewPoint(m.Pressure[i]); err == nil {
			row.Dew = a.format.Number(float64(dew), 1)
		}
		if wet {
			row.Humidity += a.say(", wet")
		}
		out = append(out, row)
	}
	return out
}

// planeNumber names a plane by the numbers of the layers beside it, which are counted from the inside without a gap.
func (a *assembler) planeNumber(p condensation.Plane, last bool) string {
	switch {
	case p.After < 0:
		return a.say("inside surface")
	case last:
		return a.say("outside surface")
	case p.Part < p.Of:
		return a.say("in layer %d, at %d/%d", p.After+1, p.Part, p.Of)
	}
	return a.say("between %d and %d", p.After+1, p.After+2)
}

// leastNamed is the share of the diagram from which a layer carries its number.
const leastNamed = 0.02

// pressureChart is the standard's diagram: saturation and actual vapour pressure over sd, wet planes hatched.
func (a *assembler) pressureChart(c *assess.MoistureCheck, m condensation.Month) *Drawing {
	k := c.Worst()
	x, ends := k.Places(m)
	saturation, actual := make([]float64, len(x)), make([]float64, len(x))
	chart := drawing.Chart{Words: a.words(), Title: a.say("Vapour pressure in %s", a.month(int(m.Boundary.Month))), X: drawing.Axis{Label: a.say("sd from inside, m"), From: 0, To: ends[len(ends)-1]}, Y: drawing.Axis{Label: a.say("Vapour pressure, Pa")}}
	n := 0
	for i, l := range c.Layers {
		if !l.Counted {
			continue
		}
		b := drawing.Band{From: ends[n], To: ends[n+1]}
		if n++; b.To-b.From > leastNamed*ends[len(ends)-1] {
			b.Name = strconv.Itoa(i + 1)
		}
		chart.Bands = append(chart.Bands, b)
	}
	for i := range x {
		saturation[i], actual[i] = float64(m.Saturation[i]), float64(m.Pressure[i])
	}
	chart.Bands = append(chart.Bands, a.wetBands(x, m)...)
	chart.Series = []drawing.Series{{Name: a.say("saturation"), X: x, Y: saturation, Line: true, Dashed: true, Mark: drawing.NoMark},
		{Name: a.say("actual"), X: x, Y: actual, Line: true, Mark: drawing.NoMark, Ink: drawing.Accent}}
	caption := a.say("Numbers are the layers of the table, inside on the left. Where the two lines meet, vapour condenses.")
	if k.Name != "" {
		caption += a.say(" Drawn for %s, the case that decides.", k.Name)
	}
	return &Drawing{SVG: svg.Render(anchor("sd-"+string(c.BuildUp.ID)), chart), Title: chart.Title, Caption: caption}
}

// wetBands hatches the wet planes; neighbours make one band.
func (a *assembler) wetBands(x []float64, m condensation.Month) []drawing.Band {
	var out []drawing.Band
	for i := range x {
		switch n := len(out); {
		case !wetIn(m, i):
		case n > 0 && wetIn(m, i-1):
			out[n-1].To = x[i]
		default:
			out = append(out, drawing.Band{Name: a.say("condensate"), From: x[i], To: x[i], Hatched: true})
		}
	}
	return out
}

// waterChart is the water held over the months with its limit; nil where nothing condenses.
func (a *assembler) waterChart(c *assess.MoistureCheck) *Drawing {
	r := c.Worst().Result
	if !r.Condenses {
		return nil
	}
	x, y := []float64{0}, []float64{0}
	for i, m := range r.Months {
		x, y = append(x, float64(i+1)), append(y, 1000*float64(m.Total()))
	}
	chart := drawing.Chart{Words: a.words(), Title: a.say("Water held"), X: drawing.Axis{Label: a.say("Months from 1 %s", a.month(int(r.Start))), From: 0, To: float64(len(r.Months))}, Y: drawing.Axis{Label: a.say("Water, g/m²")},
		Series: []drawing.Series{{Name: a.say("all planes together"), X: x, Y: y, Line: true, Mark: drawing.Disc}},
		Levels: []drawing.Level{{Name: a.say("limit of a plane %s", a.grams(c.Limit.Most)), Value: 1000 * float64(c.Limit.Most)}}}
	if len(r.Months) > 12 {
		chart.Series[0].Mark = drawing.NoMark
	}
	return &Drawing{SVG: svg.Render(anchor("water-"+string(c.BuildUp.ID)), chart), Title: a.say("Condensed and remaining water"), Caption: a.say("Each point is the end of a month.")}
}

// monthRows are the months of the first year of the case that decides.
func (a *assembler) monthRows(c *assess.MoistureCheck) []MonthRow {
	var out []MonthRow
	n := func(x float64, digits int) string { return a.format.Number(x, digits) }
	for _, m := range c.Worst().Result.Months[:12] {
		var change condensation.Water
		for _, x := range m.Change {
			change += x
		}
		b := m.Boundary
		out = append(out, MonthRow{Month: a.month(int(b.Month)), Te: n(float64(b.Te), 1), Pe: n(float64(b.Pe), 0), Ti: n(float64(b.Ti), 1), Pi: n(float64(b.Pi), 0),
			Factor: a.factorOf(c.Surface, b.Month), Change: a.grams(change), Held: a.grams(m.Total())})
	}
	return out
}
