package jobfile

import (
	"strings"

	"go.yaml.in/yaml/v3"

	"lapwork/generator/diag"
)

// at is a value read from a file, with its place. The zero value means that the file does not state it; a place without
// a value means that it does, but wrongly, which is reported already.
type at[T any] struct {
	v   T
	pos diag.Pos
}

// set tells whether the file states the value.
func (a at[T]) set() bool { return a.pos.Line > 0 }

// or gives the value, or another one where the file is silent.
func (a at[T]) or(other T) T {
	if a.set() {
		return a.v
	}
	return other
}

// over gives the more specific of two statements.
func over[T any](specific, general at[T]) at[T] {
	if specific.set() {
		return specific
	}
	return general
}

// value is one way of writing something: how it is read, and how the schema describes it. Reader and schema both follow
// from the same values, so that neither can lag behind the other.
//
// The functions that make values and keys are kept out of line (go:noinline): the tables of keys call them some 600 times,
// and each inlined call would be a copy of their closures, more than 1 MB of the program together.
type value[T any] struct {
	read   func(r *reader, n *yaml.Node) (T, bool) // false after a finding
	schema func(defs map[string]*schema) *schema
}

// key is one key of a mapping that fills what a P points to. P is the pointer, not the struct: the compiler makes generic
// code once for all pointers, but once for every struct.
type key[P any] struct {
	name, doc string
	must      bool
	mayEmpty  bool
	read      func(r *reader, n *yaml.Node, into P)
	schema    func(defs map[string]*schema) *schema
}

// required marks a key that has to be there.
func (k *key[P]) required() *key[P] {
	k.must = true
	return k
}

// emptied marks a list that people take lines out of until none is left: the key may then stand without a value.
func (k *key[P]) emptied() *key[P] {
	k.mayEmpty, k.schema = true, orNothing(k.schema)
	return k
}

// orNothing describes what another schema describes, or nothing; it stands apart from the generic code.
func orNothing(of func(defs map[string]*schema) *schema) func(defs map[string]*schema) *schema {
	return func(defs map[string]*schema) *schema {
		s := *of(defs)
		s.Type += ",null"
		return &s
	}
}

// field binds a key to the place that it fills.
//
//go:noinline
func field[P, T any](name, doc string, v value[T], slot func(P) *at[T]) *key[P] {
	return &key[P]{name: name, doc: doc, schema: v.schema, read: func(r *reader, n *yaml.Node, into P) {
		a := slot(into)
		if !r.first(n, &a.pos, name) {
			return
		}
		if got, ok := v.read(r, n); ok {
			a.v = got
		}
	}}
}

// more binds a key whose list may go on in another file of the job.
//
//go:noinline
func more[P, T any](name, doc string, v value[[]T], slot func(P) *at[[]T]) *key[P] {
	return &key[P]{name: name, doc: doc, schema: v.schema, read: func(r *reader, n *yaml.Node, into P) {
		got, ok := v.read(r, n)
		if !ok {
			return
		}
		a := slot(into)
		if !a.set() {
			a.pos = r.pos(n)
		}
		a.v = append(a.v, got...)
	}}
}

// object is a mapping with known keys. Its name (a room, an opening) stands in findings and names the schema's part.
//
//go:noinline
func object[S any](name string, keys ...*key[*S]) value[S] {
	return value[S]{
		read: func(r *reader, n *yaml.Node) (S, bool) {
			var out S
			ok := readKeys(r, n, name, keys, &out)
			return out, ok
		},
		schema: keysSchema(name, keys),
	}
}

// readKeys fills into from a mapping and reports unknown, repeated and missing keys.
func readKeys[P any](r *reader, n *yaml.Node, name string, keys []*key[P], into P) bool {
	if n.Kind != yaml.MappingNode {
		r.wrongKind(n, name+" as \"key: value\" lines")
		return false
	}
	seen := map[string]*yaml.Node{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		if first, twice := seen[k.Value]; twice {
			r.again(r.pos(k), r.pos(first), k.Value)
			continue
		}
		seen[k.Value] = k
		readKey(r, k, v, n.Style&yaml.FlowStyle != 0, name, keys, into)
	}
	for _, k := range keys {
		if k.must && seen[k.name] == nil {
			r.fault(r.pos(n), "add \""+k.name+"\": "+k.doc, "%s lacks %q", name, k.name)
		}
	}
	return true
}

// readKey reads one key of a mapping.
func readKey[P any](r *reader, k, v *yaml.Node, inBraces bool, name string, keys []*key[P], into P) {
	names := make([]string, len(keys))
	for i, candidate := range keys {
		names[i] = candidate.name
		if candidate.name != k.Value || k.Kind != yaml.ScalarNode {
			continue
		}
		if v.Kind == yaml.ScalarNode && v.Tag == "!!null" {
			if !candidate.mayEmpty {
				r.fault(r.pos(k), "fill it in, or delete the line", "%q of %s is empty", k.Value, name)
			}
			return
		}
		candidate.read(r, v, into)
		return
	}
	if k.Kind != yaml.ScalarNode {
		r.wrongKind(k, "a key")
		return
	}
	hint := didYouMean(k.Value, names, "keys here: ")
	if inBraces && v.Tag == "!!null" && v.Value == "" { // {address: Street 1, Town} has a key Town
		hint = "put text that has a comma in it into quotes; " + hint
	}
	r.fault(r.pos(k), hint, "%s has no key %q", name, clip(k.Value))
}

// list is a sequence of values.
//
//go:noinline
func list[T any](v value[T]) value[[]at[T]] {
	return value[[]at[T]]{
		read: func(r *reader, n *yaml.Node) ([]at[T], bool) {
			if n.Kind != yaml.SequenceNode {
				r.wrongKind(n, "a list: lines that begin with \"- \", or [a, b]")
				return nil, false
			}
			out := make([]at[T], 0, len(n.Content))
			for _, item := range n.Content {
				if got, ok := v.read(r, item); ok {
					out = append(out, at[T]{got, r.pos(item)})
				}
			}
			return out, true
		},
		schema: listSchema(v.schema),
	}
}

// listSchema describes a list of what another schema describes; like keysSchema, it stands apart from the generic code.
//
//go:noinline
func listSchema(of func(defs map[string]*schema) *schema) func(defs map[string]*schema) *schema {
	return func(defs map[string]*schema) *schema { return &schema{Type: "array", Items: of(defs)} }
}

// atMost refuses a longer list before reading it.
//
//go:noinline
func atMost[T any](most int, what string, v value[[]at[T]]) value[[]at[T]] {
	return value[[]at[T]]{schema: v.schema, read: func(r *reader, n *yaml.Node) ([]at[T], bool) {
		if n.Kind == yaml.SequenceNode && len(n.Content) > most {
			r.fault(r.pos(n), "split the job", "%d %s are more than %d", len(n.Content), what, most)
			return nil, false
		}
		return v.read(r, n)
	}}
}

// oneOrMore is a list that may be written as its only entry.
//
//go:noinline
func oneOrMore[T any](v value[T]) value[[]at[T]] {
	many := list(v)
	return value[[]at[T]]{
		read: func(r *reader, n *yaml.Node) ([]at[T], bool) {
			if n.Kind != yaml.ScalarNode {
				return many.read(r, n)
			}
			got, ok := v.read(r, n)
			return []at[T]{{got, r.pos(n)}}, ok
		},
		schema: func(defs map[string]*schema) *schema {
			return &schema{AnyOf: []*schema{v.schema(defs), many.schema(defs)}}
		},
	}
}

// entry is one line of a mapping whose keys are names.
type entry[T any] struct {
	name at[string]
	at[T]
}

// named is a mapping from names, each once, to values. The name pattern is for the schema and the findings alike.
//
//go:noinline
func named[T any](names nameRule, v value[T]) value[[]entry[T]] {
	return value[[]entry[T]]{
		read: func(r *reader, n *yaml.Node) ([]entry[T], bool) {
			if n.Kind != yaml.MappingNode {
				r.wrongKind(n, "\"name: value\" lines")
				return nil, false
			}
			return readNamed(r, n, names, v), true
		},
		schema: func(defs map[string]*schema) *schema {
			return &schema{Type: "object", PropertyNames: names.schema(), AdditionalProperties: v.schema(defs)}
		},
	}
}

func readNamed[T any](r *reader, n *yaml.Node, names nameRule, v value[T]) []entry[T] {
	var out []entry[T]
	seen := map[string]diag.Pos{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, val := n.Content[i], n.Content[i+1]
		name, ok := names.read(r, k)
		if !ok {
			continue
		}
		if first, twice := seen[name]; twice {
			r.again(r.pos(k), first, name)
			continue
		}
		seen[name] = r.pos(k)
		if got, ok := v.read(r, val); ok {
			out = append(out, entry[T]{at[string]{name, r.pos(k)}, at[T]{got, r.pos(val)}})
		}
	}
	return out
}

// either is a mapping that may be shortened to one word.
func either[S any](long value[S], short value[string], expand func(at[string]) S) value[S] {
	return value[S]{
		read: func(r *reader, n *yaml.Node) (S, bool) {
			if n.Kind != yaml.ScalarNode {
				return long.read(r, n)
			}
			word, ok := short.read(r, n)
			return expand(at[string]{word, r.pos(n)}), ok
		},
		schema: func(defs map[string]*schema) *schema {
			return &schema{AnyOf: []*schema{short.schema(defs), long.schema(defs)}}
		},
	}
}

// pair is a list of exactly two values: [across, up] or [x, y].
//
//go:noinline
func pair[T any](v value[T], what string) value[[2]T] {
	return value[[2]T]{
		read: func(r *reader, n *yaml.Node) (out [2]T, ok bool) {
			if n.Kind != yaml.SequenceNode || len(n.Content) != 2 {
				r.wrongKind(n, "two lengths "+what)
				return out, false
			}
			first, ok1 := v.read(r, n.Content[0])
			second, ok2 := v.read(r, n.Content[1])
			return [2]T{first, second}, ok1 && ok2
		},
		schema: func(defs map[string]*schema) *schema {
			return &schema{Type: "array", Items: v.schema(defs), MinItems: 2, MaxItems: 2, Description: strings.TrimSpace(what)}
		},
	}
}
