package library

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"lapwork/generator/diag"
	"lapwork/generator/job"
)

// A question is asked where its answer changes what is done, and nowhere else: a question that is not asked changes nothing when
// it is answered, and where one alone is asked, its answers differ. Records are mixed from the trade specification's cases.
func TestQuestionsAreThoseThatMatter(t *testing.T) {
	l := builtin(t)
	var pairs []string
	for _, c := range tradeRows(t, "selection-cases.csv") {
		pairs = append(pairs, slices.DeleteFunc(strings.Split(c["record"], ";"), func(p string) bool { return strings.HasPrefix(p, "flag.") })...)
	}
	for _, id := range l.Substrates.IDs() {
		pairs = append(pairs, "substrate_b="+id)
	}
	alone := 0
	rapid.Check(t, func(rt *rapid.T) {
		text := strings.Join(rapid.SliceOfN(rapid.SampledFrom(pairs), 1, 6).Draw(rt, "record"), ";")
		r, facts := recordOf(t, text)
		done := func(flag *Flag, value string) (outcome, Selection) {
			f := facts
			if flag != nil {
				f.Flags = []job.FlagAnswer{{Flag: flag.ID, Value: value}}
			}
			env := l.Env(r, f)
			var unheard diag.List
			return l.outcome(env), l.Select(env, &unheard)
		}
		plain, sel := done(nil, "")
		for _, f := range l.Flags.All() {
			asked, differ := slices.Contains(sel.Questions, f.ID), false
			for _, v := range l.values(f.ID) {
				o, _ := done(f, v)
				differ = differ || !o.same(plain)
			}
			if differ && !asked && !f.Choice {
				rt.Fatalf("%s: %s changes what is done and is not asked", text, f.ID)
			}
			if asked && len(sel.Questions) == 1 {
				alone++
				if !differ {
					rt.Fatalf("%s: %s is asked and changes nothing", text, f.ID)
				}
			}
		}
	})
	if alone == 0 {
		t.Error("no record had a question of its own: the test does not see that it matters")
	}
}

// What the site lead is not asked: about masonry at boards, and about a variant that the substrate refuses anyway.
func TestQuestionsThatCannotMatter(t *testing.T) {
	l := builtin(t)
	for text, want := range map[string]bool{
		"plaster_to_follow edge=abutment-edge;surface_a=wall;surface_b=party-wall;substrate_b=plasterboard": false,
		"plaster_to_follow edge=abutment-edge;surface_a=wall;surface_b=party-wall;substrate_b=block-bare":   true,
		"hole_ragged edge=penetration;item=terminal;substrate_b=osb;diameter_mm=100":                        false,
		"hole_ragged edge=penetration;item=terminal;substrate_b=concrete-cast;diameter_mm=100":              true,
		"smooth_primed edge=abutment-edge;surface_a=wall;substrate_b=plaster-lime":                          false,
		"smooth_primed edge=abutment-edge;surface_a=wall;substrate_b=plaster-gypsum":                        true,
	} {
		flag, record, _ := strings.Cut(text, " ")
		sel, _ := pick(t, l, record)
		if got := slices.Contains(sel.Questions, job.FlagID(flag)); got != want {
			t.Errorf("%s at %s: asked %v", flag, record, got)
		}
	}
}
