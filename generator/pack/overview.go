package pack

import (
	"fmt"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/library"
	"lapwork/generator/markdown"
	q "lapwork/generator/quantity"
)

// overview is the front page.
func (a *assembler) overview() Page {
	v := &Overview{Facts: a.jobFacts(), Open: a.leadToItems(a.notes(diag.Open, func(string) bool { return true }))}
	html, err := a.md.Render(a.Job.Scenario, markdown.NoFigures)
	if err != nil {
		a.fail(fmt.Errorf("scenario of the job: %w", err))
	}
	v.Scenario = html
	for _, st := range a.Job.Storeys {
		rooms := a.layerRooms(st)
		if len(rooms) == 0 {
			continue
		}
		o := OverviewStorey{Name: st.Name, Plan: a.storeyPlan(st), SignOff: a.storeySignOff(st)}
		for _, room := range rooms {
			o.Rooms = append(o.Rooms, a.roomRow(room))
		}
		v.Storeys = append(v.Storeys, o)
	}
	v.Holds = a.holds()
	v.Today = []Link{{Text: a.say("Before you start"), Path: "start.html", Note: a.say("conditions, safety, open questions")},
		{Text: a.say("Materials"), Path: "materials.html", Note: a.say("what to order for each delivery")},
		{Text: a.say("Cutting plan"), Path: "cutting.html", Note: a.say("roll by roll in cutting order")},
		{Text: a.say("Before it is too late"), Path: latePath, Note: a.say("what the next work buries, soonest first")},
		{Text: a.say("For the other trades"), Path: tradesPath, Note: a.say("a sheet for each")},
		{Text: a.say("Site book"), Path: sitePath, Note: a.say("goods in, sheet of the day, instruments, papers")}}
	if a.build.Handover {
		v.Today = []Link{{Text: a.say("Handover"), Path: "handover.html", Note: a.say("what was built, by whom, what is behind the lining, what is open")},
			{Text: a.say("Test result and declaration"), Path: declarationPath, Note: a.say("ready to sign")},
			{Text: a.say("What changed"), Path: changesPath, Note: a.say("between the records and this issue")}}
	}
	for _, p := range a.Job.People {
		text := strings.ReplaceAll(p.Role, "-", " ")
		if p.Contact != "" {
			text += ", " + p.Contact
		}
		v.People = append(v.People, Term{p.Name, text})
	}
	return Page{Path: "index.html", Kind: KindOverview, Title: a.Job.Name, Where: a.say("Overview"), Overview: v}
}

// storeySignOff links to a storey's own sign-off page where it has checks of its own.
func (a *assembler) storeySignOff(st *job.Storey) Link {
	scope := assess.StoreyScope(st.ID)
	if len(a.Results.ChecksIn(scope)) == 0 {
		return Link{}
	}
	return Link{Text: a.say("Sign-off of %s", st.Name), Path: signPath(scope)}
}

// jobFacts are the measures of the house with how each was taken.
func (a *assembler) jobFacts() []Figure {
	t, f := a.Air.Sizes, a.format
	var layer q.Area
	for _, room := range a.Job.Rooms {
		layer += a.LayerArea(room)
	}
	facts := []Figure{
		{Label: a.say("Target"), Value: a.target(), Source: a.Job.Target.Source},
		{Label: a.say("Internal volume V"), Value: f.Volume(t.Volume), Inputs: a.how(t.VolumeHow)},
		{Label: a.say("Envelope area AE"), Value: f.Area(t.EnvelopeArea), Inputs: a.how(t.EnvelopeHow)},
		{Label: a.say("Floor area AF"), Value: f.Area(t.FloorArea), Inputs: a.how(t.FloorHow)},
		{Label: a.say("Layer to fit, net"), Value: f.Area(layer), Inputs: a.say("surfaces that carry the layer, openings taken off")},
	}
	if a.Job.Target.Kind != job.N50 && a.Facts.TargetN50 > 0 {
		facts = append(facts, Figure{Label: a.say("Target as n50"), Value: f.Number(a.Facts.TargetN50, 2) + " 1/h",
			Formula: a.say("converted with the job's own V, AE and AF"), Status: a.say("computed")})
	}
	return append(facts, a.airFact())
}

// airFact is the newest result, or before any test what the budget expects.
func (a *assembler) airFact() Figure {
	if tests := a.Air.Tests; len(tests) > 0 && len(tests[len(tests)-1].Outcomes) > 0 {
		t := tests[len(tests)-1]
		return Figure{Label: testWriter{a.build.Lang}.testTitle(t), Value: testWriter{a.build.Lang}.outcome(t.Outcomes[0], a.format).Verdict, Source: a.say("airtightness page"), Status: a.word(t.Result.Verdict.String())}
	}
	b := a.Air.Budget
	return Figure{Label: a.say("Leakage expected"), Value: a.say("%s (%s to %s m³/h at 50 Pa)", a.figureText(b.Sum.Expected), a.flow(b.Sum.Low), a.flow(b.Sum.High)),
		Source: a.say("leakage budget on the airtightness page"), Status: a.word(b.Status.String())}
}

func (a *assembler) target() string {
	t := a.Job.Target
	if t.Value == 0 {
		return a.say("not stated")
	}
	unit := "1/h"
	if t.Kind != job.N50 {
		unit = "m³/(h·m²)"
	}
	return fmt.Sprintf("%s ≤ %s %s", t.Kind, a.format.Number(t.Value, 2), unit)
}

func (a *assembler) roomRow(room *job.Room) RoomRow {
	holes, joints := 0, 0
	for _, p := range a.PlacesIn(room.ID) {
		switch p.Record.Edge {
		case "penetration", "recess":
			holes++
		case "field":
		default:
			joints++
		}
	}
	checks := a.checksIn(string(room.ID), nil)
	return RoomRow{ID: string(room.ID), Name: room.Name, Path: roomPath(room.ID), LayerArea: a.format.Area(a.LayerArea(room)),
		Junctions: fmt.Sprint(joints), Holes: fmt.Sprint(holes), Progress: a.progress(checks), Open: len(a.blocks(room))}
}

// progress counts checks in a handover, and names them for the tablet otherwise.
func (a *assembler) progress(checks []Check) Progress {
	if !a.build.Handover {
		return Progress{CheckKeys: keys(checks)}
	}
	return Progress{Recorded: a.say("%d of %d", a.doneOf(checks), len(checks))}
}

// holds lists the hold points of the job with what keeps each locked.
func (a *assembler) holds() []HoldRow {
	held := map[*library.Hold][]Check{}
	for _, c := range a.Results.Checks {
		if c.Hold != nil {
			held[c.Hold] = append(held[c.Hold], a.checks[c.Key])
		}
	}
	var out []HoldRow
	for _, h := range a.Library.Holds.All() {
		row := HoldRow{ID: h.ID, Title: a.activityTitle(h.After), Released: h.Release, Who: a.roles(h.Signs), After: a.activityTitle(h.After)}
		row.Progress = a.progress(held[h])
		if h.ID == "H1" {
			for _, n := range a.notes(diag.Open, a.isBuildUp) {
				row.Blocked = append(row.Blocked, n.Text)
			}
		}
		out = append(out, row)
	}
	return out
}

func (a *assembler) isBuildUp(item string) bool {
	for _, b := range a.Job.BuildUps {
		if string(b.ID) == item {
			return true
		}
	}
	return false
}
