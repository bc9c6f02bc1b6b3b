package pack

import (
	"cmp"
	"slices"
	"strings"

	"lapwork/generator/record"
)

// RecordRow is what was recorded for one check by one person on one day.
type RecordRow struct {
	ID, Title, Places, Said, Who, When, State string
}

// Shot is a photo in its place: the check it was taken for.
type Shot struct {
	Photo
	Caption string
}

// recordRows lists what was recorded in a scope, check by check in plan order. What one person recorded of a check on one day
// is one row.
func (a *assembler) recordRows(scope string) []RecordRow {
	var out []RecordRow
	for _, c := range a.Results.ChecksIn(scope) {
		view, from := a.checks[c.Key], len(out)
		for _, s := range a.standing[c.Key] {
			if s.Record.Kind == record.Defect { // it stands among the defects
				continue
			}
			row := RecordRow{ID: view.QA, Title: view.Title, Places: strings.Join(view.Places, ", "), Said: joined(a.said(s.Record), a.pastDate(s.Record)),
				Who: cmp.Or(s.Record.Name, s.Record.Who), When: day(s.Record.At), State: joined(a.stateText(s), a.otherwise(s.Record))}
			same := func(r RecordRow) bool { return r.Who == row.Who && r.When == row.When && r.State == row.State }
			if i := slices.IndexFunc(out[from:], same); i >= 0 {
				out[from+i].Said += ", " + row.Said
				continue
			}
			out = append(out, row)
		}
	}
	return out
}

// otherwise says which other tablets answered a check otherwise than the record that counts; empty: none.
func (a *assembler) otherwise(r record.Record) string {
	var out []string
	for _, c := range a.differing {
		if c.Check != r.Check || c.Kind != r.Kind {
			continue
		}
		for _, other := range c.Records {
			if said := a.said(other); other.Dev != r.Dev && said != a.said(r) {
				out = append(out, a.say("another tablet: %s (%s, %s)", said, cmp.Or(other.Name, other.Who), day(other.At)))
			}
		}
	}
	return strings.Join(out, "; ")
}

// shots are the photos recorded in a scope, in the order of the rows.
func (a *assembler) shots(scope string) []Shot {
	var out []Shot
	for _, c := range a.Results.ChecksIn(scope) {
		view := a.checks[c.Key]
		for _, s := range a.standing[c.Key] {
			if p, ok := a.build.Photos[s.Record.Value]; ok && s.Record.Kind == record.Photo {
				out = append(out, Shot{p, joined(view.QA+" "+view.Title, strings.Join(view.Places, ", "))})
			}
		}
	}
	return out
}

// stateText is the state of a record, with who holds it to be still true.
func (a *assembler) stateText(s record.Standing) string {
	switch {
	case s.By != nil:
		return a.stillTrue(*s.By)
	case s.State == record.Valid:
		return a.say("valid")
	case s.State == record.Gone:
		return a.say("no longer in the pack")
	case s.State == record.Other:
		return a.say("in a language that the pack does not have")
	}
	return a.say("superseded")
}

// said writes what a record says.
func (a *assembler) said(r record.Record) string {
	text := strings.TrimSpace(r.Value + " " + r.Unit)
	switch {
	case r.Kind == record.Photo:
		text = a.say("photo")
	case r.Kind == record.Sign:
		text = a.say("signed")
	case r.Kind == record.Tick && r.Value == "yes":
		text = a.say("yes")
	case r.Kind == record.Tick && r.Value == "no":
		text = a.say("no")
	case r.Kind == record.Tick:
		text = a.say("not applicable")
	}
	if len(r.But) > 0 {
		text = a.say("%s, all but %s", text, strings.Join(r.But, ", "))
	}
	if r.Reason != "" {
		text += ": " + r.Reason
	}
	return text
}
