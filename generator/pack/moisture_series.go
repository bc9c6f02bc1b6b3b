package pack

import (
	"slices"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/calc/transient"
	"lapwork/generator/drawing"
	"lapwork/generator/drawing/svg"
	q "lapwork/generator/quantity"
)

// simulation puts what a simulation found on the page, or why there is none.
func (a *assembler) simulation(c *assess.MoistureCheck, v *MoistureBuildUp) {
	v.Beyond = a.simulationText(c)
	s := c.Run
	if s == nil || s.Failed != "" {
		return
	}
	v.Above = a.format.Percent(s.Limit, 0)
	v.Series, v.Humid, v.Run = a.simulationSeries(c), a.humidRows(c), append(a.runFigures(s), a.storageFigures(c)...)
	if len(a.Results.TimberPlanes(c)) > 0 {
		v.Timber = a.say("Timber: the moisture it comes to there in the wettest thirty days; limit %s %%, DIN 68800-2 from memory.", a.format.Number(float64(transient.MostTimber), 0))
	}
	if len(c.Runs) > 1 {
		v.Runs = a.runRows(c)
	}
	for _, r := range s.Judged.Reasons {
		v.Unshown = append(v.Unshown, Term{upperFirst(a.Against(r)), r.Source.Text + " (" + a.status(r.Source) + ")"})
	}
}

// runRows are the weathers that a build-up was simulated through.
func (a *assembler) runRows(c *assess.MoistureCheck) []RunRow {
	var out []RunRow
	for _, s := range c.Runs {
		row := RunRow{Weather: a.sunText(s.Outdoors), Outcome: a.say("no result")}
		if s.Failed == "" {
			row.Outcome, row.Years = a.word(s.Word()), a.settled(s.Result)
			row.Hours = a.format.Number(float64(s.Wettest().Above[0]), 0)
		}
		out = append(out, row)
	}
	return out
}

// sunText says what sun and sky a run brings, and how its air was moved.
func (a *assembler) sunText(o assess.Outdoors) string {
	tilt, takes := a.format.Number(float64(o.Face.Tilt), 0), a.format.Percent(o.Takes, 0)
	looks := a.side(compass[int(o.Face.Azimuth)/45%8])
	text := a.say("sun and sky left out")
	switch o.Sun {
	case assess.NotReached:
		text = a.say("neither sun nor open sky reaches it")
	case assess.InShade:
		text = a.say("in the shade, under the open sky")
	case assess.LeastSun:
		text = a.say("least sun: looking %s at a tilt of %s°, taking up %s of it", looks, tilt, takes)
	case assess.MostSun:
		text = a.say("most sun: looking %s at a tilt of %s°, taking up %s of it", looks, tilt, takes)
	}
	switch {
	case o.Moved < 0:
		return a.say("%s; air %s K colder than in the file", text, a.format.Number(float64(-o.Moved), 0))
	case o.Moved > 0:
		return a.say("%s; air %s K warmer than in the file", text, a.format.Number(float64(o.Moved), 0))
	}
	return text
}

// compass names the directions from north through east.
var compass = [8]string{"north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"}

// sunFigures say what the runs rest on outside.
func (a *assembler) sunFigures(s *assess.Simulation) []Figure {
	if !s.Hourly {
		return nil
	}
	norm := q.Source{Text: "EN 15026:2007", Status: q.FromMemory}
	out := []Figure{{Label: a.say("Sun and sky"), Value: a.sunText(s.Outdoors), Source: norm.Text, Status: a.status(norm)}}
	if s.Outdoors.Sun > assess.NotReached {
		out[0].Formula = a.say("direct and diffuse sun on the outermost layer, less the heat it radiates to the sky; no job states which way a surface looks, so the darkest and the sunniest of eight directions count")
		if n := a.Results.Moisture.Sunny.Filled; n > 0 {
			out[0].Inputs = a.say("missing hours filled in: %d", n)
		}
	}
	if s.Outdoors.Moved != 0 {
		out = append(out, Figure{Label: a.say("Year"), Value: a.say("an average one, its air moved by %s K at the same humidity", a.format.Number(float64(assess.AverageYear), 0)), Formula: a.say("stands for a year as severe as comes once in ten; a file that holds one is named so by weather-year: severe"),
			Source: norm.Text, Status: a.status(norm)})
	}
	return out
}

// simulationText says what a simulation rests on, or why there is none.
func (a *assembler) simulationText(c *assess.MoistureCheck) string {
	switch s := c.Run; {
	case s == nil:
		return a.say("No simulation by EN 15026: there are no moisture storage data for %s. None are assumed; the answer stops at the monthly method.", strings.Join(unique(c.Storage), "; "))
	case s.Failed != "":
		return a.say("The simulation came to no result: %s.", s.Failed)
	case s.Hourly && s.Outdoors.Sun == assess.Unlit && len(s.Weak) == 0:
		return a.say("Simulated in the manner of EN 15026 through the job's weather file, which tells no radiation: sun and rain are left out. It can fail a build-up and proves none.")
	case len(s.Weak) > 0:
		return a.say("A screening in the manner of EN 15026, without rain: nobody measured the moisture storage of %s. It shows what is likely; it proves nothing and turns no fail into a pass.", strings.Join(s.Weak, "; "))
	case c.Simulated():
		return a.say("Simulated in the manner of EN 15026 through the job's weather file, without rain: it answers what the monthly method leaves out.")
	case s.Hourly:
		return a.say("Simulated in the manner of EN 15026 through the job's weather file, without rain. It is no proof; the reasons stand below.")
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
	out := append([]Figure{weather}, a.sunFigures(s)...)
	out = append(out, Figure{Label: a.say("Years"), Value: a.settled(s.Result)})
	if reserve, ok := s.Wall.Source.(transient.Reserve); ok {
		rule := q.Source{Text: "DIN 68800-2 / DIN 4108-3", Status: q.FromMemory}
		out = append(out, Figure{Label: a.say("Reserve in the run"), Value: a.format.Number(1000*float64(reserve.PerYear), 0), Unit: a.say("g/m² a year"), Formula: a.say("at the cold side of the insulation, in the colder half of the year"), Source: rule.Text, Status: a.status(rule)})
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
	for _, s := range a.Results.Stored(c) {
		f := Figure{Label: a.say("Moisture storage of %s", s.Layer), Inputs: s.Material, Value: a.say("sorption isotherm"), Source: s.Source.Text, Status: a.status(s.Source)}
		if s.None {
			f.Value = a.say("takes up no water")
		}
		out = append(out, f)
	}
	return out
}

// humidRows are the planes between layers over the last year, by the numbers of the layers; those beside timber with what it comes to.
func (a *assembler) humidRows(c *assess.MoistureCheck) []HumidRow {
	var out []HumidRow
	timber := a.Results.TimberPlanes(c)
	for i, p := range c.Run.Result.Interfaces[1 : len(c.Run.Result.Interfaces)-1] {
		row := HumidRow{Plane: a.say("between %d and %d", i+1, i+2), Hours: a.format.Number(float64(p.Above[0]), 0), Highest: a.format.Percent(p.Highest, 0),
			Free: a.format.Number(1000*float64(p.MostFree), 0), Timber: a.say("none")}
		if slices.Contains(timber, i+1) {
			if wet, err := p.TimberMoisture(); err == nil {
				row.Timber = a.format.Number(float64(wet), 0) + " %"
			}
		}
		out = append(out, row)
	}
	return out
}

// simulationSeries are the last year's water in each layer, the humidity of the most humid plane, and the hours above the limit.
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
		row := drawing.Series{Name: l.Name, Line: true, Mark: drawing.NoMark}
		for day, w := range l.Water {
			row.X, row.Y = append(row.X, float64(day+1)), append(row.Y, float64(w)/d)
		}
		water = append(water, row)
	}
	var out []Drawing
	days := drawing.Axis{Label: a.say("Day of the last year, from 1 January"), From: 0, To: 365}
	if len(water) > 0 {
		chart := drawing.Chart{Words: a.words(), Title: a.say("Water in the layers"), X: days, Y: drawing.Axis{Label: a.say("Water content, kg/m³")}, Series: apart(water)}
		chart.Desc = a.ranges(chart, water, 1)
		out = append(out, Drawing{SVG: svg.Render(anchor("layers-"+id), chart), Title: chart.Title, Caption: a.say("Mean over each layer's thickness, at the end of each day.")})
	}
	plane := s.Wettest()
	run := drawing.Series{Name: a.PlaneWords(plane.Inner + "|" + plane.Outer), Line: true, Mark: drawing.NoMark}
	for day, rh := range plane.Humidity {
		run.X, run.Y = append(run.X, float64(day+1)), append(run.Y, 100*float64(rh))
	}
	humid := drawing.Chart{Words: a.words(), Title: a.say("Humidity at the most humid plane"), X: days, Y: drawing.Axis{Label: a.say("Relative humidity, %%"), From: 0, To: 100}, Series: []drawing.Series{run},
		Levels: []drawing.Level{{Name: a.format.Percent(s.Limit, 0), Value: 100 * float64(s.Limit)}}}
	out = append(out, Drawing{SVG: svg.Render(anchor("humid-"+id), humid), Title: humid.Title, Caption: a.say("Mean of each day; the hours above the limit stand in the text.")})
	if over, some := a.hoursChart(s, days); some {
		out = append(out, Drawing{SVG: svg.Render(anchor("hours-"+id), over), Title: over.Title, Caption: a.say("Counted up over the year; planes without any are left out.")})
	}
	return out
}

// hoursChart is how the hours above the limit run up over the last year; some is false where no plane between layers has any.
func (a *assembler) hoursChart(s *assess.Simulation, days drawing.Axis) (chart drawing.Chart, some bool) {
	chart = drawing.Chart{Words: a.words(), Title: a.say("Hours above %s", a.format.Percent(s.Limit, 0)), X: days, Y: drawing.Axis{Label: a.say("Hours")}}
	for _, p := range s.Result.Interfaces[1 : len(s.Result.Interfaces)-1] {
		if p.Above[0] == 0 {
			continue
		}
		row := drawing.Series{Name: a.PlaneWords(p.Inner + "|" + p.Outer), Line: true, Mark: drawing.NoMark}
		for day, hours := range p.Counted {
			row.X, row.Y = append(row.X, float64(day+1)), append(row.Y, float64(hours))
		}
		chart.Series = append(chart.Series, row)
	}
	chart.Desc = a.ranges(chart, chart.Series, 0)
	chart.Series = apart(chart.Series)
	return chart, len(chart.Series) > 0
}

// ranges says between which values the lines of a year lie, for those who cannot see them.
func (a *assembler) ranges(c drawing.Chart, lines []drawing.Series, digits int) string {
	out := []string{c.Y.Label + " / " + c.X.Label + "."}
	for _, s := range lines {
		out = append(out, a.say("%s: from %s to %s.", s.Name, a.format.Number(slices.Min(s.Y), digits), a.format.Number(slices.Max(s.Y), digits)))
	}
	return strings.Join(out, " ")
}

// everyMark is how many days lie between the marks of a line.
const everyMark = 30

// apart tells the lines of a year apart, in black print too: the second is dashed, the third to the sixth carry a mark of their own
// every thirty days, and further ones are dashed besides.
func apart(lines []drawing.Series) []drawing.Series {
	var out []drawing.Series
	for i, line := range lines {
		if line.Dashed = i == 1; i < 2 {
			out = append(out, line)
			continue
		}
		marks := drawing.Series{Name: line.Name, Mark: drawing.Mark(i-2) % drawing.NoMark}
		for day := 6 * (i % 5); day < len(line.X); day += everyMark {
			marks.X, marks.Y = append(marks.X, line.X[day]), append(marks.Y, line.Y[day])
		}
		line.Name, line.Dashed = "", i >= 2+int(drawing.NoMark)
		out = append(out, line, marks)
	}
	return out
}
