package library

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"lapwork/generator/diag"
)

// checkPlaces holds the first law of every reader: a finding lies inside its file.
func checkPlaces(t *testing.T, text string, found diag.List) {
	t.Helper()
	lines := strings.Split(text, "\n")
	for _, f := range found.Sorted() {
		if f.Pos.File != "x.md" || f.Pos.Line < 1 || f.Pos.Line > len(lines) {
			t.Errorf("finding outside the file of %d lines: %v", len(lines), f)
			continue
		}
		if f.Pos.Col < 0 || f.Pos.Col > len(lines[f.Pos.Line-1])+1 {
			t.Errorf("finding outside its line %q: %v", lines[f.Pos.Line-1], f)
		}
		if f.Msg == "" {
			t.Errorf("a finding says nothing: %+v", f)
		}
	}
}

// FuzzStatement: no panic; every finding lies inside the file; the same text reads the same twice; a statement without
// findings has what every page needs.
func FuzzStatement(f *testing.F) {
	for _, glob := range []string{"../../content/library/*.md", "testdata/libraries/bad/library/*.md"} {
		files, err := filepath.Glob(glob)
		if err != nil {
			f.Fatal(err)
		}
		for _, name := range files {
			text, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(string(text))
		}
	}
	f.Add("---\n? [a]\n: b\n---\n1. x {=1/0} {=\"a\"}\n")
	f.Add("---\nid: x\nsection: {size: [1e9, -1], parts: [{fold: [[.nan, 1], [2, 3]]}]}\n---\n")
	f.Add("---\r\nid: x\r\n---\r\n1. y\r\n")
	l, _ := loadBuiltin() // only its site questions are used; its findings are another test's
	f.Fuzz(func(t *testing.T, text string) {
		var found, again diag.List
		s := parseStatement(text, "x.md", compiler{l.flagIndex(), &found})
		checkPlaces(t, text, found)
		parseStatement(text, "x.md", compiler{l.flagIndex(), &again})
		if d := cmp.Diff(found.Sorted(), again.Sorted()); d != "" {
			t.Errorf("the same text reads differently: %s", d)
		}
		if s == nil && found.Count(diag.Fault) == 0 {
			t.Error("no statement, and no word why")
		}
		if s != nil && found.Count(diag.Fault) == 0 && (s.ID == "" || s.Title == "" || s.Priority < 1 || s.When.program == nil) {
			t.Errorf("a statement without findings lacks the basics: %+v", s)
		}
	})
}
