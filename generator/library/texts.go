package library

import (
	"regexp"
	"slices"
	"unicode"

	"lapwork/generator/diag"
)

// Texts are the English texts of one file of a library, in its order, each once.
type Texts struct {
	Group string // statements/wall-ceiling, tables/rules, common: the file of a language that holds them
	At    diag.Pos
	Texts []string
	Short map[string]bool // those that a drawing shows beside its parts: they must stay short
}

// CommonTexts is the group of texts that several files share.
const CommonTexts = "common"

// Texts lists what a language has to translate: the texts that several files share first, then each table's and each
// statement's own. A nil list of origins takes the statements of every layer.
func (l *Library) Texts(origins []string) []Texts {
	var groups []Texts
	for _, t := range textTables() {
		table := &Library{Tables: l.Tables, Air: l.Air}
		groups = append(groups, gathered("tables/"+t.name, diag.Pos{}, func(say func(string) string) { t.translate(table, say) }))
	}
	groups = append(groups, gathered("selection", diag.Pos{}, func(say func(string) string) { say(NoMatch) }))
	for _, s := range l.Statements {
		if origins == nil || oneOf(s.Origin, origins) {
			g := gathered("statements/"+string(s.ID), s.Pos, func(say func(string) string) { s.translated(say) })
			g.Short = s.labels()
			groups = append(groups, g)
		}
	}
	return shared(groups)
}

// Without leaves out the texts that another list has: what a firm's library adds to the built-in one.
func Without(texts, others []Texts) []Texts {
	known := map[string]bool{}
	for _, t := range others {
		for _, text := range t.Texts {
			known[text] = true
		}
	}
	var out []Texts
	for _, t := range texts {
		t.Texts = slices.DeleteFunc(slices.Clone(t.Texts), func(text string) bool { return known[text] })
		if len(t.Texts) > 0 {
			out = append(out, t)
		}
	}
	return out
}

// gathered collects what a translation asks for.
func gathered(group string, at diag.Pos, translate func(say func(string) string)) Texts {
	g := Texts{Group: group, At: at}
	seen := map[string]bool{"": true}
	translate(func(text string) string {
		if !seen[text] {
			seen[text] = true
			g.Texts = append(g.Texts, text)
		}
		return text
	})
	return g
}

// labels are the texts that the section shows beside its parts.
func (s *Statement) labels() map[string]bool {
	out := map[string]bool{}
	if s.Section == nil {
		return out
	}
	for _, f := range s.Section.Frames {
		for _, p := range f.Parts {
			out[p.Text] = p.Text != ""
		}
	}
	return out
}

// shared moves the texts of more than one group into the common group, the most frequent first.
func shared(groups []Texts) []Texts {
	in := map[string]int{}
	common := Texts{Group: CommonTexts, Short: map[string]bool{}}
	for _, g := range groups {
		for _, t := range g.Texts {
			common.Short[t] = common.Short[t] || g.Short[t]
			if in[t]++; in[t] == 2 {
				common.Texts = append(common.Texts, t)
			}
		}
	}
	slices.SortStableFunc(common.Texts, func(a, b string) int { return in[b] - in[a] })
	out := []Texts{common}
	for _, g := range groups {
		g.Texts = slices.DeleteFunc(g.Texts, func(t string) bool { return in[t] > 1 })
		out = append(out, g)
	}
	return slices.DeleteFunc(out, func(g Texts) bool { return len(g.Texts) == 0 })
}

var figureShown = regexp.MustCompile(`\{=[^}]*\}`)

func isLetter(r rune) bool { return unicode.IsLetter(r) }
