package pack

import (
	"testing"

	"lapwork/generator/record"
)

// What a handover counts as done is what a tablet shows as done: all that the check records, to the words as they stand, as
// accepted. The cases are those of stateOf in the script of the pages.
func TestAnsweredAs(t *testing.T) {
	tick := func(value string) record.Record { return record.Record{Kind: record.Tick, Value: value} }
	reading := func(value string) record.Record { return record.Record{Kind: record.Reading, Value: value} }
	photo, sign := record.Record{Kind: record.Photo}, record.Record{Kind: record.Sign}
	defect := record.Record{Kind: record.Defect}
	most := record.Record{Kind: record.Tick, Value: "yes", But: []string{"A1-W1"}}
	type said struct {
		record.Record
		State record.State
	}
	for _, c := range []struct {
		name, wants string
		said        []said
		want        answered
	}{
		{"nothing", "tick", nil, checkOpen},
		{"yes", "tick", []said{{tick("yes"), record.Valid}}, checkDone},
		{"no", "tick", []said{{tick("no"), record.Valid}}, checkRefused},
		{"all but one", "tick", []said{{most, record.Valid}}, checkRefused},
		{"a photo is missing", "tick+photo", []said{{tick("yes"), record.Valid}}, checkInPart},
		{"tick and photo", "tick+photo", []said{{tick("yes"), record.Valid}, {photo, record.Valid}}, checkDone},
		{"a no with its photo", "tick+photo", []said{{tick("no"), record.Valid}, {photo, record.Valid}}, checkRefused},
		{"does not apply", "number+photo+signature", []said{{tick("na"), record.Valid}}, checkDone},
		{"within", "number", []said{{reading("18"), record.Valid}}, checkDone},
		{"out of range", "number", []said{{reading("21"), record.Valid}}, checkRefused},
		{"to other words", "number+signature", []said{{reading("18"), record.Superseded}, {sign, record.Valid}}, checkOutdated},
		{"in a language that is gone", "tick", []said{{tick("yes"), record.Other}}, checkOutdated},
		{"still true by name and reason", "tick", []said{{tick("yes"), record.Stands}}, checkDone},
		{"out of range by the old words", "number", []said{{reading("21"), record.Superseded}}, checkOutdated},
		{"only a defect was opened", "tick", []said{{defect, record.Valid}}, checkOpen},
		{"a photo nobody asked for", "number", []said{{photo, record.Valid}}, checkOpen},
	} {
		a := &assembler{standing: map[string][]record.Standing{}}
		for _, s := range c.said {
			a.standing["A1/QA-06/A1"] = append(a.standing["A1/QA-06/A1"], record.Standing{Record: s.Record, State: s.State})
		}
		if got := a.answeredAs(Check{Key: "A1/QA-06/A1", Record: c.wants, High: "20"}); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
}
