package pack

import (
	"cmp"
	"slices"
	"strings"

	"lapwork/generator/record"
)

// ChangesPage lists what changed between the packs that records were made with and this one.
type ChangesPage struct {
	From, To string
	Reason   string
	Summary  []string
	Rooms    []ChangedRoom
	Cutting  []CutChange
	Gone     []RecordRow // answers to checks that the pack no longer has
}

// ChangedRoom is a scope with its changed checks.
type ChangedRoom struct {
	Place Link
	Rows  []ChangedRow
}

// ChangedRow is one answered check whose words changed. Check is what a tablet records "still true as built" on.
type ChangedRow struct {
	Title string
	Check *Check // nil: a strip or spot, answered on its own page
	Said  string // what was answered
	What  string // what changed, in words
	State string // superseded, or who says that it is still true as built and why
	Open  bool   // it has to be answered again, or said to be still true
}

const changesPath = "changes.html"

// changes is the change list: one line an answered check whose words changed since.
func (a *assembler) changes() Page {
	v := &ChangesPage{To: a.head().Revision, From: strings.Join(a.earlier(), ", "), Cutting: a.cutChanges()}
	if i := a.Job.Issue; i != nil {
		v.Reason = i.Reason
	}
	open, stands, valid, foreign := 0, 0, 0, 0
	at, rows := map[string]int{}, map[string]int{}
	for _, s := range a.standings {
		switch s.State {
		case record.Valid:
			valid++
			continue
		case record.Gone:
			v.Gone = append(v.Gone, RecordRow{ID: s.Record.Check, Said: a.said(s.Record), Who: cmp.Or(s.Record.Name, s.Record.Who), When: day(s.Record.At), State: a.stateText(s)})
			continue
		case record.Other:
			foreign++
			continue
		}
		scope, _, _ := strings.Cut(s.Check, "/")
		i, ok := at[scope]
		if !ok {
			i = len(v.Rooms)
			at[scope] = i
			v.Rooms = append(v.Rooms, ChangedRoom{Place: Link{Text: scope, Path: signPath(scope)}})
		}
		row := a.changedRow(s)
		if row.Open {
			open++
		} else {
			stands++
		}
		// What was answered to the same words of one check is one row: a number and a signature, say.
		same := strings.Join([]string{s.Check, row.What, row.State}, "\x00")
		if n, ok := rows[same]; ok {
			v.Rooms[i].Rows[n].Said += "; " + row.Said
			continue
		}
		rows[same] = len(v.Rooms[i].Rows)
		v.Rooms[i].Rows = append(v.Rooms[i].Rows, row)
	}
	v.Summary = []string{a.say("%d answers stand as they are.", valid), a.say("%d are said to be still true as built, by name and reason.", stands),
		a.say("%d are superseded: answer them again, or say by name and reason that they are still true as built.", open),
		a.say("%d belong to checks that the pack no longer has.", len(v.Gone))}
	if foreign > 0 {
		v.Summary = append(v.Summary, a.say("%d answers are in a language that the pack does not have: name it under also-in.", foreign))
	}
	return Page{Path: changesPath, Kind: KindChanges, Title: a.say("What changed"), Where: a.say("What changed"), Changes: v}
}

func (a *assembler) changedRow(s record.Standing) ChangedRow {
	row := ChangedRow{Title: s.Check, Said: a.say("%s, %s %s", a.said(s.Record), cmp.Or(s.Record.Name, s.Record.Who), day(s.Record.At)),
		What: a.changedWords(s.Changes), State: a.stateText(s), Open: true}
	if c, ok := a.checks[s.Check]; ok {
		row.Check, row.Title = &c, c.QA+" "+c.Title
	}
	if s.By != nil {
		row.State, row.Open = a.stillTrue(*s.By), false
	}
	return row
}

// stillTrue says who holds an answer to other words to be true, since when and why.
func (a *assembler) stillTrue(r record.Record) string {
	return a.say("still true as built, says %s on %s: %s", cmp.Or(r.Name, r.Who), day(r.At), r.Reason)
}

// earlier lists the revisions that records were made with, other than the pack's own, oldest name first.
func (a *assembler) earlier() []string {
	own := a.head().Revision
	var out []string
	for _, r := range a.build.Journal.Records {
		if r.Rev != own && r.Rev != "" && !slices.Contains(out, r.Rev) {
			out = append(out, r.Rev)
		}
	}
	slices.Sort(out)
	return out
}

// changedWords says what of a statement reads otherwise now.
func (a *assembler) changedWords(changes []record.Change) string {
	var parts []string
	for _, c := range changes {
		_, line, _ := strings.Cut(c.Key, "#")
		switch {
		case c.Was == "":
			parts = append(parts, a.say("%s is new: %s", line, c.Is))
		case c.Is == "":
			parts = append(parts, a.say("%s was taken out: %s", line, c.Was))
		default:
			parts = append(parts, a.say("%s was %q, is %q", line, c.Was, c.Is))
		}
	}
	if len(parts) == 0 {
		return a.say("the words then are not known here")
	}
	return strings.Join(parts, "; ")
}

// statedOnSite are the words that strips are measured against and spots are settled to.
func (a *assembler) statedOnSite() []record.Stated {
	var out []record.Stated
	for _, l := range a.Layouts {
		for _, c := range a.cutRows(l) {
			out = append(out, record.Stated{Check: c.Key, Lines: c.Statement()})
		}
	}
	for _, p := range a.Results.Places {
		if p.Problem != "" {
			s := spot(p)
			out = append(out, record.Stated{Check: s.Key, Lines: s.Statement()})
		}
	}
	return out
}
