package record_test

import (
	"bytes"
	"encoding/json"
	"os"
	"strings"
	"testing"

	"lapwork/generator/diag"
	"lapwork/generator/lawtest/tablet"
	"lapwork/generator/record"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// later is one record of each kind of version 2, chained.
func later() []record.Record {
	return rehash(chained(2,
		record.Record{Kind: record.Cut, Check: "B2/cut/B2-W3/4", Place: "B2-W3/4", Value: "2412", Unit: "mm", Seal: abc},
		record.Record{Kind: record.Stand, Check: "A1/QA-17/A1-W3", Seal: abc, Name: "A. Example", Reason: "built to the new words already", Covers: []string{abc}},
		record.Record{Kind: record.Settle, Check: "B2/spot/B2-P02", Place: "B2-P02", Value: "collar", Name: "B. Example", Role: "designer", Text: "Second collar over the first."},
		record.Record{Kind: record.Start, Fields: map[string]string{"air": "14.5", "rh": "62", "surface": "11", "timber": "17", "answer": "Yes."}, Tool: "HY1"},
		record.Record{Kind: record.Goods, Place: "tape-single-60", Value: "L 4711", Fields: map[string]string{"useby": "2027-05-31", "amount": "12 rolls"}},
		record.Record{Kind: record.Work, Place: "B2", Value: "42.5", Unit: "min", Fields: map[string]string{"kind": "wall-floor-timber", "places": "3"}},
		record.Record{Kind: record.Day, Value: "2026-11-25", Name: "A. Example", Fields: map[string]string{"crew": "2 fitters", "hours": "16", "climate": "14 °C, 62 %", "done": "B2 walls", "blocked": "B2-P02", "minutes": "850"}},
		record.Record{Kind: record.Reading, Check: "A1/QA-06/A1", Value: "17.5", Unit: "%", Tool: "MM1"}), 2)
}

// rehash says version v in every record and chains them anew.
func rehash(list []record.Record, v int) []record.Record {
	prev := ""
	for i := range list {
		r := &list[i]
		r.V, r.Prev = v, prev
		sum, err := r.Sum()
		if err != nil {
			panic(err)
		}
		r.Hash, prev = sum, sum
	}
	return list
}

func TestLaterKinds(t *testing.T) {
	got, found := record.Parse("a.json", exported(t, later(), nil))
	if found.Count(diag.Fault) != 0 || !same(got.Records, later()) {
		t.Fatalf("read %d records: %v", len(got.Records), found.Sorted())
	}
	if mm, ok := got.Records[0].ClearLength(); !ok || mm != 2412 {
		t.Errorf("clear length %d, %v", mm, ok)
	}
	_, found = record.Parse("a.json", exported(t, rehash(later(), 1), nil))
	if found.Count(diag.Fault) != len(later()) {
		t.Errorf("%d of %d records of version 2 that say version 1 were refused: %v", found.Count(diag.Fault), len(later()), found.Sorted())
	}
	_, found = record.Parse("a.json", exported(t, rehash(later(), 3), nil))
	if found.Count(diag.Fault) == 0 || !strings.Contains(found.Err().Error(), "version 3 is unknown") {
		t.Errorf("version 3: %v", found.Err())
	}
}

// bad are forms that Parse must refuse although their hash is true; the schema refuses them too.
var bad = []struct {
	name, want string
	record     record.Record
}{
	{"a cut of no length", "whole millimetres", record.Record{Kind: record.Cut, Place: "B2-W3/4", Value: "0"}},
	{"a cut with a point", "whole millimetres", record.Record{Kind: record.Cut, Place: "B2-W3/4", Value: "2412.5"}},
	{"a cut below nothing", "whole millimetres", record.Record{Kind: record.Cut, Place: "B2-W3/4", Value: "-5"}},
	{"a cut of no strip", "whole millimetres", record.Record{Kind: record.Cut, Value: "2412"}},
	{"standing without a reason", "stand again", record.Record{Kind: record.Stand, Check: "c", Seal: abc, Name: "A", Covers: []string{abc}}},
	{"standing without a name", "stand again", record.Record{Kind: record.Stand, Check: "c", Seal: abc, Reason: "r", Covers: []string{abc}}},
	{"standing of nothing", "stand again", record.Record{Kind: record.Stand, Check: "c", Seal: abc, Name: "A", Reason: "r"}},
	{"a spot settled by nobody", "settle", record.Record{Kind: record.Settle, Place: "B2-P02", Text: "seal it"}},
	{"a spot settled without a word", "settle", record.Record{Kind: record.Settle, Place: "B2-P02", Name: "A"}},
	{"goods of no kind", "which goods", record.Record{Kind: record.Goods, Value: "4711"}},
	{"a use-by date in words", "no date", record.Record{Kind: record.Goods, Place: "tape", Fields: map[string]string{"useby": "next May"}}},
	{"an unknown field", `no field "colour"`, record.Record{Kind: record.Goods, Place: "tape", Fields: map[string]string{"colour": "red"}}},
	{"a field of another kind", `no field "air"`, record.Record{Kind: record.Day, Value: "2026-11-25", Name: "A", Fields: map[string]string{"air": "5"}}},
	{"humidity in words", "no decimal", record.Record{Kind: record.Start, Fields: map[string]string{"rh": "damp"}}},
	{"time taken nowhere", "time taken", record.Record{Kind: record.Work, Value: "30", Fields: map[string]string{"kind": "wall-ceiling"}}},
	{"time taken by nothing", "time taken", record.Record{Kind: record.Work, Place: "B2", Value: "30", Fields: map[string]string{"places": "2"}}},
	{"time below nothing", "time taken", record.Record{Kind: record.Work, Place: "B2", Value: "-30", Fields: map[string]string{"kind": "wall-ceiling"}}},
	{"half a place", "no count", record.Record{Kind: record.Work, Place: "B2", Value: "30", Fields: map[string]string{"kind": "wall-ceiling", "places": "2.5"}}},
	{"a day of no date", "its date", record.Record{Kind: record.Day, Value: "Monday", Name: "A"}},
	{"a day unsigned", "who signs", record.Record{Kind: record.Day, Value: "2026-11-25"}},
}

func TestParseRefusesFalseForms(t *testing.T) {
	for _, c := range bad {
		_, found := record.Parse("a.json", exported(t, rehash(chained(1, c.record), 2), nil))
		if found.Count(diag.Fault) == 0 || !strings.Contains(found.Err().Error(), c.want) {
			t.Errorf("%s: want a fault with %q, got %v", c.name, c.want, found.Err())
		}
	}
}

// TestSchemaOfRecords holds the shipped schema, by an implementation of draft 2020-12 that is not ours, to what Parse takes
// and refuses.
func TestSchemaOfRecords(t *testing.T) {
	text, err := os.ReadFile("../../content/schema/records.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("records.json", doc); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile("records.json")
	if err != nil {
		t.Fatal(err)
	}
	valid := func(list []record.Record) error {
		file, err := jsonschema.UnmarshalJSON(bytes.NewReader(exported(t, list, map[string][]byte{abc: []byte("abc")})))
		if err != nil {
			t.Fatal(err)
		}
		return schema.Validate(file)
	}
	for _, list := range [][]record.Record{sample(), later(), nil} {
		if err := valid(list); err != nil {
			t.Errorf("the schema refuses what Parse takes: %v", err)
		}
	}
	for _, b := range bad {
		if valid(rehash(chained(1, b.record), 2)) == nil {
			t.Errorf("%s: the schema takes what Parse refuses", b.name)
		}
	}
	for _, r := range later() {
		if valid(rehash([]record.Record{r}, 1)) == nil {
			t.Errorf("the schema takes a %s record of version 1", r.Kind)
		}
		changed := map[string]any{}
		one, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(one, &changed); err != nil {
			t.Fatal(err)
		}
		changed["approved"] = "yes"
		if schema.Validate(map[string]any{"v": 1, "form": record.Form, "records": []any{changed}}) == nil {
			t.Errorf("the schema takes an unknown name in a %s record", r.Kind)
		}
	}
}

// TestStillTrueAsBuilt: a superseded record stands again by name and reason, against these words only, and never once that
// is taken back.
func TestStillTrueAsBuilt(t *testing.T) {
	words := func(lap string) []record.Line {
		return []record.Line{{Key: "lap#title", Text: "Lap"}, {Key: "lap#accept", Text: lap, Unit: "mm"}}
	}
	d := tablet.New(t, "p", 0)
	d.Keep(record.Record{Kind: record.Tick, Check: "lap", Value: "yes", Seal: record.Seal(words("80"))})
	old := d.Records[0]
	state := func(now string) record.Standing {
		t.Helper()
		for _, s := range against("en", []record.Stated{{Check: "lap", Lines: words(now)}}, nil).Standings(d.Records) {
			if s.Record.Hash == old.Hash {
				return s
			}
		}
		t.Fatal("the tick is not listed")
		return record.Standing{}
	}
	if s := state("100"); s.State != record.Superseded || s.By != nil {
		t.Fatalf("before anybody spoke: %v", s.State)
	}
	d.Keep(record.Record{V: 2, Kind: record.Stand, Check: "lap", Seal: record.Seal(words("100")), Name: "B. Example", Reason: "lapped 120 everywhere", Covers: []string{old.Hash}})
	if s := state("100"); s.State != record.Stands || s.By == nil || s.By.Name != "B. Example" || s.By.Reason == "" {
		t.Errorf("after: %v by %+v", s.State, s.By)
	}
	if s := state("130"); s.State != record.Superseded {
		t.Errorf("against words that changed once more: %v", s.State)
	}
	d.Keep(record.Record{Kind: record.Void, Check: "lap", Of: d.Records[1].ID, Reason: "wrong room"})
	if s := state("100"); s.State != record.Superseded {
		t.Errorf("taken back: %v", s.State)
	}
}
