package library

import (
	"slices"

	"github.com/expr-lang/expr/ast"
	exprparser "github.com/expr-lang/expr/parser"

	"lapwork/generator/diag"
)

// mention is what a predicate says about records: the names it asks for, the words it compares each with and the figures
// beside them. Which records it is true for depends on nothing else.
type mention struct {
	names   []string // in order of first mention: edge, sub.id, flag.rod
	words   map[string][]word
	figures map[string][]float64
}

// word is a text in a predicate, with its place.
type word struct {
	text string
	pos  diag.Pos
}

// mentionsOf reads a predicate that has been compiled once already; one that has not says nothing.
func mentionsOf(p Predicate) mention {
	m := mention{words: map[string][]word{}, figures: map[string][]float64{}}
	tree, err := exprparser.Parse(p.Source)
	if err != nil || p.program == nil {
		return m
	}
	m.read(tree.Node, p)
	return m
}

func (m *mention) read(n ast.Node, p Predicate) {
	switch t := n.(type) {
	case *ast.UnaryNode:
		m.read(t.Node, p)
	case *ast.BinaryNode:
		if oneOf(t.Operator, []string{"and", "or", "&&", "||"}) {
			m.read(t.Left, p)
			m.read(t.Right, p)
			return
		}
		m.compare(t, p)
	default:
		if name := nameOf(n); name != "" {
			m.name(name)
		}
	}
}

// compare notes every name of a comparison with every word and figure of it.
func (m *mention) compare(n ast.Node, p Predicate) {
	var c comparison
	ast.Walk(&n, &c)
	for _, name := range c.names {
		m.name(name)
		for _, s := range c.words {
			m.words[name] = append(m.words[name], word{s.Value, within(p.Pos, p.Source, s.Location().From)})
		}
		m.figures[name] = append(m.figures[name], c.figures...)
	}
}

func (m *mention) name(name string) {
	if !slices.Contains(m.names, name) {
		m.names = append(m.names, name)
	}
}

// comparison collects what stands on both sides of an operator. The walk shows children before their parents, so the
// word of a member such as sub.id is taken out again when the member is seen.
type comparison struct {
	names   []string
	words   []*ast.StringNode
	figures []float64
}

// Visit implements ast.Visitor.
func (c *comparison) Visit(node *ast.Node) {
	switch t := (*node).(type) {
	case *ast.StringNode:
		c.words = append(c.words, t)
	case *ast.IntegerNode:
		c.figures = append(c.figures, float64(t.Value))
	case *ast.FloatNode:
		c.figures = append(c.figures, t.Value)
	case *ast.IdentifierNode:
		if !oneOf(t.Value, functions) && !oneOf(t.Value, []string{"flag", "sub", "mem"}) {
			c.names = append(c.names, t.Value)
		}
	case *ast.MemberNode:
		if name := nameOf(t); name != "" {
			c.names = append(c.names, name)
			c.words = slices.DeleteFunc(c.words, func(s *ast.StringNode) bool { return s == t.Property })
		}
	}
}

// nameOf is a name alone or with its member; empty for anything else.
func nameOf(n ast.Node) string {
	switch t := n.(type) {
	case *ast.IdentifierNode:
		return t.Value
	case *ast.MemberNode:
		of, isName := t.Node.(*ast.IdentifierNode)
		member, isWord := t.Property.(*ast.StringNode)
		if isName && isWord {
			return of.Value + "." + member.Value
		}
	}
	return ""
}
