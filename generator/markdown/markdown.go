// Package markdown renders the Markdown of statements and jobs. Raw HTML is dropped and dangerous links are cut, since
// job text is hostile. A step may show a computed value: {=lap_mm} becomes a figure node, filled in at render time.
package markdown

import (
	"bytes"
	"errors"
	"fmt"
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// Fill gives the text of a figure: the expression's value with its unit.
type Fill func(expression string) (string, error)

// Renderer turns Markdown into HTML. It is safe for use by several goroutines.
type Renderer struct{ md goldmark.Markdown }

// New gives a renderer with tables, struck-through text and figures.
func New() *Renderer {
	return &Renderer{goldmark.New(
		// a cell's alignment would be a style of its own, which a pack's policy refuses
		goldmark.WithExtensions(extension.NewTable(extension.WithTableCellAlignMethod(extension.TableCellAlignNone)), extension.Strikethrough),
		goldmark.WithParserOptions(parser.WithInlineParsers(util.Prioritized(figureParser{}, 50))),
		goldmark.WithRendererOptions(renderer.WithNodeRenderers(util.Prioritized(figureRenderer{}, 50), util.Prioritized(pictureRenderer{}, 50))),
	)}
}

// Render gives the HTML of a text. A figure that fill refuses makes an error that names the expression.
func (r *Renderer) Render(source string, fill Fill) (string, error) {
	src := []byte(source)
	doc := r.md.Parser().Parse(text.NewReader(src))
	if err := fillFigures(doc, fill); err != nil {
		return "", err
	}
	var b bytes.Buffer
	if err := r.md.Renderer().Render(&b, src, doc); err != nil {
		return "", fmt.Errorf("render markdown: %w", err)
	}
	return strings.TrimSpace(b.String()), nil
}

// Line renders one paragraph without its <p>, for a step or a list row.
func (r *Renderer) Line(source string, fill Fill) (string, error) {
	html, err := r.Render(source, fill)
	if inner, ok := strings.CutPrefix(html, "<p>"); ok && strings.Count(html, "<p>") == 1 {
		html = strings.TrimSuffix(inner, "</p>")
	}
	return html, err
}

// NoFigures is the Fill of texts that may not show computed values.
func NoFigures(string) (string, error) {
	return "", errors.New("a computed value cannot stand here")
}
