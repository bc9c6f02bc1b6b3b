package library

import (
	"os"
	"strings"
	"testing"

	"lapwork/generator/diag"
	"lapwork/generator/lang"
)

// The library in another language asks for exactly the texts that are listed for translators, keeps ids, order and figures,
// and leaves the English library as it was.
func TestTranslated(t *testing.T) {
	var found diag.List
	l := Load(os.DirFS("../../content"), nil, nil, &found)
	if err := found.Err(); err != nil {
		t.Fatal(err)
	}
	listed := map[string]bool{}
	for _, g := range l.Texts(nil) {
		for _, text := range g.Texts {
			if listed[text] {
				t.Errorf("%s: %q is listed twice", g.Group, text)
			}
			listed[text] = true
		}
	}
	asked := map[string]bool{}
	in := l.Translated(func(text string) string { asked[text] = true; return text + "·" })
	for text := range asked {
		if !listed[text] {
			t.Errorf("%q is asked for, and not listed", text)
		}
	}
	for text := range listed {
		if !asked[text] {
			t.Errorf("%q is listed, and never asked for", text)
		}
	}
	if len(listed) < 2500 || len(in.Statements) != len(l.Statements) {
		t.Fatalf("%d texts, %d statements of %d", len(listed), len(in.Statements), len(l.Statements))
	}
	r, facts := recordOf(t, "edge=penetration;item=telescope") // no statement knows it
	if sel := in.Select(in.Env(r, facts), &found); sel.Unresolved != NoMatch+"·" {
		t.Errorf("a place that no statement covers says %q", sel.Unresolved)
	}
	for i, s := range in.Statements {
		was := l.Statements[i]
		if s.ID != was.ID || s.Title != was.Title+"·" || strings.HasSuffix(was.Title, "·") || in.Statement(s.ID) != s {
			t.Errorf("%s: %q from %q", was.ID, s.Title, was.Title)
		}
		for j, st := range s.Steps {
			if len(figureShown.FindAllString(st.Text, -1)) != len(figureShown.FindAllString(was.Steps[j].Text, -1)) {
				t.Errorf("%s, step %d: other figures", s.ID, st.No)
			}
		}
	}
	if c, was := in.Cautions.All()[0], l.Cautions.All()[0]; c.Text != was.Text+"·" || in.Cautions.Find(string(was.ID)) != c || c.program != was.program {
		t.Errorf("caution %s: %q", was.ID, c.Text)
	}
}

// Every shipped language: its files are whole, it lacks no more than the notes say, and its labels fit their drawings.
func TestShippedLanguages(t *testing.T) {
	var found diag.List
	content := os.DirFS("../../content")
	at := []lang.Layer{{Dir: "content", FS: content}}
	l := Load(content, nil, nil, &found)
	for _, tag := range lang.Tags(at) {
		if c := lang.Load(tag, at, &found); !c.English() {
			l.AuditLanguage(c, l.Texts(nil), nil, lang.Patterns(content, &found), &found)
		}
	}
	for _, f := range found.Sorted() {
		switch {
		case f.Level == diag.Fault:
			t.Error(f)
		case f.Level == diag.Note:
			t.Log(f)
		}
	}
}
