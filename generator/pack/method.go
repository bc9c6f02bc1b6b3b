package pack

import (
	"fmt"
	"slices"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/library"
)

// methodPages gives a page for each statement the job uses, by title.
func (a *assembler) methodPages() []Page {
	var used []*library.Statement
	for _, s := range a.Library.Statements {
		if len(a.used[s.ID]) > 0 {
			used = append(used, s)
		}
	}
	slices.SortStableFunc(used, func(x, y *library.Statement) int { return compareFold(x.Title, y.Title) })
	var out []Page
	for _, s := range used {
		out = append(out, Page{Path: methodPath(s.ID), Kind: KindStatement, Title: s.Title, Where: a.say("Method"), Statement: a.method(s)})
	}
	return out
}

// method is a statement with this job's figures. Figures that depend on the place are those of its first place.
func (a *assembler) method(s *library.Statement) *Statement {
	places, first := a.used[s.ID], a.firstPlace(s)
	v := &Statement{ID: string(s.ID), Title: s.Title, Revision: fmt.Sprint(s.Revision), Origin: a.libraryOf(s), Hash: s.Hash,
		Status: a.status(s.Source), Where: s.AppliesTo, Prepare: s.Prepare, Tolerance: a.expand(s.Tolerance, first.Env), Unresolved: s.Unresolved,
		Section: a.section(s, first.Env), Labour: a.labour(s)}
	if d := s.Deprecated; d != nil {
		v.Deprecated = a.say("Deprecated since %s. Use %s.", d.Since, strings.Join(a.titles([]string{string(d.Use)}), ""))
	}
	for _, id := range s.Substrates {
		if sub := a.Library.Substrates.Find(string(id)); sub != nil {
			v.Substrates = append(v.Substrates, Term{sub.Name, sub.Prepare})
		}
	}
	if c := a.Library.Conditions.Find(s.Condition); c != nil {
		v.Conditions = c.Text
	}
	for _, st := range s.Steps {
		v.Steps = append(v.Steps, a.beneath(Step{No: st.No, HTML: a.line(st.Text, a.fill(first.Env))}, first, s))
	}
	v.Steps = counted(v.Steps)
	for _, variant := range s.Variants {
		if variant.ID != "default" {
			v.Variants = append(v.Variants, Term{variant.Title, a.variantUse(places, variant.ID)})
		}
	}
	for _, c := range s.Components {
		if c.Role != library.RoleInfo {
			v.Components = append(v.Components, ComponentRow{Name: a.componentName(string(a.ComponentFor(c.Component))), Role: a.taken(c.Role),
				When: c.Condition, Formula: c.Amount.Source, Unit: a.unitText(c.Unit), Status: a.status(c.Source)})
		}
	}
	for _, c := range s.Checks {
		v.Accept = append(v.Accept, Term{a.checkName(c.QA), a.AcceptText(c, first)})
	}
	for _, f := range s.Faults {
		v.Faults = append(v.Faults, Term{f.Sign, f.Repair})
	}
	for _, id := range s.Cautions {
		if c := a.Library.Cautions.Find(id); c != nil {
			v.Cautions = append(v.Cautions, a.caution(c, ""))
		}
	}
	v.After, v.Before = a.titles(s.After), a.titles(s.Before)
	for _, id := range s.Rules {
		if r := a.Library.Rules.Find(id); r != nil {
			v.Rules = append(v.Rules, Term{r.ID + " " + r.Title, r.Value + " (" + a.status(r.Source) + ")"})
		}
	}
	for _, p := range places {
		v.Places = append(v.Places, a.junctionRow(p))
	}
	return v
}

// unitText is a component's unit as people write it.
func (a *assembler) unitText(unit string) string {
	switch unit {
	case "each":
		return a.say("piece")
	case "m2":
		return "m²"
	}
	return unit
}

// readingUnit is the unit of what a check has recorded: a count is of pieces.
func (a *assembler) readingUnit(unit string) string {
	if unit == "each" {
		return a.say("pieces")
	}
	return unit
}

// checkName is what a check is called where it is read apart from its sheet.
func (a *assembler) checkName(id string) string {
	if c := a.Library.Checks.Find(id); c != nil {
		return id + " " + c.Title
	}
	return id
}

func (a *assembler) variantUse(places []*assess.Place, id string) string {
	n := 0
	for _, p := range places {
		if p.Chosen.Variant != nil && p.Chosen.Variant.ID == id {
			n++
		}
	}
	if n == 0 {
		return a.say("not in this job")
	}
	return a.say("at %d of %d places of this job", n, len(places))
}

func (a *assembler) labour(s *library.Statement) string {
	l := s.Labour
	if l.Likely == 0 {
		return ""
	}
	f := a.format
	return a.say("%s / %s / %s %s, low / likely / high, before the retrofit factor (%s)", f.Number(float64(l.Low), 1),
		f.Number(float64(l.Likely), 1), f.Number(float64(l.High), 1), a.how(l.Per), a.status(l.Source))
}

// titles names statements and activities by their titles.
func (a *assembler) titles(ids []string) []string {
	var out []string
	for _, id := range ids {
		switch {
		case a.Library.Activities.Find(id) != nil:
			out = append(out, a.Library.Activities.Find(id).Title)
		case a.Library.Statement(library.StatementID(id)) != nil:
			out = append(out, a.Library.Statement(library.StatementID(id)).Title)
		default:
			out = append(out, id)
		}
	}
	return out
}

// taken says when a component of a method is taken, by its part in it.
func (a *assembler) taken(role string) string {
	switch role {
	case library.RoleMain:
		return a.say("always")
	case library.RoleIf:
		return a.say("where it applies")
	}
	return a.say("on choice, not ordered")
}
