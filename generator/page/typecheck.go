package page

import (
	"fmt"
	"reflect"
	"strings"
	"text/template/parse"
)

// checker follows templates with the types that they are given, as they would run: a field that a view does not have is
// found although the place it stands at may never be reached.
type checker struct {
	parts   map[string]*parse.Tree // by name
	calls   map[string]reflect.Type
	view    reflect.Type // of the page's own view, which a page holds as any
	seen    map[visit]bool
	reached map[string]bool
	report  func(t *parse.Tree, at parse.Pos, format string, args ...any)
}

// visit is a part with the type of its dot.
type visit struct {
	name string
	dot  reflect.Type
	view reflect.Type
}

// scope is what the nodes of one part see.
type scope struct {
	*checker
	tree *parse.Tree
	vars []variable
}

type variable struct {
	name string
	typ  reflect.Type // nil: unknown, anything goes
}

var (
	contentType = reflect.TypeFor[content]()
	sheetType   = reflect.TypeFor[sheet]()
	boolType    = reflect.TypeFor[bool]()
	intType     = reflect.TypeFor[int]()
	stringType  = reflect.TypeFor[string]()
)

// builtins are the functions every template has, by what they give; nil: that depends.
var builtins = map[string]reflect.Type{"and": nil, "or": nil, "index": nil, "slice": nil, "call": nil, "not": boolType, "eq": boolType, "ne": boolType, "lt": boolType, "le": boolType,
	"gt": boolType, "ge": boolType, "len": intType, "print": stringType, "printf": stringType, "println": stringType, "html": stringType, "js": stringType, "urlquery": stringType}

// part checks one part with a dot of the type.
func (c *checker) part(name string, dot reflect.Type) {
	c.reached[name] = true
	t := c.parts[name]
	if v := (visit{name, dot, c.view}); t != nil && !c.seen[v] {
		c.seen[v] = true
		s := &scope{c, t, []variable{{"$", dot}}}
		s.list(t.Root, dot)
	}
}

func (s *scope) fail(n parse.Node, format string, args ...any) {
	s.report(s.tree, n.Position(), format, args...)
}

func (s *scope) list(l *parse.ListNode, dot reflect.Type) {
	if l == nil {
		return
	}
	for _, n := range l.Nodes {
		s.node(n, dot)
	}
}

func (s *scope) node(n parse.Node, dot reflect.Type) {
	switch n := n.(type) {
	case *parse.ActionNode:
		s.pipe(n.Pipe, dot)
	case *parse.IfNode:
		s.branch(&n.BranchNode, dot, false)
	case *parse.WithNode:
		s.branch(&n.BranchNode, dot, true)
	case *parse.RangeNode:
		s.each(n, dot)
	case *parse.TemplateNode:
		var given reflect.Type
		if n.Pipe != nil {
			given = s.pipe(n.Pipe, dot)
		}
		if s.parts[n.Name] == nil {
			s.fail(n, "there is no part %q", n.Name)
			return
		}
		s.part(n.Name, given)
	}
}

func (s *scope) branch(n *parse.BranchNode, dot reflect.Type, moves bool) {
	mark := len(s.vars)
	inside := dot
	if got := s.pipe(n.Pipe, dot); moves {
		inside = got
	}
	s.list(n.List, inside)
	s.vars = s.vars[:mark]
	s.list(n.ElseList, dot)
}

func (s *scope) each(n *parse.RangeNode, dot reflect.Type) {
	mark := len(s.vars)
	key, elem := s.elements(n.Pipe, s.pipe(n.Pipe, dot))
	for i, v := range n.Pipe.Decl {
		typ := elem
		if len(n.Pipe.Decl) == 2 && i == 0 {
			typ = key
		}
		s.vars[len(s.vars)-len(n.Pipe.Decl)+i] = variable{v.Ident[0], typ}
	}
	s.list(n.List, elem)
	s.vars = s.vars[:mark]
	s.list(n.ElseList, dot)
}

// elements are the types that a range over a type gives.
func (s *scope) elements(at parse.Node, t reflect.Type) (key, elem reflect.Type) {
	if t = behind(t); t == nil {
		return nil, nil
	}
	switch t.Kind() {
	case reflect.Slice, reflect.Array:
		return intType, t.Elem()
	case reflect.Map:
		return t.Key(), t.Elem()
	case reflect.Int:
		return intType, intType
	}
	s.fail(at, "nothing to range over in a %s", called(t))
	return nil, nil
}

func (s *scope) pipe(p *parse.PipeNode, dot reflect.Type) reflect.Type {
	var got reflect.Type
	for i, c := range p.Cmds {
		got = s.command(c, dot, got, i > 0)
	}
	for _, v := range p.Decl {
		s.vars = append(s.vars, variable{v.Ident[0], got})
	}
	return got
}

// command gives what one command of a pipeline gives; before is what it is handed.
func (s *scope) command(c *parse.CommandNode, dot, before reflect.Type, handed bool) reflect.Type {
	args := make([]reflect.Type, 0, len(c.Args))
	for _, a := range c.Args[1:] {
		args = append(args, s.operand(a, dot, nil))
	}
	if handed {
		args = append(args, before)
	}
	return s.operand(c.Args[0], dot, args)
}

// operand gives the type of one word of a command; args are what it is called with.
func (s *scope) operand(n parse.Node, dot reflect.Type, args []reflect.Type) reflect.Type {
	switch n := n.(type) {
	case *parse.DotNode:
		return dot
	case *parse.FieldNode:
		return s.fields(n, dot, n.Ident, args)
	case *parse.ChainNode:
		return s.fields(n, s.operand(n.Node, dot, nil), n.Field, args)
	case *parse.VariableNode:
		for i := len(s.vars) - 1; i >= 0; i-- {
			if s.vars[i].name == n.Ident[0] {
				return s.fields(n, s.vars[i].typ, n.Ident[1:], args)
			}
		}
	case *parse.PipeNode:
		return s.pipe(n, dot)
	case *parse.IdentifierNode:
		return s.call(n, n.Ident, args)
	case *parse.BoolNode:
		return boolType
	case *parse.StringNode:
		return stringType
	case *parse.NumberNode:
		return intType
	}
	return nil
}

func (s *scope) call(n parse.Node, name string, args []reflect.Type) reflect.Type {
	f, ours := s.calls[name]
	if !ours {
		return builtins[name]
	}
	s.fit(n, name, f, 0, args)
	return f.Out(0)
}

// fit reports arguments that a function does not take; its first skip ones are given already.
func (s *scope) fit(n parse.Node, name string, f reflect.Type, skip int, args []reflect.Type) {
	want := f.NumIn() - skip
	if f.IsVariadic() && len(args) < want-1 || !f.IsVariadic() && len(args) != want {
		s.fail(n, "%s takes %d values, not %d", name, want, len(args))
		return
	}
	for i, a := range args {
		if f.IsVariadic() && i >= want-1 {
			return
		}
		if in := f.In(i + skip); a != nil && a.Kind() != reflect.Interface && !a.AssignableTo(in) && !(a.Kind() == reflect.Pointer && a.Elem().AssignableTo(in)) && !reflect.PointerTo(a).AssignableTo(in) {
			s.fail(n, "%s takes a %s, not a %s", name, called(in), called(a))
		}
	}
}

// fields follows a chain of fields and methods.
func (s *scope) fields(n parse.Node, t reflect.Type, names []string, args []reflect.Type) reflect.Type {
	for i, name := range names {
		if t == nil {
			return nil
		}
		if (t == contentType || t == sheetType) && name == "View" {
			t = s.view
			continue
		}
		var with []reflect.Type
		if i == len(names)-1 {
			with = args
		}
		if t = s.member(n, t, name, with); t == nil {
			return nil
		}
	}
	return t
}

// member gives the type of a field or method.
func (s *scope) member(n parse.Node, t reflect.Type, name string, args []reflect.Type) reflect.Type {
	base := behind(t)
	if base.Kind() == reflect.Interface && base.NumMethod() == 0 {
		return nil
	}
	for _, owner := range []reflect.Type{base, reflect.PointerTo(base)} {
		if m, ok := owner.MethodByName(name); ok {
			s.fit(n, name, m.Type, 1, args)
			return m.Type.Out(0)
		}
	}
	if base.Kind() == reflect.Struct {
		if f, ok := base.FieldByName(name); ok && f.IsExported() {
			return f.Type
		}
		s.fail(n, "%s has no field %s; it has %s", called(base), name, fieldsOf(base))
		return nil
	}
	if base.Kind() == reflect.Map {
		return base.Elem()
	}
	s.fail(n, "a %s has no field %s", called(base), name)
	return nil
}

// behind is the type that a pointer leads to.
func behind(t reflect.Type) reflect.Type {
	for t != nil && t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	return t
}

// called is a type's name as those who write templates know it.
func called(t reflect.Type) string {
	if t.Kind() == reflect.Slice {
		return "list of " + called(t.Elem())
	}
	if name := behind(t).Name(); name != "" {
		return name
	}
	return fmt.Sprint(t)
}

func fieldsOf(t reflect.Type) string {
	var names []string
	for i := range t.NumField() {
		if f := t.Field(i); f.IsExported() {
			names = append(names, f.Name)
		}
	}
	return strings.Join(names, ", ")
}
