package library

import (
	"encoding/binary"
	"math"
	"reflect"
	"slices"
	"sync"

	"lapwork/generator/diag"
)

// Chooser is Select for the many records of one job. Places that every predicate sees alike are answered alike, so each such
// question is put to the library once. It gives what Select gives, in any number of goroutines, as long as the library and
// the answers of the job stand still.
type Chooser struct {
	library *Library
	reads   []int    // the fields of Env that a selection depends on
	known   sync.Map // chosen by question
}

// question is all that a selection depends on: the answers of the site lead that hold at the place, and the values of the
// fields that predicates and the substrate rules read.
type question struct {
	answers *answerSheet
	facts   string
}

// chosen is a selection and what Select found on the way. The lists of the selection are shared by all its places.
type chosen struct {
	Selection
	found []diag.Finding
}

// Chooser gives a chooser over the library as it stands.
func (l *Library) Chooser() *Chooser {
	c := &Chooser{library: l}
	read := map[string]bool{"sub": true, "mem": true, "strip_layout_run": true} // by Select itself
	for _, s := range l.Statements {
		s.predicates(func(_ string, p *Predicate, _ ...condition) {
			for _, name := range words(p.Source) {
				read[name] = true
			}
		})
	}
	for name, field := range fields() {
		if read[name] {
			c.reads = append(c.reads, field)
		}
	}
	slices.Sort(c.reads)
	return c
}

// Select gives the one statement that answers a record, as Library.Select does.
func (c *Chooser) Select(env *Env, found *diag.List) Selection {
	if env.answers == nil {
		return c.library.Select(env, found)
	}
	asked := question{env.answers, c.facts(env)}
	known, ok := c.known.Load(asked)
	if !ok {
		var own diag.List
		sel := c.library.Select(env, &own)
		known, _ = c.known.LoadOrStore(asked, chosen{sel, own.Sorted()})
	}
	found.Add(known.(chosen).found...)
	return known.(chosen).Selection
}

// facts writes the fields that a selection depends on, each so that its end is known.
func (c *Chooser) facts(env *Env) string {
	v := reflect.ValueOf(env).Elem()
	b := make([]byte, 0, 256)
	for _, i := range c.reads {
		b = appendFact(b, v.Field(i))
	}
	return string(b)
}

func appendFact(b []byte, v reflect.Value) []byte {
	switch v.Kind() {
	case reflect.String:
		return append(binary.AppendUvarint(b, uint64(v.Len())), v.String()...)
	case reflect.Float64:
		return binary.BigEndian.AppendUint64(b, math.Float64bits(v.Float()))
	case reflect.Bool:
		if v.Bool() {
			return append(b, 1)
		}
		return append(b, 0)
	}
	for i := range v.NumField() { // a row of the substrate table
		b = appendFact(b, v.Field(i))
	}
	return b
}

// fields gives where in Env a name of the expression language stands.
var fields = sync.OnceValue(func() map[string]int {
	out := map[string]int{}
	env := reflect.TypeFor[Env]()
	for i := range env.NumField() {
		if name := env.Field(i).Tag.Get("expr"); name != "" && env.Field(i).Type.Kind() != reflect.Map {
			out[name] = i
		}
	}
	return out
})
