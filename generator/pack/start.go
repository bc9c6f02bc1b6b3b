package pack

import (
	"cmp"
	"slices"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/library"
)

// start is "before you start": conditions, safety, design and questions, on one page.
func (a *assembler) start() Page {
	v := &Start{Conditions: a.conditions(), MayWe: a.mayWe(), Safety: a.safety(), Cautions: a.jobCautions(),
		Questions: a.questions(), Tools: a.tools(), Moisture: a.designVerdicts(),
		With: a.toolsOf("thermometer", "hygrometer", "moisture-meter"), Readings: a.readingRows(),
		Today: TodayLimits{SurfaceMin: "5", DewMargin: "3", HumidityMax: "70", TimberMax: "20"}}
	for _, d := range a.Deliveries {
		v.Deliveries = append(v.Deliveries, Link{Text: d.Name, Path: "materials.html", Note: a.say("%d kinds of material", len(d.Items)+len(d.Sheets))})
	}
	v.Missing = a.noted(a.withoutMoisture(), diag.Open, func(item string) bool {
		return item == "" || item == "safety" || item == "issue" || a.isBuildUp(item)
	})
	v.Checks = a.checksIn(assess.JobScope, func(c assess.Check) bool { return c.Activity.ID == "brief" })
	return Page{Path: "start.html", Kind: KindStart, Title: a.say("Before you start"), Where: a.say("Before you start"), Start: v}
}

// conditions are the condition sets that this job's statements work under.
func (a *assembler) conditions() []Term {
	used := map[string]bool{}
	for _, places := range a.used {
		used[places[0].Chosen.Statement.Condition] = true
	}
	var out []Term
	for _, c := range a.Library.Conditions.All() {
		if used[c.ID] {
			out = append(out, Term{c.Title, a.say("surface %s °C or warmer, timber %s or drier; %s", a.format.Number(float64(c.Surface), 0), a.format.Percent(c.TimberMax, 0), c.Text)})
		}
	}
	return out
}

// mayWe are the limits for today's readings. The rules carry their own status.
func (a *assembler) mayWe() []Term {
	var out []Term
	for _, id := range []string{"R-COND-1", "R-COND-2", "R-COND-3", "R-COND-4", "R-COND-5", "R-COND-6"} {
		if r := a.Library.Rules.Find(id); r != nil {
			out = append(out, Term{r.Title, r.Value + " (" + a.status(r.Source) + ")"})
		}
	}
	return out
}

// safety is the site's own safety data; what is missing is left empty and shown as such.
func (a *assembler) safety() []Term {
	s := a.Job.Safety
	return []Term{{a.say("Emergency number"), s.Emergency}, {a.say("First-aider"), s.FirstAider}, {a.say("Assembly point"), s.AssemblyPoint},
		{a.say("Where to turn off power, water, gas"), s.Isolation}, {a.say("Safety sheets"), s.SheetList},
		{a.say("Briefed, each by name"), strings.Join(s.Briefed, ", ")}, {a.say("Site heater"), s.Heater}}
}

// designVerdicts are the moisture checks of the build-ups the sheet hangs on.
func (a *assembler) designVerdicts() []Verdict {
	var out []Verdict
	for _, c := range a.Results.Moisture.Checks {
		if c.Sheet {
			v := a.moistureVerdict(c)
			v.Link = &Link{Text: string(c.BuildUp.ID), Path: moisturePath(c.BuildUp.ID)}
			out = append(out, v)
		}
	}
	return out
}

// questions are the open questions to the site lead.
func (a *assembler) questions() []Question {
	var out []Question
	for _, x := range a.Results.Questions {
		out = append(out, Question{Flag: string(x.Flag.ID), Text: x.Flag.Question, Assumed: a.word(x.Flag.Default), Places: a.placeLinks(x.Places)})
	}
	return out
}

// tools lists the protective equipment and tools that the materials of this job ask for.
func (a *assembler) tools() []Term {
	var ids []string
	for _, d := range a.Deliveries {
		for _, it := range d.Items {
			if c := a.Library.Components.Find(it.Component); c != nil {
				for _, p := range c.Protection {
					if !slices.Contains(ids, string(p)) {
						ids = append(ids, string(p))
					}
				}
			}
		}
	}
	slices.Sort(ids)
	var out []Term
	for _, id := range ids {
		if c := a.Library.Components.Find(id); c != nil {
			out = append(out, Term{c.Name, cmp.Or(c.UseOn, c.Note)})
		}
	}
	return out
}

// caution is one caution as a page shows it.
func (a *assembler) caution(c *library.Caution, because string) Caution {
	return Caution{ID: string(c.ID), Short: c.Short, Text: c.Text, DefersTo: c.Defers, Because: because}
}

// roomCautions are the cautions particular to a room, and those that every room of the job shares: who read them a dozen
// times no longer reads the one that is new.
func (a *assembler) roomCautions(room *job.Room) (own []Caution, everywhere []string) {
	for _, id := range a.Results.Cautions.Room[room.ID] {
		c := a.Library.Cautions.Find(string(id))
		if a.Results.Cautions.Everywhere[id] {
			everywhere = append(everywhere, c.Short)
		} else {
			own = append(own, a.caution(c, c.Trigger))
		}
	}
	return own, everywhere
}

// cautionsInFull leads to the words of every caution of the job.
func (a *assembler) cautionsInFull() Link {
	return Link{Text: a.say("In full: page Cautions"), Path: "cautions.html"}
}

func (a *assembler) jobCautions() []Caution {
	var out []Caution
	for _, id := range a.Results.Cautions.Job {
		c := a.Library.Cautions.Find(string(id))
		because := a.say("the fan test")
		if rooms := a.Results.Cautions.Why[id]; len(rooms) > 0 {
			because = a.say("rooms %s", a.fewer(rooms))
		}
		out = append(out, a.caution(c, because))
	}
	return out
}

// mostNamed is how many rooms a sentence names before it counts the rest.
const mostNamed = 12

// fewer lists ids, the rest of a long list as a number.
func (a *assembler) fewer(ids []string) string {
	if n := len(ids); n > mostNamed {
		return a.say("%[2]s and %[1]d more", n-mostNamed, strings.Join(ids[:mostNamed], ", "))
	}
	return strings.Join(ids, ", ")
}

// cautionsPage collects every caution, those that nothing triggers too.
func (a *assembler) cautionsPage() Page {
	v := &CautionsPage{Cautions: a.jobCautions()}
	for _, c := range a.Library.Cautions.All() {
		if !slices.Contains(a.Results.Cautions.Job, c.ID) {
			v.Silent = append(v.Silent, a.caution(c, ""))
		}
	}
	return Page{Path: "cautions.html", Kind: KindCautions, Title: a.say("Cautions"), Where: a.say("Cautions"), Cautions: v}
}

// openPoints lists everything that needs a person.
func (a *assembler) openPoints() Page {
	v := &OpenPage{Notes: a.notes(diag.Open, func(string) bool { return true }), Questions: a.questions()}
	v.Notes = a.leadToItems(append(v.Notes, a.notes(diag.Note, func(string) bool { return true })...))
	return Page{Path: "open.html", Kind: KindOpen, Title: a.say("Open points"), Where: a.say("Open points"), Open: v}
}
