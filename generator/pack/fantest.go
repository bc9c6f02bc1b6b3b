package pack

import (
	"fmt"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/calc/airtight"
	"lapwork/generator/calc/leakage"
	"lapwork/generator/drawing"
	"lapwork/generator/drawing/svg"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// FanTest is the result sheet of one fan test, as page and terminal show it: validity and residuals before the figure.
type FanTest struct {
	Title      string
	Validity   Verdict
	Breaches   []Note
	Plot       *Drawing
	Series     []TestSeries
	Figures    []Figure // q50, n50, qE50, qF50 with their bands
	Outcomes   []Verdict
	Areas      []Figure // leakage areas, each named by its pressure and coefficient
	Sizes      []string
	Setup      []Term
	Openings   []Term
	Unrecorded string
	Prevails   string // set on a firm's own reading
}

// TestSeries is one direction of a fan test.
type TestSeries struct {
	Title  string
	Facts  []Figure
	Points []TestPoint
}

// TestPoint is one reading after the corrections. Off is its distance from the line.
type TestPoint struct{ No, Pressure, Flow, Off string }

const prevails = "The firm's own reading: the tester's signed report prevails."

// TestSheet gives the result sheet of a test. Its words are those of ISO 9972:2015.
func TestSheet(t assess.AirTest, f q.Format) FanTest {
	v := FanTest{Title: testTitle(t), Breaches: breaches(t), Sizes: t.SizesHow, Setup: setup(t), Openings: openings(t)}
	v.Validity = Verdict{Item: "Validity", Verdict: t.Result.Verdict.String(), Method: t.Result.Standard, Scope: "rules on readings, zero-flow pressures, fit and weather", Level: "ok"}
	if t.Result.Verdict != airtight.Valid {
		v.Validity.Level = "open"
	}
	for _, l := range t.Result.Lines {
		v.Series = append(v.Series, series(l, f))
	}
	v.Plot = fanPlot(t)
	if t.HasLine {
		v.Figures, v.Areas = figures(t, f), areas(t, f)
	}
	for _, o := range t.Outcomes {
		v.Outcomes = append(v.Outcomes, outcome(o, f))
	}
	if len(t.Unrecorded) > 0 {
		v.Unrecorded = strings.Join(t.Unrecorded, "; ")
	}
	if t.Own {
		v.Prevails = prevails
	}
	return v
}

func testTitle(t assess.AirTest) string {
	title := map[job.TestKind]string{job.BaselineTest: "Test before the work", job.InterimTest: "Interim test", job.FinalTest: "Final test"}[t.Stated.Kind]
	if title == "" {
		title = "Fan test"
	}
	if d := t.Input.Setup.Date; d != "" {
		title += ", " + d
	}
	return title
}

func breaches(t assess.AirTest) []Note {
	var out []Note
	for _, b := range t.Result.Breaches() {
		n := Note{Level: "open", Text: b.Text, Item: string(b.Rule), Hint: b.Consequence.String()}
		if b.Consequence <= airtight.Mark {
			n.Level = "note"
		}
		if b.Clause.Text != "" {
			n.Hint += "; " + b.Clause.Text + ", " + b.Clause.Status.String()
		}
		out = append(out, n)
	}
	return out
}

// series shows the readings of a direction with their distance from the line.
func series(l airtight.Line, f q.Format) TestSeries {
	s := TestSeries{Title: upperFirst(l.Direction.String()), Facts: []Figure{
		{Label: "Readings", Value: fmt.Sprintf("%d, %s to %s Pa", len(l.Points), f.Number(float64(l.Lowest), 1), f.Number(float64(l.Highest), 1))},
		{Label: "Zero-flow pressure", Value: f.Number(float64(l.Zero), 1) + " Pa", Formula: "mean before and after, fan sealed; taken off each reading", Inputs: "largest average " + f.Number(float64(l.WorstZero), 1) + " Pa"}}}
	if l.Fitted {
		s.Facts = append(s.Facts,
			Figure{Label: "Flow exponent n", Value: withBand(l.Fit.Exponent, l.Fit.ExponentLow, l.Fit.ExponentHigh, l.Fit.Banded, 3, f), Formula: "slope of ln flow over ln pressure", Status: "computed"},
			Figure{Label: "Air leakage coefficient CL", Value: withBand(l.Fit.Coefficient.PerHour(), l.Fit.CoefficientLow.PerHour(), l.Fit.CoefficientHigh.PerHour(), l.Fit.Banded, 2, f), Unit: "m³/(h·Paⁿ)", Formula: "at 20 °C and 101 325 Pa", Status: "computed"},
			Figure{Label: "r² of the logarithms", Value: f.Number(l.Fit.R2, 5), Status: "computed"})
	}
	for i, p := range l.Points {
		row := TestPoint{No: fmt.Sprint(i + 1), Pressure: f.Number(float64(p.Induced), 1), Flow: f.Number(float64(p.Envelope)*3600, 1)}
		if off, ok := l.Off(i); ok {
			row.Off = f.Number(off*100, 1) + " %"
			if off*100 >= 0.05 {
				row.Off = "+" + row.Off
			}
		}
		s.Points = append(s.Points, row)
	}
	return s
}

// withBand writes a figure with its 95 % band.
func withBand(x, low, high float64, banded bool, digits int, f q.Format) string {
	if !banded {
		return f.Number(x, digits) + ", no band known"
	}
	return fmt.Sprintf("%s (%s to %s)", f.Number(x, digits), f.Number(low, digits), f.Number(high, digits))
}

// fanPlot draws both directions with their lines and residuals; nil where no direction has a line.
func fanPlot(t assess.AirTest) *Drawing {
	var plots []drawing.FanPlot
	for _, l := range t.Result.Lines {
		if !l.Fitted {
			continue
		}
		p := drawing.FanPlot{Title: testTitle(t), Name: upperFirst(l.Direction.String()), Coefficient: l.Fit.Envelope.PerHour(), Exponent: l.Fit.Exponent}
		for _, at := range l.Points {
			p.Pressure, p.Flow = append(p.Pressure, float64(at.Induced)), append(p.Flow, float64(at.Envelope)*3600)
		}
		plots = append(plots, p)
	}
	if len(plots) == 0 {
		return nil
	}
	if len(plots) > 1 {
		plots[0].Second = &plots[1]
	}
	return &Drawing{SVG: svg.Render(anchor("fan-"+t.Stated.File+string(t.Stated.Kind)), plots[0]), Title: "Readings and line",
		Caption: "Flow through the envelope over pressure; below, how far each reading lies off its line."}
}

// figures are the flow and the figures of ISO 9972:2015 with their 95 % bands.
func figures(t assess.AirTest, f q.Format) []Figure {
	flow := Figure{Label: "Air leakage rate q50", Unit: "m³/h", Formula: "CL·50ⁿ, mean of the directions measured; band 95 % of the lines", Status: "computed",
		Value: withBand(float64(t.Flow.Value)*3600, float64(t.Flow.Low)*3600, float64(t.Flow.High)*3600, t.Flow.Banded, 0, f)}
	out := []Figure{flow}
	for _, m := range t.Figures {
		out = append(out, Figure{Label: m.Metric.String(), Unit: m.Metric.Unit(), Value: withBand(float64(m.Value), float64(m.Low), float64(m.High), m.Banded, 2, f),
			Formula: "q50 over the " + m.Metric.Per.String(), Inputs: "band 95 %: line, device, gauge and size, as far as stated; overall ± " + f.Percent(m.Uncertainty, 1), Status: "computed"})
	}
	if h, err := leakage.HoleFor(t.Flow.Value, leakage.TestPressure, leakage.SharpEdge, leakage.ReferenceDensity); err == nil {
		out = append(out, Figure{Label: "As one hole", Value: h.Text(f), Formula: "round, sharp edge, Cd 0.611, at 50 Pa", Status: "computed"})
	}
	return out
}

func areas(t assess.AirTest, f q.Format) []Figure {
	var out []Figure
	for _, a := range t.Areas {
		out = append(out, Figure{Label: a.Name, Unit: "cm²", Value: withBand(float64(a.Value)*1e4, float64(a.Low)*1e4, float64(a.High)*1e4, a.Banded, 0, f),
			Formula: fmt.Sprintf("leakage area at %g Pa, discharge coefficient %s", float64(a.At), f.Number(a.Cd, 3)), Status: "computed"})
	}
	return out
}

func outcome(o airtight.Outcome, f q.Format) Verdict {
	v := Verdict{Item: o.Limit.Case, Verdict: o.Text(f) + ".", Method: o.Limit.Authority, Level: "open"}
	if o.Limit.Edition != "" {
		v.Method += ", " + o.Limit.Edition
	}
	if o.Limit.Source.Text != "" {
		v.Scope = o.Limit.Source.Text + ", " + o.Limit.Source.Status.String()
	}
	if o.Decision == airtight.Passes {
		v.Level = "ok"
	}
	return v
}

func setup(t assess.AirTest) []Term {
	s := t.Input.Setup
	out := []Term{{"Readings", t.Stated.File}}
	add := func(name, text string) {
		if text != "" {
			out = append(out, Term{name, text})
		}
	}
	add("Read by", strings.TrimSuffix(t.Stated.By+", "+strings.ReplaceAll(t.Stated.Role, "-", " "), ", "))
	add("Signed report", t.Stated.Report)
	add("Date", s.Date)
	add("Tester", s.Tester)
	add("May issue the report", s.Issuer)
	if s.Preparation > 0 {
		add("Preparation", []string{"method 1, building in use", "method 2, building envelope", "method 3, " + s.Purpose}[s.Preparation-1])
	}
	for _, i := range s.Instruments {
		text := "calibrated " + i.Calibrated
		if i.Due != "" {
			text += ", due " + i.Due
		}
		add(i.Name, text)
	}
	return out
}

func openings(t assess.AirTest) []Term {
	var out []Term
	for _, o := range t.Input.Setup.Openings {
		text := string(o.State)
		if o.Photo != "" {
			text += ", " + o.Photo
		}
		out = append(out, Term{o.ID, text})
	}
	return out
}
