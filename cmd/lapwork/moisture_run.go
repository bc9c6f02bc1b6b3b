package main

import (
	"fmt"
	"io"
	"strings"

	"lapwork/generator/assess"
)

// printRun writes what a simulation found, or for which layers there are no data.
func printRun(w io.Writer, c *assess.MoistureCheck) {
	s := c.Run
	switch {
	case s == nil && len(c.Storage) > 0:
		fmt.Fprintf(w, "\tnot simulated: no moisture storage data for %s\n", strings.Join(c.Storage, "; "))
	case s == nil:
	case s.Failed != "":
		fmt.Fprintf(w, "\tsimulation without a result: %s\n", s.Failed)
	default:
		fmt.Fprintf(w, "\tsimulated over %d years: %s", s.Result.Years, s.Word())
		if len(s.Weak) > 0 {
			fmt.Fprintf(w, "; a screening, storage not measured for %s", strings.Join(s.Weak, "; "))
		}
		fmt.Fprintln(w)
	}
}

// simulationJSON is a simulation as --json prints it: the years' end state and the last year by day.
type simulationJSON struct {
	Failed  string           `json:"failed,omitempty"`
	Verdict string           `json:"verdict,omitempty"`
	Hourly  bool             `json:"hourly_weather"`
	Weak    []string         `json:"storage_not_measured_for,omitempty"`
	Years   int              `json:"years"`
	Steady  bool             `json:"steady"`
	Gain    float64          `json:"gain_last_year_kg_m2"`
	Drying  int              `json:"drying_days"` // -1: not within the run
	Balance balanceJSON      `json:"balance"`
	Reasons []moistureReason `json:"reasons"`
	Layers  []layerYearJSON  `json:"layers"`
	Planes  []planeYearJSON  `json:"planes"`
	Counted float64          `json:"hours_counted_above"`
}

type balanceJSON struct {
	Water      float64 `json:"water_open_kg_m2"`
	WaterMoved float64 `json:"water_moved_kg_m2"`
	Heat       float64 `json:"heat_open_j_m2"`
	HeatMoved  float64 `json:"heat_moved_j_m2"`
}

type layerYearJSON struct {
	Name  string    `json:"name"`
	Least float64   `json:"least_kg_m3"`
	Mean  float64   `json:"mean_kg_m3"`
	Most  float64   `json:"most_kg_m3"`
	Water []float64 `json:"water_kg_m2_by_day"`
}

type planeYearJSON struct {
	Inner       string    `json:"inner"` // layers beside it; empty: the air
	Outer       string    `json:"outer"`
	Hours       float64   `json:"hours_above"`
	Highest     float64   `json:"highest_daily_humidity"`
	Free        float64   `json:"most_free_water_kg_m2"`
	Humidity    []float64 `json:"humidity_by_day"`
	Temperature []float64 `json:"temperature_c_by_day"`
}

func simulationOf(s *assess.Simulation) *simulationJSON {
	if s == nil {
		return nil
	}
	r := s.Result
	out := &simulationJSON{Failed: s.Failed, Hourly: s.Hourly, Weak: s.Weak, Counted: float64(s.Limit), Reasons: []moistureReason{}, Layers: []layerYearJSON{}, Planes: []planeYearJSON{}}
	if s.Failed != "" {
		return out
	}
	out.Verdict, out.Years, out.Steady, out.Gain, out.Drying = s.Word(), r.Years, r.Steady, float64(r.Gain), r.Drying.Days
	out.Balance = balanceJSON{float64(r.Balance.Water), float64(r.Balance.WaterMoved), float64(r.Balance.Heat), float64(r.Balance.HeatMoved)}
	for _, x := range s.Judged.Reasons {
		out.Reasons = append(out.Reasons, moistureReason{Text: x.Text, Source: x.Source.Text, Status: x.Source.Status.String()})
	}
	for _, l := range r.Layers {
		out.Layers = append(out.Layers, layerYearJSON{l.Name, float64(l.Lowest), float64(l.Mean), float64(l.Most), bare(l.Water)})
	}
	for _, p := range r.Interfaces {
		out.Planes = append(out.Planes, planeYearJSON{p.Inner, p.Outer, float64(p.HoursAbove(s.Limit)), float64(p.Highest), float64(p.MostFree), bare(p.Humidity), bare(p.Temperature)})
	}
	return out
}
