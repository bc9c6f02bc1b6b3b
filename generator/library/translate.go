package library

import (
	"slices"
	"strings"

	"lapwork/generator/diag"
	"lapwork/generator/drawing"
)

// Translated gives the library in another language: say is asked for every text that a person reads. Ids, expressions
// and figures stay, so that the same records choose the same statements; the two libraries share what has no text.
func (l *Library) Translated(say func(english string) string) *Library {
	out := &Library{replaced: l.replaced, byID: map[StatementID]*Statement{}}
	out.Tables, out.Air = l.Tables, l.Air
	for _, t := range textTables() {
		t.translate(out, say)
	}
	for _, s := range l.Statements {
		t := s.translated(say)
		for i := range t.Steps {
			t.Steps[i].Body = out.compiled(t.Steps[i].Text)
		}
		out.Statements = append(out.Statements, t)
		out.byID[t.ID] = t
	}
	out.shipped, out.noMatch = l.shipped, say(NoMatch)
	return out
}

// compiled gives the figures of a translated text. The reader of translations has held them against the source's.
func (l *Library) compiled(text string) Figured {
	var known diag.List
	return l.Figures(text, &known)
}

// translated is a copy of a statement in another language.
func (s *Statement) translated(say func(string) string) *Statement {
	t := *s
	all(say, &t.Title, &t.AppliesTo, &t.Tolerance, &t.Unresolved)
	if s.Deprecated != nil {
		d := *s.Deprecated
		d.Since = say(d.Since)
		t.Deprecated = &d
	}
	t.Prepare = everyOf(say, s.Prepare)
	t.Steps = slices.Clone(s.Steps)
	for i := range t.Steps {
		t.Steps[i].Text = say(strings.ReplaceAll(t.Steps[i].Text, "\n", " "))
	}
	t.Checks = slices.Clone(s.Checks)
	for i := range t.Checks {
		t.Checks[i].Accept = say(t.Checks[i].Accept)
	}
	t.Faults = slices.Clone(s.Faults)
	for i := range t.Faults {
		all(say, &t.Faults[i].Sign, &t.Faults[i].Repair)
	}
	t.Variants = slices.Clone(s.Variants)
	for i := range t.Variants {
		all(say, &t.Variants[i].Title, &t.Variants[i].Reason, &t.Variants[i].Unresolved)
	}
	t.Components = slices.Clone(s.Components)
	for i := range t.Components {
		all(say, &t.Components[i].Condition)
	}
	t.Section = translatedSection(s.Section, say)
	return &t
}

func translatedSection(s *drawing.Section, say func(string) string) *drawing.Section {
	if s == nil {
		return nil
	}
	t := *s
	t.Title = say(t.Title)
	t.Frames = slices.Clone(s.Frames)
	for i := range t.Frames {
		f := &t.Frames[i]
		all(say, &f.Caption)
		f.Parts = slices.Clone(f.Parts)
		for j := range f.Parts {
			all(say, &f.Parts[j].Name)
			if wordy(f.Parts[j].Text) {
				all(say, &f.Parts[j].Text)
			}
		}
	}
	return &t
}

// wordy reports whether a text of a drawing has words: "{=turn_mm}" and "25 mm" are the same in every language.
func wordy(text string) bool {
	rest := figureShown.ReplaceAllString(text, "")
	for _, w := range strings.Fields(rest) {
		if w != "mm" && strings.ContainsFunc(w, isLetter) {
			return true
		}
	}
	return false
}

func all(say func(string) string, texts ...*string) {
	for _, t := range texts {
		if *t != "" {
			*t = say(*t)
		}
	}
}

func everyOf(say func(string) string, texts []string) []string {
	out := make([]string, len(texts))
	for i, t := range texts {
		out[i] = say(t)
	}
	return out
}
