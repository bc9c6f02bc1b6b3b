package diag_test

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"lapwork/generator/diag"
	_ "lapwork/generator/lawtest" // one seed for the property tests, on every machine
)

// Two places of a room that say the same are one finding with both places and both positions; another room, other words and
// a fault stand alone.
func TestGather(t *testing.T) {
	at := func(line int) diag.Pos { return diag.Pos{File: "job.yaml", Line: line, Col: 1} }
	var l diag.List
	for i, id := range []string{"A1-W1+C1", "A1-W2+C1", "B1-W1+C1"} {
		l.Openf(at(i+1), id, "settle it", "%s: %s", id, "ask the designer.")
	}
	l.Openf(at(2), "A1-W3+C1", "settle it", "%s: %s", "A1-W3+C1", "ask the engineer.")
	l.Openf(at(5), "A1-W4+C1", "settle it", "%s: %s", "A1-W4+C1", "ask the designer.")
	l.Openf(at(6), "roof", "", "build-up %s is open", "roof")
	l.Faultf(at(7), "", "A1-W5: wrong")
	var got []string
	for _, g := range diag.Gather(l.Sorted()) {
		got = append(got, g.String())
	}
	want := []string{
		"job.yaml:1:1: open: A1-W1+C1, A1-W2+C1, A1-W4+C1: ask the designer.\n\tsee: job.yaml:2:1\n\tsee: job.yaml:5:1\n\thint: settle it",
		"job.yaml:2:1: open: A1-W3+C1: ask the engineer.\n\thint: settle it",
		"job.yaml:3:1: open: B1-W1+C1: ask the designer.\n\thint: settle it",
		"job.yaml:6:1: open: build-up roof is open",
		"job.yaml:7:1: A1-W5: wrong",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// No id and no position is lost, none is told twice, and the findings gathered are left as they were.
func TestGatherLosesNothing(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		var l diag.List
		for range rapid.IntRange(0, 30).Draw(rt, "n") {
			id := rapid.SampledFrom([]string{"A1-W1", "A1-W2", "A1-W3", "A2-W1", "A2-W2", "roof", ""}).Draw(rt, "id")
			pos := diag.Pos{File: "f", Line: rapid.IntRange(1, 3).Draw(rt, "line")}
			l.Openf(pos, id, "", "%s: %s", id, rapid.SampledFrom([]string{"x", "y"}).Draw(rt, "said"))
		}
		found := l.Sorted()
		said := func(f diag.Finding) string { return strings.TrimPrefix(f.Msg, f.Item) }
		for _, f := range found {
			holding := 0
			for _, g := range diag.Gather(found) {
				if slices.Contains(g.Items, f.Item) && said(g.Finding) == said(f) && (g.Pos == f.Pos || slices.Contains(g.See, f.Pos)) {
					holding++
				}
			}
			if holding != 1 {
				rt.Fatalf("%v is told %d times", f, holding)
			}
		}
		for i, f := range l.Sorted() {
			if len(f.See) != 0 || f.Msg != found[i].Msg {
				rt.Fatalf("%v changed", f)
			}
		}
	})
}
