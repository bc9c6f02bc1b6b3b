package pack

import (
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/junction"
)

// handover is what the client keeps: what is behind the lining, how deep one may screw, what is still open.
func (a *assembler) handover() Page {
	v := &Handover{Facts: a.jobFacts(), Results: a.testFigures(), Leaflet: leaflet, Open: a.notes(diag.Open, func(string) bool { return true })}
	v.Summary, v.Measured, v.Settled, v.Goods = a.asBuilt(), a.measuredStrips(), a.settledSpots(), a.goodsRows()
	v.Papers = a.papers()
	for _, m := range a.total() {
		v.Materials = append(v.Materials, Term{m.Name, joined(strings.TrimSpace(m.Net+" "+m.Unit), m.Packs)})
	}
	v.Signed = Link{Text: a.say("Test result and declaration, ready to sign"), Path: declarationPath}
	for _, d := range a.Library.Documents.All() {
		v.Documents = append(v.Documents, Term{d.ID, d.Title})
	}
	v.Records, v.Defects = a.recordRows(assess.JobScope), a.defectRows()
	for _, zone := range a.Zones() {
		v.Records = append(v.Records, a.recordRows(assess.ZoneScope(zone))...)
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
	v := HandoverRoom{Room: a.roomLink(room), Facts: a.screwFacts(room), Records: a.recordRows(string(room.ID))}
	v.View, v.Behind, v.People = a.roomView(a.Model.Room(room)), a.behindRoom(room), a.peopleOf(room.ID)
	for _, p := range a.PlacesIn(room.ID) {
		if p.Record.Edge == junction.PenetrationAt || p.Record.Edge == junction.Recess {
			v.Holes = append(v.Holes, a.junctionRow(p))
		}
	}
	return v
}

// screwFacts say how long a fixing may be on each surface: lining and cavity less the margin.
func (a *assembler) screwFacts(room *job.Room) []Figure {
	var out []Figure
	for _, s := range a.Model.Room(room).Surfaces {
		if depth, how, ok := longestScrew(s); ok {
			out = append(out, Figure{Label: a.say("Longest screw in %s (%s)", s.ID, a.roleWord(s)), Value: a.format.MM(depth),
				Formula: a.say("lining + cavity − margin; never above, below or beside sockets and switches"), Inputs: how, Status: a.say("common practice")})
		}
	}
	return out
}

// leaflet is what an occupier should know. Figures: common practice, no source.
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
	"In the first two winters new plaster, screed and timber give off water. Aim at 40 to 60 % humidity. Above 65 % for a week, call.",
	"Call when you see a draught at a skirting or socket, dark lines on a ceiling, a damp patch, a musty smell or a crack along an edge.",
	"Found a hole? Do not foam it. Take a photo, cover it with tape, call.",
	"Give this leaflet to every builder before a wall or ceiling is opened.",
}
