package share

import (
	"bytes"
	"cmp"
	"slices"
	"strings"

	"golang.org/x/net/html"

	"lapwork/generator/record"
)

// statements reads the statements of a self-contained file as the tablet does, by seal, so that the words a record was made
// against can be kept with it. A page carries the first digits of a seal; one whose words do not give it is left out.
func statements(page []byte) (map[string][]record.Line, error) {
	root, err := html.Parse(bytes.NewReader(page))
	if err != nil {
		return nil, err
	}
	out := map[string][]record.Line{}
	add := func(lines []record.Line, begin string) {
		if seal := record.Seal(lines); begin != "" && strings.HasPrefix(seal, begin) {
			out[seal] = lines
		}
	}
	for n := range root.Descendants() {
		if keyOf(n) != "" {
			add(linesOf(n), attr(n, "data-seal"))
		}
		if seal := attr(n, "data-page-seal"); seal != "" {
			add(linesIn(section(n)), seal)
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

// linesIn gives the statement lines of every check and entry below n, in reading order.
func linesIn(n *html.Node) []record.Line {
	var out []record.Line
	for c := range n.Descendants() {
		if keyOf(c) != "" {
			out = append(out, linesOf(c)...)
		}
	}
	return out
}

// keyOf is the key of a check or another entry that is recorded; empty where n is none.
func keyOf(n *html.Node) string { return cmp.Or(attr(n, "data-check"), attr(n, "data-key")) }

// The lines of a check in the order they are sealed in, and those that checks side by side may share.
var (
	checkOrder  = []string{"title", "hold", "accept", "method", "who", "places"}
	sharedLines = []string{"title", "method", "who"}
)

// linesOf gives the statement lines of one check or entry. What checks share stands once, above them.
func linesOf(n *html.Node) []record.Line {
	key, said := keyOf(n), linesAt(n)
	if attr(n, "data-check") == "" {
		for i := range said {
			said[i].Key = key + "#" + said[i].Key
		}
		return said
	}
	var above []record.Line
	for at := range n.Ancestors() {
		if attr(at, "class") == "same" {
			above = linesAt(at)
			break
		}
	}
	var out []record.Line
	for _, name := range checkOrder {
		named := func(l record.Line) bool { return l.Key == name }
		if i := slices.IndexFunc(said, named); i >= 0 {
			out = append(out, record.Line{Key: key + "#" + name, Text: said[i].Text, Unit: said[i].Unit})
		} else if i := slices.IndexFunc(above, named); i >= 0 && slices.Contains(sharedLines, name) {
			out = append(out, record.Line{Key: key + "#" + name, Text: above[i].Text, Unit: above[i].Unit})
		}
	}
	return out
}

// linesAt gives the lines below n in reading order, each by its own name.
func linesAt(n *html.Node) []record.Line {
	var out []record.Line
	for c := range n.Descendants() {
		if name := attr(c, "data-s"); name != "" {
			if text := record.Folded(textOf(c)); text != "" {
				out = append(out, record.Line{Key: name, Text: text, Unit: attr(c, "data-unit")})
			}
		}
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
