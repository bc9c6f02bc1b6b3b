package generator_test

import (
	"slices"
	"strings"
	"testing"

	"lapwork/generator"
	"lapwork/generator/diag"
	"lapwork/generator/lawtest/tablet"
	"lapwork/generator/pack"
	"lapwork/generator/record"
)

// A handover says openly what two tablets answered otherwise, what is answered in part, and what was answered in a language
// that is gone; none of it counts as done. Its sums are those of its rows.
func TestHandoverSaysWhatIsNotDone(t *testing.T) {
	r, plain := dayTwoPack(t, false)
	find := func(qa string) pack.Check {
		t.Helper()
		i := slices.IndexFunc(plain.Checks, func(c pack.Check) bool { return c.QA == qa && strings.HasPrefix(c.Key, "A1/") })
		if i < 0 {
			t.Fatalf("no check %s", qa)
		}
		return plain.Checks[i]
	}
	own, corners, slack, pull := find("QA-27"), find("QA-18"), find("QA-15"), find("QA-08")
	one, two := tablet.New(t, "26-052", 0), tablet.New(t, "26-052", 1)
	one.Who, two.Who = "Arne Vossholt", "Ida Kremling"
	tick := func(d *tablet.Tablet, c pack.Check, value, seal string) {
		d.Keep(record.Record{Kind: record.Tick, Check: c.Key, Seal: seal, Value: value})
	}
	tick(one, own, "no", own.Seal)
	two.Clock = two.Clock.AddDate(0, 0, 1)
	tick(two, own, "yes", own.Seal)
	tick(one, corners, "yes", corners.Seal) // its photo is missing
	tick(one, slack, "yes", slack.Seal)
	one.Records[len(one.Records)-1].Lang, one.Records[len(one.Records)-1].Seal = "fr", strings.Repeat("0", 64)
	one.Keep(record.Record{Kind: record.Defect, Check: pull.Key, Seal: pull.Seal, Value: "from a check", Place: "A1-W1", Text: "came off"})
	var found diag.List
	english := generator.Catalogue(demo(t), "en", &found)
	pk, err := pack.Assemble(r, pack.Build{Handover: true, Lang: english, Journal: record.Journal{Records: record.Merge(one.Records, two.Records)}})
	if err != nil {
		t.Fatal(err)
	}
	v := pageOf(t, pk, pack.KindHandover).Handover
	if done := v.Summary[0]; done.Value != "1 of 98" || done.Status != "95 not answered, 1 in part, 1 to be answered again, 0 no or out of range" {
		t.Errorf("%s: %s; %s", done.Label, done.Value, done.Status)
	}
	var open []string
	for _, n := range v.Open {
		open = append(open, n.Text)
	}
	for _, want := range []string{"95 checks are not answered.", "1 check is answered in part.", "1 answer is in a language that the pack does not have: name it under also-in.",
		"1 answer differs between tablets: the newest counts, the others stand beside it.", "1 defect is open."} {
		if !slices.Contains(open, want) {
			t.Errorf("open points lack %q: %q", want, open)
		}
	}
	for _, room := range v.Rooms {
		for _, row := range room.Records {
			if row.ID == "QA-27" && (row.Said != "yes" || !strings.Contains(row.State, "another tablet: no (Arne Vossholt, 2026-11-25)")) {
				t.Errorf("%s: %s, %s", row.ID, row.Said, row.State)
			}
		}
		if !slices.ContainsFunc(room.Holes, func(h pack.JunctionRow) bool { return h.ID == "A1-P03" }) && room.Room.Path == "rooms/A1.html" {
			t.Error("the bracket A1-P03 is not among what goes through the layer")
		}
	}
	if home := pageOf(t, pk, pack.KindDefects).Defects.Home; len(home) != 1 {
		t.Errorf("the page of defects has %d that came home", len(home))
	}
}

// A fan test's result that was typed on site is held against the readings kept with the job: they give 1.04 1/h.
func TestTypedResultAgainstReadings(t *testing.T) {
	r, plain := dayTwoPack(t, false)
	i := slices.IndexFunc(plain.Checks, func(c pack.Check) bool { return c.QA == "QA-32" })
	if i < 0 {
		t.Fatal("no check QA-32")
	}
	c := plain.Checks[i]
	for typed, want := range map[string]string{"1.04": "", "1.40": "Interim result was typed as 1.40 by Jorin Haltern; the readings kept with the job give 1.04."} {
		one := tablet.New(t, "26-052", 0)
		one.Who = "Jorin Haltern"
		one.Keep(record.Record{Kind: record.Reading, Check: c.Key, Seal: c.Seal, Value: typed, Unit: c.Unit})
		var found diag.List
		pk, err := pack.Assemble(r, pack.Build{Handover: true, Lang: generator.Catalogue(demo(t), "en", &found), Journal: record.Journal{Records: one.Records}})
		if err != nil {
			t.Fatal(err)
		}
		var said []string
		for _, n := range pageOf(t, pk, pack.KindHandover).Handover.Open {
			if n.Item == "QA-32" {
				said = append(said, n.Text)
			}
		}
		if len(said) > 1 || (len(said) == 1) != (want != "") || want != "" && !strings.HasPrefix(said[0], want) {
			t.Errorf("typed %s: %q", typed, said)
		}
	}
}
