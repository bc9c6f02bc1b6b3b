package page

import (
	"fmt"
	"html"
	"html/template"
	"io/fs"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"lapwork/generator/lang"
	"lapwork/generator/sorting"
)

// Templates are written in English. What a person reads in them, between two tags or in a label, is put into the pack's
// language when they are parsed, so that they stay as plain as they are. A plain action inside a run of text, such as
// {{.Name}}, is a value of its pattern: a translation may move it.

// run is a run of text of a template: what stands between two tags or in a label.
type run struct {
	from, to int
	pattern  string   // as the catalogue has it
	values   []string // pipelines of its actions
}

// Patterns lists the patterns that the templates say, sorted.
func Patterns(templates fs.FS) ([]string, error) {
	names, err := fs.Glob(templates, "*.html")
	if err != nil {
		return nil, err
	}
	var out []string
	for _, name := range names {
		text, err := fs.ReadFile(templates, name)
		if err != nil {
			return nil, err
		}
		for _, r := range runs(string(text)) {
			out = append(out, r.pattern)
		}
		for _, g := range saidInTemplate.FindAllStringSubmatch(string(text), -1) {
			said, err := strconv.Unquote(g[1])
			if err != nil {
				return nil, fmt.Errorf("%s: %s: %w", name, g[1], err)
			}
			out = append(out, said)
		}
	}
	slices.Sort(out)
	return slices.Compact(out), nil
}

var saidInTemplate = regexp.MustCompile(`\bsay ("(?:[^"\\]|\\.)*")`)

// translated is a template's source in a language.
func translated(source string, c *lang.Catalogue) string {
	var b strings.Builder
	done := 0
	for _, r := range runs(source) {
		b.WriteString(source[done:r.from])
		done = r.to
		pattern := r.pattern
		if len(r.values) == 0 {
			b.WriteString(strings.ReplaceAll(template.HTMLEscapeString(c.Say(pattern)), "{{", `{{"{{"}}`))
			continue
		}
		b.WriteString("{{say " + strconv.Quote(pattern))
		for _, v := range r.values {
			b.WriteString(" (" + v + ")")
		}
		b.WriteString("}}")
	}
	return b.String() + source[done:]
}

// plainAction is an action that only places a value.
var plainAction = regexp.MustCompile(`^\{\{(\$?(?:\.[A-Za-z]+)+|\.|len \.[A-Za-z]*)\}\}`)

// labels are the attributes that people read or hear.
var labels = regexp.MustCompile(`(?:aria-label|alt|title|placeholder|data-yes|data-no)="`)

// runs finds the runs of text of a template, in order.
func runs(source string) []run {
	var out []run
	add := func(from, to int) {
		if r, ok := readRun(source, from, to); ok {
			out = append(out, r)
		}
	}
	from := 0
	for at := 0; at < len(source); {
		switch rest := source[at:]; {
		case strings.HasPrefix(rest, "{{"):
			if plain := plainAction.FindString(rest); plain != "" {
				at += len(plain)
				continue
			}
			add(from, at)
			at += actionEnd(rest)
			from = at
		case rest[0] == '<':
			add(from, at)
			end := tagEnd(rest)
			for _, g := range labels.FindAllStringIndex(rest[:end], -1) {
				value := valueEnd(rest[g[1]:end])
				add(at+g[1], at+g[1]+value)
			}
			at += end
			from = at
		default:
			at++
		}
	}
	add(from, len(source))
	sorting.Func(out, func(a, b run) int { return a.from - b.from })
	return out
}

func actionEnd(text string) int {
	if end := strings.Index(text, "}}"); end >= 0 {
		return end + 2
	}
	return len(text)
}

// tagEnd is the length of the tag that a text begins with; actions inside may hold > and quotes.
func tagEnd(text string) int {
	for at := 0; at < len(text); {
		switch {
		case strings.HasPrefix(text[at:], "{{"):
			at += actionEnd(text[at:])
		case text[at] == '>':
			return at + 1
		default:
			at++
		}
	}
	return len(text)
}

func valueEnd(text string) int {
	for at := 0; at < len(text); {
		switch {
		case strings.HasPrefix(text[at:], "{{"):
			at += actionEnd(text[at:])
		case text[at] == '"':
			return at
		default:
			at++
		}
	}
	return len(text)
}

// readRun reads a run without the space around it. It is none when it has no words, or an action that does more than place
// a value.
func readRun(source string, from, to int) (run, bool) {
	text := source[from:to]
	trimmed := strings.TrimSpace(text)
	if strings.Contains(trimmed, `="`) {
		return run{}, false // attributes, in a template that stands inside a tag
	}
	from += strings.Index(text, trimmed)
	r := run{from: from, to: from + len(trimmed)}
	var b, words strings.Builder
	for rest := trimmed; rest != ""; {
		before, after, ok := strings.Cut(rest, "{{")
		b.WriteString(strings.ReplaceAll(html.UnescapeString(before), "%", "%%"))
		words.WriteString(before + " ")
		if !ok {
			break
		}
		g := plainAction.FindStringSubmatch("{{" + after)
		if g == nil {
			return r, false
		}
		verb := "%v"
		if strings.HasPrefix(g[1], "len ") {
			verb = "%d"
		}
		b.WriteString(verb)
		r.values = append(r.values, g[1])
		rest = after[len(g[0])-2:]
	}
	r.pattern = b.String()
	return r, worded(words.String())
}

// units are words that stand the same in every language.
var units = []string{"Pa", "mm", "Rsi", "°C", "OK", "QR"}

// worded reports whether a text has a word: two letters or more that are no unit.
func worded(text string) bool {
	return slices.ContainsFunc(strings.FieldsFunc(html.UnescapeString(text), func(r rune) bool { return unicode.IsSpace(r) || unicode.IsPunct(r) && r != '°' }), func(w string) bool {
		letters := 0
		for _, r := range w {
			if unicode.IsLetter(r) {
				letters++
			}
		}
		return letters > 1 && !slices.Contains(units, w)
	})
}

var saidInScript = regexp.MustCompile(`\btr\('((?:[^'\\]|\\.)*)'`)

// ScriptPatterns lists the patterns that a script says: the literals it gives to tr.
func ScriptPatterns(script string) []string {
	var out []string
	for _, g := range saidInScript.FindAllStringSubmatch(script, -1) {
		out = append(out, strings.ReplaceAll(g[1], `\'`, `'`))
	}
	slices.Sort(out)
	return slices.Compact(out)
}
