package pack

import (
	"slices"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/calc/transient"
	"lapwork/generator/drawing"
	"lapwork/generator/drawing/svg"
)

// simulation puts what a simulation found on the page, or why there is none.
func (a *assembler) simulation(c *assess.MoistureCheck, v *MoistureBuildUp) {
	v.Beyond = a.simulationText(c)
	s := c.Run
	if s == nil || s.Failed != "" {
		return
	}
	v.Above = a.format.Percent(s.Limit, 0)
	v.Series, v.Humid, v.Run = a.simulationSeries(c), a.humidRows(s.Result), append(a.runFigures(s), a.storageFigures(c)...)
	for _, r := range s.Judged.Reasons {
		v.Unshown = append(v.Unshown, Term{upperFirst(r.Text), r.Source.Text + " (" + a.status(r.Source) + ")"})
	}
}

// simulationText says what a simulation rests on, or why there is none.
func (a *assembler) simulationText(c *assess.MoistureCheck) string {
	switch s := c.Run; {
	case s == nil:
		return a.say("No simulation by EN 15026: there are no moisture storage data for %s. None are assumed; the answer stops at the monthly method.", strings.Join(unique(c.Storage), "; "))
	case s.Failed != "":
		return a.say("The simulation came to no result: %s.", s.Failed)
	case len(s.Weak) > 0:
		return a.say("A screening in the manner of EN 15026, without sun and rain: nobody measured the moisture storage of %s. It shows what is likely; it proves nothing and turns no fail into a pass.", strings.Join(s.Weak, "; "))
	case s.Proves():
		return a.say("Simulated in the manner of EN 15026 through the job's weather file, without sun and rain: it answers what the monthly method leaves out.")
	case s.Hourly:
		return a.say("Simulated in the manner of EN 15026 through the job's weather file, without sun and rain. It is no proof; the reasons stand below.")
	}
	return a.say("Simulated in the manner of EN 15026 through smoothed monthly means, without sun and rain: it can fail a build-up and proves none. Name an hourly weather file as the job's climate for a proof.")
}

// settled says how the years went on.
func (a *assembler) settled(r transient.Result) string {
	switch {
	case r.Steady:
		return a.say("year %d repeats the year before", r.Years)
	case r.Gain > 0:
		return a.say("water still gathers in year %d: %s g/m²", r.Years, a.format.Number(1000*float64(r.Gain), 0))
	}
	return a.say("it still dries in year %d: %s g/m²", r.Years, a.format.Number(-1000*float64(r.Gain), 0))
}

// runFigures are what a run was given and what it came to.
func (a *assembler) runFigures(s *assess.Simulation) []Figure {
	weather := Figure{Label: a.say("Weather"), Value: a.say("smoothed monthly means")}
	if m := &a.Results.Moisture; s.Hourly {
		weather.Value, weather.Source, weather.Status = a.say("8760 hours"), m.Climate.Source.Text, a.status(m.Climate.Source)
		if m.Filled > 0 {
			weather.Inputs = a.say("missing hours filled in: %d", m.Filled)
		}
	}
	out := []Figure{weather, {Label: a.say("Years"), Value: a.settled(s.Result)}}
	if reserve, ok := s.Wall.Source.(transient.Reserve); ok {
		out = append(out, Figure{Label: a.say("Reserve in the run"), Value: a.format.Number(1000*float64(reserve.PerYear), 0), Unit: "g/m² a year", Formula: a.say("at the cold side of the insulation, in the colder half of the year")})
	}
	dry := Figure{Label: a.say("Drying of the water at the start"), Formula: a.say("until nine tenths of what is above the yearly cycle have gone"), Value: a.say("not within the run"),
		Inputs: a.say("every layer at %s and %s °C", a.format.Percent(s.Wall.Start, 0), a.format.Number(float64(s.Wall.Temperature), 0))}
	if s.Result.Drying.Days >= 0 {
		dry.Value, dry.Unit = a.format.Number(float64(s.Result.Drying.Days), 0), a.say("days")
	}
	b := s.Result.Balance
	return append(out, dry, Figure{Label: a.say("Balances left open"), Value: a.say("%s g/m² of %s moved, %s kJ/m² of %s", a.format.Number(1000*float64(b.Water), 2), a.format.Number(1000*float64(b.WaterMoved), 0),
		a.format.Number(float64(b.Heat)/1000, 1), a.format.Number(float64(b.HeatMoved)/1000, 0)), Formula: a.say("over all years")})
}

// storageFigures say where each layer's moisture storage comes from.
func (a *assembler) storageFigures(c *assess.MoistureCheck) []Figure {
	var out []Figure
	for _, l := range c.Layers {
		s, known := a.Results.Library.Moisture.Storage[l.Stated.Material]
		if !known || !l.Counted || slices.ContainsFunc(out, func(f Figure) bool { return f.Inputs == l.Stated.Material }) {
			continue
		}
		f := Figure{Label: a.say("Moisture storage of %s", l.Name), Inputs: l.Stated.Material, Value: a.say("sorption isotherm"), Source: s.Source.Text, Status: a.status(s.Source)}
		if _, none := s.Curve.(transient.NoUptake); none {
			f.Value = a.say("takes up no water")
		}
		out = append(out, f)
	}
	return out
}

// humidRows are the planes between layers over the last year.
func (a *assembler) humidRows(r transient.Result) []HumidRow {
	var out []HumidRow
	for _, p := range r.Interfaces[1 : len(r.Interfaces)-1] {
		out = append(out, HumidRow{Plane: a.PlaneWords(p.Inner + "|" + p.Outer), Hours: a.format.Number(float64(p.Above[0]), 0), Highest: a.format.Percent(p.Highest, 0),
			Free: a.format.Number(1000*float64(p.MostFree), 0)})
	}
	return out
}

// wettestPlane is the plane between two layers with the most hours above the limit, then the highest humidity.
func wettestPlane(r transient.Result) transient.InterfaceYear {
	best := r.Interfaces[1%len(r.Interfaces)]
	for _, p := range r.Interfaces[1 : len(r.Interfaces)-1] {
		if p.Above[0] > best.Above[0] || p.Above[0] == best.Above[0] && p.Highest > best.Highest {
			best = p
		}
	}
	return best
}

// simulationSeries are the last year's water in each layer and the hours above the limit that have run up.
func (a *assembler) simulationSeries(c *assess.MoistureCheck) []Drawing {
	s := c.Run
	if s == nil || s.Failed != "" {
		return nil
	}
	id := string(c.BuildUp.ID)
	var water []drawing.Series
	for i, l := range s.Result.Layers {
		d := float64(s.Wall.Layers[i].Thickness)
		if d == 0 || l.Most == 0 {
			continue
		}
		row := drawing.Series{Name: l.Name, Line: true, Mark: drawing.NoMark, Dashed: len(water)%2 == 1}
		for day, w := range l.Water {
			row.X, row.Y = append(row.X, float64(day+1)), append(row.Y, float64(w)/d)
		}
		water = append(water, row)
	}
	var out []Drawing
	days := drawing.Axis{Label: a.say("Day of the last year, from 1 January"), From: 0, To: 365}
	if len(water) > 0 {
		chart := drawing.Chart{Words: a.words(), Title: a.say("Water in the layers"), X: days, Y: drawing.Axis{Label: a.say("Water content, kg/m³")}, Series: water}
		out = append(out, Drawing{SVG: svg.Render(anchor("layers-"+id), chart), Title: chart.Title, Caption: a.say("Mean over each layer's thickness, at the end of each day.")})
	}
	plane := wettestPlane(s.Result)
	run := drawing.Series{Name: a.PlaneWords(plane.Inner + "|" + plane.Outer), Line: true, Mark: drawing.NoMark}
	for day, rh := range plane.Humidity {
		run.X, run.Y = append(run.X, float64(day+1)), append(run.Y, 100*float64(rh))
	}
	humid := drawing.Chart{Words: a.words(), Title: a.say("Humidity at the most humid plane"), X: days, Y: drawing.Axis{Label: a.say("Relative humidity, %%"), From: 0, To: 100}, Series: []drawing.Series{run},
		Levels: []drawing.Level{{Name: a.format.Percent(s.Limit, 0), Value: 100 * float64(s.Limit)}}}
	return append(out, Drawing{SVG: svg.Render(anchor("humid-"+id), humid), Title: humid.Title, Caption: a.say("Mean of each day; the hours above the limit stand in the text.")})
}
