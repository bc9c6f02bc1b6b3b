package lang_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"lapwork/generator/diag"
	"lapwork/generator/lang"
	_ "lapwork/generator/lawtest"
)

func file(text string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(text)} }

func load(t testing.TB, tag string, layers ...fstest.MapFS) (*lang.Catalogue, []diag.Finding) {
	t.Helper()
	var found diag.List
	var all []lang.Layer
	for i, l := range layers {
		all = append(all, lang.Layer{Dir: []string{"content", "firm", "job"}[i], FS: l})
	}
	return lang.Load(tag, all, &found), found.Sorted()
}

// Plural forms by the Unicode locale data (CLDR plural rules, cardinal): Polish tells one, few (2 to 4, not 12 to 14) and
// many apart, French counts 0 as one, German only one and other.
func TestPluralForms(t *testing.T) {
	files := fstest.MapFS{
		"lang/pl/interface/pack.yaml": file(`language: pl
reviewed: no
texts:
  "%d rolls": {one: "%d rolka", few: "%d rolki", many: "%d rolek", other: "%d rolki"}
`),
		"lang/fr/interface/pack.yaml": file(`language: fr
reviewed: no
texts:
  "%d rolls": {one: "%d rouleau", other: "%d rouleaux"}
`),
		"lang/de/interface/pack.yaml": file(`language: de
reviewed: no
texts:
  "%d rolls": {one: "%d Rolle", other: "%d Rollen"}
`),
	}
	for _, c := range []struct {
		tag  string
		n    int
		want string
	}{
		{"pl", 0, "0 rolek"}, {"pl", 1, "1 rolka"}, {"pl", 2, "2 rolki"}, {"pl", 4, "4 rolki"}, {"pl", 5, "5 rolek"}, {"pl", 12, "12 rolek"},
		{"pl", 21, "21 rolek"}, {"pl", 22, "22 rolki"}, {"pl", 112, "112 rolek"},
		{"fr", 0, "0 rouleau"}, {"fr", 1, "1 rouleau"}, {"fr", 2, "2 rouleaux"},
		{"de", 0, "0 Rollen"}, {"de", 1, "1 Rolle"}, {"de", 101, "101 Rollen"},
	} {
		catalogue, found := load(t, c.tag, files)
		if len(found) > 0 {
			t.Fatal(found)
		}
		if got := catalogue.Say("%d rolls", c.n); got != c.want {
			t.Errorf("%s: %d gives %q, want %q", c.tag, c.n, got, c.want)
		}
	}
}

// A value may move, a missing text stays English and marked, and a later layer wins.
func TestSay(t *testing.T) {
	builtin := fstest.MapFS{
		"lang/de/interface/pack.yaml": file("language: de\nreviewed: yes\ntexts:\n  \"%s of %s\": \"von %[2]s %[1]s\"\n  \"Later\": \"\"\n"),
		"lang/de/common.yaml":         file("language: de\nreviewed: no\ntexts:\n  \"lap {=lap_mm} mm\": \"{=lap_mm} mm überlappt\"\n  \"room\": \"Raum\"\n"),
	}
	firm := fstest.MapFS{"lang/de/ours.yaml": file("language: de\nreviewed: no\ntexts: {\"room\": \"Zimmer\"}\n")}
	c, found := load(t, "de", builtin, firm)
	if len(found) > 0 {
		t.Fatal(found)
	}
	for _, x := range []struct{ got, want string }{
		{c.Say("%s of %s", "3", "7"), "von 7 3"},
		{c.Text("room"), "Zimmer"},
		{c.Text("lap {=lap_mm} mm"), "{=lap_mm} mm überlappt"},
		{c.Text("sheet"), lang.Mark("sheet")},
		{c.Say("Later"), lang.Mark("Later")},
		{c.Quiet().Say("%d left", 2), "2 left"},
		{c.Say("%s: %s", "A", "B"), "A: B"},
		{lang.Plain(c.Say("%s rest", c.Text("sheet"))), "sheet rest"},
		{(*lang.Catalogue)(nil).Say("%d rolls", 3), "3 rolls"},
		{(*lang.Catalogue)(nil).Text("room"), "room"},
	} {
		if x.got != x.want {
			t.Errorf("got %q, want %q", x.got, x.want)
		}
	}
	if c.Reviewed() {
		t.Error("a language with a file that nobody has reviewed counts as reviewed")
	}
	if at, _ := load(t, "de-AT", builtin); at.Text("room") != "Raum" {
		t.Errorf("de-AT does not fall back to de: %q", at.Text("room"))
	}
}

// Each malformed file is reported at its line, all of them in one run.
func TestFindings(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"common.yaml", "language: fr\nreviewed: no\ntexts: {}\n", `content/lang/de/common.yaml:1:11: the file lies in de and says language "fr"`},
		{"common.yaml", "language: de\nreviewed: perhaps\ntexts: {}\n", "common.yaml:2:11: reviewed is yes or no"},
		{"common.yaml", "language: de\ntexts: {}\n", `common.yaml:1:1: key "reviewed" is missing`},
		{"common.yaml", "language: de\nreviewed: no\nextra: 1\ntexts: {}\n", `common.yaml:3:1: unknown key "extra"`},
		{"common.yaml", "language: de\nreviewed: no\ntexts:\n  \"a\": \"b\"\n  \"a\": \"c\"\n", `common.yaml:5:3: the text "a" stands twice`},
		{"common.yaml", "language: de\nreviewed: no\ntexts:\n  \"lap {=lap_mm} mm\": \"{=fold_mm} mm\"\n", "common.yaml:4:23: the translation has other figures: {=fold_mm}"},
		{"common.yaml", "language: de\nreviewed: no\ntexts:\n  \"**never**\": \"nie\"\n", "common.yaml:4:16: the translation has another number of **"},
		{"common.yaml", "language: de\nreviewed: no\ntexts:\n  \"%d rolls\": {one: \"eine\", other: \"%d\"}\n", "common.yaml:4:15: only a pattern with a %d has plural forms"},
		{"interface/p.yaml", "language: de\nreviewed: no\ntexts:\n  \"%s of %d\": \"%s von %s\"\n", "interface/p.yaml:4:15: the translation has other values: 1 s, 2 s"},
		{"interface/p.yaml", "language: de\nreviewed: no\ntexts:\n  \"%s\": \"%[2]s\"\n", "interface/p.yaml:4:9: the translation has other values: 2 s"},
		{"interface/p.yaml", "language: de\nreviewed: no\ntexts:\n  \"%d rolls\": {uno: \"%d\", other: \"%d\"}\n", `interface/p.yaml:4:16: "uno" is no plural form`},
		{"interface/p.yaml", "language: de\nreviewed: no\ntexts:\n  \"%d rolls\": {one: \"%d Rolle\"}\n", "interface/p.yaml:4:15: the form other is missing"},
		{"common.yaml", "language: de\nreviewed: no\ntexts: [a]\n", "common.yaml:3:8: texts must be a mapping"},
		{"common.yaml", "a: [\n", "common.yaml:"},
		{"common.yaml", "\xff", "common.yaml:1:1: the file is not UTF-8 text"},
		{"common.yaml", "language: de\nreviewed: no\ntexts: {\"a\": \"" + strings.Repeat("x", 5000) + "\"}\n", "common.yaml:3:14: a text is longer than 4000 bytes"},
		{"common.yaml", "language: de\nreviewed: no\ntexts: {\"a\": \"\uE0F0b\"}\n", "common.yaml:3:14: the translation holds characters that no text has"},
	} {
		_, found := load(t, "de", fstest.MapFS{"lang/de/" + c.name: file(c.text)})
		if len(found) != 1 || !strings.Contains(found[0].String(), c.want) {
			t.Errorf("%q: got %v, want %q", c.text, found, c.want)
		}
	}
	two := fstest.MapFS{"lang/de/a.yaml": file("language: de\nreviewed: no\ntexts: {\"a\": \"b\"}\n"), "lang/de/b.yaml": file("language: de\nreviewed: no\ntexts: {\"a\": \"c\"}\n")}
	if _, found := load(t, "de", two); len(found) != 1 || !strings.Contains(found[0].String(), "b.yaml:3:14: another file translates") {
		t.Errorf("two translations of one text: %v", found)
	}
}

// What is written as a skeleton reads back as the catalogue it was written from.
func TestSkeletonReadsBack(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		texts := rapid.MapOfN(rapid.StringMatching(`[A-Za-z ,.:"'\\#&*ß°−{}%\n-]{1,30}`), rapid.StringMatching(`[A-Za-zäöü "'\\:#…-]{1,30}`), 1, 8).Draw(rt, "texts")
		g := lang.Group{Name: "common"}
		source := "language: de\nreviewed: no\ntexts:\n"
		for k, v := range texts {
			if strings.TrimSpace(v) == "" || strings.Contains(k, "{=") || strings.Contains(k, "**") {
				continue
			}
			g.Items = append(g.Items, lang.Item{English: k})
			source += fmt.Sprintf("  %q: %q\n", k, v)
		}
		c, found := load(t, "de", fstest.MapFS{"lang/de/common.yaml": file(source)})
		if len(found) > 0 {
			rt.Fatal(found)
		}
		again, found := load(t, "de", fstest.MapFS{"lang/de/common.yaml": {Data: lang.Skeleton("de", g, c)}})
		if len(found) > 0 {
			rt.Fatal(found)
		}
		for _, item := range g.Items {
			if again.Text(item.English) != c.Text(item.English) || again.Text(item.English) != texts[item.English] {
				rt.Errorf("%q: %q, then %q", item.English, c.Text(item.English), again.Text(item.English))
			}
		}
	})
}

var figure = regexp.MustCompile(`\{=[^}]*\}`)

// FuzzFile: no panic; every finding lies inside the file; what is loaded keeps its values.
func FuzzFile(f *testing.F) {
	for _, seed := range []string{
		"language: de\nreviewed: no\ntexts:\n  \"%d rolls of %s\": {one: \"%d Rolle %s\", other: \"%d Rollen %s\"}\n",
		"language: de\nreviewed: yes\ntexts: {\"lap {=lap_mm}\": \"{=lap_mm}\", \"é\": \"ü\"}\n", "", "texts:\n", "a: &x [*x]\n", "language: de\ntexts: {? [a] : b}\n",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, name := range []string{"common.yaml", "interface/x.yaml"} {
			c, found := load(t, "de", fstest.MapFS{"lang/de/" + name: file(text)})
			lines := strings.Split(text, "\n")
			for _, x := range found {
				if x.Pos.Line < 1 || x.Pos.Line > len(lines) || x.Pos.Col < 0 || x.Pos.Col > len(lines[x.Pos.Line-1])+1 {
					t.Errorf("finding outside the file of %d lines: %v", len(lines), x)
				}
			}
			for _, e := range c.Entries() {
				if name == "common.yaml" && len(figure.FindAllString(c.Text(e.English), -1)) != len(figure.FindAllString(e.English, -1)) {
					t.Errorf("%q lost a figure: %q", e.English, c.Text(e.English))
				}
				if lang.Marked(c.Text(e.English)) {
					t.Errorf("%q has a translation and is marked", e.English)
				}
			}
		}
	})
}
