package library

import (
	"regexp"
	"strconv"
	"strings"

	"lapwork/generator/diag"
)

func diagPos(file string, line int) diag.Pos { return diag.Pos{File: file, Line: line, Col: 1} }

// stepStart reads "3. Text": the number and what follows it.
func stepStart(text string) (no int, rest string, ok bool) {
	head, rest, ok := strings.Cut(text, ". ")
	if !ok || len(head) > 3 {
		return 0, "", false
	}
	no, err := strconv.Atoi(head)
	return no, strings.TrimLeft(rest, " "), err == nil && no > 0
}

// steps reads the numbered list of the body. A step may run over several lines when they are indented.
func (p parser) steps(s *Statement, from int) {
	var current *Step
	for i := from; i < len(p.lines); i++ {
		text := strings.TrimRight(p.lines[i], " \r\t")
		if text == "" {
			continue
		}
		at := diagPos(p.file, i+1)
		no, rest, ok := stepStart(text)
		switch {
		case ok:
			if no != len(s.Steps)+1 {
				p.document.found.Faultf(at, "number the steps 1, 2, 3 in order", "step %d stands where step %d should", no, len(s.Steps)+1)
			}
			at.Col += len(text) - len(rest)
			p.noHTML(rest, at)
			s.Steps = append(s.Steps, Step{No: len(s.Steps) + 1, Text: rest, Body: p.figured(rest, at), Pos: diagPos(p.file, i+1)})
			current = &s.Steps[len(s.Steps)-1]
		case current != nil && (text[0] == ' ' || text[0] == '\t'):
			line := strings.TrimLeft(text, " \t")
			at.Col += len(text) - len(line)
			p.noHTML(line, at)
			more := p.figured(line, at)
			current.Text += "\n" + line
			current.Body.Parts = append(append(current.Body.Parts, FigurePart{Text: "\n"}), more.Parts...)
		default:
			p.document.found.Faultf(at, "begin it with its number, or indent it under a step", "this line belongs to no step")
		}
	}
}

// htmlTag is a tag; code is matched first, in which it is text. A remark is an author's own, and dropped.
var htmlTag = regexp.MustCompile("`[^`]*`|</?[A-Za-z][A-Za-z0-9-]*(?:\\s[^<>]*)?/?>")

// noHTML refuses what no page would show: HTML in Markdown is dropped, since a detail may come from anywhere.
func (p parser) noHTML(text string, at diag.Pos) {
	for _, m := range htmlTag.FindAllStringIndex(text, -1) {
		if tag := text[m[0]:m[1]]; tag[0] == '<' {
			here := at
			here.Col += m[0]
			p.document.found.Faultf(here, "write it in Markdown: **bold**; a sign of its own as \\<", "%s is HTML, which pages leave out", tag)
			return
		}
	}
}
