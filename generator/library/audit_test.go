package library

import (
	"fmt"
	"io/fs"
	"os"
	"path"
	"strings"
	"testing"

	"lapwork/generator/diag"
)

// The built-in library has no finding in a closer look either.
func TestBuiltInLibraryAudit(t *testing.T) {
	l := builtin(t)
	var found diag.List
	l.Audit(nil, &found)
	for _, f := range found.Sorted() {
		t.Error(f)
	}
}

// A library that reads well and is wrong: every line marked WANT has a finding with that text at its line, and no other
// line has one.
func TestAuditOfABadLibrary(t *testing.T) {
	bad := os.DirFS("../../testdata/libraries/bad")
	var found diag.List
	l := LoadLayers([]Layer{{Name: BuiltIn, Dir: "content", FS: os.DirFS("../../content")}, {Name: "firm", Dir: "bad", FS: bad}}, &found)
	l.Audit([]string{"firm"}, &found)
	got := map[string]string{}
	for _, f := range found.Sorted() {
		at := fmt.Sprintf("%s:%d", f.Pos.File, f.Pos.Line)
		got[at] += f.Msg + "; "
	}
	files, err := fs.Glob(bad, "library/*.md")
	if err != nil {
		t.Fatal(err)
	}
	wanted := 0
	for _, name := range files {
		text, err := fs.ReadFile(bad, name)
		if err != nil {
			t.Fatal(err)
		}
		for i, line := range strings.Split(string(text), "\n") {
			_, mark, ok := strings.Cut(line, "WANT ")
			at := fmt.Sprintf("%s:%d", path.Join("bad", name), i+1)
			if mark = strings.TrimSuffix(mark, " -->"); ok && !strings.Contains(got[at], mark) {
				t.Errorf("%s: %q, want %q", at, got[at], mark)
			}
			if ok {
				wanted++
				delete(got, at)
			}
		}
	}
	if wanted < 20 {
		t.Errorf("only %d faults are wanted", wanted)
	}
	for at, msg := range got {
		t.Errorf("%s: unexpected: %s", at, msg)
	}
}

// Acceptance values as they are written on site, and what is missing in those that are reported.
func TestUnitless(t *testing.T) {
	for text, want := range map[string]string{
		"void 5 mm or less":                       "",
		"void 5 or less":                          "5",
		"gap 5, tape whole":                       "5",
		"at most 12":                              "12",
		"lap {=lap_mm} mm":                        "",
		"lap {=lap_mm}":                           "{=lap_mm}",
		"4 of 4 corners whole":                    "",
		"4 of 4":                                  "4",
		"no smoke drawn at 25 to 50 Pa":           "",
		"no smoke drawn at 25 to 50":              "25",
		"loop {=2*movement_mm+20} mm, −0/+20":     "",
		"tape centred ±10 mm":                     "",
		"each joist 20 % or less":                 "",
		"pull test of QA-08 passed":               "",
		"steel 3 K or more above the dew point":   "",
		"turn-down 100 −20 mm":                    "",
		"a strip of 0.1 mm paper is held":         "",
		"bead 4 thick":                            "", // a counted thing cannot be told from a word
		"bead unbroken, 4 and 10 from the edge":   "4",
		"below 0.5 m/s at the door of the closet": "",
	} {
		if got := unitless(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

// The example that a tie names is one: set as a record, both statements are true for it.
func TestATieNamesARecord(t *testing.T) {
	l, found := loadOver(firmFile("our-ceiling", "30", ""), nil)
	if len(found) > 0 {
		t.Fatal(found)
	}
	var audit diag.List
	l.Audit([]string{"firm"}, &audit)
	all := audit.Sorted()
	ties := 0
	for _, f := range all {
		if strings.Contains(f.Msg, "would both answer ") {
			ties++
		}
	}
	if ties == 0 {
		t.Fatal("a second statement for the same junction of the same priority was not found")
	}
	for _, f := range all {
		_, example, ok := strings.Cut(f.Msg, "would both answer ")
		if !ok {
			continue
		}
		env := l.Sample(&Statement{}, Facts{})
		for _, pair := range strings.Split(example, ", ") {
			name, value, _ := strings.Cut(pair, "=")
			if value == "" {
				continue
			}
			if hint := l.setExample(env, name, value); hint != "" {
				t.Errorf("%s=%s: %s", name, value, hint)
			}
		}
		var tie diag.List
		l.Select(env, &tie)
		if tie.Err() == nil {
			t.Errorf("no tie at %s", example)
		}
	}
}
