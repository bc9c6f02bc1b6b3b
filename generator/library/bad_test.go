package library

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"lapwork/generator/diag"
)

// A library full of faults: every line marked WANT has a finding with that text at its line, and no other line has one.
// Findings about ids that are checked after the file was read stand at the statement's own id.
func TestBadLibrary(t *testing.T) {
	found := loadBad()
	type place struct {
		file string
		line int
	}
	got := map[place][]string{}
	for _, f := range found.Sorted() {
		got[place{f.Pos.File, f.Pos.Line}] = append(got[place{f.Pos.File, f.Pos.Line}], f.Msg)
	}
	want := map[place]string{
		{"bad/library/no-front.md", 1}:    "begins with front matter",
		{"bad/library/no-end.md", 1}:      "is not closed",
		{"bad/library/yaml-error.md", 3}:  "front matter",
		{"bad/library/alias.md", 2}:       "anchors and aliases",
		{"bad/library/empty.md", 1}:       "front matter is empty",
		{"bad/library/latin.md", 1}:       "not UTF-8",
		{"bad/tables/substrates.csv", 2}:  `unknown word "maybe"`,
		{"bad/tables/substrates.csv", 3}:  "is no number",
		{"bad/tables/substrates.csv", 4}:  "stands twice",
		{"bad/tables/substrates.csv", 5}:  `unknown word "rumour"`,
		{"bad/tables/substrates.csv", 6}:  "this row has 5 cells",
		{"bad/library/many-faults.md", 2}: "", // several, in the test below
	}
	text, err := os.ReadFile(filepath.Join("testdata", "libraries", "bad", "library", "many-faults.md"))
	if err != nil {
		t.Fatal(err)
	}
	for i, line := range strings.Split(string(text), "\n") {
		if _, mark, ok := strings.Cut(line, "WANT "); ok {
			want[place{"bad/library/many-faults.md", i + 1}] = strings.TrimSuffix(mark, " -->")
		}
	}
	if len(want) < 12 {
		t.Fatalf("only %d faults are wanted", len(want))
	}
	for at, msg := range want {
		if all := strings.Join(got[at], "; "); all == "" || !strings.Contains(all, msg) {
			t.Errorf("%s:%d: %q, want %q", at.file, at.line, all, msg)
		}
		delete(got, at)
	}
	for at, msgs := range got {
		t.Errorf("%s:%d: unexpected: %q", at.file, at.line, msgs)
	}
}

// What is wrong comes with what to change.
func TestHintsOfBadLibrary(t *testing.T) {
	found := loadBad()
	var all strings.Builder
	for _, f := range found.Sorted() {
		all.WriteString(f.String() + "\n")
	}
	for _, want := range []string{`did you mean "C-HEIGHT"?`, `did you mean "edges"?`, `did you mean "length_m"?`, `did you mean "title"?`} {
		if !strings.Contains(all.String(), want) {
			t.Errorf("no hint %q in\n%s", want, all.String())
		}
	}
}

func loadBad() diag.List {
	var found diag.List
	LoadLayers([]Layer{{Name: BuiltIn, Dir: "content", FS: os.DirFS("../../content")},
		{Name: "firm", Dir: "bad", FS: os.DirFS("testdata/libraries/bad")}}, &found)
	return found
}
