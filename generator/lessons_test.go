package generator_test

import (
	"context"
	"encoding/csv"
	"slices"
	"strconv"
	"strings"
	"testing"

	"lapwork/generator"
	"lapwork/generator/assess"
	"lapwork/generator/lawtest/tablet"
	"lapwork/generator/library"
	"lapwork/generator/record"
)

// learned gives the lessons of the demo with some records, as rows by their first cell.
func learned(t *testing.T, results *assess.Results, records ...record.Record) (map[string][]string, generator.Lessons) {
	t.Helper()
	d := tablet.New(t, "26-014", 0)
	for _, r := range records {
		d.Keep(r)
	}
	l := generator.Learn([]*assess.Results{results}, []record.Journal{{Records: d.Records}})
	data, err := l.CSV(nil)
	if err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(strings.NewReader(string(data)))
	r.FieldsPerRecord = -1
	all, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	rows := map[string][]string{}
	for _, row := range all {
		rows[row[0]] = row
	}
	return rows, l
}

// checkOf is a check of a statement that speaks of its places in a room.
func checkOf(t *testing.T, r *assess.Results, id library.StatementID) string {
	t.Helper()
	for _, c := range r.Checks {
		if strings.HasSuffix(c.Key, "/"+string(id)) {
			return c.Key
		}
	}
	t.Fatalf("no check of %s", id)
	return ""
}

func TestLessons(t *testing.T) {
	results, _, err := generator.Compute(context.Background(), generator.Options{Sources: demo(t)})
	if err != nil {
		t.Fatal(err)
	}
	before, _ := learned(t, results)
	place := results.Places[0]
	title := assess.Kind(place)
	cut := results.Layouts[0].Cuts[0]
	room, id := place.Record.Room.ID, place.Chosen.Statement.ID
	planned := results.PlannedFor(room, id)
	if planned.Places == 0 || planned.Minutes <= 0 {
		t.Fatalf("nothing is planned for %s in %s", id, room)
	}
	took := func(minutes, places string) record.Record {
		r := record.Record{V: 2, Kind: record.Work, Place: string(room), Value: minutes, Unit: "min", Fields: map[string]string{"kind": string(id), "places": places}}
		if places == "" {
			delete(r.Fields, "places")
		}
		return r
	}
	several := checkOf(t, results, id)
	rows, l := learned(t, results,
		took("30.5", "1"), took("20", ""), // one place first, then the rest: all are timed, none twice
		record.Record{V: 2, Kind: record.Work, Place: "nowhere", Value: "99", Fields: map[string]string{"kind": string(id)}},
		record.Record{V: 2, Kind: record.Work, Place: string(room), Value: "99", Fields: map[string]string{"kind": "no-such-work"}},
		record.Record{Kind: record.Defect, Place: string(id), Check: several, Text: "opened by a check of several places"},
		record.Record{Kind: record.Defect, Place: place.Record.ID, Cause: "method", Text: "=gap"},
		record.Record{Kind: record.Defect, Place: "nowhere", Cause: "method", Text: "gap"},
		record.Record{V: 2, Kind: record.Day, Value: "2026-03-18", Name: "A", Fields: map[string]string{"minutes": "450"}},
		record.Record{V: 2, Kind: record.Day, Value: "2026-03-19", Name: "A", Fields: map[string]string{"minutes": "415.5"}},
		record.Record{V: 2, Kind: record.Cut, Place: cut.ID, Value: strconv.Itoa(int(cut.Cut) + 5000), Unit: "mm"},
		record.Record{Kind: record.Tick, Check: "air/leak/A1 " + string(place.Chosen.Statement.ID), Value: "no"},
		record.Record{Kind: record.Tick, Check: "air/leak/A2-X " + title, Value: "yes"}) // as earlier packs named it
	job := rows["26-014"]
	if job[3] != "866" || job[4] != "2" || job[8] != "1" { // 450 + 415.5 minutes
		t.Errorf("minutes, days, strips measured: %v", job)
	}
	was, _ := strconv.ParseFloat(before["26-014"][7], 64)
	now, err := strconv.ParseFloat(job[7], 64)
	if err != nil || now <= was {
		t.Errorf("a strip measured five metres longer leaves the sheet at %v, was %v", now, was)
	}
	kind := rows[title]
	if kind[10] != "2" || kind[11] != "2" || kind[13] != "method 1" || kind[14] != "1" || kind[15] != "1" {
		t.Errorf("%s: defects, open, causes, leaks, tight: %v", title, kind)
	}
	if want := []string{strconv.Itoa(planned.Places), strconv.FormatFloat(float64(planned.Minutes), 'f', 0, 64), "50",
		strconv.FormatFloat(50.5/float64(planned.Minutes), 'f', 2, 64)}; !slices.Equal(kind[6:10], want) { // 30.5 + 20 minutes
		t.Errorf("%s: timed %v, want %v", title, kind[6:10], want)
	}
	sum := 0.0
	for _, k := range l.Kinds {
		sum += float64(k.Minutes)
	}
	if planned, _ := strconv.ParseFloat(job[2], 64); planned < sum-1 || planned > sum+1 {
		t.Errorf("the kinds have %v minutes, the job %v", sum, planned)
	}
	if rows["26-014"][5] == "" || len(kind) != 18 {
		t.Errorf("%v", kind)
	}
	page, err := l.Page(demo(t), nil)
	if err != nil || !strings.Contains(string(page), "<td>method 1</td>") {
		t.Errorf("the page lacks the cause, %v", err)
	}
}
