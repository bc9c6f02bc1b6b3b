package library

import (
	"slices"

	"lapwork/generator/job"
)

// mostTried bounds the open questions of one record that are tried against each other; beyond it all of them are asked.
const mostTried = 6

// questions gives the unanswered questions whose answer changes what is done at a record, whatever else may be answered: in
// table order. That some predicate reads an answer is not enough. Where another variant wins in any case, where the substrate
// refuses the seal that a yes would bring, or where the line belongs to another variant, nobody is asked.
func (l *Library) questions(chosen *Statement, env *Env) []job.FlagID {
	asked := l.mentioned(chosen, env)
	if len(asked) > mostTried {
		return asked
	}
	var out []job.FlagID
	for _, id := range asked {
		others := slices.DeleteFunc(slices.Clone(asked), func(o job.FlagID) bool { return o == id })
		if l.trials(others, copyFlags(env), func(trial *Env) bool { return l.changes(id, trial) }) {
			out = append(out, id)
		}
	}
	return out
}

// changes reports whether the answers to a question differ in what is done.
func (l *Library) changes(id job.FlagID, trial *Env) bool {
	var first outcome
	for i, v := range l.values(id) {
		setFlag(trial, l.Flags.Find(string(id)), v)
		switch o := l.outcome(trial); {
		case i == 0:
			first = o
		case !o.same(first):
			return true
		}
	}
	return false
}

// outcome is what an answer can change: the statement, the way it is done, and what is ordered or cut for it.
type outcome struct {
	statement  *Statement
	variant    *Variant
	unresolved bool
	lines      []ComponentLine
}

func (l *Library) outcome(env *Env) outcome {
	best := l.best(env)
	if len(best) == 0 {
		return outcome{}
	}
	sel := l.choose(best[0], env)
	return outcome{sel.Statement, sel.Variant, sel.Unresolved != "", slices.Concat(sel.Lines, sel.Info)}
}

func (o outcome) same(p outcome) bool {
	return o.statement == p.statement && o.variant == p.variant && o.unresolved == p.unresolved &&
		slices.EqualFunc(o.lines, p.lines, func(a, b ComponentLine) bool { return a.Pos == b.Pos && a.Component == b.Component })
}

// mentioned gives the unanswered questions that some assignment of answers makes decisive in a predicate of the chosen
// statement, its variants and lines, or of a statement that could take the record from it.
func (l *Library) mentioned(chosen *Statement, env *Env) []job.FlagID {
	asked := map[job.FlagID]bool{}
	ask := func(p *Predicate) {
		if p == nil {
			return
		}
		for _, id := range p.flags {
			if env.unanswered[id] && l.decisive(*p, id, env) {
				asked[id] = true
			}
		}
	}
	for _, s := range l.Statements {
		if chosen == nil || s.Priority >= chosen.Priority {
			ask(&s.When)
		}
	}
	if chosen != nil {
		for i := range chosen.Variants {
			ask(chosen.Variants[i].When)
		}
		for i := range chosen.Components {
			if chosen.Components[i].Role != RoleOption {
				ask(chosen.Components[i].When)
			}
		}
	}
	var out []job.FlagID
	for _, f := range l.Flags.All() {
		if asked[f.ID] {
			out = append(out, f.ID)
		}
	}
	return out
}

// decisive reports whether the answer to id can change the predicate, under some answers to the other open questions.
func (l *Library) decisive(p Predicate, id job.FlagID, env *Env) bool {
	var others []job.FlagID
	for _, o := range p.flags {
		if o != id && env.unanswered[o] {
			others = append(others, o)
		}
	}
	results := func(trial *Env) bool {
		seen := map[bool]bool{}
		for _, v := range l.values(id) {
			setFlag(trial, l.Flags.Find(string(id)), v)
			seen[p.True(trial)] = true
		}
		return len(seen) > 1
	}
	return l.trials(others, copyFlags(env), results)
}

// trials calls test for every assignment of the questions and reports whether one of them passed.
func (l *Library) trials(open []job.FlagID, env *Env, test func(*Env) bool) bool {
	if len(open) == 0 {
		return test(env)
	}
	for _, v := range l.values(open[0]) {
		setFlag(env, l.Flags.Find(string(open[0])), v)
		if l.trials(open[1:], env, test) {
			return true
		}
	}
	return false
}

func (l *Library) values(id job.FlagID) []string {
	if f := l.Flags.Find(string(id)); f != nil && len(f.Values) > 0 {
		return f.Values
	}
	return []string{"no", "yes"}
}

// copyFlags gives an environment whose answers may be changed.
func copyFlags(env *Env) *Env {
	yes, word := make(map[string]bool, len(env.FlagYes)), make(map[string]string, len(env.FlagWord))
	for k, v := range env.FlagYes {
		yes[k] = v
	}
	for k, v := range env.FlagWord {
		word[k] = v
	}
	trial := *env
	trial.FlagYes, trial.FlagWord = yes, word
	return &trial
}
