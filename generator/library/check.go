package library

import (
	"strings"

	"lapwork/generator/diag"
)

// checkStatement resolves every id a statement uses, so that nothing dangles after load.
func (l *Library) checkStatement(s *Statement, found *diag.List) {
	known := func(what, key string, ids []string, table interface{ IDs() []string }) {
		all := table.IDs()
		for _, id := range ids {
			if !oneOf(id, all) {
				found.Faultf(s.at(key, id), suggest(id, all), "%s: unknown %s %q", s.ID, what, id)
			}
		}
	}
	known("caution", "cautions", s.Cautions, &l.Cautions)
	known("rule", "rules", s.Rules, &l.Rules)
	if s.Activity != "" {
		known("activity", "activity", []string{s.Activity}, &l.Activities)
	}
	if s.Condition != "" {
		known("condition set", "conditions", []string{s.Condition}, &l.Conditions)
	}
	for _, id := range s.Substrates {
		known("substrate", "substrates", []string{string(id)}, &l.Substrates)
	}
	l.checkDeprecated(s, found)
	l.checkNeighbours(s, found)
	l.checkVariants(s, found)
	l.checkLines(s, found)
	l.checkPlan(s, found)
	if len(s.Steps) == 0 {
		found.Faultf(s.Pos, "write the steps under the front matter", "%s has no steps", s.ID)
	}
	if s.Unresolved == "" && len(s.Checks) == 0 {
		found.Faultf(s.Pos, "name a check of the plan and its acceptance value", "%s has no checks", s.ID)
	}
}

// checkNeighbours resolves after and before: a statement or an activity.
func (l *Library) checkNeighbours(s *Statement, found *diag.List) {
	resolve := func(key string, ids []string) {
		for _, id := range ids {
			if l.Statement(StatementID(id)) == nil && l.Activities.Find(id) == nil {
				found.Faultf(s.at(key, id), suggest(id, append(l.Activities.IDs(), l.statementIDs()...)),
					"%s: %q is neither a statement nor an activity", s.ID, id)
			}
		}
	}
	resolve("after", s.After)
	resolve("before", s.Before)
}

// checkDeprecated resolves what answers instead of a deprecated statement: another one, and a current one.
func (l *Library) checkDeprecated(s *Statement, found *diag.List) {
	if s.Deprecated == nil || s.Deprecated.Use == "" {
		return
	}
	switch use := l.Statement(s.Deprecated.Use); {
	case use == nil:
		found.Faultf(s.Deprecated.Pos, suggest(string(s.Deprecated.Use), l.statementIDs()),
			"%s: unknown statement %q to use instead", s.ID, s.Deprecated.Use)
	case use == s || use.Deprecated != nil:
		found.Faultf(s.Deprecated.Pos, "name a current statement", "%s: %s is deprecated itself", s.ID, use.ID)
	}
}

func (l *Library) statementIDs() []string {
	out := make([]string, 0, len(l.Statements))
	for _, s := range l.Statements {
		out = append(out, string(s.ID))
	}
	return out
}

func (l *Library) checkVariants(s *Statement, found *diag.List) {
	if s.Variants[0].ID != DefaultVariant || s.Variants[0].When != nil {
		found.Faultf(s.Variants[0].Pos, "put a variant with id: default and no when first",
			"%s: the first variant is not the default", s.ID)
	}
	seen := map[string]diag.Pos{}
	for _, v := range s.Variants {
		if first, twice := seen[v.ID]; twice {
			found.Add(diag.Finding{Pos: v.Pos, Msg: "variant " + v.ID + " stands twice", See: []diag.Pos{first}})
		}
		seen[v.ID] = v.Pos
		if v.Activity != "" && l.Activities.Find(v.Activity) == nil {
			found.Faultf(v.Pos, suggest(v.Activity, l.Activities.IDs()), "unknown activity %q", v.Activity)
		}
		for _, no := range v.Steps {
			if no < 1 || no > len(s.Steps) {
				found.Faultf(v.Pos, "", "variant %s names step %d, the statement has %d steps", v.ID, no, len(s.Steps))
			}
		}
	}
	for _, c := range s.Checks {
		if c.Variant != "" && seen[c.Variant] == (diag.Pos{}) {
			found.Faultf(c.Pos, suggest(c.Variant, s.variantIDs()), "unknown variant %q", c.Variant)
		}
	}
}

func (s *Statement) variantIDs() []string {
	out := make([]string, 0, len(s.Variants))
	for _, v := range s.Variants {
		out = append(out, v.ID)
	}
	return out
}

func (l *Library) checkLines(s *Statement, found *diag.List) {
	for _, c := range s.Components {
		component := l.Components.Find(string(c.Component))
		switch {
		case component == nil:
			found.Faultf(c.Pos, suggest(string(c.Component), l.Components.IDs()), "unknown component %q", c.Component)
		case component.Unit != c.Unit && c.Unit != "": // a missing unit has its own finding
			found.Faultf(c.Pos, "write unit: "+component.Unit+", and the amount in it", "%s is counted in %s, this line says %s", c.Component, component.Unit, c.Unit)
		}
		if c.Variant != "" && !oneOf(c.Variant, s.variantIDs()) {
			found.Faultf(c.Pos, suggest(c.Variant, s.variantIDs()), "unknown variant %q", c.Variant)
		}
	}
	if per := strings.TrimLeft(strings.TrimPrefix(s.Labour.Per, "min"), "/ "); per != "" && per != s.Measure {
		found.Faultf(s.Pos, "labour per "+s.Measure, "%s is measured in %s, its labour per %s", s.ID, s.Measure, per)
	}
}

// checkPlan resolves the checks and runs the hand-worked examples.
func (l *Library) checkPlan(s *Statement, found *diag.List) {
	for _, c := range s.Checks {
		if l.Checks.Find(c.QA) == nil {
			found.Faultf(c.Pos, suggest(c.QA, l.Checks.IDs()), "unknown check %q", c.QA)
		}
	}
	for _, x := range s.Examples {
		l.runExample(s, x, found)
	}
}

// checkTables resolves the ids that tables use of each other.
func checkTables(l *Library, found *diag.List) {
	need := func(at diag.Pos, what string, ids []string, table interface{ IDs() []string }) {
		for _, id := range ids {
			if all := table.IDs(); id != "" && !oneOf(id, all) {
				found.Faultf(at, suggest(id, all), "unknown %s %q", what, id)
			}
		}
	}
	for _, c := range l.Components.All() {
		need(c.Pos, "caution", c.Cautions, &l.Cautions)
		need(c.Pos, "substrate", []string{string(c.Becomes)}, &l.Substrates)
		for _, p := range c.Protection {
			need(c.Pos, "protective equipment", []string{string(p)}, &l.Components)
		}
	}
	for _, v := range l.Variables.All() {
		need(v.Pos, "rule", []string{v.Rule}, &l.Rules)
		if !oneOf(v.Name, namesOf(Env{})) {
			found.Faultf(v.Pos, suggest(v.Name, namesOf(Env{})), "no expression knows the variable %q", v.Name)
		}
	}
	for _, c := range l.Conditions.All() {
		need(c.Pos, "rule", c.Rules, &l.Rules)
	}
	for _, a := range l.Activities.All() {
		need(a.Pos, "activity", a.After, &l.Activities)
		need(a.Pos, "hold", []string{a.Hold}, &l.Holds)
		need(a.Pos, "check", a.Checks, &l.Checks)
	}
	for _, h := range l.Holds.All() {
		need(h.Pos, "activity", []string{h.After}, &l.Activities)
		need(h.Pos, "check", h.Checks, &l.Checks)
	}
	for _, c := range l.Checks.All() {
		need(c.Pos, "activity", c.When, &l.Activities)
	}
	for _, d := range l.Documents.All() {
		need(d.Pos, "check", d.Checks, &l.Checks)
	}
}
