package pack

import (
	"fmt"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/calc/transient"
	"lapwork/generator/drawing"
	"lapwork/generator/drawing/svg"
)

// simulationText says what a simulation found, or why there is none.
func (a *assembler) simulationText(c *assess.MoistureCheck) string {
	s := c.Run
	if s == nil {
		return "No simulation by EN 15026: there are no moisture storage data for " + strings.Join(unique(c.Storage), "; ") + ". None are assumed; the answer stops at the monthly method."
	}
	if s.Failed != "" {
		return "The simulation came to no result: " + s.Failed + "."
	}
	text := fmt.Sprintf("Simulated in the manner of EN 15026 over %d years from monthly means, without sun and rain: it can fail a build-up and proves none. ", s.Result.Years)
	switch {
	case s.Result.Steady:
		text += "The last year repeats the one before."
	case s.Result.Gain > 0:
		text += "Water still gathers: " + a.format.Number(1000*float64(s.Result.Gain), 0) + " g/m² in the last year."
	default:
		text += "It still dries: " + a.format.Number(-1000*float64(s.Result.Gain), 0) + " g/m² in the last year."
	}
	if reserve, ok := s.Wall.Source.(transient.Reserve); ok {
		text += " Each year " + a.format.Number(1000*float64(reserve.PerYear), 0) + " g/m² come in at the cold side of the insulation."
	}
	plane := wettestPlane(s.Result)
	text += fmt.Sprintf(" Most humid: %s, %s h above %s in the last year.", assess.PlaneWords(plane.Inner+"|"+plane.Outer), a.format.Number(float64(plane.HoursAbove(s.Limit)), 0), a.format.Percent(s.Limit, 0))
	for _, r := range s.Judged.Reasons {
		if r.Cause == transient.StillGaining || r.Cause == transient.NotSteady {
			continue // said above
		}
		text += " " + upperFirst(r.Text) + "."
	}
	return text
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
	days := drawing.Axis{Label: "Day of the last year, from 1 January", From: 0, To: 365}
	if len(water) > 0 {
		chart := drawing.Chart{Title: "Water in the layers", X: days, Y: drawing.Axis{Label: "Water content, kg/m³"}, Series: water}
		out = append(out, Drawing{SVG: svg.Render(anchor("layers-"+id), chart), Title: chart.Title, Caption: "Mean over each layer's thickness, at the end of each day."})
	}
	plane := wettestPlane(s.Result)
	run := drawing.Series{Name: assess.PlaneWords(plane.Inner + "|" + plane.Outer), Line: true, Mark: drawing.NoMark}
	for day, rh := range plane.Humidity {
		run.X, run.Y = append(run.X, float64(day+1)), append(run.Y, 100*float64(rh))
	}
	humid := drawing.Chart{Title: "Humidity at the most humid plane", X: days, Y: drawing.Axis{Label: "Relative humidity, %", From: 0, To: 100}, Series: []drawing.Series{run},
		Levels: []drawing.Level{{Name: a.format.Percent(s.Limit, 0), Value: 100 * float64(s.Limit)}}}
	return append(out, Drawing{SVG: svg.Render(anchor("humid-"+id), humid), Title: humid.Title, Caption: "Mean of each day; the hours above the limit stand in the text."})
}
