package main

import (
	"fmt"
	"io"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/calc/transient"
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

// weatherJSON is one of the weathers that a build-up was simulated through.
type weatherJSON struct {
	Decides bool    `json:"decides"`
	Verdict string  `json:"verdict,omitempty"`
	Failed  string  `json:"failed,omitempty"`
	Sun     string  `json:"sun"`
	Tilt    float64 `json:"tilt_deg"`
	Looks   float64 `json:"azimuth_deg"`
	Takes   float64 `json:"absorptance"`
	Moved   float64 `json:"air_moved_k"`
	Guessed bool    `json:"sun_not_answered"`
	Years   int     `json:"years"`
	Steady  bool    `json:"steady"`
	Gain    float64 `json:"gain_last_year_kg_m2"`
	Hours   float64 `json:"hours_above_at_the_most_humid_plane"`
	Proves  bool    `json:"proves"`
}

func weatherOf(s *assess.Simulation, decides bool) weatherJSON {
	o := s.Outdoors
	out := weatherJSON{Decides: decides, Failed: s.Failed, Sun: o.Sun.Word(), Tilt: float64(o.Face.Tilt), Looks: float64(o.Face.Azimuth), Takes: float64(o.Takes), Moved: float64(o.Moved), Guessed: o.Guessed, Proves: s.Proves()}
	if s.Failed == "" {
		out.Verdict, out.Years, out.Steady, out.Gain, out.Hours = s.Word(), s.Result.Years, s.Result.Steady, float64(s.Result.Gain), float64(s.Wettest().Above[0])
	}
	return out
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
	Start   startJSON        `json:"start"`
	Reserve float64          `json:"reserve_kg_m2_a_year,omitempty"`
}

type startJSON struct {
	Humidity    float64 `json:"humidity"`
	Temperature float64 `json:"temperature_c"`
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
	Timber      float64   `json:"timber_beside_it_percent"` // what timber there would come to
	Counted     []float64 `json:"hours_above_so_far_by_day"`
	Humidity    []float64 `json:"humidity_by_day"`
	Temperature []float64 `json:"temperature_c_by_day"`
}

func simulationOf(s *assess.Simulation) *simulationJSON {
	if s == nil {
		return nil
	}
	r := s.Result
	out := &simulationJSON{Failed: s.Failed, Hourly: s.Hourly, Weak: s.Weak, Counted: float64(s.Limit), Reasons: []moistureReason{}, Layers: []layerYearJSON{}, Planes: []planeYearJSON{}}
	out.Start = startJSON{float64(s.Wall.Start), float64(s.Wall.Temperature)}
	if reserve, ok := s.Wall.Source.(transient.Reserve); ok {
		out.Reserve = float64(reserve.PerYear)
	}
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
		out.Planes = append(out.Planes, planeYearJSON{p.Inner, p.Outer, float64(p.HoursAbove(s.Limit)), float64(p.Highest), float64(p.MostFree), timberAt(p), bare(p.Counted), bare(p.Humidity), bare(p.Temperature)})
	}
	return out
}

// timberAt is what timber beside a plane would come to; 0 where the formula does not reach.
func timberAt(p transient.InterfaceYear) float64 {
	wet, err := p.TimberMoisture()
	if err != nil {
		return 0
	}
	return float64(wet)
}
