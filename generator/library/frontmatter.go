package library

import (
	"math"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"

	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

// document is one statement file while it is read: it turns places of the YAML part into places of the file.
type document struct {
	file  string
	lines []string // of the whole file
	shift int      // lines before the YAML part
	found *diag.List
}

// pos gives the place of a node. YAML counts characters, findings count bytes.
func (d *document) pos(n *yaml.Node) diag.Pos {
	p := diag.Pos{File: d.file, Line: n.Line + d.shift, Col: n.Column}
	if p.Line < 1 || p.Line > len(d.lines) {
		return diag.Pos{File: d.file, Line: min(max(p.Line, 1), len(d.lines))}
	}
	runes := 1
	for i := range d.lines[p.Line-1] {
		if runes == n.Column {
			p.Col = i + 1
		}
		runes++
	}
	return p
}

// exprPos gives the place where the text of a scalar begins, so that a finding inside an expression can point into it.
func (d *document) exprPos(n *yaml.Node) diag.Pos {
	p := d.pos(n)
	switch n.Style {
	case yaml.DoubleQuotedStyle, yaml.SingleQuotedStyle:
		p.Col++
	case yaml.LiteralStyle, yaml.FoldedStyle:
		p.Col = 0
	}
	if p.Line >= 1 && p.Line <= len(d.lines) && p.Col >= 1 && p.Col <= len(d.lines[p.Line-1]) &&
		!strings.HasPrefix(d.lines[p.Line-1][p.Col-1:], n.Value) {
		p.Col = 0 // escapes, or a scalar over several lines: the line is all we can say
	}
	return p
}

func (d *document) faultf(n *yaml.Node, hint, format string, args ...any) {
	d.found.Faultf(d.pos(n), hint, format, args...)
}

// mapping is a YAML mapping whose keys have been checked.
type mapping struct {
	doc    *document
	node   *yaml.Node
	values map[string]*yaml.Node
}

// mapping reads a node that must be a mapping with these keys only.
func (d *document) mapping(n *yaml.Node, what string, keys []string) (mapping, bool) {
	m := mapping{d, n, map[string]*yaml.Node{}}
	if n.Kind != yaml.MappingNode {
		d.faultf(n, "write key: value pairs", "%s must be key: value pairs", what)
		return m, false
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		switch {
		case !oneOf(k.Value, keys):
			d.faultf(k, suggest(k.Value, keys), "unknown key %q in %s", k.Value, what)
		case m.values[k.Value] != nil:
			d.faultf(k, "keep one of them", "key %q stands twice in %s", k.Value, what)
		default:
			m.values[k.Value] = v
		}
	}
	return m, true
}

func (m mapping) has(key string) bool { return m.values[key] != nil }

// at gives the place of a key's value, or of the mapping when the key is missing.
func (m mapping) at(key string) diag.Pos {
	if v := m.values[key]; v != nil {
		return m.doc.pos(v)
	}
	return m.doc.pos(m.node)
}

// text gives the scalar under key; a missing key is empty text.
func (m mapping) text(key string) string {
	v := m.values[key]
	if v == nil {
		return ""
	}
	return m.doc.scalar(v, key)
}

// need gives the scalar under key, which must be there.
func (m mapping) need(key string) string {
	if s := m.text(key); s != "" {
		return s
	}
	if m.present(key) && m.values[key].Kind == yaml.ScalarNode && strings.TrimSpace(m.values[key].Value) == "" {
		m.doc.faultf(m.values[key], "", "key %q is empty", key)
	}
	return ""
}

// present reports whether key is there, and that it is missing if not.
func (m mapping) present(key string) bool {
	if !m.has(key) {
		m.doc.faultf(m.node, "add "+key+":", "key %q is missing", key)
	}
	return m.has(key)
}

// word gives a scalar that must be one of a few words.
func (m mapping) word(key string, known []string) string {
	s := m.need(key)
	if s != "" && !oneOf(s, known) {
		m.doc.faultf(m.values[key], suggest(s, known), "%s: unknown word %q", key, s)
	}
	return s
}

// number gives the scalar under key as a number; a missing key is 0.
func (m mapping) number(key string) float64 {
	v := m.values[key]
	if v == nil {
		return 0
	}
	x, _ := m.doc.number(v, key)
	return x
}

// fromOne gives the scalar under key, which must be there, as a whole number from 1 up.
func (m mapping) fromOne(key, hint string) int {
	x, ok := 0.0, true
	if v := m.values[key]; v != nil {
		x, ok = m.doc.number(v, key)
	}
	if ok && (x < 1 || x != math.Trunc(x)) {
		m.doc.found.Faultf(m.at(key), hint, "a statement has a whole number from 1 up as its %s", key)
	}
	return int(x)
}

func (m mapping) yes(key string) bool {
	return m.has(key) && m.word(key, []string{"yes", "no"}) == "yes"
}

// maxScalar is the longest text of a key, in bytes. Own choice: the longest of the built-in details has some hundred, and a
// finding repeats what it is about.
const maxScalar = 10_000

func (d *document) scalar(n *yaml.Node, what string) string {
	if n.Kind != yaml.ScalarNode {
		d.faultf(n, "quote it if it begins with [ or {", "%s must be one text", what)
		return ""
	}
	if len(n.Value) > maxScalar {
		d.faultf(n, "shorten it", "%s is longer than %d letters", what, maxScalar)
		return ""
	}
	return strings.TrimSpace(n.Value)
}

// number reads a finite figure; drawings and priorities have no use for more than a million.
func (d *document) number(n *yaml.Node, what string) (x float64, ok bool) {
	s := d.scalar(n, what)
	x, err := strconv.ParseFloat(s, 64)
	if err != nil || x != x || x > 1e6 || x < -1e6 {
		d.faultf(n, "write digits with a decimal point, no unit", "%s: %q is no usable number", what, s)
		return 0, false
	}
	return x, true
}

// items gives the entries of a list; a missing key is no entry.
func (m mapping) items(key string) []*yaml.Node {
	v := m.values[key]
	if v == nil {
		return nil
	}
	if v.Kind != yaml.SequenceNode {
		m.doc.faultf(v, "write a list: [a, b] or one - entry a line", "%s must be a list", key)
		return nil
	}
	return v.Content
}

// texts gives a list of scalars.
func (m mapping) texts(key string) []string {
	var out []string
	for _, n := range m.items(key) {
		if s := m.doc.scalar(n, "each entry of "+key); s != "" {
			out = append(out, s)
		}
	}
	return out
}

// entries gives the places of the entries under some keys, by key/entry; what is no text is left to who reads it.
func (m mapping) entries(keys ...string) map[string]diag.Pos {
	out := map[string]diag.Pos{}
	for _, key := range keys {
		v := m.values[key]
		if v == nil {
			continue
		}
		nodes := v.Content
		if v.Kind == yaml.ScalarNode {
			nodes = []*yaml.Node{v}
		}
		for _, n := range nodes {
			out[key+"/"+strings.TrimSpace(n.Value)] = m.doc.pos(n)
		}
	}
	return out
}

// source reads "status word, where it comes from"; a missing key takes the fallback.
func (m mapping) source(key string, fallback q.Source) q.Source {
	if !m.has(key) {
		return fallback
	}
	text := m.need(key)
	word, rest, _ := strings.Cut(text, ",")
	status, ok := q.ParseStatus(strings.TrimSpace(word))
	if !ok {
		m.doc.faultf(m.values[key], "begin with one of: "+strings.Join(statusWords(), ", "),
			"%s: %q is no status word", key, strings.TrimSpace(word))
	}
	return q.Source{Text: strings.TrimSpace(rest), Status: status}
}
