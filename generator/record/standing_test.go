package record_test

import (
	"testing"

	"lapwork/generator/lawtest/tablet"
	"lapwork/generator/record"

	"github.com/google/go-cmp/cmp"
)

// against is a pack that states its checks in one language.
func against(lang string, now []record.Stated, known map[string][]record.Line) record.Against {
	return record.Against{Lang: lang, Checks: map[string][]record.Stated{lang: now}, Known: known}
}

// TestStandings: a check whose words changed is superseded with what changed in words; others are not touched by it.
func TestStandings(t *testing.T) {
	lap := func(accept string) []record.Line {
		return []record.Line{{Key: "lap#title", Text: "Lap"}, {Key: "lap#accept", Text: accept, Unit: "mm"}}
	}
	with := func(lines []record.Line) []record.Line {
		return append(lines, record.Line{Key: "lap#who", Text: "fitter"})
	}
	bead := []record.Line{{Key: "bead#title", Text: "Bead"}}
	d := tablet.New(t, "p", 0)
	keep := func(check string, words []record.Line) {
		d.Keep(record.Record{Kind: record.Tick, Check: check, Value: "yes", Seal: record.Seal(words)})
	}
	keep("lap", with(lap("80")))
	keep("bead", bead)
	keep("fold", bead)
	keep("tape", lap("60"))
	d.Keep(record.Record{Kind: record.Note, Text: "no seal"})
	d.Keep(record.Record{Kind: record.Tick, Check: "bead", Value: "no"}) // without a seal: it hides no answer that has one
	now := []record.Stated{{Check: "lap", Lines: lap("100")}, {Check: "bead", Lines: bead}, {Check: "tape", Lines: lap("70")}}
	known := map[string][]record.Line{record.Seal(with(lap("80"))): with(lap("80"))}

	got := against("en", now, known).Standings(d.Records)
	states := map[string]record.State{}
	for _, s := range got {
		states[s.Record.Check] = s.State
	}
	if diff := cmp.Diff(map[string]record.State{"lap": record.Superseded, "bead": record.Valid, "fold": record.Gone, "tape": record.Superseded}, states); diff != "" {
		t.Error(diff)
	}
	for _, s := range got {
		switch s.Record.Check {
		case "lap":
			want := []record.Change{{Key: "lap#accept", Was: "80 mm", Is: "100 mm"}, {Key: "lap#who", Was: "fitter"}}
			if diff := cmp.Diff(want, s.Changes); diff != "" || len(s.Was) != 3 || len(s.Is) != 2 {
				t.Errorf("changes %s", diff)
			}
		case "tape": // the words then are not known
			if s.Changes != nil || s.Was != nil || s.Is == nil {
				t.Errorf("%+v", s)
			}
		}
	}
	for _, s := range against("de", now, known).Standings(d.Records) {
		if s.Record.Check == "lap" && s.State != record.Other {
			t.Errorf("a seal in another language is %v", s.State)
		}
	}
}

// A check that an earlier pack named after its place is found under today's name: valid where it says the same, superseded
// with what changed in words where it does not, and standing where somebody said so. A newer answer under today's name hides
// an earlier one; an older one does not.
func TestStandingsUnderAnotherName(t *testing.T) {
	words := func(name, accept, places string) []record.Line {
		return []record.Line{{Key: name + "#accept", Text: accept}, {Key: name + "#places", Text: places}}
	}
	const was, is = "A1/QA-19/W1+W2", "A1/QA-19/corner"
	renamed := func(check string) string {
		if check == was {
			return is
		}
		return check
	}
	held := func(accept, places string, records []record.Record) []record.Standing {
		old := words(was, "bead", "W1+W2")
		a := against("en", []record.Stated{{Check: is, Lines: words(is, accept, places)}}, map[string][]record.Line{record.Seal(old): old})
		a.Now = renamed
		return a.Standings(records)
	}
	d := tablet.New(t, "p", 0)
	first := d.Keep(record.Record{Kind: record.Tick, Check: was, Value: "yes", Seal: record.Seal(words(was, "bead", "W1+W2"))})
	if got := held("bead", "W1+W2", d.Records); len(got) != 1 || got[0].State != record.Valid || got[0].Check != is {
		t.Errorf("the same words: %+v", got)
	}
	got := held("bead", "W1+W2, W2+W3", d.Records)
	if len(got) != 1 || got[0].State != record.Superseded || got[0].Check != is {
		t.Fatalf("a second place: %+v", got)
	}
	if diff := cmp.Diff([]record.Change{{Key: is + "#places", Was: "W1+W2", Is: "W1+W2, W2+W3"}}, got[0].Changes); diff != "" {
		t.Error(diff)
	}
	d.Keep(record.Record{V: 2, Kind: record.Stand, Check: is, Seal: record.Seal(words(is, "bead", "W1+W2, W2+W3")), Name: "L", Reason: "seen", Covers: []string{first.Hash}})
	if got := held("bead", "W1+W2, W2+W3", d.Records); len(got) != 1 || got[0].State != record.Stands {
		t.Errorf("said to be still true: %+v", got)
	}
	d.Keep(record.Record{Kind: record.Tick, Check: is, Value: "no", Seal: record.Seal(words(is, "bead", "W1+W2, W2+W3"))})
	if got := held("bead", "W1+W2, W2+W3", d.Records); len(got) != 1 || got[0].Record.Value != "no" || got[0].State != record.Valid {
		t.Errorf("a newer answer: %+v", got)
	}
	late := tablet.New(t, "p", 1)
	late.Clock = d.Clock.AddDate(0, 0, 1)
	late.Keep(record.Record{Kind: record.Tick, Check: was, Value: "yes", Seal: first.Seal})
	if got := held("bead", "W1+W2, W2+W3", record.Merge(d.Records, late.Records)); len(got) != 2 {
		t.Errorf("an answer to an older pack that came later must not vanish: %+v", got)
	}
}
