package library

import (
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// A chooser gives what Select gives, findings included, whatever it was asked before. Records are mixed from the selection
// cases of the trade specification, so that many of them look alike in all but one attribute, answer or measure.
func TestChooserGivesWhatSelectGives(t *testing.T) {
	l := builtin(t).Translated(func(english string) string { return english }) // a copy
	for _, s := range l.Statements {
		s.Deprecated = &Deprecation{Since: "test", Use: s.ID} // every selection comes with a finding
	}
	var pairs []string
	for _, c := range tradeRows(t, "selection-cases.csv") {
		pairs = append(pairs, strings.Split(c["record"], ";")...)
	}
	for _, id := range l.Substrates.IDs() {
		pairs = append(pairs, "substrate_b="+id)
	}
	found := 0
	rapid.Check(t, func(rt *rapid.T) {
		facts := FactsOf(&job.Job{})
		c := l.Chooser()
		answered := rapid.SampledFrom(l.Flags.IDs())
		for range rapid.IntRange(1, 12).Draw(rt, "flags") {
			f := l.Flags.Find(answered.Draw(rt, "flag"))
			facts.Flags = append(facts.Flags, job.FlagAnswer{Flag: f.ID, Scope: rapid.SampledFrom([]string{"", "test", "B2"}).Draw(rt, "scope"),
				Value: rapid.SampledFrom(l.values(f.ID)).Draw(rt, "answer")})
		}
		base := rapid.SliceOfN(rapid.SampledFrom(pairs), 1, 4).Draw(rt, "base")
		for range 8 {
			text := strings.Join(append(base, rapid.SampledFrom(pairs).Draw(rt, "one more")), ";")
			r, own := recordOf(t, text)
			r.ID = rapid.SampledFrom([]string{"test", "other"}).Draw(rt, "id")
			r.Length, r.Spacing = q.Length(rapid.Float64Range(0, 9).Draw(rt, "length")), r.Spacing+q.MM(rapid.IntRange(0, 1).Draw(rt, "spacing"))
			facts.TargetN50 = own.TargetN50
			env := l.Env(r, facts)
			var plain, memo diag.List
			want, got := l.Select(env, &plain), c.Select(env, &memo)
			if !reflect.DeepEqual(got, want) {
				rt.Fatalf("%s: chose %+v, want %+v", text, got, want)
			}
			if !reflect.DeepEqual(memo.Sorted(), plain.Sorted()) {
				rt.Fatalf("%s: found %v, want %v", text, memo.Sorted(), plain.Sorted())
			}
			found += len(memo.Sorted())
		}
	})
	if found == 0 {
		t.Error("no selection came with a finding: the test does not see that they are kept")
	}
}

// Places that differ in their measures only are one question; another substrate or another answer makes another.
func TestChooserAsksOnce(t *testing.T) {
	l := builtin(t)
	c, facts := l.Chooser(), FactsOf(&job.Job{Flags: []job.FlagAnswer{{Flag: l.Flags.All()[0].ID, Scope: "answered", Value: "yes"}}})
	asked := func(text, id string) int {
		r, _ := recordOf(t, text)
		r.ID = id
		var found diag.List
		c.Select(l.Env(r, facts), &found)
		n := 0
		c.known.Range(func(any, any) bool { n++; return true })
		return n
	}
	for i, step := range []struct {
		text, id string
		want     int
	}{
		{"edge=inside-edge;surface_a=wall;surface_b=ceiling;height_m=2.4", "a", 1},
		{"edge=inside-edge;surface_a=wall;surface_b=ceiling;height_m=2.7", "b", 1},
		{"edge=inside-edge;surface_a=wall;surface_b=ceiling;height_m=2.7;substrate_b=screed", "b", 2},
		{"edge=inside-edge;surface_a=wall;surface_b=ceiling;height_m=2.4", "answered", 3},
	} {
		if got := asked(step.text, step.id); got != step.want {
			t.Errorf("step %d: %d questions were put to the library, want %d", i, got, step.want)
		}
	}
}
