package library

import (
	"reflect"
	"strings"
)

// Input is a variable of a formula with the value it had.
type Input struct {
	Name  string
	Value float64
}

// Inputs lists the number variables a formula names, in order of first mention, with their values in env: what a reader
// needs to work a figure out again.
func (f Formula) Inputs(env *Env) []Input {
	v := reflect.ValueOf(env).Elem()
	out := make([]Input, len(f.inputs))
	for i, in := range f.inputs {
		out[i] = Input{in.name, v.Field(in.field).Float()}
	}
	return out
}

// input is a number variable of a formula and where in Env it stands.
type input struct {
	name  string
	field int
}

func inputsOf(source string) []input {
	env := reflect.TypeFor[Env]()
	var out []input
	for _, name := range words(source) {
		if field, ok := fields()[name]; ok && env.Field(field).Type.Kind() == reflect.Float64 {
			out = append(out, input{name, field})
		}
	}
	return out
}

// words lists the names in an expression once each. The expression has been compiled, so a name is any run of letters,
// digits and underscores that starts with a letter.
func words(source string) []string {
	var out []string
	seen := map[string]bool{}
	for _, w := range strings.FieldsFunc(source, func(r rune) bool {
		return r != '_' && (r < '0' || r > '9') && (r < 'a' || r > 'z') && (r < 'A' || r > 'Z')
	}) {
		if w[0] > '9' && !seen[w] {
			seen[w] = true
			out = append(out, w)
		}
	}
	return out
}
