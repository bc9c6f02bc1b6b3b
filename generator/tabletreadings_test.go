package generator_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"lapwork/generator"
	"lapwork/generator/assess"
	"lapwork/generator/calc/airtight"
	"lapwork/generator/diag"
	_ "lapwork/generator/lawtest"
	"lapwork/generator/lawtest/tablet"
	"lapwork/generator/pack"
	"lapwork/generator/record"
)

// typed is a tablet on which a whole fan test was typed: settings, states and the steps of both directions. The figures are
// invented.
func typed(t *testing.T) *tablet.Tablet {
	t.Helper()
	tab := tablet.New(t, "ml-12", 0)
	tab.Who = "Vera, tester"
	read := func(key, value, unit string) {
		tab.Keep(record.Record{Kind: record.Reading, Check: key, Value: value, Unit: unit})
	}
	read("air/under/50/Pa", "-48.8", "Pa") // typed the day before: an earlier test
	tab.Clock = tab.Clock.Add(24 * time.Hour)
	for name, value := range map[string]string{"preparation": "2", "inside temperature": "21", "inside humidity": "45", "outside temperature": "5",
		"outside humidity": "85", "air pressure": "998", "ground wind": "1.5"} {
		read("air/set/"+name, value, "")
	}
	tab.Tick("air/state/B2-O1", "yes")
	tab.Snap("air/state/B2-O1", 1)
	tab.Tick("air/state/B2-O2", "no")
	tab.Tick("air/leak/B2-W3+F1 sill", "no")
	for i, x := range pack.TestSteps() {
		switch {
		case x.FlowKey == "":
			read(x.PressureKey, "-1.5", "Pa")
		case x.Direction == "over" && x.Phase == "60":
			read(x.PressureKey, "61", "Pa") // the flow was forgotten
		default:
			read(x.PressureKey, fmt.Sprint(10+i), "Pa")
			read(x.FlowKey, fmt.Sprint(100+10*i), "m³/h")
		}
	}
	return tab
}

var states = []assess.TestState{{ID: "B2-O1", What: "window", Method1: airtight.Closed, Method2: airtight.Sealed}, {ID: "B2-O2", What: "letterbox", Method1: airtight.Closed, Method2: airtight.Sealed},
	{ID: "B2-O3", What: "flue, left\nalone", Method1: airtight.Closed, Method2: airtight.Closed}}

// What was typed comes back as a file that the analysis reads without a fault: the last day's, the complete steps only, the states
// that were ticked.
func TestReadingsFromRecords(t *testing.T) {
	tab := typed(t)
	test, ok := generator.ReadingsFromRecords(tab.Records, states)
	if !ok || test.Day != "2026-11-26" || test.Steps != 11 {
		t.Fatalf("%v %+v", ok, test)
	}
	text := string(test.Text)
	for _, want := range []string{"tester,\"Vera, tester\"\n", "preparation,2\n", "air pressure,998,hPa\n", "opening,B2-O1,sealed,photo\n", "# opening, B2-O2: write open, closed or sealed (letterbox)\n",
		"# opening, B2-O3: write open, closed or sealed (flue, left alone)\n", "under,before,-1.5\n", "# over, step at 60 Pa: pressure \"61\", flow \"\": one of the two is missing\n", "date,2026-11-26 "} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	if strings.Contains(text, "48.8") || strings.Contains(text, "leak") {
		t.Errorf("an earlier test or a leak is in it:\n%s", text)
	}
	var found diag.List
	in := airtight.ParseReadings("tests/interim.csv", test.Text, &found)
	if err := found.Err(); err != nil {
		t.Fatal(err)
	}
	if len(in.Series) != 2 || len(in.Series[0].Readings) != 6 || len(in.Series[1].Readings) != 5 || in.Setup.Preparation != 2 || len(in.Setup.Openings) != 1 || in.Setup.Tester != "Vera, tester" {
		t.Errorf("read back: %+v", in)
	}
	if r := in.Series[0].Readings[0]; float64(r.Pressure) != 11 || fmt.Sprintf("%.3f", 3600*float64(r.Flow)) != "110.000" {
		t.Errorf("first step %+v", r)
	}
}

// Whatever is typed, the file never has a broken row: its text cells cannot end a row or begin a remark.
func TestReadingsFromRecordsNeverBreaksARow(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		tab := tablet.New(t, "ml-12", 0)
		tab.Who = rapid.StringMatching("[a-z,\"#\n ;]{0,12}").Draw(rt, "who")
		for _, x := range pack.TestSteps() {
			if rapid.Bool().Draw(rt, "typed") {
				tab.Keep(record.Record{Kind: record.Reading, Check: x.PressureKey, Value: rapid.StringMatching(`-?\d{1,3}(\.\d)?`).Draw(rt, "value"), Unit: "Pa"})
			}
		}
		test, ok := generator.ReadingsFromRecords(tab.Records, nil)
		if ok != (len(tab.Records) > 0) {
			rt.Fatalf("ok %v with %d records", ok, len(tab.Records))
		}
		var found diag.List
		airtight.ParseReadings("x.csv", test.Text, &found)
		for _, f := range found.Sorted() {
			if f.Level == diag.Fault && (strings.Contains(f.Msg, "quot") || strings.Contains(f.Msg, "unknown")) {
				rt.Fatalf("%v in\n%s", f, test.Text)
			}
		}
	})
}
