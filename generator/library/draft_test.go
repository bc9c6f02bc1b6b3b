package library

import (
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"lapwork/generator/diag"
)

// What a person begins with has no fault, so that the first finding is about the first change.
func TestASkeletonIsSound(t *testing.T) {
	text, err := Draft("our-abutment", "", "")
	if err != nil {
		t.Fatal(err)
	}
	l, found := loadOver(fstest.MapFS{"library/our-abutment.md": {Data: []byte(text)}}, nil)
	if len(found) > 0 {
		t.Fatal(found)
	}
	var audit diag.List
	l.Audit([]string{"firm"}, &audit)
	for _, f := range audit.Sorted() {
		t.Error(f)
	}
	s := l.Statement("our-abutment")
	if s.Origin != "firm" || len(s.Examples) != 1 || s.Section == nil || len(s.Steps) != 1 {
		t.Errorf("a skeleton without the usual parts: %+v", s)
	}
}

// A copy differs from its model in id, replaces and revision only, and takes its place. Every built-in statement can be
// the model.
func TestADraftOfEveryStatement(t *testing.T) {
	own := fstest.MapFS{}
	for _, s := range builtin(t).Statements {
		text, err := Draft("our-"+s.ID, s.ID, s.Text)
		if err != nil {
			t.Fatal(err)
		}
		own["library/our-"+string(s.ID)+".md"] = &fstest.MapFile{Data: []byte(text)}
	}
	l, found := loadOver(own, nil)
	for _, f := range found {
		t.Error(f)
	}
	for _, s := range builtin(t).Statements {
		ours := l.Statement(s.ID)
		if ours == nil || ours.ID != "our-"+s.ID || ours.Replaces != s.ID || ours.Revision != 1 {
			t.Errorf("%s: %+v", s.ID, ours)
			continue
		}
		for _, c := range Differences(s, ours) {
			switch {
			case c.Key == "replaces" && (c.Old != "" || c.New != string(s.ID)):
				t.Errorf("%s: replaces from %q to %q", s.ID, c.Old, c.New)
			case c.Key != "id" && c.Key != "revision" && c.Key != "replaces":
				t.Errorf("%s: a copy differs in %s", s.ID, c.Key)
			}
		}
	}
}

func TestADraftNeedsAnID(t *testing.T) {
	for _, id := range []StatementID{"", "Our Way", "../x", "a/b", "-a"} {
		if _, err := Draft(id, "", ""); err == nil {
			t.Errorf("%q was taken as an id", id)
		}
	}
}

// Whose place a detail takes is a difference: where only one of two says it, and where both name another.
func TestDifferencesOfReplaces(t *testing.T) {
	with := func(id StatementID) *Statement { return &Statement{Replaces: id} }
	for _, c := range []struct {
		a, b StatementID
		want []Change
	}{
		{"", "", nil},
		{"wall-ceiling", "wall-ceiling", nil},
		{"", "wall-ceiling", []Change{{"replaces", "", "wall-ceiling"}}},
		{"wall-ceiling", "", []Change{{"replaces", "wall-ceiling", ""}}},
		{"wall-ceiling", "ridge-line", []Change{{"replaces", "wall-ceiling", "ridge-line"}}},
	} {
		if got := Differences(with(c.a), with(c.b)); !slices.Equal(got, c.want) {
			t.Errorf("%q and %q: %v, want %v", c.a, c.b, got, c.want)
		}
	}
}

func TestDifferences(t *testing.T) {
	text, err := os.ReadFile("../../content/library/wall-ceiling.md")
	if err != nil {
		t.Fatal(err)
	}
	changed := strings.NewReplacer("likely: 5,", "likely: 6,", "void 5 mm or less;", "void 3 mm or less;", "C-HEIGHT, C-ELEC", "C-ELEC, C-HEIGHT",
		"8. Press along", "8. Feel along").Replace(string(text))
	l := builtin(t)
	var found diag.List
	a, b := l.Parse(string(text), "a.md", &found), l.Parse(changed, "b.md", &found)
	if err := found.Err(); err != nil {
		t.Fatal(err)
	}
	if same := Differences(a, a); len(same) > 0 {
		t.Errorf("a statement differs from itself: %v", same)
	}
	want := []Change{
		{"labour", "3 / 5 / 8 min/m (common practice)", "3 / 6 / 8 min/m (common practice)"},
		{"checks", "QA-18: void 5 mm or less; three-plane points whole", ""},
		{"checks", "", "QA-18: void 3 mm or less; three-plane points whole"},
		{"cautions", "order: C-HEIGHT; C-ELEC", "order: C-ELEC; C-HEIGHT"},
		{"step 8", "Press along the angle with a finger. Void over 5 mm: slit, press in, tape again.",
			"Feel along the angle with a finger. Void over 5 mm: slit, press in, tape again."},
	}
	got := Differences(a, b)
	if len(got) != len(want) {
		t.Fatalf("%d changes, want %d: %v", len(got), len(want), got)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("change %d: %v, want %v", i, got[i], want[i])
		}
	}
}
