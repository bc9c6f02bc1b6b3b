package survey

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"lapwork/generator/sorting"
)

// jobTree is a job's files as people wrote them, for changes that leave every other line as it is.
type jobTree struct {
	files []*jobText
	rooms map[string]roomAt // by id
	order []string
}

// jobText is one file: its lines, and what stands where.
type jobText struct {
	path  string
	lines []string
	root  *yaml.Node
	edits []edit
}

// edit puts lines in place of those from first up to end, both from 0.
type edit struct {
	first, end int
	with       []string
}

// roomAt is a room in a file.
type roomAt struct {
	file *jobText
	node *yaml.Node
}

// readTree reads job.yaml and the files it names.
func readTree(job fs.FS) (*jobTree, error) {
	t := &jobTree{rooms: map[string]roomAt{}}
	top, err := t.open(job, "job.yaml")
	if err != nil {
		return nil, err
	}
	if list := valueOf(top.root, "files"); list != nil {
		for _, f := range list.Content {
			names, err := fs.Glob(job, f.Value)
			if err != nil {
				return nil, fmt.Errorf("job.yaml:%d:%d: %w", f.Line, f.Column, err)
			}
			for _, name := range names {
				if slices.ContainsFunc(t.files, func(o *jobText) bool { return o.path == name }) {
					continue
				}
				if _, err := t.open(job, name); err != nil {
					return nil, err
				}
			}
		}
	}
	return t, nil
}

func (t *jobTree) open(job fs.FS, name string) (*jobText, error) {
	data, err := fs.ReadFile(job, name)
	if err != nil {
		return nil, err
	}
	var doc yaml.Node
	if err := yaml.Unmarshal(data, &doc); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	f := &jobText{path: name, lines: strings.SplitAfter(string(data), "\n"), root: &yaml.Node{Kind: yaml.MappingNode}}
	if f.lines[len(f.lines)-1] == "" {
		f.lines = f.lines[:len(f.lines)-1]
	}
	if len(doc.Content) == 1 && doc.Content[0].Kind == yaml.MappingNode {
		f.root = doc.Content[0]
	}
	t.files = append(t.files, f)
	if rooms := valueOf(f.root, "rooms"); rooms != nil && rooms.Kind == yaml.SequenceNode {
		for _, n := range rooms.Content {
			if id := valueOf(n, "id"); id != nil {
				t.rooms[id.Value] = roomAt{f, n}
				t.order = append(t.order, id.Value)
			}
		}
	}
	return f, nil
}

// valueOf is the value of a key; nil for none.
func valueOf(n *yaml.Node, key string) *yaml.Node {
	if n == nil || n.Kind != yaml.MappingNode {
		return nil
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i+1]
		}
	}
	return nil
}

// text is the text of a scalar key; empty for none.
func textOf(n *yaml.Node, key string) string {
	if v := valueOf(n, key); v != nil && v.Kind == yaml.ScalarNode {
		return v.Value
	}
	return ""
}

// setValue sets a key to a value written in YAML, after the keys that are there.
func setValue(n *yaml.Node, key, text string) error {
	value, err := parseValue(text)
	if err != nil {
		return err
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			old := n.Content[i+1]
			value.HeadComment, value.LineComment, value.FootComment = old.HeadComment, old.LineComment, old.FootComment
			n.Content[i+1] = value
			return nil
		}
	}
	n.Content = append(n.Content, &yaml.Node{Kind: yaml.ScalarNode, Value: key}, value)
	return nil
}

func dropKey(n *yaml.Node, key string) {
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			n.Content = slices.Delete(n.Content, i, i+2)
			return
		}
	}
}

func parseValue(text string) (*yaml.Node, error) {
	var doc yaml.Node
	if err := yaml.Unmarshal([]byte(text), &doc); err != nil {
		return nil, err
	}
	if len(doc.Content) != 1 {
		return nil, errors.New("no value: " + text)
	}
	return doc.Content[0], nil
}

// sameValue says whether two values say the same, whatever their layout, comments and order of keys.
func sameValue(a, b *yaml.Node) bool {
	if a == nil || b == nil || a.Kind != b.Kind || len(a.Content) != len(b.Content) {
		return a == nil && b == nil
	}
	switch a.Kind {
	case yaml.MappingNode:
		for i := 0; i+1 < len(a.Content); i += 2 {
			if !sameValue(a.Content[i+1], valueOf(b, a.Content[i].Value)) {
				return false
			}
		}
		return true
	case yaml.SequenceNode:
		for i := range a.Content {
			if !sameValue(a.Content[i], b.Content[i]) {
				return false
			}
		}
		return true
	}
	return a.Value == b.Value
}

// sameText compares a value in a file with one as a survey writes it.
func sameText(n *yaml.Node, text string) bool {
	if n == nil || text == "" {
		return n == nil && text == ""
	}
	other, err := parseValue(text)
	return err == nil && sameValue(n, other)
}

// span are the lines of a list item or block: from its first line to before the next line that is not deeper.
func (f *jobText) span(n *yaml.Node) (first, end, dash int) {
	first = n.Line - 1
	line := f.lines[first]
	dash = len(line) - len(strings.TrimLeft(line, " "))
	end = first + 1
	for k := end; k < len(f.lines); k++ {
		trimmed := strings.TrimSpace(f.lines[k])
		if trimmed == "" {
			continue
		}
		if indent := len(f.lines[k]) - len(strings.TrimLeft(f.lines[k], " ")); indent <= dash {
			break
		}
		end = k + 1
	}
	return first, end, dash
}

// rewrite writes a changed item in place of its lines.
func (f *jobText) rewrite(n *yaml.Node) error {
	first, end, dash := f.span(n)
	old := f.lines[first:end]
	c := *n
	c.HeadComment, c.FootComment = "", ""
	lines, err := itemLines(&c, dash)
	if err != nil {
		return err
	}
	lines = slices.DeleteFunc(lines, func(l string) bool { // a comment the encoder took along from outside the item
		t := strings.TrimSpace(l)
		return strings.HasPrefix(t, "#") && !slices.ContainsFunc(old, func(o string) bool { return strings.TrimSpace(o) == t })
	})
	f.edits = append(f.edits, edit{first, end, lines})
	return nil
}

// itemLines is a list item as lines behind a dash.
func itemLines(n *yaml.Node, dash int) ([]string, error) {
	var b bytes.Buffer
	enc := yaml.NewEncoder(&b)
	enc.SetIndent(2)
	list := &yaml.Node{Kind: yaml.SequenceNode, Content: []*yaml.Node{n}}
	if err := errors.Join(enc.Encode(list), enc.Close()); err != nil {
		return nil, err
	}
	var out []string
	for _, l := range strings.SplitAfter(b.String(), "\n") {
		if strings.TrimSpace(l) == "" {
			continue
		}
		out = append(out, strings.Repeat(" ", dash)+l)
	}
	return out, nil
}

// appendTo puts lines after the last entry of a block list or mapping.
func (f *jobText) appendTo(block *yaml.Node, key string, text func(indent string) string) error {
	if block.Style&yaml.FlowStyle != 0 || len(block.Content) == 0 {
		return fmt.Errorf("%s:%d: %s is written on one line; write it as a block, one entry a line, and survey again", f.path, block.Line, key)
	}
	last := block.Content[len(block.Content)-1]
	if block.Kind == yaml.MappingNode {
		last = block.Content[len(block.Content)-2]
	}
	_, end, indent := f.span(last)
	f.ended(end)
	f.edits = append(f.edits, edit{end, end, []string{text(strings.Repeat(" ", indent))}})
	return nil
}

// refill puts lines under a top key that holds nothing, in place of its own line.
func (f *jobText) refill(key, text string) {
	for i := 0; i+1 < len(f.root.Content); i += 2 {
		if k := f.root.Content[i]; k.Value == key {
			end := max(k.Line, f.root.Content[i+1].Line)
			f.ended(end)
			f.edits = append(f.edits, edit{k.Line - 1, end, []string{key + ":\n" + text}})
			return
		}
	}
}

// ended gives the line before a place its line break, which the last line of a file may lack.
func (f *jobText) ended(end int) {
	if end > 0 && end == len(f.lines) && !strings.HasSuffix(f.lines[end-1], "\n") {
		f.lines[end-1] += "\n"
	}
}

// atEnd puts text at the end of the file.
func (f *jobText) atEnd(text string) {
	f.ended(len(f.lines))
	f.edits = append(f.edits, edit{len(f.lines), len(f.lines), []string{text}})
}

// bytes is the file with its edits; nil where there are none.
func (f *jobText) bytes() []byte {
	if len(f.edits) == 0 {
		return nil
	}
	sorting.StableFunc(f.edits, func(a, b edit) int { return a.first - b.first })
	var b strings.Builder
	at := 0
	for _, e := range f.edits {
		b.WriteString(strings.Join(f.lines[at:e.first], ""))
		b.WriteString(strings.Join(e.with, ""))
		at = e.end
	}
	b.WriteString(strings.Join(f.lines[at:], ""))
	return []byte(b.String())
}
