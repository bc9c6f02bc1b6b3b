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

// A second place of the same kind joins a room: the check keeps its name, and the answer given for the one place is superseded
// with the place that came in words. So does an answer to a pack that named the check after its place.
func TestASecondPlaceSupersedes(t *testing.T) {
	_, before := dayTwo(t)
	second := [3]string{"rooms/ground.yaml", "serves: data line from the street}", "serves: data line from the street}\n      - {id: P05, item: conduit, in: wall 3, at: [2400, 300], diameter: 25, serves: bell}"}
	results, _ := dayTwo(t, second)
	var asked []pack.Check
	journal := record.Journal{Statements: map[string][]record.Line{}}
	answer := func(key string, words []record.Line) {
		seal := record.Seal(words)
		journal.Statements[seal] = words
		journal.Records = append(journal.Records, record.Record{V: 1, Lang: "en", Check: key, Seal: seal, Kind: record.Tick, Value: "yes", Who: "A. Fitter", At: "2026-03-18T09:00:00+01:00",
			Dev: "d", Seq: len(journal.Records) + 1, Hash: key})
	}
	for _, c := range before.Checks {
		if len(c.Places) != 1 || c.Places[0] != "A6-P04" {
			continue
		}
		asked = append(asked, c)
		if len(asked)%2 == 0 { // as earlier packs named it
			was := strings.Join([]string{"A6", c.QA, c.Places[0]}, "/")
			words := c.Statement()
			for i := range words {
				words[i].Key = was + strings.TrimPrefix(words[i].Key, c.Key)
			}
			answer(was, words)
			continue
		}
		answer(c.Key, c.Statement())
	}
	if len(asked) < 2 {
		t.Fatalf("%d checks stand for the one conduit", len(asked))
	}
	pk, err := pack.Assemble(results, pack.Build{Journal: journal})
	if err != nil {
		t.Fatal(err)
	}
	v := pageOf(t, pk, pack.KindChanges).Changes
	if len(v.Gone) != 0 || len(v.Rooms) != 1 || len(v.Rooms[0].Rows) != len(asked) {
		t.Fatalf("gone %+v, changed %+v", v.Gone, v.Rooms)
	}
	for _, row := range v.Rooms[0].Rows {
		if !row.Open || row.Check == nil || row.What != `places was "A6-P04", is "A6-P04, A6-P05"` {
			t.Errorf("%s: open %v, what changed: %s", row.Title, row.Open, row.What)
		}
	}
}
