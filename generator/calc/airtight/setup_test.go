package airtight_test

import (
	"strings"
	"testing"

	q "lapwork/generator/quantity"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"lapwork/generator/calc/airtight"
	"lapwork/generator/diag"
)

const described = `date, 2026-04-20 09:30
tester, A. Tester
issued by, B. Issuer, registered tester
preparation, 3, tender of the client
opening, A1-O1, closed
opening, A1-P02, Sealed, photo 7
instrument, fan 1, 2025-11-04, 2026-04-19
instrument, gauge, 2025-11-04
`

// What a report has to say besides the readings (ISO 9972:2015 clause 7, from memory) comes with the readings.
func TestSetup(t *testing.T) {
	var found diag.List
	in := airtight.ParseReadings("r.csv", []byte(described+good), &found)
	for _, f := range found.Sorted() {
		t.Error(f)
	}
	want := airtight.Setup{Date: "2026-04-20 09:30", Tester: "A. Tester", Issuer: "B. Issuer, registered tester", Preparation: 3,
		Purpose:  "tender of the client",
		Openings: []airtight.OpeningState{{ID: "A1-O1", State: airtight.Closed}, {ID: "A1-P02", State: airtight.Sealed, Photo: "photo 7"}},
		Instruments: []airtight.Instrument{{Name: "fan 1", Calibrated: "2025-11-04", Due: "2026-04-19"},
			{Name: "gauge", Calibrated: "2025-11-04"}}}
	if d := cmp.Diff(want, in.Setup, cmpopts.IgnoreTypes(diag.Pos{})); d != "" {
		t.Error(d)
	}
	if missing := in.Setup.Missing(q.English); missing != nil {
		t.Errorf("missing %q", missing)
	}
	if old := in.Setup.Expired(); len(old) != 1 || old[0].Name != "fan 1" {
		t.Errorf("expired: %v; the fan was due the day before the test, the gauge states no day", old)
	}
	if got := (airtight.Setup{}).Missing(q.English); len(got) != 6 {
		t.Errorf("an empty setup misses %q", got)
	}
}

// Every line about the test that cannot be is named with its place.
func TestSetupFaults(t *testing.T) {
	for _, c := range []struct{ old, new, want string }{
		{"2026-04-20 09:30", "20.4.2026", `r.csv:1:7: "20.4.2026" is no date`},
		{"2026-04-20 09:30", "2026-04-20 25:30", "is no date"},
		{"2026-04-20 09:30", "2026-13-20", "is no date"},
		{"preparation, 3", "preparation, 4", `r.csv:4:14: "4" is no preparation method`},
		{"preparation, 3", "preparation, 23", "is no preparation method"},
		{", tender of the client", "", "method 3 does not say its purpose"},
		{"A1-O1, closed", "A1-O1, shut", "r.csv:5:17: the state of opening A1-O1 is none of open, closed, sealed"},
		{"A1-O1, closed", "A1-O1", "r.csv:5:10: the state of opening A1-O1"},
		{"opening, A1-P02", "opening, A1-O1", "r.csv:6:10: opening A1-O1 stands twice"},
		{"fan 1, 2025-11-04", "fan 1, last year", "instrument fan 1 lacks the date"},
		{"tester, A. Tester", "tester", "says nothing"},
		{"tester, A. Tester", "tester, A\ntester, B", "tester stands twice"},
		{"opening, A1-O1, closed", "preparation, 1", "preparation stands twice"},
	} {
		var found diag.List
		airtight.ParseReadings("r.csv", []byte(strings.Replace(described+good, c.old, c.new, 1)), &found)
		if err := found.Err(); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: got %v, want %q", c.new, err, c.want)
		}
	}
}
