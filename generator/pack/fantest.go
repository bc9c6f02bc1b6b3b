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
	"lapwork/generator/lang"
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

// TestSheet gives the result sheet of a test. Its words are those of ISO 9972:2015.
func TestSheet(t assess.AirTest, f q.Format, c *lang.Catalogue) FanTest {
	x := testWriter{c}
	v := FanTest{Title: x.testTitle(t), Breaches: x.breaches(t), Sizes: x.sizes(t), Setup: x.setup(t), Openings: x.openings(t)}
	v.Validity = Verdict{Item: x.say("Validity"), Verdict: x.word(t.Result.Verdict.String()), Method: t.Result.Standard, Scope: x.say("rules on readings, zero-flow pressures, fit and weather"), Level: "ok"}
	if t.Result.Verdict != airtight.Valid {
		v.Validity.Level = "open"
	}
	for _, l := range t.Result.Lines {
		v.Series = append(v.Series, x.series(l, f))
	}
	v.Plot = x.fanPlot(t)
	if t.HasLine {
		v.Figures, v.Areas = x.figures(t, f), x.areas(t, f)
	}
	for _, o := range t.Outcomes {
		v.Outcomes = append(v.Outcomes, x.outcome(o, f))
	}
	if len(t.Unrecorded) > 0 {
		v.Unrecorded = strings.Join(t.Unrecorded, "; ")
	}
	if t.Own {
		v.Prevails = x.say("The firm's own reading: the tester's signed report prevails.")
	}
	return v
}

// sizes say which sizes the figures are formed with, and where the readings state another one than the job has.
func (x testWriter) sizes(t assess.AirTest) []string {
	var out []string
	for _, s := range t.SizesHow {
		switch {
		case s.Own != "":
			out = append(out, x.say("%s %s as the readings state it; the job has %s", s.Name, s.Value, s.Own))
		case s.How == "":
			out = append(out, x.say("%s %s as the readings state it", s.Name, s.Value))
		default:
			out = append(out, x.say("%s %s: %s", s.Name, s.Value, x.how(s.How)))
		}
	}
	return out
}

// how is a sentence that the program may have chosen, in the language of the sheet; what a job states stays as it stands.
func (x testWriter) how(text string) string {
	if said, ok := strings.CutPrefix(text, assess.StatedSize); ok {
		return x.say("stated in the job, not taken from the rooms: %s", said)
	}
	if x.texts.Has(text) {
		return x.word(text)
	}
	return text
}

// testWriter writes about fan tests in a language.
type testWriter struct{ texts *lang.Catalogue }

func (x testWriter) say(pattern string, values ...any) string { return x.texts.Say(pattern, values...) }

func (x testWriter) word(english string) string { return x.texts.Text(english) }

// format is how the sheet writes figures and what stands beside them.
func (x testWriter) format(f q.Format) q.Format {
	f.Say = x.texts.Say
	return f
}

func (x testWriter) testTitle(t assess.AirTest) string {
	title := map[job.TestKind]string{job.BaselineTest: x.say("Test before the work"), job.InterimTest: x.say("Interim test"), job.FinalTest: x.say("Final test")}[t.Stated.Kind]
	if title == "" {
		title = x.say("Fan test")
	}
	if d := t.Input.Setup.Date; d != "" {
		title += ", " + d
	}
	return title
}

func (x testWriter) breaches(t assess.AirTest) []Note {
	var out []Note
	for _, b := range t.Result.Breaches() {
		n := Note{Level: "open", Text: b.Text, Item: string(b.Rule), Hint: x.word(b.Consequence.String())}
		if b.Consequence <= airtight.Mark {
			n.Level = "note"
		}
		if b.Clause.Text != "" {
			n.Hint += "; " + b.Clause.Text + ", " + x.word(b.Clause.Status.String())
		}
		out = append(out, n)
	}
	return out
}

// series shows the readings of a direction with their distance from the line.
func (x testWriter) series(l airtight.Line, f q.Format) TestSeries {
	s := TestSeries{Title: upperFirst(x.word(l.Direction.String())), Facts: []Figure{
		{Label: x.say("Readings"), Value: x.say("%d, %s to %s Pa", len(l.Points), f.Number(float64(l.Lowest), 1), f.Number(float64(l.Highest), 1))},
		{Label: x.say("Zero-flow pressure"), Value: f.Number(float64(l.Zero), 1) + " Pa", Formula: x.say("mean before and after, fan sealed; taken off each reading"), Inputs: x.say("largest average %s Pa", f.Number(float64(l.WorstZero), 1))}}}
	if l.Fitted {
		s.Facts = append(s.Facts,
			Figure{Label: x.say("Flow exponent n"), Value: x.withBand(l.Fit.Exponent, l.Fit.ExponentLow, l.Fit.ExponentHigh, l.Fit.Banded, 3, f), Formula: x.say("slope of ln flow over ln pressure"), Status: x.say("computed")},
			Figure{Label: x.say("Air leakage coefficient CL"), Value: x.withBand(l.Fit.Coefficient.PerHour(), l.Fit.CoefficientLow.PerHour(), l.Fit.CoefficientHigh.PerHour(), l.Fit.Banded, 2, f), Unit: "m³/(h·Paⁿ)", Formula: x.say("at 20 °C and 101 325 Pa"), Status: x.say("computed")},
			Figure{Label: x.say("r² of the logarithms"), Value: f.Number(l.Fit.R2, 5), Status: x.say("computed")})
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
func (w testWriter) withBand(x, low, high float64, banded bool, digits int, f q.Format) string {
	if !banded {
		return w.say("%s, no band known", f.Number(x, digits))
	}
	return w.say("%s (%s to %s)", f.Number(x, digits), f.Number(low, digits), f.Number(high, digits))
}

// fanPlot draws both directions with their lines and residuals; nil where no direction has a line.
func (x testWriter) fanPlot(t assess.AirTest) *Drawing {
	var plots []drawing.FanPlot
	for _, l := range t.Result.Lines {
		if !l.Fitted {
			continue
		}
		p := drawing.FanPlot{Words: DrawingWords(x.texts), Title: x.testTitle(t), Name: upperFirst(x.word(l.Direction.String())), Coefficient: l.Fit.Envelope.PerHour(), Exponent: l.Fit.Exponent}
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
	return &Drawing{SVG: svg.Render(anchor("fan-"+t.Stated.File+string(t.Stated.Kind)), plots[0]), Title: x.say("Readings and line"),
		Caption: x.say("Flow through the envelope over pressure; below, how far each reading lies off its line.")}
}

// figures are the flow and the figures of ISO 9972:2015 with their 95 % bands.
func (x testWriter) figures(t assess.AirTest, f q.Format) []Figure {
	flow := Figure{Label: x.say("Air leakage rate q50"), Unit: "m³/h", Formula: x.say("CL·50ⁿ, mean of the directions measured; band 95 %% of the lines"), Status: x.say("computed"),
		Value: x.withBand(float64(t.Flow.Value)*3600, float64(t.Flow.Low)*3600, float64(t.Flow.High)*3600, t.Flow.Banded, 0, f)}
	out := []Figure{flow}
	for _, m := range t.Figures {
		out = append(out, Figure{Label: m.Metric.String(), Unit: m.Metric.Unit(), Value: x.withBand(float64(m.Value), float64(m.Low), float64(m.High), m.Banded, 2, f),
			Formula: x.say("q50 over the %s", x.word(m.Metric.Per.String())), Inputs: x.say("band 95 %%: line, device, gauge and size, as far as stated; overall ± %s", f.Percent(m.Uncertainty, 1)), Status: x.say("computed")})
	}
	if h, err := leakage.HoleFor(t.Flow.Value, leakage.TestPressure, leakage.SharpEdge, leakage.ReferenceDensity); err == nil {
		out = append(out, Figure{Label: x.say("As one hole"), Value: h.Text(x.format(f)), Formula: x.say("round, sharp edge, Cd 0.611, at 50 Pa"), Status: x.say("computed")})
	}
	return out
}

func (x testWriter) areas(t assess.AirTest, f q.Format) []Figure {
	var out []Figure
	for _, a := range t.Areas {
		out = append(out, Figure{Label: a.Name, Unit: "cm²", Value: x.withBand(float64(a.Value)*1e4, float64(a.Low)*1e4, float64(a.High)*1e4, a.Banded, 0, f),
			Formula: x.say("leakage area at %g Pa, discharge coefficient %s", float64(a.At), f.Number(a.Cd, 3)), Status: x.say("computed")})
	}
	return out
}

// limitCase is what a limit is a limit of. A row of the table of limits says so itself.
func (x testWriter) limitCase(l airtight.Limit, f q.Format) string {
	switch l.ID {
	case assess.TargetLimit:
		return x.say("target of the job")
	case assess.InterimLimit:
		return x.say("%s of the job's target (common practice, no source)", f.Number(assess.InterimShare, 1))
	}
	return l.Case
}

func (x testWriter) outcome(o airtight.Outcome, f q.Format) Verdict {
	v := Verdict{Item: x.limitCase(o.Limit, f), Verdict: o.Text(x.format(f)) + ".", Method: o.Limit.Authority, Level: "open"}
	if o.Limit.Edition != "" {
		v.Method += ", " + o.Limit.Edition
	}
	if o.Limit.Source.Text != "" {
		v.Scope = o.Limit.Source.Text + ", " + x.word(o.Limit.Source.Status.String())
	}
	if o.Decision == airtight.Passes {
		v.Level = "ok"
	}
	return v
}

func (x testWriter) setup(t assess.AirTest) []Term {
	s := t.Input.Setup
	out := []Term{{x.say("Readings"), t.Stated.File}}
	add := func(name, text string) {
		if text != "" {
			out = append(out, Term{name, text})
		}
	}
	add(x.say("Read by"), strings.TrimSuffix(t.Stated.By+", "+x.word(strings.ReplaceAll(t.Stated.Role, "-", " ")), ", "))
	add(x.say("Signed report"), t.Stated.Report)
	add(x.say("Date"), s.Date)
	add(x.say("Tester"), s.Tester)
	add(x.say("May issue the report"), s.Issuer)
	if s.Preparation > 0 {
		add(x.say("Preparation"), []string{x.say("method 1, building in use"), x.say("method 2, building envelope"), x.say("method 3, %s", s.Purpose)}[s.Preparation-1])
	}
	for _, i := range s.Instruments {
		text := x.say("calibrated %s", i.Calibrated)
		if i.Due != "" {
			text += x.say(", due %s", i.Due)
		}
		add(i.Name, text)
	}
	return out
}

func (x testWriter) openings(t assess.AirTest) []Term {
	var out []Term
	for _, o := range t.Input.Setup.Openings {
		text := x.word(string(o.State))
		switch o.Photo {
		case "":
		case "photo":
			text += ", " + x.say("photo")
		default:
			text += ", " + o.Photo
		}
		out = append(out, Term{o.ID, text})
	}
	return out
}
