package generator_test

import (
	"bytes"
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"lapwork/generator"
	"lapwork/generator/theme"
	"lapwork/themes"
)

// A firm that replaces two details and adds one has its own look as well, in two languages, in the folder and in the single
// files. What a person signs does not change with the look.
func TestAFirmsLook(t *testing.T) {
	src := demo(t)
	src.Job = fstest.MapFS{"job.yaml": {Data: []byte("language: de\nalso-in: [pl]\n" + readFile(t, "../testdata/handworked/gable/job.yaml"))}}
	src.Firm = os.DirFS("../testdata/libraries/firm")
	dir := filepath.Join(t.TempDir(), "pack")
	report := generate(t, src, dir)
	mark := readFile(t, "../testdata/libraries/firm/mark.svg")
	if readFile(t, filepath.Join(dir, "assets", "mark.svg")) != mark {
		t.Error("the mark in the folder is not the firm's")
	}
	for name, want := range map[string][]string{
		"assets/added.css":         {"--touch:#5a2d0c", ":root.dark{--ground:#15100a", "border-left:10px solid var(--touch)"},
		"assets/paper.css":         {`@top-right{content:"Brandholt Dachausbau · our details"}`},
		"index.html":               {`src="data:image/svg+xml;base64,`, "radio channel 4", `<img class="mark" src="assets/mark.svg"`},
		"rooms/C1.html":            {`<img class="mark" src="../assets/mark.svg"`},
		"open.html":                {"Ruf den Hof an, bevor du rätst."},
		"pages/yard.html":          {"<h1 lang=\"de\">Unser Hof</h1>", `href="../materials.html"`, `href="../files/keys.txt"`, `src="data:image/svg+xml;base64,`},
		"pl/open.html":             {"Zadzwoń na plac"},
		"pl/pages/yard.html":       {"Nasz plac", `href="../materials.html"`},
		"HAND-2.html":              {"Unser Hof", `href="#pages/yard"`, "Ruf den Hof an", "--touch:#5a2d0c", `<img class="mark" src="data:image/svg+xml;base64,`},
		"HAND-2-pl.html":           {"Nasz plac", "Zadzwoń na plac"},
		"files/keys.txt":           {"Key 4"},
		"methods/our-ceiling.html": {"Brandholt"},
		"materials.html":           {`<a href="pages/yard.html">Unser Hof</a>`},
	} {
		text := readFile(t, filepath.Join(dir, name))
		for _, w := range want {
			if !strings.Contains(text, w) {
				t.Errorf("%s: no %q", name, w)
			}
		}
	}
	// The same firm without a look, its details as they are.
	files := fstest.MapFS{}
	err := fs.WalkDir(src.Firm, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || strings.HasPrefix(p, "theme/") || strings.HasPrefix(p, "pages/") {
			return err
		}
		data, err := fs.ReadFile(src.Firm, p)
		if p == "firm.yaml" {
			before, rest, _ := bytes.Cut(data, []byte("look:\n"))
			_, after, _ := bytes.Cut(rest, []byte("libraries:"))
			data = append(append(bytes.Clone(before), "libraries:"...), after...)
		}
		files[p] = &fstest.MapFile{Data: data}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	plain := src
	plain.Firm = files
	if other := generate(t, plain, filepath.Join(t.TempDir(), "plain")); other.Revision != report.Revision {
		t.Errorf("the look changes the revision: %s and %s", report.Revision, other.Revision)
	}
}

// A firm's style sheet stands in place of the program's, behind it the program's other ones and those that the firm has of
// them: a page shows and prints also where the firm took the style sheet over when it was the only one.
func TestStyleSheetsOfAFirm(t *testing.T) {
	styles, err := theme.ReadStyles(themes.FS)
	if err != nil {
		t.Fatal(err)
	}
	whole := ""
	for _, f := range styles {
		whole += f.Text
	}
	src := demo(t)
	src.Job = fstest.MapFS{"job.yaml": {Data: []byte(readFile(t, "../testdata/handworked/gable/job.yaml"))}}
	src.Firm = fstest.MapFS{"firm.yaml": {Data: []byte("name: A\n")},
		"theme/site/style.css": {Data: []byte(whole + "h1 { letter-spacing: 3px }\n")}, "theme/site/rooms.css": {Data: []byte(".first { overflow: clip }\n")},
		"theme/site/added.css": {Data: []byte("@media print { h1 { letter-spacing: 1mm } }\n")}}
	dir := filepath.Join(t.TempDir(), "pack")
	generate(t, src, dir)
	room := readFile(t, filepath.Join(dir, "rooms", "C1.html"))
	for _, want := range []string{`<link rel="stylesheet" href="../assets/style.css"><link rel="stylesheet" href="../assets/rooms.css"><link rel="stylesheet" href="../assets/paper.css" media="print"><link rel="stylesheet" href="../assets/added.css">`} {
		if !strings.Contains(room, want) {
			t.Errorf("a room's page does not link %s", want)
		}
	}
	for name, want := range map[string]string{"style.css": "h1{letter-spacing:3px}", "rooms.css": ".first{overflow:clip}", "paper.css": "@page{", "added.css": "@media print{h1{letter-spacing:1mm}}"} {
		if text := readFile(t, filepath.Join(dir, "assets", name)); !strings.Contains(text, want) {
			t.Errorf("%s: no %q in %.300s", name, want, text)
		}
	}
}

// Every fault of a look stands at its place, and nothing is written.
func TestFaultsOfALook(t *testing.T) {
	for name, c := range map[string]struct {
		files map[string]string
		want  string
	}{
		"a pale accent":      {map[string]string{"firm.yaml": "name: A\nlook:\n  accent: \"#9fc5e8\"\n"}, "firm/firm.yaml:3:11: usual: --touch #9fc5e8 on --ground"},
		"a colour of a dark": {map[string]string{"firm.yaml": "name: A\nlook:\n  colours:\n    dark: {ink: \"#444444\"}\n"}, "firm/firm.yaml:4:17: dark: --ink #444444 on --ground #0F1614 has 1.8"},
		"a field":            {map[string]string{"theme/templates/open.html": "{{define \"open-points\"}}<h1>x</h1>\n{{$.View.Questoins}}{{end}}"}, "firm/theme/templates/open.html:2:4: OpenPage has no field Questoins"},
		"a program":          {map[string]string{"firm.yaml": "name: A\nlook: {logo: m.svg}\n", "m.svg": `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1 1"><script/></svg>`}, "firm/m.svg:1:59: <script> is refused"},
		"a page":             {map[string]string{"pages/a.md": "---\ntitle: A\n---\n\nSee [this](rooms/Z9.html).\n"}, `firm/pages/a.md:5:5: the link "rooms/Z9.html" goes to no page of this pack`},
		"a page, unfit":      {map[string]string{"pages/a.md": "---\ntitle: A\nafter: strat\n---\n\nx\n"}, `firm/pages/a.md:3:8: the menu has no entry "strat"`},
	} {
		src := demo(t)
		firm := fstest.MapFS{"firm.yaml": {Data: []byte("name: A\n")}}
		for f, text := range c.files {
			firm[f] = &fstest.MapFile{Data: []byte(text)}
		}
		src.Firm = firm
		dir := filepath.Join(t.TempDir(), "pack")
		report, err := generator.Generate(context.Background(), generator.Options{Sources: src, Out: dir, Version: "test"})
		text := ""
		for _, f := range report.Findings {
			text += f.String() + "\n"
		}
		if _, there := os.Stat(dir); err == nil || there == nil || !strings.Contains(text, c.want) {
			t.Errorf("%s: %v, want %q in %.3000s", name, err, c.want, text)
		}
	}
}
