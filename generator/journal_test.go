package generator_test

import (
	"context"
	"strings"
	"testing"

	"lapwork/generator"
	"lapwork/generator/pack"
	"lapwork/generator/record"
)

// A check that was answered to other words shows what changed, in words; one answered to the words as they stand does
// not. Both end in the handover with their state.
func TestAnswersToOtherWordsAreSuperseded(t *testing.T) {
	results, _, err := generator.Compute(context.Background(), generator.Options{Sources: demo(t)})
	if err != nil {
		t.Fatal(err)
	}
	first, err := pack.Assemble(results, pack.Build{})
	if err != nil {
		t.Fatal(err)
	}
	var asNow, changed pack.Check
	for _, c := range first.Checks {
		if strings.HasPrefix(c.Key, "A6/QA-16/") {
			asNow = c
		}
		if strings.HasPrefix(c.Key, "A6/QA-20/") {
			changed = c
		}
	}
	if asNow.Key == "" || changed.Key == "" {
		t.Fatal("the demo's study lacks the two checks")
	}
	words := changed.Statement()
	for i := range words {
		if strings.HasSuffix(words[i].Key, "#accept") {
			words[i].Text = "loop 10 mm"
		}
	}
	old := record.Seal(words)
	journal := record.Journal{Statements: map[string][]record.Line{old: words}, Records: []record.Record{
		{V: 1, Lang: "en", Check: asNow.Key, Seal: asNow.Seal, Kind: record.Reading, Value: "100", Unit: "mm", Who: "A. Fitter", At: "2026-03-18T09:00:00+01:00", Seq: 1},
		{V: 1, Lang: "en", Check: changed.Key, Seal: old, Kind: record.Tick, Value: "yes", Who: "B. Fitter", At: "2026-03-18T10:00:00+01:00", Seq: 2},
	}}
	pk, err := pack.Assemble(results, pack.Build{Journal: journal})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range pk.Checks {
		switch c.Key {
		case asNow.Key:
			if c.Changed != "" {
				t.Errorf("%s stands but shows %q", c.Key, c.Changed)
			}
		case changed.Key:
			if !strings.Contains(c.Changed, "B. Fitter") || !strings.Contains(c.Changed, `"loop 10 mm"`) {
				t.Errorf("%s shows %q", c.Key, c.Changed)
			}
		}
	}
	if pk.Head.Revision != first.Head.Revision {
		t.Error("records changed the revision")
	}
	states := map[string]string{}
	for _, p := range pk.Pages {
		if p.Handover != nil {
			for _, room := range p.Handover.Rooms {
				for _, r := range room.Records {
					states[r.ID] = r.State + " " + r.Said
				}
			}
		}
	}
	if states["QA-16"] != "valid 100 mm" || states["QA-20"] != "superseded yes" {
		t.Errorf("the handover says %v", states)
	}
}
