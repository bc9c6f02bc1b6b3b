package library

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/expr-lang/expr/ast"
	exprparser "github.com/expr-lang/expr/parser"

	"lapwork/generator/job"
	"lapwork/generator/junction"
)

// measured is a record with every measure above zero, so that a formula that divides or subtracts shows its fault.
func measured() *junction.Record {
	return &junction.Record{ID: "x", Layer: job.Sheet, LayerA: job.Sheet, Supported: true, Angle: 90, Spacing: 1000,
		Count: 2, Corners: 4, Ends: 2, Cables: 3, Bays: 3, Studs: 5, Length: 2.4, Height: 1.2, Width: 1.1, Depth: 0.2,
		Perimeter: 0.5, Area: 6, Diameter: 110, Movement: 8, Substrate: "screed", MemberSubstrate: "timber-planed"}
}

// Every formula and every figure of every statement gives a quantity.
func TestEveryFormulaEvaluates(t *testing.T) {
	l := builtin(t)
	env := l.Env(measured(), Facts{})
	for _, s := range l.Statements {
		if s.Driver.Source != "" {
			if x, err := s.Driver.Amount(env); err != nil || x <= 0 {
				t.Errorf("%s: labour driver %g, %v", s.ID, x, err)
			}
		}
		for _, v := range s.Variants {
			for _, c := range s.Components {
				if c.Variant != "" && c.Variant != v.ID {
					continue
				}
				if x, err := c.Amount.Amount(env); err != nil || x <= 0 {
					t.Errorf("%v: %s in variant %s: %g, %v", c.Pos, c.Component, v.ID, x, err)
				}
			}
		}
		for _, step := range s.Steps {
			text, err := step.Body.Expand(env, func(x float64) string { return fmt.Sprint(x) })
			if err != nil || strings.Contains(text, "{=") {
				t.Errorf("%s step %d: %q, %v", s.ID, step.No, text, err)
			}
		}
	}
}

// mentioned collects the names an expression uses, flags as "flag.x" and substrate fields as "sub.x".
type mentioned struct{ names []string }

func (m *mentioned) Visit(node *ast.Node) {
	switch n := (*node).(type) {
	case *ast.IdentifierNode:
		m.names = append(m.names, n.Value)
	case *ast.MemberNode:
		of, _ := n.Node.(*ast.IdentifierNode)
		word, _ := n.Property.(*ast.StringNode)
		if of != nil && word != nil {
			m.names = append(m.names, of.Value+"."+word.Value)
		}
	}
}

// trialValues are the values a name is tried with when a predicate is to be made true.
func trialValues(l *Library, name string) []string {
	if id, ok := strings.CutPrefix(name, "flag."); ok {
		return l.values(job.FlagID(id))
	}
	switch {
	case strings.HasPrefix(name, "sub.") || strings.HasPrefix(name, "mem."):
		return l.Substrates.IDs()
	case name == "supported" || name == "load_on_layer" || name == "hot" || name == "strip_layout_run":
		return []string{"yes", "no"}
	case name == "surface_a":
		return []string{"wall", "slope", "flat-ceiling", "knee-wall"}
	case strings.HasPrefix(name, "layer"):
		return []string{"sheet", "board", "plaster"}
	case name == "orientation":
		return []string{"upright", "level"}
	}
	return []string{"0.1", "0.5", "0.2", "0.01", "2", "8", "14", "25", "40", "75", "110", "150", "300", "1000"}
}

// reachable reports whether some values of the names a predicate mentions make it true.
func reachable(t *testing.T, l *Library, p Predicate) bool {
	tree, err := exprparser.Parse(p.Source)
	if err != nil {
		t.Fatal(err)
	}
	var m mentioned
	ast.Walk(&tree.Node, &m)
	slices.Sort(m.names)
	names := slices.DeleteFunc(slices.Compact(m.names), func(n string) bool {
		return n == "flag" || n == "sub" || n == "mem" || n == "ceil" || n == "max" || n == "min"
	})
	var try func(env *Env, rest []string) bool
	try = func(env *Env, rest []string) bool {
		if len(rest) == 0 {
			return p.True(env)
		}
		name := rest[0]
		if key, _, ok := strings.Cut(name, "."); ok && key != "flag" {
			name = key
		}
		return slices.ContainsFunc(trialValues(l, rest[0]), func(v string) bool {
			trial := copyFlags(env)
			l.setExample(trial, name, v)
			return try(trial, rest[1:])
		})
	}
	return try(l.Env(measured(), Facts{}), names)
}

// Every variant and every conditional line can be reached by some record.
func TestEveryPredicateIsReachable(t *testing.T) {
	l := builtin(t)
	for _, s := range l.Statements {
		for _, v := range s.Variants {
			if v.When != nil && !reachable(t, l, *v.When) {
				t.Errorf("%v: variant %s can never be chosen: %s", v.Pos, v.ID, v.When.Source)
			}
		}
		for _, c := range s.Components {
			if c.When != nil && !reachable(t, l, *c.When) {
				t.Errorf("%v: %s can never be needed: %s", c.Pos, c.Component, c.When.Source)
			}
		}
	}
}

// Everything the tables hold is used, and everything used is in the tables: the second half is part of every load.
func TestNothingDangles(t *testing.T) {
	l := builtin(t)
	flags, components, conditions := map[string]bool{}, map[string]bool{}, map[string]bool{}
	note := func(p *Predicate) {
		if p != nil {
			for _, f := range p.Flags() {
				flags[string(f)] = true
			}
		}
	}
	for _, s := range l.Statements {
		note(&s.When)
		conditions[s.Condition] = true
		for _, v := range s.Variants {
			note(v.When)
		}
		for _, c := range s.Components {
			note(c.When)
			components[string(c.Component)] = true
		}
	}
	for _, id := range l.Flags.IDs() {
		if !flags[id] {
			t.Errorf("nobody asks flag.%s", id)
		}
	}
	for _, id := range l.Conditions.IDs() {
		if !conditions[id] {
			t.Errorf("no statement works under %s", id)
		}
	}
	byHand := []string{"sheet", "tool", "ppe", "primer", "consumable"} // chosen by the job, worn, carried
	for _, c := range l.Components.All() {
		if !components[string(c.ID)] && !slices.Contains(byHand, c.Class) {
			t.Errorf("no statement uses %s", c.ID)
		}
	}
	for _, name := range namesOf(Env{}) {
		if strings.HasSuffix(name, "_pct") || strings.HasSuffix(name, "_mm") {
			if l.Variables.Find(name) == nil && name != "angle_deg" && name != "movement_mm" && name != "spacing_mm" {
				t.Errorf("%s is not in the table of variables", name)
			}
		}
	}
}

// A statement is installed after what it waits for and before what waits for it, in the order of the activities.
func TestOrderOfWork(t *testing.T) {
	l := builtin(t)
	position := func(id string) int {
		if s := l.Statement(StatementID(id)); s != nil {
			return l.Activities.Find(s.Activity).Position
		}
		return l.Activities.Find(id).Position
	}
	for _, a := range l.Activities.All() {
		for _, before := range a.After {
			if position(before) >= a.Position {
				t.Errorf("%s waits for %s, which comes later", a.ID, before)
			}
		}
	}
	for _, s := range l.Statements {
		here := position(string(s.ID))
		for _, id := range s.After {
			if position(id) > here {
				t.Errorf("%s (%s) comes after %s, which is later", s.ID, s.Activity, id)
			}
		}
		for _, id := range s.Before {
			if position(id) < here {
				t.Errorf("%s (%s) comes before %s, which is earlier", s.ID, s.Activity, id)
			}
		}
	}
}

// On every substrate a statement was written for, its usual way holds, unless the statement itself says that nobody
// decides it on site; and where the table asks for primer, a primer is among its lines.
func TestStatementsHoldOnTheirSubstrates(t *testing.T) {
	l := builtin(t)
	for _, s := range l.Statements {
		for _, id := range s.Substrates {
			r := measured()
			r.Movement, r.Substrate = 0, id
			sel := l.choose(s, l.Env(r, Facts{}))
			if sel.Unresolved != "" && sel.Unresolved != s.Unresolved && sel.Unresolved != sel.Variant.Unresolved {
				t.Errorf("%s on %s: %s", s.ID, id, sel.Unresolved)
			}
			primer := slices.ContainsFunc(sel.Lines, func(c ComponentLine) bool {
				return l.Components.Find(string(c.Component)).Class == "primer"
			})
			if sel.Primed && !primer {
				t.Errorf("%s on %s: a seal wants primer, and no line brings it", s.ID, id)
			}
		}
	}
}
