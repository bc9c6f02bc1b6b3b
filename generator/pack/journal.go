package pack

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"lapwork/generator/record"
)

// supersede marks each check whose recorded answer was given to other words: what changed stands on the check, in words.
func (a *assembler) supersede() {
	a.standing = map[string]record.Standing{}
	for _, s := range record.StandingsIn(a.build.Journal.Records, a.Job.Language, a.statedIn(), a.build.Journal.Statements) {
		a.standing[s.Record.Check] = s
		c, there := a.checks[s.Record.Check]
		if !there || s.State != record.Superseded {
			continue
		}
		c.Changed = changeText(s)
		a.checks[c.Key] = c
	}
}

// stated gives the words of every check of the pack.
func (a *assembler) stated() []record.Stated {
	var out []record.Stated
	for _, c := range a.checks {
		out = append(out, record.Stated{Check: c.Key, Lines: c.Statement()})
	}
	slices.SortFunc(out, func(x, y record.Stated) int { return strings.Compare(x.Check, y.Check) })
	return out
}

// statedIn gives them in every language of the pack.
func (a *assembler) statedIn() map[string][]record.Stated {
	out := map[string][]record.Stated{}
	for _, w := range a.wordings() {
		out[w.Tag] = w.Checks
	}
	return out
}

// changeText says in words what a signed statement said and says now.
func changeText(s record.Standing) string {
	who := cmp.Or(s.Record.Name, s.Record.Who, "somebody")
	text := fmt.Sprintf("answered by %s on %s to other words", who, day(s.Record.At))
	var parts []string
	for _, c := range s.Changes {
		_, line, _ := strings.Cut(c.Key, "#")
		switch {
		case c.Was == "":
			parts = append(parts, fmt.Sprintf("%s is new: %s", line, c.Is))
		case c.Is == "":
			parts = append(parts, fmt.Sprintf("%s was taken out: %s", line, c.Was))
		default:
			parts = append(parts, fmt.Sprintf("%s was %q, is %q", line, c.Was, c.Is))
		}
	}
	if len(parts) == 0 {
		return text + "; the words then are not known here. Answer it again."
	}
	return text + ": " + strings.Join(parts, "; ") + ". Answer it again."
}

// day is the date of a time stamp.
func day(at string) string {
	date, _, _ := strings.Cut(at, "T")
	return date
}

// recordRows lists what was recorded in a scope, check by check in plan order.
func (a *assembler) recordRows(scope string) []RecordRow {
	var out []RecordRow
	for _, c := range a.Results.ChecksIn(scope) {
		s, ok := a.standing[c.Key]
		if !ok {
			continue
		}
		view := a.checks[c.Key]
		out = append(out, RecordRow{ID: view.QA, Title: view.Title, Places: strings.Join(view.Places, ", "), Said: said(s.Record),
			Who: cmp.Or(s.Record.Name, s.Record.Who), When: day(s.Record.At), State: s.State.String()})
	}
	return out
}

// said writes what a record says.
func said(r record.Record) string {
	text := strings.TrimSpace(r.Value + " " + r.Unit)
	switch r.Kind {
	case record.Photo:
		text = "photo " + clip(r.Value, 12)
	case record.Sign:
		text = "signed"
	}
	if len(r.But) > 0 {
		text += ", all but " + strings.Join(r.But, ", ")
	}
	if r.Reason != "" {
		text += ": " + r.Reason
	}
	return text
}

func clip(text string, n int) string {
	if len(text) > n {
		return text[:n]
	}
	return text
}

// defectRows lists the defects that tablets reported, oldest first.
func (a *assembler) defectRows() []DefectRow {
	var out []DefectRow
	for _, r := range a.build.Journal.Records {
		if r.Kind == record.Defect {
			out = append(out, DefectRow{Place: cmp.Or(r.Place, r.Check), Severity: r.Severity, Cause: r.Cause, Text: cmp.Or(r.Text, r.Reason, r.Value),
				Who: cmp.Or(r.Who, r.Name), When: day(r.At)})
		}
	}
	slices.SortStableFunc(out, func(x, y DefectRow) int { return cmp.Or(cmp.Compare(x.When, y.When), cmp.Compare(x.Place, y.Place)) })
	return out
}
