package library

import (
	"crypto/sha256"
	"encoding/hex"
	"regexp"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// Keys of a statement's front matter, in the order authors write them.
var statementKeys = []string{"id", "title", "revision", "group", "applies", "replaces", "deprecated", "substrates", "seals", "measure",
	"drives", "activity", "labour", "conditions", "components", "variants", "turn", "prepare", "checks", "tolerance",
	"faults", "cautions", "after", "before", "rules", "examples", "section", "unresolved", "source", "figures"}

// Groups of statements, as the junction schedule lists them.
var Groups = []string{"field", "edge", "structure", "opening", "penetration"}

var idShape = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

// parser reads one statement file.
type parser struct {
	*document
	compiler
}

// parseStatement reads a statement file. Every finding goes to found; the statement is nil when the file is so broken
// that nothing can be said about it.
func parseStatement(text, file string, c compiler) *Statement {
	text = plainStart(text)
	d := &document{file: file, lines: strings.Split(text, "\n"), found: c.found}
	p := parser{d, c}
	if !d.readable(text) {
		return nil
	}
	front, body, ok := p.split()
	if !ok {
		return nil
	}
	var root yaml.Node
	if err := yaml.Unmarshal([]byte(front), &root); err != nil {
		p.syntax(err)
		return nil
	}
	if len(root.Content) == 0 {
		d.found.Faultf(diag.Pos{File: file, Line: 1, Col: 1}, "begin with id:", "the front matter is empty")
		return nil
	}
	if !p.plain(&root) {
		return nil
	}
	m, ok := d.mapping(root.Content[0], "a statement", statementKeys)
	if !ok {
		return nil
	}
	s := p.statement(m)
	p.steps(s, body)
	sum := sha256.Sum256([]byte(text))
	s.Text = text
	s.Hash = hex.EncodeToString(sum[:])[:12]
	return s
}

// plainStart takes away the mark that some editors and spreadsheets put before UTF-8 text.
func plainStart(text string) string { return strings.TrimPrefix(text, "\ufeff") }

// readable refuses what is no text that an editor shows as it is.
func (d *document) readable(text string) bool {
	if !utf8.ValidString(text) {
		d.found.Faultf(diag.Pos{File: d.file, Line: 1, Col: 1}, "save it as UTF-8", "the file is not UTF-8 text")
		return false
	}
	for i, line := range d.lines {
		line = strings.TrimSuffix(line, "\r")
		at := strings.IndexFunc(line, func(c rune) bool { return unicode.IsControl(c) && c != '\t' || c == 0x2028 || c == 0x2029 })
		if at >= 0 {
			d.found.Faultf(diag.Pos{File: d.file, Line: i + 1, Col: at + 1}, "delete it, or save the file as plain text with usual line ends",
				"this character is invisible and has no place in a text")
			return false
		}
	}
	return true
}

// split finds the front matter between two lines of three dashes; body is the index of the first line after it.
func (p parser) split() (front string, body int, ok bool) {
	start := diag.Pos{File: p.file, Line: 1, Col: 1}
	if strings.TrimRight(p.lines[0], " \r") != "---" {
		p.document.found.Faultf(start, "begin the file with a line ---", "a statement begins with front matter")
		return "", 0, false
	}
	for i := 1; i < len(p.lines); i++ {
		if strings.TrimRight(p.lines[i], " \r") == "---" {
			p.shift = 1
			return strings.Join(p.lines[1:i], "\n"), i + 1, true
		}
	}
	p.document.found.Faultf(start, "end it with a line ---", "the front matter is not closed")
	return "", 0, false
}

var yamlLine = regexp.MustCompile(`line (\d+): (?s)(.*)`)

// syntax reports a YAML error at its line.
func (p parser) syntax(err error) {
	at, msg := diag.Pos{File: p.file, Line: 1}, strings.TrimPrefix(err.Error(), "yaml: ")
	if g := yamlLine.FindStringSubmatch(msg); g != nil {
		if n, err := strconv.Atoi(g[1]); err == nil {
			at.Line, msg = min(n+p.shift, len(p.lines)), g[2]
		}
	}
	hint := "look at this line and the one above: quote a text that holds \": \" or begins with a bracket"
	if strings.Contains(msg, "tab character") {
		at, hint = p.firstTab(at), "indent with spaces"
	}
	p.document.found.Faultf(at, hint, "front matter: %s", msg)
}

// firstTab is the first tab that indents a line from the one before a place, which is as near as YAML tells it; or the place.
func (p parser) firstTab(near diag.Pos) diag.Pos {
	for i := max(near.Line-1, 1); i <= len(p.lines); i++ {
		line := p.lines[i-1]
		if at := strings.IndexByte(line, '\t'); at >= 0 && strings.TrimLeft(line[:at], " ") == "" {
			return diag.Pos{File: near.File, Line: i, Col: at + 1}
		}
	}
	return near
}

// plain refuses anchors and aliases: a statement reads from top to bottom.
func (p parser) plain(n *yaml.Node) bool {
	if n.Kind == yaml.AliasNode || n.Anchor != "" {
		p.faultf(n, "write it out", "anchors and aliases are not used here")
		return false
	}
	for _, c := range n.Content {
		if !p.plain(c) {
			return false
		}
	}
	return true
}

func (p parser) statement(m mapping) *Statement {
	s := &Statement{ID: StatementID(p.id(m, "id")), Title: m.need("title"), Group: m.word("group", Groups),
		Replaces: StatementID(m.text("replaces")), Measure: m.word("measure", []string{"m", "m2", "each"}),
		Activity: m.need("activity"), Condition: m.text("conditions"), Tolerance: m.text("tolerance"),
		Prepare: m.texts("prepare"), Cautions: m.texts("cautions"), After: m.texts("after"), Before: m.texts("before"),
		Rules: m.texts("rules"), Unresolved: m.text("unresolved"), Seals: "layer", Pos: p.pos(m.node)}
	if s.Tolerance != "" {
		p.figured(s.Tolerance, p.exprPos(m.values["tolerance"])) // what it shows is found again where it is shown
	}
	if m.has("id") {
		s.Pos = m.at("id")
	}
	if m.has("seals") {
		s.Seals = m.word("seals", sealsOn)
	}
	s.Revision = m.fromOne("revision", "begin with revision: 1")
	m.present("source")
	s.Source = m.source("source", q.Source{Status: q.Placeholder})
	s.Figures = m.source("figures", s.Source)
	for _, id := range m.texts("substrates") {
		s.Substrates = append(s.Substrates, job.SubstrateID(id))
	}
	s.places = m.entries("substrates", "cautions", "after", "before", "rules", "activity", "conditions", "replaces")
	p.deprecated(s, m)
	p.applies(s, m)
	p.work(s, m)
	p.components(s, m)
	p.variants(s, m)
	p.plan(s, m)
	s.Examples = p.examples(m)
	if m.has("section") {
		s.places["section/"] = m.at("section")
		s.Section, s.parts = p.section(m.values["section"])
	}
	return s
}

var sealsOn = []string{"layer", "substrate", "member"}

func (p parser) id(m mapping, key string) string {
	id := m.need(key)
	if id != "" && !idShape.MatchString(id) {
		p.faultf(m.values[key], "small letters and digits, parts joined by -", "%q is no id", id)
	}
	return id
}
