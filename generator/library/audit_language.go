package library

import (
	"lapwork/generator/diag"
	"lapwork/generator/drawing"
	"lapwork/generator/lang"
)

// AuditLanguage reports, as notes, what a language lacks: of the audited layers' own texts those without a translation, by file;
// translations of texts that no layer has any more; labels that do not fit their drawing in that language. patterns are the
// texts of the program itself, which are no library's but stand in the same files.
func (l *Library) AuditLanguage(c *lang.Catalogue, own []Texts, origins []string, patterns []lang.Group, found *diag.List) {
	known := map[string]bool{}
	for _, g := range patterns {
		for _, item := range g.Items {
			known[item.English] = true
		}
		if origins == nil {
			l.missingIn(c, g.Name, itemTexts(g), diag.Pos{File: "content/lang/en/" + g.Name + ".yaml"}, found)
		}
	}
	for _, t := range l.Texts(nil) {
		for _, text := range t.Texts {
			known[text] = true
		}
	}
	for _, t := range own {
		l.missingIn(c, t.Group, t.Texts, t.At, found)
	}
	if origins == nil {
		for _, e := range c.Entries() {
			if !known[e.English] {
				found.Add(diag.Finding{Level: diag.Note, Pos: e.Pos, Msg: "nothing says the text that this translates: " + quote(e.English), Hint: "its source was changed: translate the new text and remove this one"})
			}
		}
	}
	l.auditLabels(c, origins, found)
}

func itemTexts(g lang.Group) []string {
	var out []string
	for _, item := range g.Items {
		out = append(out, item.English)
	}
	return out
}

func (l *Library) missingIn(c *lang.Catalogue, group string, texts []string, at diag.Pos, found *diag.List) {
	n, first := 0, ""
	for _, text := range texts {
		if !c.Has(text) {
			if n++; n == 1 {
				first = text
			}
		}
	}
	if n > 0 {
		found.Add(diag.Finding{Level: diag.Note, Pos: at, Msg: itoa(n) + " texts of " + group + " are not translated into " + c.Tag() + ", the first: " + quote(first),
			Hint: "lapwork library texts --language " + c.Tag() + " --missing --group " + group})
	}
}

// auditLabels draws every section in the language: longer words may not fit where the English ones do.
func (l *Library) auditLabels(c *lang.Catalogue, origins []string, found *diag.List) {
	in := l.Translated(c.Quiet().Text)
	for _, s := range in.Statements {
		if s.Section == nil || origins != nil && !oneOf(s.Origin, origins) {
			continue
		}
		filled, err := in.SectionOf(s, ForDrawing(in.Sample(s, Facts{})), func(x float64) string { return format(x) })
		if err != nil {
			found.Faultf(s.partPos(-1, -1), "", "%s in %s: the drawing cannot be filled in: %v", s.ID, c.Tag(), err)
			continue
		}
		for _, p := range drawing.Check(filled) {
			found.Add(diag.Finding{Level: diag.Note, Pos: s.partPos(p.Frame, p.Part), Msg: string(s.ID) + ", drawing in " + c.Tag() + ": " + p.Msg, Hint: "shorten the translation of the label"})
		}
	}
}

// quote shows the beginning of a text.
func quote(text string) string {
	const most = 60
	if r := []rune(text); len(r) > most {
		text = string(r[:most]) + "…"
	}
	return `"` + text + `"`
}
