package library

import (
	"fmt"
	"reflect"
	"slices"

	"github.com/expr-lang/expr/ast"

	"lapwork/generator/job"
)

// names walks an expression before it is type-checked: it reports every unknown name, refuses what the language of the
// library leaves out, and turns flag.x into a look-up of the right type.
type names struct {
	flags   map[job.FlagID]*Flag
	known   []string
	used    []job.FlagID
	unknown []unknownName
}

type unknownName struct {
	from      int
	msg, hint string
}

// functions are the only ones an expression may call.
var functions = []string{"ceil", "max", "min"}

// operators are the only ones an expression may use.
var operators = []string{"+", "-", "*", "/", "==", "!=", "<", "<=", ">", ">=", "in", "and", "or", "not", "&&", "||", "!"}

// Visit implements ast.Visitor. It sees children before their parent.
func (n *names) Visit(node *ast.Node) {
	switch t := (*node).(type) {
	case *ast.IdentifierNode:
		if t.Value != "flag" && !oneOf(t.Value, n.known) && !oneOf(t.Value, functions) {
			n.refuse(t, fmt.Sprintf("unknown name %q", t.Value), suggest(t.Value, n.known))
		}
	case *ast.MemberNode:
		n.flag(node, t)
	case *ast.BinaryNode:
		n.operator(t, t.Operator)
	case *ast.UnaryNode:
		n.operator(t, t.Operator)
	case *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.StringNode, *ast.ConstantNode, *ast.ArrayNode, *ast.CallNode:
	default:
		n.refuse(*node, "this construct is not part of the expression language",
			"use comparisons, in, and, or, not, + - * /, ceil, max, min")
	}
}

func (n *names) operator(node ast.Node, op string) {
	if !oneOf(op, operators) {
		n.refuse(node, fmt.Sprintf("operator %q is not part of the expression language", op), "use comparisons, in, and, or, not, + - * /")
	}
}

func (n *names) flag(node *ast.Node, t *ast.MemberNode) {
	of, ok := t.Node.(*ast.IdentifierNode)
	if !ok || of.Value != "flag" {
		return
	}
	word, ok := t.Property.(*ast.StringNode)
	if !ok {
		n.refuse(t, "write a site question as flag.name", "")
		return
	}
	f, ok := n.flags[job.FlagID(word.Value)]
	if !ok {
		known := make([]string, 0, len(n.flags))
		for id := range n.flags {
			known = append(known, string(id))
		}
		slices.Sort(known)
		n.refuse(t, fmt.Sprintf("unknown site question flag.%s", word.Value), suggest(word.Value, known))
		ast.Patch(node, &ast.BoolNode{})
		return
	}
	if !slices.Contains(n.used, f.ID) {
		n.used = append(n.used, f.ID)
	}
	of.Value = "flag_yes"
	if len(f.Values) > 0 {
		of.Value = "flag_word"
	}
}

func (n *names) refuse(node ast.Node, msg, hint string) {
	from := node.Location().From
	for _, u := range n.unknown {
		if u.from == from && u.msg == msg {
			return
		}
	}
	n.unknown = append(n.unknown, unknownName{from, msg, hint})
}

// namesOf gives the names an environment offers, without the two maps behind flag.
func namesOf(env any) []string {
	var out []string
	for f := range reflect.TypeOf(env).Fields() {
		if name, ok := f.Tag.Lookup("expr"); ok && name != "flag_yes" && name != "flag_word" {
			out = append(out, name)
		}
	}
	return out
}
