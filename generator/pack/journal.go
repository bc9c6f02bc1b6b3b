package pack

import (
	"cmp"
	"slices"
	"strings"

	"lapwork/generator/record"
	"lapwork/generator/sorting"
)

// supersede marks each check whose recorded answer was given to other words: what changed stands on the check, in words.
func (a *assembler) supersede() {
	a.standing = map[string][]record.Standing{}
	a.standings = record.Against{Lang: a.Job.Language, Checks: a.statedIn(), Known: a.build.Journal.Statements, Now: a.CheckNow}.Standings(a.build.Journal.Records)
	for _, c := range record.Conflicts(a.build.Journal.Records) {
		if _, here := a.checks[a.CheckNow(c.Check)]; here {
			a.differing = append(a.differing, c)
		}
	}
	for _, s := range a.standings {
		a.standing[s.Check] = append(a.standing[s.Check], s)
		c, there := a.checks[s.Check]
		if !there || s.State != record.Superseded && s.State != record.Stands {
			continue
		}
		c.Changed = a.changeText(s)
		a.checks[c.Key] = c
	}
}

// stated gives the words of every check of the pack.
func (a *assembler) stated() []record.Stated {
	out := make([]record.Stated, 0, len(a.checks))
	for _, c := range a.checks {
		out = append(out, record.Stated{Check: c.Key, Lines: c.Statement()})
	}
	sorting.Func(out, func(x, y record.Stated) int { return strings.Compare(x.Check, y.Check) })
	return out
}

// statedIn gives them in every language of the pack.
func (a *assembler) statedIn() map[string][]record.Stated {
	out := map[string][]record.Stated{}
	var here []record.Stated
	if len(a.build.Journal.Records) > 0 {
		here = a.statedOnSite()
	}
	for _, w := range a.wordings() {
		out[w.Tag] = slices.Concat(w.Checks, here)
	}
	return out
}

// changeText says in words what a signed statement said and says now.
func (a *assembler) changeText(s record.Standing) string {
	who := cmp.Or(s.Record.Name, s.Record.Who, "somebody")
	if s.By != nil {
		return a.say("answered by %s on %s to other words (%s); %s", who, day(s.Record.At), a.changedWords(s.Changes), a.stillTrue(*s.By))
	}
	if len(s.Changes) == 0 {
		return a.say("answered by %s on %s to other words; the words then are not known here. Answer it again.", who, day(s.Record.At))
	}
	return a.say("answered by %s on %s to other words: %s. Answer it again.", who, day(s.Record.At), a.changedWords(s.Changes))
}

// day is the date of a time stamp.
func day(at string) string {
	date, _, _ := strings.Cut(at, "T")
	return date
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
	closed := map[string]record.Record{}
	latest := record.Latest(a.build.Journal.Records)
	for _, r := range latest {
		if r.Kind == record.Defect && r.Of != "" {
			closed[r.Of] = r
		}
	}
	for _, r := range latest {
		if r.Kind == record.Defect && r.Of == "" {
			repair, done := a.say("open"), closed[r.ID]
			if done.ID != "" {
				repair = a.say("%s (%s, %s)", done.Text, cmp.Or(done.Who, done.Name), day(done.At))
			}
			out = append(out, DefectRow{Repair: repair, Open: done.ID == "", Place: cmp.Or(r.Place, r.Check), Severity: r.Severity, Cause: r.Cause, Text: cmp.Or(r.Text, r.Reason, r.Value),
				Who: cmp.Or(r.Who, r.Name), When: day(r.At)})
		}
	}
	sorting.StableFunc(out, func(x, y DefectRow) int { return cmp.Or(cmp.Compare(x.When, y.When), cmp.Compare(x.Place, y.Place)) })
	return out
}
