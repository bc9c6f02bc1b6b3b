package pack

import (
	"slices"
	"strings"
	"testing"

	"lapwork/generator/assess"
	calc "lapwork/generator/calc/programme"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/library"
	q "lapwork/generator/quantity"
)

// plan is a small programme, levelled by hand. Day 1 is Friday 2026-03-20, eight hours from 08:00. Two fitters hang the
// ceiling from 15:00 for two hours: one that day, one on Monday (day 4) to 09:00; then the one in the next room from
// 09:00, held up by the fitters; a bead is finished there at 10:00 and may be loaded 48 h later; the test follows.
func plan(dated bool) planWords {
	b1, b2 := &job.Room{ID: "B1", Name: "Landing"}, &job.Room{ID: "B2", Name: "Back bedroom"}
	const day = 1440
	scope := func(r *job.Room) assess.Scope {
		return assess.Scope{Kind: "room", ID: string(r.ID), Name: string(r.ID) + " " + r.Name, Rooms: []*job.Room{r}}
	}
	fitters := []calc.Need{{Crew: "fitter", Size: 2}}
	step := func(title string, s assess.Scope, from, to calc.Instant, minutes q.Minutes, by *assess.Step, set string) *assess.Step {
		id := title + "@" + s.ID
		return &assess.Step{ID: id, Activity: &library.Activity{ID: title, Title: title}, Scope: s, Known: true, Concerns: true, SetBy: by,
			Minutes: assess.Range{Low: minutes / 2, Likely: minutes, High: 2 * minutes},
			Slot:    calc.Slot{Activity: calc.Activity{ID: id, Duration: minutes / 2, Needs: fitters}, Start: from, Finish: to, SetBy: set}}
	}
	first := step("Hang", scope(b1), 900, 3*day+540, 240, nil, calc.SetByStart)
	second := step("Hang", scope(b2), 3*day+540, 3*day+570, 60, first, calc.SetByCrew)
	bead := step("Edges", scope(b2), 3*day+570, 3*day+600, 30, second, second.ID)
	bead.Slot.Needs = []calc.Need{{Crew: "fitter", Size: 1}}
	zone := assess.Scope{Kind: "zone", ID: "Z", Name: "whole dwelling", Rooms: []*job.Room{b1, b2}}
	test := step("Fan test", zone, 5*day+600, 5*day+780, 180, bead, bead.ID)
	test.Slot.Needs, test.Slot.Lag, test.SetFor = []calc.Need{{Crew: "tester", Size: 1}}, 48*60, "Sheet adhesive"
	trade := step("Frames in", scope(b1), 900, 900, 0, nil, calc.SetByStart)
	trade.Known, trade.Slot.Duration = false, 0
	idle := step("Hot items", scope(b1), 900, 900, 0, nil, calc.SetByStart)
	idle.Concerns = false
	cal := calc.Weekdays
	cal.FirstDay = 4
	p := &assess.Programme{Steps: []*assess.Step{first, trade, idle, second, bead, test}, Calendar: cal, Dated: dated, InOrder: true,
		Crews: map[string]int{"fitter": 2, "tester": 1, "site-lead": 1}, Finish: test.Slot.Finish, Driving: []*assess.Step{first, second, bead, test},
		Cures: []assess.Cure{{Step: bead, Component: &library.Component{Name: "Sheet adhesive (cartridge)"}, Places: []string{"B2-W3+F1", "B2-W4+F1"},
			Wait: 48 * 60, Use: assess.ForLoad, Until: 5*day + 600}},
		Needs: []assess.DeliveryNeed{{Delivery: &assess.Delivery{ID: "d1", Name: "Upper floor", Date: "2026-03-24"}, Step: second, Late: true},
			{Delivery: &assess.Delivery{ID: "d2", Name: "Attic"}}}}
	p.Start, _ = assess.ParseDate("2026-03-20")
	r := &assess.Results{Context: assess.Context{Job: &job.Job{Rooms: []*job.Room{b1, b2}}, Library: &library.Library{}}, Programme: p}
	late := diag.Finding{Level: diag.Open, Item: "d1", Msg: "delivery d1 is due too late"}
	return planWords{&assembler{Results: r, build: Build{Findings: []diag.Finding{late}}, format: q.English}, p}
}

func plainSpaces(s string) string { return strings.ReplaceAll(s, "\u00a0", " ") }

func TestDaysOfTheCrews(t *testing.T) {
	var got []string
	for _, week := range plan(true).weeks() {
		for _, d := range week.Days {
			for _, c := range d.Crews {
				for _, w := range c.Work {
					got = append(got, d.Day+" | "+c.Crew+" | "+w.Time+" "+w.Text)
				}
			}
		}
	}
	want := []string{
		"day 1, Fri 20 Mar 2026 | fitters (2) | 15:00–16:00 Hang, B1 Landing, begun",
		"day 4, Mon 23 Mar 2026 | fitters (2) | 08:00–09:00 Hang, B1 Landing, to its end",
		"day 4, Mon 23 Mar 2026 | fitters (2) | 09:00–09:30 Hang, B2 Back bedroom",
		"day 4, Mon 23 Mar 2026 | fitters (2) | 09:30–10:00 Edges, B2 Back bedroom (1 of them)",
		"day 6, Wed 25 Mar 2026 | tester (1) | 10:00–13:00 Fan test, whole dwelling",
	}
	if !slices.Equal(got, want) {
		t.Errorf("days:\n%s\nwant:\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// A week runs from Monday to Sunday, also where the job starts in the middle of one; its days are those of the list.
func TestWeeks(t *testing.T) {
	for dated, want := range map[bool]string{
		true:  "Week 1, Mon 16 Mar 2026: day 1, Fri 20 Mar 2026 | Week 2, Mon 23 Mar 2026: day 4, Mon 23 Mar 2026; day 6, Wed 25 Mar 2026",
		false: "Week 1: day 1; day 4; day 6",
	} {
		var got []string
		for _, week := range plan(dated).weeks() {
			var days []string
			for _, d := range week.Days {
				days = append(days, d.Day)
				for _, crew := range d.Crews {
					for _, work := range crew.Work {
						if !slices.Contains(week.Of, work.Of) {
							t.Errorf("%s: of %q, not with %q", week.Week, week.Of, work.Of)
						}
					}
				}
			}
			got = append(got, week.Week+": "+strings.Join(days, "; "))
		}
		if all := plainSpaces(strings.Join(got, " | ")); all != want {
			t.Errorf("weeks %s, want %s", all, want)
		}
	}
}

// What only waits for the line above it does not say so again.
func TestChainSaysWaitsOnce(t *testing.T) {
	w := plan(true)
	steps := w.p.Steps
	a, b := *steps[2], *steps[5]
	a.Slot.SetBy, a.SetBy, b.SetBy, b.Slot.SetBy, b.Slot.Lag = calc.SetByStart, nil, &a, a.Activity.ID, 0
	w.p.Driving = []*assess.Step{&a, &b}
	lines := w.drivers()
	if len(lines) != 2 || !strings.Contains(lines[0], "Set by") || strings.Contains(lines[1], "Set by") {
		t.Errorf("chain %q", lines)
	}
}

func TestCureClockAndDates(t *testing.T) {
	w := plan(true)
	c := w.cures()[0]
	if got := plainSpaces(c.Until + "|" + c.Use + "|" + c.Step + ", " + c.Place + "|" + strings.Join(c.Places, ", ") + "|" + c.Material + "|" + c.Placed + "|" + c.Wait); got !=
		"Wed 25 Mar 10:00|load or a fan test|Edges, B2 Back bedroom|B2-W3+F1, B2-W4+F1|Sheet adhesive|Mon 23 Mar 10:00|48 h" {
		t.Errorf("cure %s", got)
	}
	if got := plainSpaces(plan(false).cures()[0].Until); got != "day 6 10:00" {
		t.Errorf("without a start: %s", got)
	}
	d := w.deliveries()
	if got := plainSpaces(d[0].When + "|" + d[0].Who + "|" + d[0].Note); got != "Mon 23 Mar 09:00|on site Tue 24 Mar 2026|too late for Hang, B2 Back bedroom" {
		t.Errorf("delivery %s", got)
	}
	if d[1].When != "not needed" || d[1].Who != "no date stated" {
		t.Errorf("delivery %+v", d[1])
	}
}

func TestStepsInWords(t *testing.T) {
	w := plan(true)
	var got []string
	for _, r := range w.rows(w.p.Steps) {
		got = append(got, plainSpaces(r.Activity+"|"+r.Work+"|"+r.Crew+"|"+r.SetBy))
	}
	want := []string{"Hang|4 h 00 min (2 h 00 min to 8 h 00 min)|2 fitters|start of the job", "Frames in|other trade, no figure||start of the job",
		"Hang|60 min (30 min to 2 h 00 min)|2 fitters|fitters free after Hang, B1 Landing", "Edges|30 min (15 min to 60 min)|1 fitter|Hang",
		"Fan test|3 h 00 min (90 min to 6 h 00 min)|1 tester|Edges, B2 Back bedroom + 48 h, Sheet adhesive"}
	if !slices.Equal(got, want) {
		t.Errorf("steps:\n%s\nwant:\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	got = nil
	for _, line := range w.drivers() {
		got = append(got, plainSpaces(line))
	}
	want = []string{"Fri 20 Mar 15:00 to Mon 23 Mar 10:00: the fitters, 3 steps one after the other, from Hang, B1 Landing to Edges, B2 Back bedroom",
		"Wed 25 Mar 10:00 to 13:00: Fan test, whole dwelling. Set by: Edges, B2 Back bedroom + 48 h, Sheet adhesive"}
	if !slices.Equal(got, want) {
		t.Errorf("chain:\n%s\nwant:\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// The charts stand on working days: the weekend is no width.
func TestBarsOnWorkingDays(t *testing.T) {
	w := plan(true)
	first, second := w.p.Steps[0], w.p.Steps[3]
	bars := w.bar(w.bar(nil, first), second)
	if len(bars) != 1 || bars[0].From != 0.875 || bars[0].To != 1.1875 {
		t.Errorf("bars %v, want one from 0.875 to 1.1875 days", bars)
	}
	if bars = w.bar(bars, w.p.Steps[5]); len(bars) != 2 || bars[1].From != 3.25 || bars[1].To != 3.625 {
		t.Errorf("bars %v, want the test from 3.25 to 3.625 days", bars)
	}
	if w.roomChart() == nil {
		t.Error("no chart")
	}
}

func TestNotesOfTheProgramme(t *testing.T) {
	said := func(w planWords) string {
		var b strings.Builder
		for _, n := range w.notes() {
			b.WriteString(n.Level + ": " + n.Text + "\n")
		}
		return b.String()
	}
	w := plan(false)
	w.p.Crews["fitter"] = 1
	text := said(w)
	for _, want := range []string{"open: Delivery d1 is due too late", "no measured data", "No time is stated", "states no start", "no calendar file", "One fitter", "Below 10 °C"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not said in:\n%s", want, text)
		}
	}
	if text = said(plan(true)); strings.Contains(text, "One fitter") || strings.Contains(text, "states no start") || !strings.Contains(text, "the pack is not issued") {
		t.Errorf("said:\n%s", text)
	}
}
