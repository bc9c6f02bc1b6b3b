package library

import (
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

// runExample evaluates the statement for the example's values and compares every component's sum.
func (l *Library) runExample(s *Statement, x Example, found *diag.List) {
	env, ok := l.exampleEnv(x, found)
	if !ok {
		return
	}
	sel := l.choose(s, env)
	got := map[job.ComponentID]float64{}
	for _, line := range sel.Lines {
		amount, err := line.Amount.Amount(env)
		if err != nil {
			found.Faultf(x.Pos, "", "example %q: %v", x.Note, err)
			return
		}
		got[line.Component] += amount
	}
	for _, id := range slices.Sorted(maps.Keys(x.Expect)) {
		if math.Abs(got[id]-x.Expect[id]) > exampleTolerance {
			found.Faultf(x.Pos, "work it out again by hand", "example %q: %s is %.2f, the example says %.2f",
				x.Note, id, got[id], x.Expect[id])
		}
		delete(got, id)
	}
	for _, id := range slices.Sorted(maps.Keys(got)) {
		found.Faultf(x.Pos, "add it under expect", "example %q leaves out %s (%.2f)", x.Note, id, got[id])
	}
}

// exampleEnv makes an environment from the names of an example: variables, attributes, sub, mem and flag.x.
func (l *Library) exampleEnv(x Example, found *diag.List) (*Env, bool) {
	env := l.Env(&junction.Record{Count: 1, Corners: 4, Ends: 2, Angle: 90, Spacing: 1000, Supported: true,
		Layer: job.Sheet, LayerA: job.Sheet, StripLayoutRun: true}, Facts{})
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
