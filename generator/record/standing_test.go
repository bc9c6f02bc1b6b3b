package record_test

import (
	"testing"

	"lapwork/generator/lawtest/tablet"
	"lapwork/generator/record"

	"github.com/google/go-cmp/cmp"
)

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
	now := []record.Stated{{Check: "lap", Lines: lap("100")}, {Check: "bead", Lines: bead}, {Check: "tape", Lines: lap("70")}}
	known := map[string][]record.Line{record.Seal(with(lap("80"))): with(lap("80"))}

	got := record.Standings(d.Records, "en", now, known)
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
	for _, s := range record.Standings(d.Records, "de", now, known) {
		if s.Record.Check == "lap" && s.State != record.Other {
			t.Errorf("a seal in another language is %v", s.State)
		}
	}
}
