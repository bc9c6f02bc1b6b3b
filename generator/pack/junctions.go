package pack

import (
	"fmt"
	"slices"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/junction"
	"lapwork/generator/library"
	q "lapwork/generator/quantity"
)

// roomNumbers are the numbers of a room's junction lines in its drawing.
type roomNumbers struct{ of map[string]int }

// numbers gives a room's junction lines their numbers: edges in derived order.
func (a *assembler) numbers(room *job.Room) *roomNumbers {
	if n, ok := a.rooms.Load(room.ID); ok {
		return n.(*roomNumbers)
	}
	n := &roomNumbers{of: map[string]int{}}
	for _, e := range a.Model.Room(room).Edges {
		if a.Place(e.ID) != nil {
			n.of[e.ID] = len(n.of) + 1
		}
	}
	a.rooms.Store(room.ID, n)
	return n
}

// junctionRow is a place in a list.
func (a *assembler) junctionRow(p *assess.Place) JunctionRow {
	r := p.Record
	row := JunctionRow{ID: r.ID, Room: string(r.Room.ID), No: a.numbers(r.Room).of[r.ID], Amount: a.amount(p),
		Substrate: a.substrate(r), Problem: p.Problem, Path: roomPath(r.Room.ID) + "#" + r.ID, Title: what(r)}
	if s := p.Chosen.Statement; s != nil {
		row.Title = s.Title
		row.Statement = &Link{Text: s.Title, Path: methodPath(s.ID)}
		row.Variant = variantTitle(p.Chosen)
		row.Activity = a.activityTitle(p.Chosen.Activity)
		if s.Origin != "built-in" {
			row.Origin = s.Origin
		}
	}
	if p.Settled != nil {
		row.Variant = strings.TrimPrefix(row.Variant+"; settled by "+p.Settled.By, "; ")
	}
	return row
}

// variantTitle is the variant's title; the default says nothing.
func variantTitle(s library.Selection) string {
	if s.Variant == nil || s.Variant.ID == "default" {
		return ""
	}
	return s.Variant.Title
}

func (a *assembler) activityTitle(id string) string {
	if act := a.Library.Activities.Find(id); act != nil {
		return act.Title
	}
	return ""
}

func (a *assembler) substrate(r junction.Record) string {
	if s := a.Library.Substrates.Find(string(r.Substrate)); s != nil {
		return s.Name
	}
	return string(r.Substrate)
}

// amount is what is measured of a place, in the unit of its statement.
func (a *assembler) amount(p *assess.Place) string {
	measure := "m"
	if s := p.Chosen.Statement; s != nil {
		measure = s.Measure
	} else if p.Record.Length == 0 {
		measure = "each"
	}
	return a.measured(measure, measureOf(measure, p.Record))
}

// measureOf gives a record's length, area or count.
func measureOf(measure string, r junction.Record) float64 {
	switch measure {
	case "m":
		return float64(r.Length)
	case "m2":
		return float64(r.Area)
	}
	return float64(max(1, r.Count))
}

func (a *assembler) measured(measure string, x float64) string { return a.format.Amount(x, measure) }

// what names a record without a statement, in English.
func what(r junction.Record) string { return (&assembler{}).what(r) }

// what names a record without a statement.
func (a *assembler) what(r junction.Record) string {
	words := []string{a.word(strings.ReplaceAll(string(r.Edge), "-", " "))}
	if r.Item != "" {
		words = append(words, a.word(strings.ReplaceAll(r.Item, "-", " ")))
	}
	if r.SurfaceA != "" && r.SurfaceB != "" {
		words = append(words, a.say("%s to %s", a.side(r.SurfaceA), a.side(r.SurfaceB)))
	}
	return strings.Join(words, ", ")
}

// schedule is the junction schedule of the whole job.
func (a *assembler) schedule() Page {
	v := &Schedule{ByTitle: a.kinds()}
	for _, room := range a.Job.Rooms {
		for _, p := range a.PlacesIn(room.ID) {
			v.Rows = append(v.Rows, a.junctionRow(p))
		}
	}
	v.Open = a.notes(diag.Open, func(item string) bool { return a.Place(item) != nil })
	return Page{Path: "junctions.html", Kind: KindSchedule, Title: a.say("Junctions"), Schedule: v}
}

// kinds sums the places of each statement.
func (a *assembler) kinds() []KindRow {
	ids := make([]library.StatementID, 0, len(a.used))
	for id := range a.used {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	var out []KindRow
	for _, id := range ids {
		var sum float64
		var minutes assess.Range
		for _, p := range a.used[id] {
			sum += measureOf(p.Chosen.Statement.Measure, p.Record)
			minutes = minutes.Plus(p.Minutes)
		}
		s := a.used[id][0].Chosen.Statement
		out = append(out, KindRow{Title: s.Title, Amount: a.measured(s.Measure, sum), Count: fmt.Sprint(len(a.used[id])),
			Minutes: a.minutes(minutes), Origin: a.origin(s.Origin), Link: &Link{Text: s.Title, Path: methodPath(id)}})
	}
	return out
}

// minutes writes a labour range: "77 min (46 min to 123 min)".
func (a *assembler) minutes(r assess.Range) string {
	if r.Likely == 0 {
		return ""
	}
	if r.Low == r.High {
		return a.format.Minutes(r.Likely)
	}
	f := a.format
	return a.say("%s (%s to %s)", f.MinutesUpTo(r.Likely, r.High), f.MinutesUpTo(r.Low, r.High), f.Minutes(r.High))
}

// status is the word that stands beside a figure.
func (a *assembler) status(s q.Source) string { return a.word(s.Status.String()) }
