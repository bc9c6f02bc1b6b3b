package lang

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"
)

// fits reports what in a translation does not fit its English text.
func (r reader) fits(english string, n *yaml.Node) bool {
	switch {
	case len(n.Value) > maxText || len(english) > maxText:
		r.found.Faultf(r.pos(n), "divide it", "a text is longer than %d bytes", maxText)
	case Marked(n.Value) || strings.ContainsFunc(n.Value, func(c rune) bool { return c < ' ' && c != '\n' || c == utf8.RuneError }):
		r.found.Faultf(r.pos(n), "type it again", "the translation holds characters that no text has")
	case r.pattern && !slices.Equal(verbs(english), verbs(n.Value)):
		r.found.Faultf(r.pos(n), "the English text has: "+words(verbs(english)), "the translation has other values: %s", words(verbs(n.Value)))
	case !r.pattern && !slices.Equal(figures(english), figures(n.Value)):
		r.found.Faultf(r.pos(n), "the English text has: "+words(figures(english)), "the translation has other figures: %s", words(figures(n.Value)))
	case !r.pattern && strings.Count(english, "**") != strings.Count(n.Value, "**"):
		r.found.Faultf(r.pos(n), "set the same words between ** as in English", "the translation has another number of **")
	default:
		return true
	}
	return false
}

func words(list []string) string {
	if len(list) == 0 {
		return "none"
	}
	return strings.Join(list, ", ")
}

var verb = regexp.MustCompile(`%[-+# 0]*(?:\[(\d+)\])?\d*(?:\.\d+)?(?:\[(\d+)\])?([a-zA-Z%])`)

// verbs lists the values that a pattern prints as "1 s", sorted; the number is that of the value.
func verbs(pattern string) []string {
	out := []string{}
	next := 1
	for _, g := range verb.FindAllStringSubmatch(pattern, -1) {
		if g[3] == "%" {
			continue
		}
		for _, index := range g[1:3] {
			if n, err := strconv.Atoi(index); err == nil {
				next = n
			}
		}
		out = append(out, strconv.Itoa(next)+" "+g[3])
		next++
	}
	slices.Sort(out)
	return out
}

// counts reports whether a pattern prints a whole number.
func counts(pattern string) bool {
	return slices.ContainsFunc(verbs(pattern), func(v string) bool { return strings.HasSuffix(v, " d") })
}

var figure = regexp.MustCompile(`\{=[^}]*\}`)

// figures lists the computed figures of a text, sorted.
func figures(text string) []string {
	out := figure.FindAllString(text, -1)
	if out == nil {
		out = []string{}
	}
	slices.Sort(out)
	return out
}
