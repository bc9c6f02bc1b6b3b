package pack

import (
	"slices"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/drawing"
	"lapwork/generator/job"
	"lapwork/generator/lang"
	"lapwork/generator/library"
	q "lapwork/generator/quantity"
	"lapwork/generator/record"
)

// Language is a language of the pack, for the switch on each page.
type Language struct {
	Tag, Name string // de, Deutsch
	Folder    string // of its pages below the pack's root; empty: the root itself
	Here      bool
}

// Wording is how a pack states its checks in one language.
type Wording struct {
	Tag    string
	Main   bool // the job's own language
	Checks []record.Stated
	seals  map[string]string
	sealed map[string]Check // the checks themselves, by key; nil: not at hand
}

// WordingOf gives the words of every check in the language of the results.
func WordingOf(r *assess.Results, c *lang.Catalogue, main bool) Wording {
	a := &assembler{Results: r, build: Build{Lang: c}, format: formatOf(r.Job, c), checks: map[string]Check{}}
	a.sealChecks()
	w := a.wording(main)
	w.sealed = a.checks
	return w
}

// wording gives the words and seals of the checks as they stand.
func (a *assembler) wording(main bool) Wording {
	w := Wording{Tag: a.Job.Language, Main: main, Checks: a.stated(), seals: make(map[string]string, len(a.checks))}
	for key, c := range a.checks {
		w.seals[key] = c.Seal
	}
	return w
}

// formatOf is how a pack writes numbers and measures.
func formatOf(j *job.Job, c *lang.Catalogue) q.Format {
	f := q.FormatFor(j.Language)
	f.Imperial, f.Say = j.Imperial, c.Say
	return f
}

// key is a check's key among the seals that make the revision.
func (w Wording) key(check string) string {
	if w.Main {
		return check
	}
	return check + "@" + w.Tag
}

// allWordings are those of all languages; where none were handed in those of the pack's own checks.
func (a *assembler) allWordings() []Wording {
	if len(a.build.Wordings) > 0 {
		return a.build.Wordings
	}
	return []Wording{a.wording(true)}
}

// languages lists the pack's languages, or none where there is only one.
func (a *assembler) languages() []Language {
	if len(a.build.Wordings) < 2 {
		return nil
	}
	var out []Language
	for _, w := range a.build.Wordings {
		l := Language{Tag: w.Tag, Name: lang.Name(w.Tag), Folder: w.Tag, Here: w.Tag == a.Job.Language}
		if w.Main {
			l.Folder = ""
		}
		out = append(out, l)
	}
	return out
}

// sealsBeside gives the first digits of a check's seals in the other languages, as the tablet compares them.
func (a *assembler) sealsBeside(key string) string {
	var out []string
	for _, w := range a.build.Wordings {
		if seal := w.seals[key]; w.Tag != a.Job.Language && len(seal) >= 8 {
			out = append(out, seal[:8])
		}
	}
	slices.Sort(out)
	return strings.Join(slices.Compact(out), " ")
}

// say gives the text of a pattern with its values in the pack's language. Patterns are literals, so that a test can list
// them. It is called in 750 places; inlined it would take 33 kB.
//
//go:noinline
func (a *assembler) say(pattern string, values ...any) string {
	return a.build.Lang.Say(pattern, values...)
}

// word gives a word of the program that is chosen by data: a status, a role, a state.
func (a *assembler) word(english string) string { return a.build.Lang.Text(english) }

// beneath adds what a step says in the language that the job has shown beneath each step.
func (a *assembler) beneath(step Step, p *assess.Place, s *library.Statement) Step {
	if a.build.Beneath == nil {
		return step
	}
	other := a.build.Beneath.Statement(s.ID)
	if other == nil || step.No > len(other.Steps) {
		return step
	}
	tag := a.build.BeneathTag
	step.Other = Beneath{HTML: a.line(other.Steps[step.No-1].Text, a.fillAs(q.FormatFor(tag), p.Env)), Tag: tag, Name: lang.Name(tag)}
	return step
}

// words are the words that drawings write by themselves.
func (a *assembler) words() *drawing.Words { return a.drawn }

func DrawingWords(c *lang.Catalogue) *drawing.Words {
	w := drawing.English().In(func(english string) string {
		if english == decimalPoint {
			return q.FormatFor(c.Tag()).Decimal
		}
		return lang.Plain(c.Pattern(english))
	})
	return w
}

const decimalPoint = "."
