package markdown

import (
	"fmt"
	"strings"
	"unicode"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// KindFigure is the node kind of a computed value.
var KindFigure = ast.NewNodeKind("Figure")

// Figure is a computed value inside a text.
type Figure struct {
	ast.BaseInline
	Expression string
	Offset     int    // byte offset of the expression in the source
	Value      string // set before rendering
}

// Kind says that the node is a figure.
func (*Figure) Kind() ast.NodeKind { return KindFigure }

// Dump prints the node for debugging.
func (f *Figure) Dump(source []byte, level int) {
	ast.DumpHelper(f, source, level, map[string]string{"Expression": f.Expression}, nil)
}

// figureParser reads {=expression} up to the first closing brace on the line.
type figureParser struct{}

func (figureParser) Trigger() []byte { return []byte{'{'} }

func (figureParser) Parse(_ ast.Node, block text.Reader, _ parser.Context) ast.Node {
	line, segment := block.PeekLine()
	if len(line) < 3 || line[1] != '=' {
		return nil
	}
	for i := 2; i < len(line); i++ {
		if line[i] == '}' {
			block.Advance(i + 1)
			return &Figure{Expression: string(line[2:i]), Offset: segment.Start + 2}
		}
	}
	return nil
}

// figureRenderer writes the value in bold; an expression that was filled with its own words, since it has no value, in
// italics.
type figureRenderer struct{}

func (figureRenderer) RegisterFuncs(r renderer.NodeRendererFuncRegisterer) {
	r.Register(KindFigure, func(w util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
		if f, ok := n.(*Figure); ok && entering {
			text := `<b class="fig">` + string(util.EscapeHTML([]byte(f.Value))) + `</b>`
			if f.Value == strings.TrimSpace(f.Expression) && strings.ContainsFunc(f.Value, unicode.IsLetter) {
				text = `<i>` + string(util.EscapeHTML([]byte(f.Value))) + `</i>`
			}
			if _, err := w.WriteString(text); err != nil {
				return ast.WalkStop, err
			}
		}
		return ast.WalkContinue, nil
	})
}

// fillFigures sets every figure's value.
func fillFigures(doc ast.Node, fill Fill) error {
	return ast.Walk(doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		f, ok := n.(*Figure)
		if !ok || !entering {
			return ast.WalkContinue, nil
		}
		value, err := fill(f.Expression)
		if err != nil {
			return ast.WalkStop, fmt.Errorf("figure {=%s}: %w", f.Expression, err)
		}
		f.Value = value
		return ast.WalkContinue, nil
	})
}

// Figures lists the figures of a text with their places, for a checker.
func (r *Renderer) Figures(source string) []*Figure {
	var found []*Figure
	doc := r.md.Parser().Parse(text.NewReader([]byte(source)))
	if err := ast.Walk(doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if f, ok := n.(*Figure); ok && entering {
			found = append(found, f)
		}
		return ast.WalkContinue, nil
	}); err != nil {
		panic("markdown: a walk that never fails failed: " + err.Error())
	}
	return found
}
