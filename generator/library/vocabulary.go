package library

import (
	"slices"
	"strings"

	"lapwork/generator/job"
	"lapwork/generator/junction"
	"lapwork/generator/surface"
)

// vocabulary gives the words that records have under a name. closed is false where a job may bring further ones: items
// are then those that the library's own predicates know.
func (l *auditor) vocabulary(name string) (words []string, closed bool) {
	switch name {
	case "edge":
		for _, e := range junction.Edges {
			words = append(words, string(e))
		}
		return words, true
	case "surface_a", "surface_b":
		for r := surface.Wall; r <= surface.Floor; r++ {
			words = append(words, r.String())
		}
		return append(words, "party-wall", "partition", "chimney", ""), true
	case "layer", "layer_a", "layer_b":
		return []string{string(job.Sheet), string(job.Board), string(job.Plaster), ""}, true
	case "orientation":
		return []string{"upright", "level"}, true
	case "part":
		return []string{"jamb", "head", "sill", "corner", ""}, true
	}
	if of, field, isMember := strings.Cut(name, "."); isMember && (of == "sub" || of == "mem") {
		for _, row := range l.Substrates.All() {
			words = append(words, memberWord(l.surfaceOf(row.ID), field))
		}
		return append(distinct(words), ""), true
	}
	return l.knownItems(name), false
}

// knownItems are the words that the statements of the built-in layer compare a name with.
func (l *auditor) knownItems(name string) []string {
	if words, ok := l.items[name]; ok {
		return words
	}
	words := []string{""}
	for _, s := range l.shipped {
		for _, w := range l.mentions(&s.When).words[name] {
			words = append(words, w.text)
		}
	}
	l.items[name] = distinct(words)
	return l.items[name]
}

func memberWord(s Surface, field string) string {
	switch field {
	case "id":
		return s.ID
	case "family":
		return s.Family
	}
	return s.Primer
}

func distinct(words []string) []string {
	slices.Sort(words)
	return slices.Compact(words)
}
