package library

import (
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"lapwork/generator/diag"
)

// draftOf is a sound detail of a firm's, with one text in it changed.
func draftOf(t *testing.T, old, put string) string {
	t.Helper()
	text, err := Draft("our-foot", "", "")
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(text, old) {
		t.Fatalf("the draft has no %q", old)
	}
	return strings.Replace(text, old, put, 1)
}

func firmFindings(files fstest.MapFS) []diag.Finding {
	var found diag.List
	l := Load(os.DirFS("../../content"), files, nil, &found)
	l.Audit([]string{"firm"}, &found)
	return found.Sorted()
}

// What is wrong with a file stands at its line and column, once, with what to change.
func TestFindingsOfADetailFile(t *testing.T) {
	for name, c := range map[string]struct{ old, put, want, hint string }{
		"priority a word":    {"priority: 1 ", "priority: high ", `11:13: priority: "high" is no usable number`, "write digits"},
		"priority a half":    {"priority: 1 ", "priority: 1.5 ", "11:13: a statement has a whole number from 1 up as its priority", "priority: 30"},
		"revision nought":    {"revision: 1 ", "revision: 0 ", "5:11: a statement has a whole number from 1 up as its revision", "revision: 1"},
		"no unit":            {"    unit: m\n", "", `21:5: key "unit" is missing`, "add unit:"},
		"another unit":       {"    unit: m\n", "    unit: kg\n", "21:10: tape-single-60 is counted in m, this line says kg", "write unit: m"},
		"division by nought": {"amount: (length_m", "amount: length_m/(count-count)+(length_m", "22:13: our-foot: not a quantity: ", "guard it with max"},
		"word and number":    {`edge == "abutment-edge"`, "edge == 3", "10:14: edge == 3 ", ""},
		"tab":                {"  priority", "\tpriority", "11:1: front matter: found a tab", "spaces"},
		"control character":  {"tape ±10", "tape \x00 ±10", "30:17: this character is invisible", "delete it"},
		"one in a step":      {"1. Say", "1. S\x07ay", "51:5: this character is invisible", "delete it"},
		"line separator":     {"tape ±10", "tape \u2028", "30:17: this character is invisible", "delete it"},
		"itself":             {"# replaces: wall-ceiling        ", "replaces: our-foot        ", "7:11: our-foot cannot take its own place", "delete the line"},
		"a long text":        {"title: Say", "title: " + strings.Repeat("x", maxScalar), "4:8: title is longer than 10000 letters", "shorten it"},
		"far activity":       {"activity: edges", "activity: nonsense", `17:11: our-foot: unknown activity "nonsense"`, "hang-walls, "},
	} {
		found := firmFindings(fstest.MapFS{"library/our-foot.md": {Data: []byte(draftOf(t, c.old, c.put))}})
		var faults []string
		for _, f := range found {
			if f.Level == diag.Fault {
				faults = append(faults, f.String())
			}
		}
		if len(faults) != 1 && name != "division by nought" { // there the example fails as well
			t.Errorf("%s: %d faults: %q", name, len(faults), faults)
		}
		if all := strings.Join(faults, "\n"); !strings.Contains(all, "firm/library/our-foot.md:"+c.want) || !strings.Contains(all, c.hint) {
			t.Errorf("%s: %s\nwant %s\nhint %s", name, all, c.want, c.hint)
		}
	}
}

// Files as editors of other systems write them read alike: with a mark before the text, with line ends of two characters.
func TestOtherEditors(t *testing.T) {
	plain := draftOf(t, "1. Say", "1. Say")
	for name, text := range map[string]string{"mark": "\ufeff" + plain, "line ends": strings.ReplaceAll(plain, "\n", "\r\n"), "both": "\ufeff" + strings.ReplaceAll(plain, "\n", "\r\n")} {
		if found := firmFindings(fstest.MapFS{"library/our-foot.md": {Data: []byte(text)}}); len(found) != 0 {
			t.Errorf("%s: %v", name, found)
		}
	}
	table, err := os.ReadFile("../../content/tables/rules.csv")
	if err != nil {
		t.Fatal(err)
	}
	if found := firmFindings(fstest.MapFS{"tables/rules.csv": {Data: append([]byte("\ufeff"), table...)}}); len(found) != 0 {
		t.Errorf("a table with a mark: %v", found)
	}
}

// A file that is meant as part of a library and is not read is a fault: it would be missed without a word.
func TestFilesNobodyReads(t *testing.T) {
	sound := &fstest.MapFile{Data: []byte(draftOf(t, "1. Say", "1. Say"))}
	for name, want := range map[string]string{
		"library/walls/our-foot.md": "details in a folder of their own are not read",
		"library/our-foot.MD":       "its ending is .MD",
		"tables/component.csv":      "no table is called component.csv",
	} {
		found := firmFindings(fstest.MapFS{name: sound})
		if len(found) != 1 || !strings.Contains(found[0].Msg, want) || found[0].Hint == "" {
			t.Errorf("%s: %v", name, found)
		}
	}
	if found := firmFindings(fstest.MapFS{"library/README.md": sound, "library/notes.txt": sound, "library/old/notes.txt": sound}); len(found) != 0 {
		t.Errorf("files beside a library: %v", found)
	}
	huge := &fstest.MapFile{Data: make([]byte, maxFile+1)}
	for _, name := range []string{"library/our-foot.md", "tables/rules.csv", "tables/leakage-elements.csv"} {
		if found := firmFindings(fstest.MapFS{name: huge}); len(found) != 1 || !strings.Contains(found[0].Msg, "too large") {
			t.Errorf("%s: %v", name, found)
		}
	}
}
