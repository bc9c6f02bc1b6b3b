package library

import (
	"cmp"
	"slices"

	"lapwork/generator/diag"
	"lapwork/generator/job"
)

// Selection is the answer to one record: its statement, the way it is done there, and what it takes.
type Selection struct {
	Statement *Statement // nil: no statement matches
	Variant   *Variant   // nil when Statement is
	Turn      TurnRule
	Activity  string // the activity it is installed in
	Labour    Labour
	Lines     []ComponentLine // to be ordered
	Options   []ComponentLine // offered; ordered only when the firm switches them on
	Info      []ComponentLine // for the cutting plan, never ordered
	Primed    bool            // the substrate asks for primer under a chosen seal
	PullTest  bool            // the substrate asks for a pull test first (QA-08)
	Questions []job.FlagID    // unanswered questions that could change this selection, in table order
	// Unresolved, when not empty, says why nobody on site decides this record, and whom to ask. The record stays open.
	Unresolved string
}

// NoMatch is why a record without a statement is unresolved.
const NoMatch = "No method statement of the library covers this place. Ask the designer; do not borrow a neighbour's method."

// Select gives the one statement that answers a record: the highest priority among those whose predicate is true. Two of
// the same priority are a fault of the library. Nothing falls back to a neighbour's method.
func (l *Library) Select(env *Env, found *diag.List) Selection {
	best := l.best(env)
	if len(best) > 1 {
		found.Add(faultAt(best[1].Pos, best[0].Pos, "give one of them a higher priority or a narrower when",
			"the statements "+string(best[0].ID)+" and "+string(best[1].ID)+" both answer the same record"))
	}
	if len(best) == 0 {
		return Selection{Unresolved: cmp.Or(l.noMatch, NoMatch), Questions: l.questions(nil, env)}
	}
	if d := best[0].Deprecated; d != nil {
		found.Add(diag.Finding{Level: diag.Note, Pos: d.Pos, Hint: "look at " + string(d.Use) + " and replace it",
			Msg: "the job uses " + string(best[0].ID) + ", deprecated since " + d.Since})
	}
	sel := l.choose(best[0], env)
	sel.Questions = l.questions(best[0], env)
	return sel
}

// faultAt is a fault at one place that took another into account.
func faultAt(at, see diag.Pos, hint, msg string) diag.Finding {
	return diag.Finding{Pos: at, Msg: msg, Hint: hint, See: []diag.Pos{see}}
}

// best are the statements of the highest priority among those whose predicate is true.
func (l *Library) best(env *Env) (best []*Statement) {
	for _, s := range l.Statements {
		if len(best) > 0 && s.Priority < best[0].Priority || !s.When.True(env) {
			continue
		}
		switch c := cmp.Compare(s.Priority, priority(best)); {
		case c > 0:
			best = []*Statement{s}
		case c == 0:
			best = append(best, s)
		}
	}
	return best
}

func priority(best []*Statement) int {
	if len(best) == 0 {
		return 0
	}
	return best[0].Priority
}

// SelectBy gives the selection of a named statement and variant, as a person on site decided it; an empty variant is the
// one the predicates choose.
func (l *Library) SelectBy(id StatementID, variant string, env *Env) (Selection, bool) {
	s := l.Statement(id)
	if s == nil {
		return Selection{}, false
	}
	if variant == "" {
		return l.choose(s, env), true
	}
	for i := range s.Variants {
		if s.Variants[i].ID == variant {
			return l.fill(s, &s.Variants[i], env), true
		}
	}
	return Selection{}, false
}

// choose picks the variant of a statement: the last one whose predicate is true; where the substrate refuses one of its
// seals, the one before it that is true, down to the default.
func (l *Library) choose(s *Statement, env *Env) Selection {
	var refused string
	for i := len(s.Variants) - 1; i >= 0; i-- {
		v := &s.Variants[i]
		if v.When != nil && !v.When.True(env) {
			continue
		}
		sel := l.fill(s, v, env)
		if why := l.holds(&sel, env); why != "" {
			refused = cmp.Or(refused, why)
			continue
		}
		return sel
	}
	sel := l.fill(s, &s.Variants[0], env)
	sel.Unresolved = refused
	return sel
}

// fill collects the component lines of one variant.
func (l *Library) fill(s *Statement, v *Variant, env *Env) Selection {
	sel := Selection{Statement: s, Variant: v, Turn: s.Turn, Activity: cmp.Or(v.Activity, s.Activity), Labour: s.Labour,
		Unresolved: cmp.Or(s.Unresolved, v.Unresolved)}
	if v.Turn != nil {
		sel.Turn = *v.Turn
	}
	if v.Labour != nil {
		sel.Labour = *v.Labour
	}
	for _, c := range s.Components {
		if c.Variant != "" && c.Variant != v.ID || c.When != nil && !c.When.True(env) {
			continue
		}
		switch {
		case c.Role == RoleOption:
			sel.Options = append(sel.Options, c)
		case c.Role == RoleInfo, c.Role == RoleLayout && env.StripLayoutRun:
			sel.Info = append(sel.Info, c)
		default:
			sel.Lines = append(sel.Lines, c)
		}
	}
	return sel
}

// holds checks the seals of a selection against the substrate table and says why one of them cannot hold.
func (l *Library) holds(sel *Selection, env *Env) (refused string) {
	if sel.Unresolved != "" {
		return ""
	}
	for _, c := range sel.Lines {
		component := l.Components.Find(string(c.Component))
		base := l.base(sel, c, env)
		if component == nil || base == nil || component.Seal == "" {
			continue
		}
		switch base.Fits[component.Seal] {
		case FitNo, FitNever:
			return component.Name + " does not hold on " + base.Name + ". Ask the designer for another way to seal here."
		case FitPrimed:
			sel.Primed = true
		case FitTest:
			sel.PullTest = true
		}
	}
	return ""
}

// base gives what a line holds on: nil for the layer itself. A line that leaves a surface behind, such as a smoothing
// band, is what the other lines of the selection hold on.
func (l *Library) base(sel *Selection, c ComponentLine, env *Env) *Substrate {
	on := cmp.Or(c.On, sel.Statement.Seals)
	if on == "layer" {
		return nil
	}
	if on == "member" {
		return l.Substrates.Find(env.Mem.ID)
	}
	for _, other := range sel.Lines {
		if o := l.Components.Find(string(other.Component)); o != nil && o.Becomes != "" {
			return l.Substrates.Find(string(o.Becomes))
		}
	}
	return l.Substrates.Find(env.Sub.ID)
}

// StepNumbers gives the numbers of the steps that apply in the chosen variant.
func (s Selection) StepNumbers() []int {
	if s.Statement == nil {
		return nil
	}
	elsewhere := map[int]bool{}
	for _, v := range s.Statement.Variants {
		for _, no := range v.Steps {
			elsewhere[no] = true
		}
	}
	var out []int
	for _, step := range s.Statement.Steps {
		if !elsewhere[step.No] || slices.Contains(s.Variant.Steps, step.No) {
			out = append(out, step.No)
		}
	}
	return out
}
