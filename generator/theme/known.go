package theme

import (
	"slices"
	"strings"
)

// A style sheet that a firm takes over from the program, or took over from an older one, has rules that the program has
// tested itself, in other groups or files. What it says of the same elements as the program is therefore not measured again.

// note enters what a rule says of each of its selectors.
func (r rule) note(known map[string]bool) {
	for _, selector := range selectors(r.selector) {
		for _, v := range r.values {
			known[r.words(selector, v)] = true
		}
	}
}

// words tell a declaration for a selector from another.
func (r rule) words(selector string, v value) string {
	text := strings.ToLower(strings.Join(strings.Fields(v.text), " "))
	if len(text) == 4 && text[0] == '#' {
		text = string([]byte{'#', text[1], text[1], text[2], text[2], text[3], text[3]})
	}
	return r.around + "|" + selector + "|" + v.name + ":" + text
}

// strange leaves of a rule what is not known. A colour stays beside a ground that is strange, and a ground beside a colour:
// they are measured against each other.
func (r rule) strange(known map[string]bool) rule {
	of := selectors(r.selector)
	usual := func(v value) bool {
		return !slices.ContainsFunc(of, func(selector string) bool { return !known[r.words(selector, v)] })
	}
	painted := func(v value) bool { return v.name == "color" || strings.HasPrefix(v.name, "background") }
	repainted := slices.ContainsFunc(r.values, func(v value) bool { return painted(v) && !usual(v) })
	r.values = slices.DeleteFunc(slices.Clone(r.values), func(v value) bool { return usual(v) && !(repainted && painted(v)) })
	return r
}

// selectors divides a list of selectors at the commas outside brackets.
func selectors(list string) []string {
	var out []string
	depth, from := 0, 0
	for i := range len(list) {
		switch list[i] {
		case '(', '[':
			depth++
		case ')', ']':
			depth--
		case ',':
			if depth == 0 {
				out, from = append(out, strings.TrimSpace(list[from:i])), i+1
			}
		}
	}
	return append(out, strings.TrimSpace(list[from:]))
}
