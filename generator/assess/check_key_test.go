package assess

import (
	"testing"

	"lapwork/generator/library"

	"github.com/google/go-cmp/cmp"
)

// A line of the plan says one acceptance once, and where places differ in it, which place has which.
func TestGroupOfAcceptances(t *testing.T) {
	var g group
	g.add("A1-W1/1+2", "lap 100 mm")
	g.add("A1-W2/1+2", "lap 100 mm")
	if got := g.accept(); got != "lap 100 mm" {
		t.Errorf("one acceptance: %q", got)
	}
	g.add("A1-W3/1+2", "lap 120 mm")
	g.add("A1-W1/1+2", "lap 120 mm") // a place with two
	if got, want := g.accept(), "A1-W1/1+2, A1-W2/1+2: lap 100 mm; A1-W3/1+2, A1-W1/1+2: lap 120 mm"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if diff := cmp.Diff([]string{"A1-W1/1+2", "A1-W2/1+2", "A1-W3/1+2"}, g.places()); diff != "" {
		t.Error(diff)
	}
}

// Only a variant that alone has a check stands in its name.
func TestObjectOf(t *testing.T) {
	s := &library.Statement{ID: "cable-single"}
	for variant, want := range map[string]string{"": "cable-single", "default": "cable-single", "no-collar": "cable-single.no-collar"} {
		if got := objectOf(s, library.Check{Variant: variant}); got != want {
			t.Errorf("variant %q: %q, want %q", variant, got, want)
		}
	}
}

// Names of earlier packs lead to the check that holds the same today; what nothing answers to keeps its name.
func TestCheckNow(t *testing.T) {
	r := &Results{byScope: map[string][]Check{"A1": {
		{Key: "A1/QA-19/inside-corner", Places: []string{"A1-W1+W2", "A1-W2+W3"}},
		{Key: "A1/QA-22/cable-single", Places: []string{"A1-P01"}},
		{Key: "A1/QA-22/cable-single.thick", Places: []string{"A1-P02"}},
		{Key: "A1/QA-08/window", Places: []string{"A1-O1/jamb"}},
		{Key: "A1/QA-03/A1"},
		{Key: "A1/H2/site-lead"},
		{Key: "A1/H2/other-trade"},
	}}}
	for was, want := range map[string]string{
		"A1/QA-19/A1-W1+W2":            "A1/QA-19/inside-corner",      // named after its single place
		"A1/QA-19/inside-corner":       "A1/QA-19/inside-corner",      // today's name
		"A1/QA-08/A1-O1/jamb":          "A1/QA-08/window",             // a place with a stroke in its id
		"A1/QA-22/A1-P02":              "A1/QA-22/cable-single.thick", // the variant its place has
		"A1/QA-22/cable-single.2":      "A1/QA-22/cable-single",       // numbered
		"A1/QA-22/cable-single.none":   "A1/QA-22/cable-single.none",  // a variant that is gone is another way of doing it
		"A1/QA-19/A1":                  "A1/QA-19/inside-corner",      // the room's own, before it had places
		"A1/QA-03/A1":                  "A1/QA-03/A1",
		"A1/H2/A1":                     "A1/H2/site-lead", // one signature, before each role gave its own
		"A1/H2/other-trade":            "A1/H2/other-trade",
		"A1/QA-19/A1-W7+W8":            "A1/QA-19/A1-W7+W8", // no such place now
		"A2/QA-19/A2-W1+W2":            "A2/QA-19/A2-W1+W2",
		"air/leak/A1-W1 Inside corner": "air/leak/A1-W1 Inside corner",
		"note":                         "note",
	} {
		if got := r.CheckNow(was); got != want {
			t.Errorf("%s: %s, want %s", was, got, want)
		}
	}
}
