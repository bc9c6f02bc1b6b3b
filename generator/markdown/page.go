package markdown

import (
	"bytes"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// Inside says what the links and pictures of a page become; offset is the byte of the source they begin at. An empty answer
// drops the link and keeps its words.
type Inside struct {
	Link, Image func(to string, offset int) string
}

// Page renders a whole page under a heading of its own: its headings stand a step lower. Raw HTML is dropped; a figure
// stands as it was written.
func (r *Renderer) Page(source string, inside Inside) string {
	src := []byte(source)
	doc := r.md.Parser().Parse(text.NewReader(src))
	var plain []ast.Node
	var pictures []*ast.Image
	if err := ast.Walk(doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.Heading:
			n.Level = min(6, n.Level+1)
		case *ast.Link:
			n.Title = nil
			if n.Destination = []byte(inside.Link(string(n.Destination), offset(n))); len(n.Destination) == 0 {
				plain = append(plain, n)
			}
		case *ast.AutoLink:
			inside.Link(string(n.URL(src)), offset(n))
		case *ast.Image:
			pictures = append(pictures, n)
			if n.Destination = []byte(inside.Image(string(n.Destination), offset(n))); len(n.Destination) == 0 {
				plain = append(plain, n)
			}
		case *Figure:
			n.Value = "{=" + n.Expression + "}"
		}
		return ast.WalkContinue, nil
	}); err != nil {
		panic("markdown: a walk that never fails failed: " + err.Error())
	}
	for _, n := range pictures {
		if p := (&Picture{URI: string(n.Destination), Alt: textOf(n, src)}); p.URI != "" {
			n.Parent().ReplaceChild(n.Parent(), n, p)
		}
	}
	for _, n := range plain {
		unwrap(n)
	}
	var b bytes.Buffer
	if err := r.md.Renderer().Render(&b, src, doc); err != nil {
		panic("markdown: writing to memory failed: " + err.Error())
	}
	return string(bytes.TrimSpace(b.Bytes()))
}

// KindPicture is the node kind of a picture that stands in the page itself.
var KindPicture = ast.NewNodeKind("Picture")

// Picture is a picture that its page has checked and carries.
type Picture struct {
	ast.BaseInline
	URI, Alt string
}

// Kind says that the node is a picture.
func (*Picture) Kind() ast.NodeKind { return KindPicture }

// Dump prints the node for debugging.
func (p *Picture) Dump(source []byte, level int) {
	ast.DumpHelper(p, source, level, map[string]string{"Alt": p.Alt}, nil)
}

type pictureRenderer struct{}

func (pictureRenderer) RegisterFuncs(r renderer.NodeRendererFuncRegisterer) {
	r.Register(KindPicture, func(w util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
		if p, ok := n.(*Picture); ok && entering {
			if _, err := w.WriteString(`<img src="` + string(util.EscapeHTML([]byte(p.URI))) + `" alt="` + string(util.EscapeHTML([]byte(p.Alt))) + `">`); err != nil {
				return ast.WalkStop, err
			}
		}
		return ast.WalkContinue, nil
	})
}

// textOf is the plain text inside a node.
func textOf(n ast.Node, src []byte) string {
	var b bytes.Buffer
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		if t, ok := c.(*ast.Text); ok {
			b.Write(t.Value(src))
		} else {
			b.WriteString(textOf(c, src))
		}
	}
	return b.String()
}

// unwrap puts a node's children in its place.
func unwrap(n ast.Node) {
	parent := n.Parent()
	for c := n.FirstChild(); c != nil; {
		next := c.NextSibling()
		parent.InsertBefore(parent, n, c)
		c = next
	}
	parent.RemoveChild(parent, n)
}

// offset is where a node's text begins in the source: its own, or the block's that holds it.
func offset(n ast.Node) int {
	for c := n; c != nil; c = c.FirstChild() {
		if t, ok := c.(*ast.Text); ok {
			return max(0, t.Segment.Start-1)
		}
	}
	for p := n; p != nil; p = p.Parent() {
		if p.Type() == ast.TypeBlock && p.Lines() != nil && p.Lines().Len() > 0 {
			return p.Lines().At(0).Start
		}
	}
	return 0
}
