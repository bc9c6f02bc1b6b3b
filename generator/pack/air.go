package pack

import (
	"slices"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/calc/leakage"
	"lapwork/generator/diag"
	"lapwork/generator/drawing"
	"lapwork/generator/drawing/svg"
	"lapwork/generator/job"
	"lapwork/generator/library"
	q "lapwork/generator/quantity"
)

// airPage is the airtightness page: results of tests, target, budget, leak search, the sheet for the next test.
func (a *assembler) airPage() Page {
	v := &Air{Target: a.airTarget(), Areas: a.sizes(), Sheet: a.recordSheet(), Storeys: a.leakSearch(), Holes: a.holeTerms()}
	for _, t := range a.Air.Tests {
		v.Results = append(v.Results, TestSheet(t, a.format, a.build.Lang))
	}
	v.Verdict = a.budgetVerdict()
	v.Budget, v.Gains, v.Chart = a.budgetRows(), a.gainRows(), a.budgetChart()
	v.Sum, v.Zones = a.budgetSum(), a.zoneRows()
	v.Silent, v.Sources = a.silent(), a.elementSources()
	v.Tests = a.checksWhere(func(c assess.Check) bool { return c.QA != nil && slices.Contains(testChecks, c.QA.ID) })
	v.Notes = a.notes(diag.Open, func(item string) bool {
		return slices.ContainsFunc(a.Job.Tests, func(t job.FanTest) bool { return t.File == item })
	})
	if !a.tested(job.InterimTest) {
		v.Notes = append(v.Notes, Note{Level: "note", Item: "H5", Text: a.say("The interim test is a hold point: the layer and every penetration complete, battens on, nothing lined. Leaks found then cost minutes.")})
	}
	for _, id := range []string{"C-TEST", "C-TESTDUST"} {
		if c := a.Library.Cautions.Find(id); c != nil && (id == "C-TEST" || slices.Contains(a.Results.Cautions.Job, library.CautionID(id))) {
			v.Cautions = append(v.Cautions, a.caution(c, a.say("a fan test is part of the job")))
		}
	}
	return Page{Path: "air.html", Kind: KindAir, Title: a.say("Airtightness"), Where: a.say("Airtightness"), Air: v}
}

// testChecks are the checks of a test that belong to its figures; the sign-off pages have all of them.
var testChecks = []string{"QA-31", "QA-32", "QA-33", "QA-40"}

// flow writes a flow in m³/h with digits that suit its size.
func (a *assembler) flow(x q.AirFlow) string {
	switch v := float64(x) * 3600; {
	case v >= 100:
		return a.format.Number(v, 0)
	case v >= 1:
		return a.format.Number(v, 1)
	default:
		return a.format.Number(v, 2)
	}
}

// hole writes the round hole that passes a flow at 50 Pa.
func (a *assembler) hole(x q.AirFlow) string {
	h, err := leakage.HoleFor(x, leakage.TestPressure, leakage.SharpEdge, leakage.ReferenceDensity)
	if err != nil {
		a.fail(err)
		return ""
	}
	return h.Text(a.format)
}

// airTarget is the target in all three figures and as a flow.
func (a *assembler) airTarget() []Figure {
	t := a.Air.Target
	out := []Figure{{Label: a.say("Target"), Value: a.target(), Source: a.Job.Target.Source}}
	for _, f := range t.Each {
		if f.Metric != t.Metric {
			out = append(out, Figure{Label: a.say("The same as %s", f.Metric.String()), Value: a.format.Number(float64(f.Value), 2), Unit: f.Metric.Unit(),
				Formula: a.say("with the job's own V, AE and AF"), Status: a.say("computed")})
		}
	}
	if t.Allowed > 0 {
		out = append(out, Figure{Label: a.say("Flow it allows at 50 Pa"), Value: a.flow(t.Allowed), Unit: "m³/h", Formula: "n50·V", Inputs: a.hole(t.Allowed), Status: a.say("computed")},
			Figure{Label: a.say("For the interim test"), Value: a.flow(t.Allowed * assess.InterimShare), Unit: "m³/h", Formula: a.say("0.8 of it: services, doors and drying cracks still come"), Status: a.say("common practice")})
	}
	if l := a.Air.Limit; l != nil {
		f := Figure{Label: a.say("Limit as well"), Value: l.Metric.String() + " " + l.Published, Source: l.Authority + ", " + l.Case + ", " + l.Edition + ": " + l.Source.Text, Status: a.status(l.Source), Inputs: l.Note}
		out = append(out, f)
	}
	return out
}

// how is a sentence that the program may have chosen, in the pack's language.
func (a *assembler) how(text string) string { return testWriter{a.build.Lang}.how(text) }

// sizes are volume and areas with how each was taken.
func (a *assembler) sizes() []Figure {
	t, f := a.Air.Sizes, a.format
	return []Figure{{Label: a.say("Internal volume V"), Value: f.Volume(t.Volume), Inputs: a.how(t.VolumeHow)},
		{Label: a.say("Envelope area AE"), Value: f.Area(t.EnvelopeArea), Inputs: a.how(t.EnvelopeHow)},
		{Label: a.say("Floor area AF"), Value: f.Area(t.FloorArea), Inputs: a.how(t.FloorHow)}}
}

// figureText writes a flow in the target's own figure: "n50 1.28 1/h".
func (a *assembler) figureText(x q.AirFlow) string {
	t := a.Air.Target
	if t.Allowed <= 0 {
		return ""
	}
	return t.Metric.String() + " " + a.format.Number(float64(t.Value)*float64(x/t.Allowed), 2) + " " + t.Metric.Unit()
}

// budgetVerdict holds the budget against the target.
func (a *assembler) budgetVerdict() *Verdict {
	b, t := a.Air.Budget, a.Air.Target
	if t.Allowed <= 0 || len(b.Contributions) == 0 {
		return nil
	}
	v := &Verdict{Item: a.say("Leakage budget"), Level: "open", Method: a.say("Handbook figures by workmanship times the job's own lengths, openings and holes, summed as flows at 50 Pa"),
		Scope: a.say("an estimate that ranks and proves nothing; %s of it rests on placeholders", a.format.Percent(b.Placeholder, 0))}
	says := a.say("even the expected flow is above the target")
	switch {
	case b.Sum.High <= t.Allowed:
		v.Level, says = "ok", a.say("within the target even with poor work")
	case b.Sum.Expected <= t.Allowed:
		says = a.say("within the target with usual work, above it with poor work")
	}
	v.Verdict = a.say("%s m³/h at 50 Pa expected (%s to %s), %s; the target allows %s m³/h: %s.", a.flow(b.Sum.Expected), a.flow(b.Sum.Low), a.flow(b.Sum.High),
		a.figureText(b.Sum.Expected), a.flow(t.Allowed), says)
	return v
}

// budgetRows lists every contributor; the ten largest say what halving them would save.
func (a *assembler) budgetRows() []BudgetRow {
	var out []BudgetRow
	for i, c := range a.Air.Budget.Contributions {
		row := BudgetRow{Item: c.Place, Amount: a.amountOf(c), Low: a.flow(c.Flows.Low), Likely: a.flow(c.Flows.Expected), High: a.flow(c.Flows.High),
			Share: a.format.Percent(c.Share, 1), Status: a.statusOf(c)}
		if i < len(a.Air.Gains) {
			row.Halved = "−" + a.flow(c.Flows.Expected/2)
		}
		out = append(out, row)
	}
	return out
}

// amountOf writes a quantity with the element it is counted by.
func (a *assembler) amountOf(c leakage.Contribution) string {
	unit := map[string]string{"m": "m", "m2": "m²", "item": a.say("pieces"), "cm2": "cm²"}[c.Element.Per]
	digits := 1
	if c.Element.Per == "item" {
		digits = 0
		if c.Quantity == 1 {
			unit = a.say("piece")
		}
	}
	return a.format.Number(c.Quantity, digits) + " " + unit + ", " + c.Element.Name
}

// statusOf says in a word or two how well a contributor's figure is supported.
func (a *assembler) statusOf(c leakage.Contribution) string {
	text := a.word(c.Element.Source.Status.String())
	if a.Library.Air.OwnElement(c.Element.ID) {
		text = a.say("the firm's own, %s", text)
	}
	if !c.Element.Ranged {
		text += a.say(", no range")
	}
	return text
}

// elementSources says where each element's figures come from, in the order of the budget.
func (a *assembler) elementSources() []Term {
	var out []Term
	seen := map[string]bool{}
	for _, c := range a.Air.Budget.Contributions {
		e := c.Element
		if seen[e.ID] {
			continue
		}
		seen[e.ID] = true
		text := a.how(e.Source.Text) + ", " + a.status(e.Source) + "; " + e.Published
		if e.Note != "" {
			text += ": " + e.Note
		}
		out = append(out, Term{e.Name, text})
	}
	return out
}

// gainRows say what halving the largest contributors buys, one after the other.
func (a *assembler) gainRows() []GainRow {
	var out []GainRow
	for _, g := range a.Air.Gains {
		out = append(out, GainRow{Item: g.Place, Flow: a.flow(g.Flows.Expected), Hole: a.hole(g.Flows.Expected), Saved: a.flow(g.Saved), After: a.flow(g.After),
			Figure: a.figureText(g.After)})
	}
	return out
}

func (a *assembler) budgetSum() []Figure {
	b := a.Air.Budget
	out := []Figure{{Label: a.say("Sum expected"), Value: a.flow(b.Sum.Expected), Unit: "m³/h", Inputs: a.figureText(b.Sum.Expected) + ", " + a.hole(b.Sum.Expected), Status: a.word(b.Status.String())},
		{Label: a.say("With careful work"), Value: a.flow(b.Sum.Low), Unit: "m³/h", Inputs: a.figureText(b.Sum.Low)},
		{Label: a.say("With poor work"), Value: a.flow(b.Sum.High), Unit: "m³/h", Inputs: a.figureText(b.Sum.High)},
		{Label: a.say("On placeholders"), Value: a.format.Percent(b.Placeholder, 1), Inputs: a.say("share of the expected sum whose figure stands in until own interim tests give one")}}
	if n, err := b.Exponent(leakage.TestPressure); err == nil && n > 0 {
		out = append(out, Figure{Label: a.say("Flow exponent of the mix"), Value: a.format.Number(n, 2), Formula: a.say("Σ Q·n / Σ Q at 50 Pa"), Status: a.say("computed")})
	}
	return out
}

// silent says what the budget leaves out and why.
func (a *assembler) silent() []Term {
	var out []Term
	for _, s := range a.Air.Silent {
		out = append(out, Term{s.Title, s.Why})
	}
	for _, b := range a.Air.Beyond {
		out = append(out, Term{upperFirst(b.What), a.say("%s: no seam of this job closes it; look at it in the search all the same", a.format.Area(b.Area))})
	}
	return out
}

// barsShown is how many contributors have a bar of their own.
const barsShown = 12

// budgetChart stacks the contributors: each bar begins where the one before ends, the last one is the sum.
func (a *assembler) budgetChart() *Drawing {
	b := a.Air.Budget
	if len(b.Contributions) == 0 {
		return nil
	}
	d := drawing.Bars{Words: a.words(), Title: a.say("Leakage budget at 50 Pa"), Label: a.say("m³/h at 50 Pa")}
	at := 0.0
	add := func(name string, x q.AirFlow) {
		v := float64(x) * 3600
		d.Rows = append(d.Rows, drawing.BarRow{Name: name, From: at, To: at + v, Text: a.flow(x)})
		at += v
	}
	var rest q.AirFlow
	for i, c := range b.Contributions {
		if i < barsShown {
			add(c.Place, c.Flows.Expected)
		} else {
			rest += c.Flows.Expected
		}
	}
	if n := len(b.Contributions) - barsShown; n > 0 {
		add(a.say("%d further kinds", n), rest)
	}
	for _, s := range []struct {
		name string
		x    q.AirFlow
	}{{a.say("Expected, all together"), b.Sum.Expected}, {a.say("With careful work"), b.Sum.Low}, {a.say("With poor work"), b.Sum.High}} {
		d.Rows = append(d.Rows, drawing.BarRow{Name: s.name, To: float64(s.x) * 3600, Text: a.flow(s.x)})
	}
	if t := a.Air.Target.Allowed; t > 0 {
		d.Limit, d.LimitName = float64(t)*3600, a.say("target %s", a.flow(t))
	}
	return &Drawing{SVG: svg.Render("d-budget", d), Title: a.say("Leakage budget"), Caption: a.say("Each bar begins where the one above ends. The dashed line is what the target allows.")}
}

// LeakKey begins the key of what is recorded at one line of the leak search; its room and kind follow, the same in
// every language and for however many places.
const LeakKey = "air/leak/"

// leakSearch lists the places of each storey in the order of expected leakage, one line a kind and room.
func (a *assembler) leakSearch() []SearchStorey {
	var out []SearchStorey
	for _, st := range a.Job.Storeys {
		s := SearchStorey{Name: st.Name}
		for _, x := range a.Air.Search(st) {
			row := SearchRow{Order: len(s.Rows) + 1, ID: x.Places[0], Place: string(x.Room.ID) + " " + x.Room.Name, Title: x.Title, Look: x.Look, Flow: a.flow(x.Flow),
				Key: LeakKey + string(x.Room.ID) + " " + x.Kind}
			if n := len(x.Places); n > 1 {
				row.ID = string(x.Room.ID)
				row.Place = a.say("%d places: %s", n, strings.Join(x.Places, ", "))
			}
			s.Rows = append(s.Rows, row)
		}
		if len(s.Rows) > 0 {
			s.Plan = a.storeyPlan(st)
			out = append(out, s)
		}
	}
	return out
}

// holeTerms say what flows mean as holes. The 20 mm hole is the measure most people know.
func (a *assembler) holeTerms() []Term {
	var out []Term
	for _, mm := range []q.MM{5, 10, 20, 50} {
		h, err := leakage.RoundHole(mm.Metres())
		if err != nil {
			continue
		}
		x, err := leakage.Orifice(h.Area, leakage.TestPressure, leakage.SharpEdge, leakage.ReferenceDensity)
		if err != nil {
			continue
		}
		text := a.flow(x) + " m³/h"
		if t := a.Air.Target.Allowed; t > 0 {
			text += a.say("; the target allows %s of them", a.format.Number(float64(t/x), 0))
		}
		out = append(out, Term{upperFirst(h.Text(a.format)), text})
	}
	return out
}

// testFigures are the results that stay with the house.
func (a *assembler) testFigures() []Figure {
	var out []Figure
	for _, t := range a.Air.Tests {
		s := TestSheet(t, a.format, a.build.Lang)
		for _, f := range s.Figures[:min(len(s.Figures), 4)] {
			f.Label = s.Title + ": " + f.Label
			f.Status = joined(f.Status, s.Validity.Verdict) // beside the figure on paper too
			f.Source = s.Prevails
			out = append(out, f)
		}
		for _, o := range s.Outcomes {
			out = append(out, Figure{Label: s.Title + ": " + o.Item, Value: o.Verdict, Source: o.Method})
		}
	}
	return out
}
