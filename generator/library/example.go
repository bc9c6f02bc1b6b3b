package library

import (
	"errors"
	"maps"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/junction"
)

// exampleTolerance is how far a hand-worked figure may lie off: half a unit of the second decimal, in which it is written.
const exampleTolerance = 0.005

// runExample evaluates the statement for the example's values and compares the sum of every component that is ordered. What
// is only offered, or counts for the cutting plan alone, is compared where the example names it.
func (l *Library) runExample(s *Statement, x Example, found *diag.List) {
	env, ok := l.exampleEnv(x, Facts{}, found)
	if !ok {
		return
	}
	sel := l.choose(s, env)
	got, err := sums(sel.Lines, env)
	beside, other := sums(slices.Concat(sel.Options, sel.Info), env)
	if err := errors.Join(err, other); err != nil {
		found.Faultf(x.Pos, "", "example %q: %v", x.Note, err)
		return
	}
	for _, id := range slices.Sorted(maps.Keys(x.Expect)) {
		sum, ordered := got[id]
		if !ordered {
			sum = beside[id]
		}
		if math.Abs(sum-x.Expect[id]) > exampleTolerance {
			found.Faultf(x.Pos, "work it out again by hand", "example %q: %s is %.2f, the example says %.2f",
				x.Note, id, sum, x.Expect[id])
		}
		delete(got, id)
	}
	for _, id := range slices.Sorted(maps.Keys(got)) {
		found.Faultf(x.Pos, "add it under expect", "example %q leaves out %s (%.2f)", x.Note, id, got[id])
	}
}

// sums adds up the amounts of each component.
func sums(lines []ComponentLine, env *Env) (map[job.ComponentID]float64, error) {
	out := map[job.ComponentID]float64{}
	for _, line := range lines {
		amount, err := line.Amount.Amount(env)
		if err != nil {
			return nil, err
		}
		out[line.Component] += amount
	}
	return out, nil
}

// Unworked lists the component lines of a statement whose amount none of its examples works out.
func (l *Library) Unworked(s *Statement) []ComponentLine {
	worked := make([]bool, len(s.Components))
	var unheard diag.List // what is wrong in an example was said when it ran
	for _, x := range s.Examples {
		env, ok := l.exampleEnv(x, Facts{}, &unheard)
		if !ok {
			continue
		}
		chosen := l.choose(s, env).Variant.ID
		for i, c := range s.Components {
			_, named := x.Expect[c.Component]
			applies := (c.Variant == "" || c.Variant == chosen) && (c.When == nil || c.When.True(env))
			worked[i] = worked[i] || named && applies
		}
	}
	var out []ComponentLine
	for i, c := range s.Components {
		if !worked[i] {
			out = append(out, c)
		}
	}
	return out
}

// exampleEnv makes an environment from the names of an example: variables, attributes, sub, mem and flag.x.
func (l *Library) exampleEnv(x Example, facts Facts, found *diag.List) (*Env, bool) {
	env := l.Env(&junction.Record{Count: 1, Corners: 4, Ends: 2, Angle: 90, Spacing: 1000, Supported: true,
		Layer: job.Sheet, LayerA: job.Sheet, StripLayoutRun: true}, facts)
	ok := true
	for _, name := range slices.Sorted(maps.Keys(x.Given)) {
		if hint := l.setExample(env, name, x.Given[name]); hint != "" {
			found.Faultf(x.Pos, hint, "example %q: cannot set %s to %q", x.Note, name, x.Given[name])
			ok = false
		}
	}
	return env, ok
}

// setExample sets one name; the hint says why it cannot.
func (l *Library) setExample(env *Env, name, value string) (hint string) {
	if id, isFlag := strings.CutPrefix(name, "flag."); isFlag {
		f := l.Flags.Find(id)
		if f == nil {
			return suggest(id, l.Flags.IDs())
		}
		if !f.Accepts(value) {
			return "answer yes or no, or one of the words of the question"
		}
		setFlag(env, f, value)
		delete(env.unanswered, f.ID)
		return ""
	}
	switch name {
	case "sub", "mem":
		if l.Substrates.Find(value) == nil {
			return suggest(value, l.Substrates.IDs())
		}
		if name == "mem" {
			env.Mem = l.surfaceOf(job.SubstrateID(value))
			return ""
		}
		env.Sub = l.surfaceOf(job.SubstrateID(value))
		env.BeadFactor = env.Sub.BeadFactor
		return ""
	}
	return setField(env, name, value)
}

// setField sets a plain field of the environment by its name in expressions.
func setField(env *Env, name, value string) (hint string) {
	out := reflect.ValueOf(env).Elem()
	for i := range out.NumField() {
		if out.Type().Field(i).Tag.Get("expr") != name {
			continue
		}
		switch field := out.Field(i); field.Kind() {
		case reflect.Float64:
			v, err := strconv.ParseFloat(value, 64)
			if err != nil {
				return "write digits with a decimal point, no unit"
			}
			field.SetFloat(v)
			return ""
		case reflect.Bool:
			field.SetBool(value == "yes")
			return ""
		case reflect.String:
			field.SetString(value)
			return ""
		}
	}
	return suggest(name, append(namesOf(Env{}), "sub", "mem"))
}
