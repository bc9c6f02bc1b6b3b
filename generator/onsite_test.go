package generator_test

import (
	"context"
	"strings"
	"testing"

	"lapwork/generator"
	"lapwork/generator/diag"
	"lapwork/generator/lawtest/tablet"
	"lapwork/generator/library"
	"lapwork/generator/pack"
	"lapwork/generator/record"
)

// TestSiteRecordsInThePack: a spot settled to the words as they stand is no longer an open point, to other words it is; a
// reading with an instrument past its date is flagged, one on the date itself is not; goods past their date are named.
func TestSiteRecordsInThePack(t *testing.T) {
	results, report, err := generator.Compute(context.Background(), generator.Options{Sources: demo(t)})
	if err != nil {
		t.Fatal(err)
	}
	first, err := pack.Assemble(results, pack.Build{Findings: report.Findings})
	if err != nil {
		t.Fatal(err)
	}
	var spot pack.Spot
	var timber pack.Check
	for _, p := range first.Pages {
		if p.Room != nil && len(p.Room.Spots) > 0 && spot.ID == "" {
			spot = p.Room.Spots[0]
		}
	}
	for _, c := range first.Checks {
		if c.QA == "QA-06" && len(c.Tools) == 1 && c.Tools[0].ID == "MM1" && timber.Key == "" {
			timber = c
		}
	}
	if spot.ID == "" || timber.Key == "" {
		t.Fatalf("the demo lacks an open spot (%q) or a check with an instrument (%q)", spot.ID, timber.Key)
	}
	build := func(seal, day string) (pack.Pack, []diag.Finding) {
		t.Helper()
		d := tablet.New(t, "26-014", 0)
		d.Keep(record.Record{V: 2, Kind: record.Settle, Check: spot.Key, Seal: seal, Place: spot.ID, Name: "K. Ostrau", Text: "Close it with the second collar."})
		d.Keep(record.Record{V: 2, Kind: record.Goods, Place: "tape-single-60", Value: "L 4711", Fields: map[string]string{"useby": "2026-01-31"}})
		r := d.Keep(record.Record{V: 2, Kind: record.Reading, Check: timber.Key, Seal: timber.Seal, Value: "17", Unit: "%", Tool: "MM1"})
		r.At = day + "T09:00:00+02:00" // what the tablet's clock said; the hash is not looked at here
		j := record.Journal{Records: append(d.Records[:2:2], r)}
		found := pack.Settle(results, nil, j, report.Findings)
		pk, err := pack.Assemble(results, pack.Build{Findings: found, Journal: j})
		if err != nil {
			t.Fatal(err)
		}
		return pk, found
	}
	open := func(found []diag.Finding) int {
		n := 0
		for _, f := range found {
			if f.Level == diag.Open && f.Item == spot.ID {
				n++
			}
		}
		return n
	}
	pk, found := build(spot.Seal, "2026-09-03")
	if before := open(report.Findings); before == 0 || open(found) != before-1 {
		t.Errorf("open points at %s: %d before, %d after it was settled", spot.ID, before, open(found))
	}
	for _, p := range pk.Pages {
		switch {
		case p.Site != nil:
			if g := p.Site.Goods; len(g) != 1 || !strings.Contains(g[0].Late, "past its date") {
				t.Errorf("goods %+v", g)
			}
			for _, i := range p.Site.Instruments {
				if (i.ID == "MM1") != (len(i.Late) == 1) {
					t.Errorf("readings of %s past its date: %v", i.ID, i.Late)
				}
			}
		case p.Room != nil:
			for _, s := range p.Room.Spots {
				if s.ID == spot.ID && !strings.Contains(s.Settled, "K. Ostrau") {
					t.Errorf("the room says of the spot %q", s.Settled)
				}
			}
		}
	}
	pk, found = build(strings.Repeat("0", 64), "2026-09-02")
	if open(found) != open(report.Findings) {
		t.Error("settled to other words, the spot is no longer open")
	}
	for _, p := range pk.Pages {
		if p.Site != nil {
			for _, i := range p.Site.Instruments {
				if len(i.Late) != 0 {
					t.Errorf("on its last day %s is flagged: %v", i.ID, i.Late)
				}
			}
		}
	}
}

// Time taken stands in the site book beside the plan for as many places; what the plan has none of says so.
func TestTimesInTheSiteBook(t *testing.T) {
	results, _ := dayTwo(t)
	var room, kind string
	for _, p := range results.Places {
		if p.Answered() && results.PlannedFor(p.Record.Room.ID, p.Chosen.Statement.ID).Places > 1 {
			room, kind = string(p.Record.Room.ID), string(p.Chosen.Statement.ID)
			break
		}
	}
	d := tablet.New(t, "26-014", 0)
	d.Keep(record.Record{V: 2, Kind: record.Work, Place: room, Value: "42.5", Unit: "min", Fields: map[string]string{"kind": kind, "places": "1"}})
	d.Keep(record.Record{V: 2, Kind: record.Work, Place: room, Value: "5", Unit: "min", Fields: map[string]string{"kind": "no-such-work"}})
	pk, err := pack.Assemble(results, pack.Build{Journal: record.Journal{Records: d.Records}})
	if err != nil {
		t.Fatal(err)
	}
	site := pageOf(t, pk, pack.KindSite).Site
	rows := site.Times
	if len(rows) != 2 || rows[0].Places != "1" || !strings.HasPrefix(rows[0].Minutes, "43") || !strings.Contains(rows[0].Planned, "for 1 of ") || rows[1].Planned != "not planned" {
		t.Errorf("%+v", rows)
	}
	if len(site.Rooms) == 0 || len(site.Kinds) < 10 {
		t.Errorf("%d rooms, %d kinds to choose from", len(site.Rooms), len(site.Kinds))
	}
}

// A number is held against a range: that of the plan, the detail's own, or the job's target; with it a reading outside opens a
// defect by itself. What has no one number to accept has none.
func TestReadingsHaveTheirRange(t *testing.T) {
	results, pk := dayTwo(t)
	got := map[string][3]string{}
	names := map[string]bool{}
	for _, c := range pk.Checks {
		if names[c.Key] {
			t.Errorf("two checks are named %s", c.Key)
		}
		names[c.Key] = true
		if !strings.Contains(c.Record, "number") {
			continue
		}
		within := [3]string{c.Unit, c.Low, c.High}
		at := c.QA
		if _, object, _ := strings.Cut(strings.SplitN(c.Key, "/", 2)[1], "/"); results.Library.Statement(library.StatementID(object)) != nil {
			at += " " + object
		}
		if was, ok := got[at]; ok && was != within {
			t.Errorf("%s: %v and %v", at, was, within)
		}
		got[at] = within
		if c.Unit == "" && c.QA != "QA-42" { // flows, each against its own design
			t.Errorf("%s asks for a number and names no unit", c.Key)
		}
	}
	for at, want := range map[string][3]string{
		"QA-02":                    {"°C", "5", "30"},
		"QA-07":                    {"% RH", "", "70"},
		"QA-06 joist-end-masonry":  {"%", "", "20"},
		"QA-16 field-lap-vertical": {"mm", "80", ""},
		"QA-16 field-sheet-hang":   {"mm", "100", "200"}, // its own
		"QA-19 masonry-abutment":   {"mm", "4", ""},
		"QA-32":                    {"1/h", "", "1.2"}, // 0.8 of the demo's target
		"QA-40":                    {"1/h", "", "1.5"},
	} {
		if got[at] != want {
			t.Errorf("%s: %q, want %q", at, got[at], want)
		}
	}
}
