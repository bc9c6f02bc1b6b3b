package share

import (
	"bytes"
	"cmp"
	"strings"

	"golang.org/x/net/html"

	"lapwork/generator/record"
)

// statements reads the statements of a self-contained file as the tablet does, by seal, so that the words a record was made
// against can be kept with it. One whose words do not give its seal is left out.
func statements(page []byte) (map[string][]record.Line, error) {
	root, err := html.Parse(bytes.NewReader(page))
	if err != nil {
		return nil, err
	}
	out := map[string][]record.Line{}
	add := func(within *html.Node, seal string) {
		if seal == "" || out[seal] != nil {
			return
		}
		if lines := linesIn(within, ""); record.Seal(lines) == seal {
			out[seal] = lines
		}
	}
	for n := range root.Descendants() {
		add(n, attr(n, "data-seal"))
		if seal := attr(n, "data-page-seal"); seal != "" {
			add(section(n), seal)
		}
	}
	return out, nil
}

// section is the page that n stands on.
func section(n *html.Node) *html.Node {
	for at := range n.Ancestors() {
		if at.Data == "section" && at.Type == html.ElementNode {
			return at
		}
	}
	return n
}

// linesIn gives the statement lines at and below n in reading order; check is the key of the check around n.
func linesIn(n *html.Node, check string) []record.Line {
	if key := cmp.Or(attr(n, "data-check"), attr(n, "data-key")); key != "" {
		check = key
	}
	var out []record.Line
	if name := attr(n, "data-s"); name != "" {
		if text := record.Folded(textOf(n)); text != "" {
			out = append(out, record.Line{Key: check + "#" + name, Text: text, Unit: attr(n, "data-unit")})
		}
	}
	for c := range n.ChildNodes() {
		out = append(out, linesIn(c, check)...)
	}
	return out
}

func textOf(n *html.Node) string {
	var b strings.Builder
	for c := range n.Descendants() {
		if c.Type == html.TextNode {
			b.WriteString(c.Data)
		}
	}
	return b.String()
}

func attr(n *html.Node, name string) string {
	if n.Type != html.ElementNode {
		return ""
	}
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}
