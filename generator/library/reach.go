package library

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"lapwork/generator/job"
)

// condition is a predicate that must, or must not, hold.
type condition struct {
	p    *Predicate
	want bool
}

// axis is one attribute of records with the values that the predicates in question tell apart.
type axis struct {
	name   string
	labels []string
	set    []func(*Env)
}

// search looks for a record shape under which every condition holds. Its values are complete for comparisons of
// attributes with words and figures; attributes are taken as independent, so what it calls impossible is impossible.
type search struct {
	stages []stage
	left   int // tries before it gives up
}

// stage is one condition with the attributes that no stage before it has set.
type stage struct {
	condition
	axes []axis
}

// maxTries bounds one search; the built-in library's longest takes a small part of it.
const maxTries = 200_000

// possible reports whether some record shape fulfils all conditions, and names one. decided is false when the search was
// given up.
func (l *auditor) possible(conditions ...condition) (example string, ok, decided bool) {
	all := mention{words: map[string][]word{}, figures: map[string][]float64{}}
	var each []mention
	for _, c := range conditions {
		m := l.mentions(c.p)
		each = append(each, m)
		for name, words := range m.words {
			all.words[name] = append(all.words[name], words...)
		}
		for name, figures := range m.figures {
			all.figures[name] = append(all.figures[name], figures...)
		}
	}
	s := search{left: maxTries}
	seen := map[string]bool{}
	for i, c := range conditions {
		st := stage{condition: c}
		for _, name := range each[i].names {
			axisName := axisOf(name)
			if !seen[axisName] {
				seen[axisName] = true
				st.axes = append(st.axes, l.axis(axisName, each, all))
			}
		}
		s.stages = append(s.stages, st)
	}
	env := *l.blank
	example, ok = s.try(&env, 0, 0, nil)
	return example, ok, s.left > 0
}

func (s *search) try(env *Env, at, axisNo int, chosen []string) (string, bool) {
	if s.left--; s.left <= 0 {
		return "", false
	}
	if at == len(s.stages) {
		return strings.Join(chosen, ", "), true
	}
	st := s.stages[at]
	if axisNo == len(st.axes) {
		if st.p.True(env) != st.want {
			return "", false
		}
		return s.try(env, at+1, 0, chosen)
	}
	a := st.axes[axisNo]
	for i, set := range a.set {
		set(env)
		if example, ok := s.try(env, at, axisNo+1, append(slices.Clip(chosen), a.name+"="+a.labels[i])); ok {
			return example, true
		}
	}
	return "", false
}

// axisOf is what is set for a name: the fields of a substrate only vary together.
func axisOf(name string) string {
	switch of, _, isMember := strings.Cut(name, "."); {
	case name == "bead_factor" || isMember && of == "sub":
		return "sub"
	case isMember && of == "mem":
		return "mem"
	}
	return name
}

func (l *auditor) axis(name string, each []mention, all mention) axis {
	a := axis{name: name}
	add := func(label string, set func(*Env)) { a.labels, a.set = append(a.labels, label), append(a.set, set) }
	if id, isFlag := strings.CutPrefix(name, "flag."); isFlag {
		f := l.Flags.Find(id)
		for _, v := range l.values(job.FlagID(id)) {
			add(v, func(e *Env) { setFlag(e, f, v) })
		}
		return a
	}
	if name == "sub" || name == "mem" {
		for _, row := range l.surfaces(name, each, all) {
			add(row.ID, func(e *Env) {
				if name == "mem" {
					e.Mem = row
					return
				}
				e.Sub, e.BeadFactor = row, row.BeadFactor
			})
		}
		return a
	}
	for field := range reflect.TypeFor[Env]().Fields() {
		if field.Tag.Get("expr") == name {
			l.plainAxis(name, field, all, add)
		}
	}
	return a
}

func (l *auditor) plainAxis(name string, field reflect.StructField, all mention, add func(string, func(*Env))) {
	at := func(e *Env) reflect.Value { return reflect.ValueOf(e).Elem().FieldByIndex(field.Index) }
	switch field.Type.Kind() {
	case reflect.Bool:
		add("no", func(e *Env) { at(e).SetBool(false) })
		add("yes", func(e *Env) { at(e).SetBool(true) })
	case reflect.Float64:
		for _, x := range figuresAround(name, all.figures[name]) {
			add(strconv.FormatFloat(x, 'g', -1, 64), func(e *Env) { at(e).SetFloat(x) })
		}
	case reflect.String:
		for _, w := range l.wordsFor(name, all.words[name]) {
			add(w, func(e *Env) { at(e).SetString(w) })
		}
	}
}

// wordsFor are the words of a predicate that records can have, and two that it does not name.
func (l *auditor) wordsFor(name string, named []word) []string {
	legal, closed := l.vocabulary(name)
	var out, others []string
	for _, w := range named {
		if !closed || oneOf(w.text, legal) {
			out = append(out, w.text)
		}
	}
	out = distinct(out)
	for _, w := range legal {
		if !oneOf(w, out) && len(others) < 2 {
			others = append(others, w)
		}
	}
	return append(out, others...)
}

// figuresAround are each figure, a little less and a little more, nothing, and much. Measures are not negative; counts,
// millimetres and degrees are whole.
func figuresAround(name string, figures []float64) []float64 {
	little := 0.001
	for _, whole := range []string{"_mm", "_n", "_deg", "count"} {
		if strings.HasSuffix(name, whole) {
			little = 1
		}
	}
	out := []float64{0, 10_000}
	for _, x := range figures {
		out = append(out, x-little, x, x+little)
	}
	slices.Sort(out)
	return slices.DeleteFunc(slices.Compact(out), func(x float64) bool { return x < 0 })
}

// surfaces are the rows of the substrate table that the predicates tell apart, and none.
func (l *auditor) surfaces(of string, each []mention, all mention) []Surface {
	fields := map[string]bool{}
	for _, m := range each {
		for _, name := range m.names {
			if name == "bead_factor" {
				name = "sub.bead_factor"
			}
			if owner, field, isMember := strings.Cut(name, "."); isMember && owner == of {
				fields[field] = true
			}
		}
	}
	rows := []Surface{{BeadFactor: 1}}
	for _, r := range l.Substrates.All() {
		rows = append(rows, l.surfaceOf(r.ID))
	}
	seen := map[string]bool{}
	var out []Surface
	for _, row := range rows {
		var key strings.Builder
		for _, field := range []string{"id", "family", "primer"} {
			named := slices.ContainsFunc(all.words[of+"."+field], func(w word) bool { return w.text == memberWord(row, field) })
			if fields[field] && named {
				key.WriteString(memberWord(row, field))
			}
			key.WriteByte('|')
		}
		if fields["bead_factor"] {
			fmt.Fprint(&key, row.BeadFactor)
		}
		if !seen[key.String()] {
			seen[key.String()] = true
			out = append(out, row)
		}
	}
	return out
}
