package pack

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lapwork/generator/job"
	"lapwork/generator/record"
	"lapwork/generator/surface"
)

// recordTally counts how the job's checks and records stand.
type recordTally struct {
	checks                  int
	as                      [checkDone + 1]int // checks by how they stand
	superseded, standing    int                // answers, those on strips and spots among them
	defects, repaired, late int
	foreign                 int // answers in a language that the pack does not have
	photos                  int
	differing               int // checks that tablets answered otherwise
}

func (a *assembler) tallyRecords() recordTally {
	t := recordTally{checks: len(a.Results.Checks), differing: len(a.differing)}
	for _, c := range a.Results.Checks {
		t.as[a.answeredAs(a.checks[c.Key])]++
	}
	for _, s := range a.standings {
		if _, here := a.build.Photos[s.Record.Value]; here && s.Record.Kind == record.Photo {
			t.photos++
		}
		switch s.State {
		case record.Superseded:
			t.superseded++
		case record.Stands:
			t.standing++
		case record.Other:
			t.foreign++
		}
	}
	for _, d := range a.defectRows() {
		if d.Open {
			t.defects++
		} else {
			t.repaired++
		}
	}
	for _, r := range a.site().tooled {
		if a.pastDate(r) != "" {
			t.late++
		}
	}
	return t
}

// refuses reports that an answer is not what the check accepts.
func refuses(r record.Record, c Check) bool {
	switch r.Kind {
	case record.Tick:
		return r.Value == "no" || len(r.But) > 0
	case record.Reading:
		return outside(r.Value, c.Low, c.High)
	}
	return false
}

// outside reports that a decimal lies outside a range whose ends may be open.
func outside(value, low, high string) bool {
	x, err := strconv.ParseFloat(value, 64)
	if err != nil {
		return true
	}
	if l, err := strconv.ParseFloat(low, 64); err == nil && x < l {
		return true
	}
	h, err := strconv.ParseFloat(high, 64)
	return err == nil && x > h
}

// asBuilt sums the records for the handover.
func (a *assembler) asBuilt() []Figure {
	t := a.tallyRecords()
	out := []Figure{
		{Label: a.say("Checks done"), Value: a.say("%d of %d", t.as[checkDone], t.checks),
			Status: a.say("%d not answered, %d in part, %d to be answered again, %d no or out of range", t.as[checkOpen], t.as[checkInPart], t.as[checkOutdated], t.as[checkRefused])},
		{Label: a.say("Answers to words that changed since"), Value: fmt.Sprint(t.superseded), Inputs: a.say("%d more stand by name and reason", t.standing)},
		{Label: a.say("Defects"), Value: a.say("%d put right, %d open", t.repaired, t.defects)},
		{Label: a.say("Photos kept"), Value: fmt.Sprint(t.photos)},
		{Label: a.say("Strips measured on site"), Value: fmt.Sprint(len(a.site().cuts))},
		{Label: a.say("Readings with an instrument past its date"), Value: fmt.Sprint(t.late)},
	}
	return append(out, a.airFact())
}

// peopleOf are those who fitted, inspected and released in a room, by what they recorded.
func (a *assembler) peopleOf(room job.RoomID) []Term {
	fitted, inspected, released := a.say("Fitted and checked"), a.say("Inspected"), a.say("Released")
	names := map[string][]string{}
	add := func(what, who string) {
		if who != "" && !slices.Contains(names[what], who) {
			names[what] = append(names[what], who)
		}
	}
	for _, c := range a.Results.ChecksIn(string(room)) {
		for _, s := range a.standing[c.Key] {
			r := s.Record
			switch {
			case c.Hold != nil:
				add(released, c.Hold.ID+" "+r.Name+" "+day(r.At))
			case c.QA != nil && c.QA.Signs == "fitter":
				add(fitted, r.Who)
			default:
				add(inspected, r.Who)
			}
		}
	}
	var out []Term
	for _, what := range []string{fitted, inspected, released} {
		text := a.say("nobody recorded")
		if len(names[what]) > 0 {
			text = strings.Join(names[what], ", ")
		}
		out = append(out, Term{what, text})
	}
	return append(out, a.selfReleased(room)...)
}

// selfReleased names the holds of a room that were released by somebody who also did the work: the normal way of a firm of
// one or two, shown as what it is.
func (a *assembler) selfReleased(room job.RoomID) []Term {
	fitters := map[string]bool{}
	for _, c := range a.Results.ChecksIn(string(room)) {
		for _, s := range a.standing[c.Key] {
			fitters[s.Record.Who] = fitters[s.Record.Who] || c.Hold == nil && c.QA.Signs == "fitter"
		}
	}
	var out []Term
	for _, c := range a.Results.ChecksIn(string(room)) {
		for _, s := range a.standing[c.Key] {
			if c.Hold != nil && s.Record.Kind == record.Sign && fitters[s.Record.Name] {
				out = append(out, Term{a.say("Self-released, no second person"), joined(c.Hold.ID+", "+s.Record.Name, s.Record.Reason)})
			}
		}
	}
	return out
}

// behindRoom lists what lies behind the surfaces of a room that carry the layer, inside first, surfaces alike together.
func (a *assembler) behindRoom(room *job.Room) []Term {
	var alike []alikeSurfaces
	for _, s := range a.Model.Room(room).Surfaces {
		if !s.CarriesSheet {
			continue
		}
		var layers []string
		for _, l := range a.behind(s) {
			layers = append(layers, l.Text)
		}
		if len(layers) == 0 {
			layers = []string{a.say("no build-up is stated")}
		}
		alike = a.withSurface(alike, strings.Join(layers, " | "), s)
	}
	var out []Term
	for _, x := range alike {
		out = append(out, Term{a.named(x), x.same})
	}
	return out
}

// alikeSurfaces are the surfaces of a room of which the same is true, by what they are.
type alikeSurfaces struct {
	same  string
	roles []string
	ids   [][]string // of each role
}

// withSurface puts a surface to those of which the same is true.
func (a *assembler) withSurface(list []alikeSurfaces, same string, s *surface.Surface) []alikeSurfaces {
	i := slices.IndexFunc(list, func(x alikeSurfaces) bool { return x.same == same })
	if i < 0 {
		i = len(list)
		list = append(list, alikeSurfaces{same: same})
	}
	x, role := &list[i], a.roleWord(s)
	r := slices.Index(x.roles, role)
	if r < 0 {
		r = len(x.roles)
		x.roles, x.ids = append(x.roles, role), append(x.ids, nil)
	}
	x.ids[r] = append(x.ids[r], string(s.ID))
	return list
}

// named is "C1-S1, C1-S2 (slope), C1-C1 (ceiling)".
func (a *assembler) named(x alikeSurfaces) string {
	parts := make([]string, len(x.roles))
	for i, role := range x.roles {
		parts[i] = a.say("%s (%s)", strings.Join(x.ids[i], ", "), role)
	}
	return strings.Join(parts, ", ")
}

// settledSpots are the spots of the whole job that had no method.
func (a *assembler) settledSpots() []Spot {
	var out []Spot
	for _, room := range a.Job.Rooms {
		out = append(out, a.spots(room.ID)...)
	}
	return out
}
