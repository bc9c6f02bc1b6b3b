package library

import (
	"crypto/sha256"
	"encoding/hex"
	"regexp"
	"strconv"
	"strings"
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
	d := &document{file: file, lines: strings.Split(text, "\n"), found: c.found}
	p := parser{d, c}
	if !utf8.ValidString(text) {
		d.found.Faultf(diag.Pos{File: file, Line: 1, Col: 1}, "save it as UTF-8", "the file is not UTF-8 text")
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
	p.document.found.Faultf(at, "quote a text that holds \": \" or begins with a bracket", "front matter: %s", msg)
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
	if m.has("id") {
		s.Pos = m.at("id")
	}
	if m.has("seals") {
		s.Seals = m.word("seals", sealsOn)
	}
	s.Revision = int(m.number("revision"))
	if s.Revision < 1 {
		p.document.found.Faultf(m.at("revision"), "begin with revision: 1", "a statement has a revision from 1 up")
	}
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
