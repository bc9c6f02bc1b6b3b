package main

import (
	"lapwork/generator"
	"lapwork/generator/calc/airtight"
)

// readingsJSON is a result as --json prints it. Flows are in m³/h, figures in the unit they carry.
type readingsJSON struct {
	Verdict  string        `json:"verdict"`
	Q50      *bandJSON     `json:"q50_m3_h,omitempty"`
	Exponent float64       `json:"exponent,omitempty"`
	Figures  []figureJSON  `json:"figures"`
	Lines    []lineJSON    `json:"directions"`
	Areas    []areaJSON    `json:"leakage_areas"`
	Outcomes []outcomeJSON `json:"outcomes"`
	Breaches []breachJSON  `json:"breaches"`
	Missing  []string      `json:"not_recorded"`
	Own      bool          `json:"own_reading"`
	Findings []findingJSON `json:"findings"`
}

type bandJSON struct {
	Value float64 `json:"value"`
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
	Known bool    `json:"band_known"`
}

type figureJSON struct {
	Name string `json:"name"`
	Unit string `json:"unit"`
	bandJSON
}

type lineJSON struct {
	Direction   string      `json:"direction"`
	Exponent    float64     `json:"exponent"`
	Coefficient float64     `json:"coefficient_m3_h"`
	R2          float64     `json:"r2"`
	Points      []pointJSON `json:"points"`
}

type pointJSON struct {
	Pressure float64 `json:"pressure_pa"`
	Flow     float64 `json:"flow_m3_h"`
	Off      float64 `json:"off_line"`
}

type areaJSON struct {
	Name string  `json:"name"`
	At   float64 `json:"pressure_pa"`
	Cd   float64 `json:"discharge_coefficient"`
	Cm2  float64 `json:"cm2"`
}

type outcomeJSON struct {
	Limit    string  `json:"limit"`
	Metric   string  `json:"metric"`
	Value    float64 `json:"limit_value"`
	Compared float64 `json:"compared"`
	Decision string  `json:"decision"`
	Within   bool    `json:"limit_within_band"`
}

type breachJSON struct {
	Rule string `json:"rule"`
	What string `json:"consequence"`
	Text string `json:"text"`
}

func readingsOf(r generator.ReadingsReport) readingsJSON {
	t := r.Test
	out := readingsJSON{Verdict: t.Result.Verdict.String(), Figures: []figureJSON{}, Lines: []lineJSON{}, Areas: []areaJSON{}, Outcomes: []outcomeJSON{},
		Breaches: []breachJSON{}, Missing: append([]string{}, t.Unrecorded...), Own: t.Own, Findings: findingsJSON(r.Findings)}
	if t.Result.Standard == "" {
		out.Verdict = airtight.DataError.String()
	}
	if t.HasLine {
		const hour = 3600
		out.Q50 = &bandJSON{float64(t.Flow.Value) * hour, float64(t.Flow.Low) * hour, float64(t.Flow.High) * hour, t.Flow.Banded}
		out.Exponent = t.Exponent
	}
	for _, m := range t.Figures {
		out.Figures = append(out.Figures, figureJSON{m.Metric.String(), m.Metric.Unit(), bandJSON{float64(m.Value), float64(m.Low), float64(m.High), m.Banded}})
	}
	for _, l := range t.Result.Lines {
		out.Lines = append(out.Lines, lineOf(l))
	}
	for _, a := range t.Areas {
		out.Areas = append(out.Areas, areaJSON{a.Name, float64(a.At), a.Cd, float64(a.Value) * 1e4})
	}
	for _, o := range t.Outcomes {
		out.Outcomes = append(out.Outcomes, outcomeJSON{o.Limit.ID, o.Limit.Metric.String(), float64(o.Limit.Value), float64(o.Compared), o.Decision.String(), o.Straddles})
	}
	for _, b := range t.Result.Breaches() {
		out.Breaches = append(out.Breaches, breachJSON{string(b.Rule), b.Consequence.String(), b.Text})
	}
	return out
}

func lineOf(l airtight.Line) lineJSON {
	out := lineJSON{Direction: l.Direction.String(), Exponent: l.Fit.Exponent, Coefficient: l.Fit.Coefficient.PerHour(), R2: l.Fit.R2, Points: []pointJSON{}}
	for i, p := range l.Points {
		off, ok := l.Off(i)
		if !ok {
			off = 0
		}
		out.Points = append(out.Points, pointJSON{float64(p.Induced), float64(p.Envelope) * 3600, off})
	}
	return out
}
