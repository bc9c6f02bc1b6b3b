package library

import (
	"strconv"
	"strings"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// Activity is a step of the programme. Waiting times are not here: they follow from the components that were placed.
type Activity struct {
	ID       string // hang-walls
	Title    string
	Scope    string // room, storey, zone, job
	Crew     []CrewMember
	After    []string // activities that must be finished
	Hold     string   // hold at its end; empty: none
	Minutes  string   // person-minutes as a sum in words of the variables below; "trade": somebody else's work
	Checks   []string
	Only     string // in words: only if ...; empty: every job
	Note     string
	Source   q.Source
	Position int      // in working order, from 1
	Pos      diag.Pos `hash:"ignore"`
}

// CrewMember is a role and how many of it.
type CrewMember struct {
	Role  string
	Count int
}

var activitySpec = spec[*Activity]{"activities", []string{"id", "title", "scope", "crew", "after", "hold", "minutes",
	"checks", "only_if", "note", "source", "status"}, readActivity}

func readActivity(l line) *Activity {
	a := &Activity{ID: l.text("id"), Title: l.need("title"),
		Scope: l.word("scope", []string{"room", "storey", "zone", "job"}), After: l.list("after"), Hold: l.text("hold"),
		Minutes: l.need("minutes"), Checks: l.list("checks"), Only: l.text("only_if"), Note: l.text("note"),
		Source: l.source(), Pos: l.pos}
	for _, entry := range l.list("crew") {
		role, n, ok := strings.Cut(entry, "*")
		count := 1
		if ok {
			var err error
			if count, err = strconv.Atoi(n); err != nil || count < 1 {
				l.found.Faultf(l.cells["crew"].pos, "write fitter*2", "%q is no count of people", entry)
			}
		}
		if !oneOf(role, job.Roles) {
			l.found.Faultf(l.cells["crew"].pos, suggest(role, job.Roles), "unknown role %q", role)
		}
		a.Crew = append(a.Crew, CrewMember{role, count})
	}
	return a
}
