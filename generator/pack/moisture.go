package pack

import (
	"fmt"
	"slices"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/calc/condensation"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

const moistureIndex = "moisture.html"

func moisturePath(id job.BuildUpID) string { return "moisture/" + string(id) + ".html" }

// moisturePages are the list of build-ups and a page for each.
func (a *assembler) moisturePages() []Page {
	m := &a.Results.Moisture
	v := &Moisture{Climate: a.moistureClimate(), NoProof: a.noProofCases()}
	out := []Page{{Path: moistureIndex, Kind: KindMoisture, Title: a.say("Moisture"), Where: a.say("Moisture"), Moisture: v}}
	for i, c := range m.Checks {
		verdict := a.moistureVerdict(c)
		verdict.Link = &Link{Text: string(c.BuildUp.ID), Path: moisturePath(c.BuildUp.ID)}
		v.Verdicts = append(v.Verdicts, verdict)
		page := Page{Path: moisturePath(c.BuildUp.ID), Kind: KindMoisture, Title: a.say("Moisture: %s", c.BuildUp.Name), Where: a.say("Moisture %s", string(c.BuildUp.ID)),
			Moisture: &Moisture{BuildUps: []MoistureBuildUp{a.moistureBuildUp(c)}, Back: &Link{Text: a.say("All build-ups"), Path: moistureIndex},
				Notes: a.locked(c)}}
		if i+1 < len(m.Checks) {
			next := m.Checks[i+1].BuildUp
			page.Next = &Link{Text: string(next.ID), Path: moisturePath(next.ID), Note: next.Name}
		}
		out = append(out, page)
	}
	return out
}

// MoistureVerdicts gives each check in one sentence, as the pages show it.
func MoistureVerdicts(r *assess.Results) []Verdict {
	a := &assembler{Results: r, format: q.FormatFor(r.Job.Language)}
	var out []Verdict
	for _, c := range r.Moisture.Checks {
		out = append(out, a.moistureVerdict(c))
	}
	return out
}

// withoutMoisture are the findings less those about moisture checks, on a page that shows the verdicts.
func (a *assembler) withoutMoisture() []diag.Finding {
	said := map[string]bool{}
	for _, c := range a.Results.Moisture.Checks {
		said[c.OpenPoint()] = true
	}
	return slices.DeleteFunc(slices.Clone(a.build.Findings), func(f diag.Finding) bool { return said[f.Msg] })
}

// locked says what an open check means for the work and how it is closed.
func (a *assembler) locked(c *assess.MoistureCheck) []Note {
	if !c.Open() {
		return nil
	}
	text := a.say("Open until it is proven or somebody accepts it by name.")
	if c.Sheet {
		text = a.say("Hanging stays locked (H1) until it is proven or somebody accepts it by name.")
	}
	return []Note{{Level: diag.Open.String(), Item: string(c.BuildUp.ID), Text: text, Hint: sentence(c.WayOut())}}
}

// moistureClimate says what stands on both sides.
func (a *assembler) moistureClimate() []Figure {
	m := &a.Results.Moisture
	outside := Figure{Label: a.say("Outside"), Value: a.say("no climate stated"), Status: q.Placeholder.String()}
	if m.Known {
		outside = Figure{Label: a.say("Outside"), Value: m.Climate.Name, Formula: a.say("twelve monthly means of temperature and vapour pressure"), Source: m.Climate.Source.Text, Status: a.status(m.Climate.Source)}
	}
	return []Figure{outside, a.indoorFigure()}
}

func (a *assembler) indoorFigure() Figure {
	in := a.Results.Moisture.Indoor
	if in.Ramp != nil {
		return Figure{Label: a.say("Inside"), Value: a.load(in.Own.Load), Formula: a.say("20 to 25 °C and %s to %s, following the outdoor temperature", a.format.Percent(in.Ramp.Low, 0), a.format.Percent(in.Ramp.High, 0)),
			Source: in.Source.Text, Status: a.status(in.Source)}
	}
	if in.Class == 0 {
		return Figure{Label: a.say("Inside"), Value: a.say("%s °C, %s all year", a.format.Number(float64(in.Own.Temperature), 1), a.format.Percent(in.Own.Humidity, 0)), Source: in.Source.Text, Status: a.status(in.Source)}
	}
	f := Figure{Label: a.say("Inside"), Value: a.say("humidity class %d", in.Class), Formula: a.say("upper limit of the class; 20 °C, rising to 25 °C in a warm month"), Inputs: a.word(in.Class.Occupancy()), Source: in.Source.Text, Status: a.status(in.Source)}
	if in.Assumed {
		f.Value += a.say(", assumed: the job states none")
		f.Status = q.Placeholder.String()
	}
	return f
}

// load says how much moisture people bring into the rooms.
func (a *assembler) load(of string) string {
	if of == "high" {
		return a.say("rooms in high use")
	}
	return a.say("rooms in normal use")
}

// noProofCases lists every case in which the method is no proof here, with the build-ups it concerns.
func (a *assembler) noProofCases() []Term {
	var texts []string
	certain, unanswered := map[string][]string{}, map[string][]string{}
	for _, c := range a.Results.Moisture.Checks {
		for _, r := range c.Reasons {
			if !slices.Contains(texts, r.Text) {
				texts = append(texts, r.Text)
			}
			into := certain
			if r.Unanswered {
				into = unanswered
			}
			into[r.Text] = append(into[r.Text], string(c.BuildUp.ID))
		}
	}
	var out []Term
	for _, text := range texts {
		where := strings.Join(certain[text], ", ")
		if ids := unanswered[text]; len(ids) > 0 {
			if where != "" {
				where += "; "
			}
			where += a.say("not answered for %s", strings.Join(ids, ", "))
		}
		out = append(out, Term{upperFirst(text), where})
	}
	return out
}

// moistureVerdict is a check in one sentence, with method and scope.
func (a *assembler) moistureVerdict(c *assess.MoistureCheck) Verdict {
	v := Verdict{Item: c.BuildUp.Name, Method: a.say("Monthly method, EN ISO 13788:2012"), Level: "open"}
	switch c.Outcome {
	case assess.Uncomputed:
		v.Verdict, v.Method, v.Scope = a.say("Not computed: %s.", c.Problem), a.say("None"), a.say("nothing is known")
	case assess.Proven:
		v.Level, v.Verdict = "ok", a.moistureSentence(c)
		v.Scope = a.say("proof within its scope, for a layer that passes its air test; %s", a.indoorFigure().Value)
	case assess.Fails:
		v.Verdict, v.Scope = a.say("Fails. %s", a.moistureSentence(c)), a.say("screening: %s", a.because(c))
	default:
		v.Verdict, v.Scope = a.say("%s Not proven.", a.moistureSentence(c)), a.say("screening only: %s", a.because(c))
	}
	if c.Accepted != nil {
		v.Level = "ok"
		v.Verdict += a.say(" Accepted by %s", c.Accepted.By)
		if c.Accepted.Reason != "" {
			v.Verdict += ": " + c.Accepted.Reason
		}
		v.Verdict = strings.TrimSuffix(v.Verdict, ".") + "."
	} else if v.Level == "open" && c.Sheet {
		v.Verdict += a.say(" Do not hang here.")
	}
	return v
}

func (a *assembler) because(c *assess.MoistureCheck) string {
	var out []string
	for _, r := range c.Reasons {
		text := r.Text
		if r.Unanswered {
			text += a.say(" (not answered)")
		}
		out = append(out, text)
	}
	return strings.Join(out, "; ")
}

// month is a month's name.
func (a *assembler) month(no int) string { return a.word(monthNames[no]) }

var monthNames = [13]string{"", "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"}

// grams writes water in g/m².
func (a *assembler) grams(w condensation.Water) string {
	g := 1000 * float64(w)
	if g != 0 && g < 10 && g > -10 {
		return a.format.Number(g, 1)
	}
	return a.format.Number(g, 0)
}

// moistureSentence says what the case that decides does over the year.
func (a *assembler) moistureSentence(c *assess.MoistureCheck) string {
	w := c.Worst()
	r, with := w.Result, ""
	if w.Name != "" && len(c.Cases) > 1 && r.Condenses {
		with = " (" + w.Name + ")"
	}
	switch {
	case !r.Condenses:
		return a.say("No condensation in any month.")
	case r.Verdict == condensation.DoesNotDry:
		return a.say("Condenses %s and does not dry: %s g/m² left after a year, %s after %d%s.", a.PlaneWords(r.Names[r.Peak.Plane]), a.grams(r.Years[0].End), a.grams(r.Years[len(r.Years)-1].End), len(r.Years), with)
	}
	return a.say("Condenses %s, %s g/m² at most at the end of %s, dry by the end of %s%s.", a.PlaneWords(r.Names[r.Peak.Plane]), a.grams(r.Peak.Total), a.month(int(r.Peak.Month)), a.month(int(r.DryMonth())), with)
}

// moistureBuildUp is one build-up in full.
func (a *assembler) moistureBuildUp(c *assess.MoistureCheck) MoistureBuildUp {
	v := MoistureBuildUp{ID: string(c.BuildUp.ID), Verdict: a.moistureVerdict(c), Layers: a.moistureLayers(c)}
	v.Verdict.Item = v.ID // the page's title is the name
	if len(c.Reasons) > 0 {
		v.Verdict.Scope = a.say("screening only; the reasons stand below")
	}
	for _, s := range c.Surfaces {
		v.Used = append(v.Used, string(s.ID))
	}
	if c.Outcome == assess.Uncomputed {
		return v
	}
	for _, r := range c.Reasons {
		where := a.how(r.Source.Text) + " (" + a.status(r.Source) + ")"
		if r.Unanswered {
			where = a.say("not answered in the job, so the worse case counts; %s", where)
		}
		v.Reasons = append(v.Reasons, Term{upperFirst(r.Text), where})
	}
	v.Facts = a.moistureFacts(c)
	for _, k := range c.Cases {
		row := MoistureCase{Name: k.Name, Verdict: a.word(k.Result.Verdict.String()), Most: a.grams(k.Result.Peak.Total), Dry: a.say("stays dry")}
		if k.Result.Condenses {
			row.Dry = a.say("does not dry")
			if k.Result.DryAfter > 0 {
				row.Dry = a.say("dry by the end of %s", a.month(int(k.Result.DryMonth())))
			}
		}
		if row.Name == "" {
			row.Name = a.say("as stated")
		}
		v.Cases = append(v.Cases, row)
	}
	at := shownMonth(c.Worst().Result)
	v.PlanesOf, v.Planes = a.planesOf(at), a.planeRows(c.Worst().Result, at)
	v.Chart = a.pressureChart(c, at)
	v.Water = a.moistureSentence(c)
	v.Year, v.Months = a.waterChart(c), a.monthRows(c)
	a.simulation(c, &v)
	return v
}

func unique(names []string) []string {
	var out []string
	for _, n := range names {
		if !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return out
}

// moistureLayers lists the layers with the figures they were reckoned with.
func (a *assembler) moistureLayers(c *assess.MoistureCheck) []LayerRow {
	var out []LayerRow
	for i, l := range c.Layers {
		row := LayerRow{No: fmt.Sprint(i + 1), Name: l.Name, Source: a.how(l.Source.Text), Status: a.status(l.Source)}
		if l.Stated.Thickness > 0 {
			row.Thickness = a.format.MM(l.Stated.Thickness)
		}
		if l.Lambda > 0 {
			row.Lambda = a.format.Number(float64(l.Lambda), 3)
		}
		if l.R > 0 {
			row.R = a.format.Number(float64(l.R), 2)
		}
		row.Sd = a.sdText(l)
		if l.Stated.Bridged {
			row.Name += a.say(", between the framing")
		}
		if !l.Counted {
			row.Name += a.say(" (not counted: outside the ventilated air layer)")
		}
		out = append(out, row)
	}
	return out
}

func (a *assembler) sdText(l assess.CheckedLayer) string {
	number := func(sd q.SdValue) string { return a.format.Number(float64(sd), 2) }
	switch {
	case l.Curve != nil:
		least, most := l.Curve.Range()
		text := a.say("%s to %s, by humidity", number(least), number(most))
		if l.Low > 0 {
			text += a.say("; declared %s", number(l.Low))
		}
		return text
	case l.Low != l.High:
		return a.say("%s to %s, its class", number(l.Low), number(l.High))
	case l.Cup != "":
		return number(l.Low) + ", " + l.Cup
	}
	return number(l.Low)
}

// moistureFacts are U-value, surface criterion, limit and reserve.
func (a *assembler) moistureFacts(c *assess.MoistureCheck) []Figure {
	n := func(x float64, digits int) string { return a.format.Number(x, digits) }
	u := Figure{Label: a.say("U-value"), Value: a.say("needs a detailed calculation"), Formula: a.say("combined method"), Source: c.Thermal.Source.Text, Status: a.status(c.Thermal.Source)}
	if c.U > 0 {
		u.Value, u.Unit = n(float64(c.U.Declared()), 2), "W/(m²·K)"
	}
	u.Inputs = a.say("RT %s m²·K/W (upper limit %s, lower %s), Rsi %s, Rse %s, heat flow %s%s", n(float64(c.Thermal.Total), 3), n(float64(c.Thermal.Upper), 3),
		n(float64(c.Thermal.Lower), 3), n(float64(c.Films.Inside), 2), n(float64(c.Films.Outside), 2), c.Direction(), a.framingText(c))
	if extra := a.thermalExtras(c); extra != "" {
		u.Inputs += "; " + extra
	}
	out := []Figure{u}
	if c.Surface.Critical >= 0 {
		month := c.Surface.Months[c.Surface.Critical].Boundary.Month
		f := Figure{Label: a.say("Inside surface, fRsi asked"), Value: n(float64(c.Surface.Required), 2), Formula: a.say("at most 80 %% humidity at the surface, in %s", a.month(int(month))), Source: c.Surface.Source.Text, Status: a.status(c.Surface.Source)}
		if c.Factor > 0 {
			f.Value += a.say(", the part has %s", n(float64(c.Factor), 2))
			f.Inputs = a.say("1 − 0.25·U with 0.25 m²·K/W inside; away from thermal bridges")
		}
		out = append(out, f)
	}
	out = append(out, Figure{Label: a.say("Limit of condensed water"), Value: a.grams(c.Limit.Most), Unit: "g/m²", Formula: c.Limit.Why, Source: a.how(c.Limit.Source.Text), Status: a.status(c.Limit.Source)})
	if s := c.Reserve; s != nil {
		f := Figure{Label: a.say("Drying reserve"), Value: a.say("%s g/m² more do not dry within the year", a.grams(s.Water)), Source: a.how(s.Source.Text), Status: a.status(s.Source)}
		if s.Dry > 0 {
			f.Value = a.say("%s g/m² more dry within %d months", a.grams(s.Water), s.Dry)
		}
		if f.Formula = a.say("put %s on 1 %s, slowest case", a.PlaneWords(s.At), a.month(int(s.Start))); s.Skipped != "" {
			f.Value, f.Formula = a.say("not reckoned"), s.Skipped
		}
		out = append(out, f)
	}
	return append(out, a.moistureClimate()...)
}

// thermalExtras are what else went into U: members across the framing, an air layer open to the outside, fixings and gaps.
func (a *assembler) thermalExtras(c *assess.MoistureCheck) string {
	var out []string
	for _, l := range c.Layers {
		if x := l.Stated.Across; x != nil && l.Counted {
			m, _ := a.Results.Library.Moisture.Material(x.Material)
			out = append(out, a.say("across it in %s %s %s", l.Name, a.format.Percent(x.Fraction, 1), m.Name))
		}
	}
	if c.Vented > 0 {
		out = append(out, a.say("RT %s m²·K/W with its air layer slightly ventilated", a.format.Number(float64(c.Vented), 3)))
	}
	if d := c.Added.Correction; d > 0 {
		out = append(out, a.say("fixings and air gaps add %s W/(m²·K)", a.format.Number(float64(d), 3)))
	}
	return strings.Join(out, "; ")
}

func (a *assembler) framingText(c *assess.MoistureCheck) string {
	f := c.Framing
	if f.Share == 0 {
		return ""
	}
	text := a.say("; framing %s %s", a.format.Percent(f.Share, 1), f.Material.Name)
	if f.Spaced > 0 {
		text += a.say(", the studs' spacing alone gives %s", a.format.Percent(f.Spaced, 1))
	}
	if f.Stated == 0 {
		text += a.say(", plates and noggins not counted")
	}
	if c.Thermal.Error > 0 {
		text += a.say(", error at most %s", a.format.Percent(c.Thermal.Error, 1))
	}
	return text
}

// factorOf gives the temperature factor that a calendar month asks for.
func (a *assembler) factorOf(s condensation.SurfaceCriterion, month int) string {
	for _, m := range s.Months {
		if m.Boundary.Month == month && m.Defined && m.Required > 0 {
			return a.format.Number(float64(m.Required), 2)
		}
	}
	return a.say("none")
}
