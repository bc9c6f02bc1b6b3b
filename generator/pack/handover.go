package pack

import (
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/junction"
	"lapwork/generator/record"
)

// handover is what the client keeps: what is behind the lining, how deep one may screw, what is still open.
func (a *assembler) handover() Page {
	v := &Handover{Facts: a.jobFacts(), Results: a.testFigures(), Leaflet: a.leaflet(), Open: a.stillOpen()}
	v.Summary, v.Measured, v.Settled, v.Goods = a.asBuilt(), a.measuredStrips(), a.settledSpots(), a.goodsRows()
	v.Papers = a.papers()
	for _, m := range a.total() {
		v.Materials = append(v.Materials, Term{m.Name, joined(strings.TrimSpace(m.Net+" "+m.Unit), a.packs(m.Packs))})
	}
	v.Signed = Link{Text: a.say("Test result and declaration, ready to sign"), Path: declarationPath}
	v.Documents = a.documents()
	v.About, v.Defects = a.about(), a.defectRows()
	v.Records, v.Shots = a.recordRows(assess.JobScope), a.shots(assess.JobScope)
	for _, zone := range a.Zones() {
		v.Records = append(v.Records, a.recordRows(assess.ZoneScope(zone))...)
		v.Shots = append(v.Shots, a.shots(assess.ZoneScope(zone))...)
	}
	for _, st := range a.Job.Storeys {
		v.Records = append(v.Records, a.recordRows(assess.StoreyScope(st.ID))...)
		v.Shots = append(v.Shots, a.shots(assess.StoreyScope(st.ID))...)
	}
	for _, room := range a.Job.Rooms {
		if a.HasLayer(room.ID) {
			v.Rooms = append(v.Rooms, a.handoverRoom(room))
		}
	}
	v.Checks = a.checksIn(assess.JobScope, func(c assess.Check) bool { return c.Activity.ID == "handover" })
	return Page{Path: "handover.html", Kind: KindHandover, Title: a.say("Handover"), Where: a.say("Handover"), Handover: v}
}

func (a *assembler) handoverRoom(room *job.Room) HandoverRoom {
	v := HandoverRoom{Room: a.roomLink(room), Facts: a.screwFacts(room), Records: a.recordRows(string(room.ID)), Shots: a.shots(string(room.ID))}
	v.View, v.Behind, v.People = a.roomView(a.Model.Room(room)), a.behindRoom(room), a.peopleOf(room.ID)
	for _, p := range a.PlacesIn(room.ID) {
		if p.Record.Edge == junction.PenetrationAt || p.Record.Edge == junction.Recess || p.Record.Edge == junction.Fixing && p.Record.Object != "" { // a bracket
			v.Holes = append(v.Holes, a.asSettled(a.junctionRow(p), p))
		}
	}
	return v
}

// stillOpen states openly what is not as it should be: what the records lack, then the points of the job that need a person.
func (a *assembler) stillOpen() []Note {
	var out []Note
	for _, text := range a.undeclared() {
		out = append(out, Note{Level: diag.Open.String(), Text: text})
	}
	out = append(out, a.typedOtherwise()...)
	for _, n := range a.notes(diag.Open, func(string) bool { return true }) {
		n.Hint = "" // how it is settled in the job is no matter for the client: the open points say it
		out = append(out, n)
	}
	return out
}

// asSettled is a place as it stands after somebody settled on site how it is done.
func (a *assembler) asSettled(row JunctionRow, p *assess.Place) JunctionRow {
	if p.Problem == "" {
		return row
	}
	if s := spot(p); a.site().settled[s.Key].Seal == s.Seal {
		row.Problem, row.Variant = "", joined(row.Variant, a.settledWords(a.site().settled[s.Key]))
	}
	return row
}

// packs says what a bare number of the list of materials counts.
func (a *assembler) packs(text string) string {
	if text == "" || strings.Trim(text, "0123456789") != "" {
		return text
	}
	return a.say("packs: %s", text)
}

// about says which job this is, for whom, by whom and when the layer was worked on.
func (a *assembler) about() []Term {
	var out []Term
	add := func(name, text string) {
		if text != "" {
			out = append(out, Term{name, text})
		}
	}
	add(a.say("Job"), joined(a.Job.Reference, a.Job.Name))
	add(a.say("Place"), a.Job.Place.Address)
	add(a.say("Client"), a.Job.Client.Name)
	add(a.say("Firm"), a.Job.Firm.Name)
	for _, role := range []string{"site-lead", "designer", "tester"} {
		var names []string
		for _, p := range a.Job.People {
			if p.Role == role {
				names = append(names, p.Name)
			}
		}
		add(upperFirst(a.role(role)), strings.Join(names, ", "))
	}
	if i := a.Job.Issue; i != nil {
		add(a.say("Issue"), joined(a.say("issue %d of %s", i.Number, i.Date), i.Reason))
	}
	switch first, last := a.recordedOn(); {
	case first == last:
		add(a.say("Recorded"), first)
	default:
		add(a.say("Recorded"), a.say("%s to %s", first, last))
	}
	return out
}

// recordedOn are the first and last day of what is recorded, by the clocks of the tablets; empty: nothing is.
func (a *assembler) recordedOn() (first, last string) {
	for _, r := range record.Latest(a.build.Journal.Records) {
		d := day(r.At)
		if first == "" || d < first {
			first = d
		}
		last = max(last, d)
	}
	return first, last
}

// screwFacts say how long a fixing may be on each surface: lining and cavity less the margin. Surfaces alike stand together.
func (a *assembler) screwFacts(room *job.Room) []Figure {
	var alike []alikeSurfaces
	var figures []Figure // of each
	for _, s := range a.Model.Room(room).Surfaces {
		depth, how, ok := longestScrew(s)
		if !ok {
			continue
		}
		alike = a.withSurface(alike, a.format.MM(depth)+": "+how, s)
		if len(alike) > len(figures) {
			figures = append(figures, Figure{Value: a.format.MM(depth), Formula: a.say("lining + cavity − margin; never above, below or beside sockets and switches"),
				Inputs: how, Status: a.say("common practice")})
		}
	}
	for i, x := range alike {
		figures[i].Label = a.say("Longest screw in %s", a.named(x))
	}
	return figures
}

// leaflet is what an occupier should know.
func (a *assembler) leaflet() []string {
	out := make([]string, len(leaflet))
	for i, line := range leaflet {
		out[i] = a.word(line)
	}
	return out
}

// leaflet is the same in English. Figures: common practice, no source.
var leaflet = []string{
	"Behind the boards of the marked rooms lies a sheet that keeps damp air out of walls and roof. The plan shows where.",
	"Fix things with short screws only. The longest screw for each surface stands on this page.",
	"Put nothing above, below or beside sockets and switches: cables run there.",
	"Hang heavy things on inner walls or on backing boards that are marked on the plan.",
	"For a new cable, pipe, lamp or cat flap call somebody who can fit a collar. One finger-wide hole undoes a day's work.",
	"Set no lamp into an upper ceiling unless the page of the room says there is depth for it. Cover no lamp that is not made for it.",
	"Keep the gaskets of the loft hatch and the outside door clean. Close every latch. Do not paint gaskets.",
	"Let the ventilation run all year. Clean its filters as its papers say. Leave air inlets open.",
	"Add no stove, fire or cooker hood without a licensed person. Test the carbon monoxide alarm every month.",
	"In the first two winters new plaster, screed and timber give off water. Aim at a humidity of 40 to 60 %. A week above 65 %: call.",
	"Call when you see a draught at a skirting or socket, dark lines on a ceiling, a damp patch, a musty smell or a crack along an edge.",
	"Found a hole? Do not foam it. Take a photo, cover it with tape, call.",
	"Give this leaflet to every builder before a wall or ceiling is opened.",
}
