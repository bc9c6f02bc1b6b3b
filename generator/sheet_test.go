package generator_test

import (
	"context"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"lapwork/generator"
	"lapwork/generator/diag"
	"lapwork/generator/library"
	"lapwork/templates"
)

// sheetNames are the pages beside a pack, by their templates.
var sheetNames = []string{"survey", "lessons", "variation"}

// firmWith is a firm whose theme holds these templates.
func firmWith(files map[string]string) fs.FS {
	firm := fstest.MapFS{"firm.yaml": {Data: []byte("name: A firm\n")}, "theme/site/added.css": {Data: []byte("h1{letter-spacing:1px}\n")}}
	for name, text := range files {
		firm["theme/templates/"+name+".html"] = &fstest.MapFile{Data: []byte(text)}
	}
	return firm
}

func sheetTemplate(t *testing.T, name string) string {
	t.Helper()
	text, err := fs.ReadFile(templates.FS, name+".html")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// The program's own templates of the pages beside a pack have no finding when they stand in a firm's theme; a field that
// the view does not have, and a policy or a style that is lost, are found at their places.
func TestSheetsOfATheme(t *testing.T) {
	src := demo(t)
	var loaded diag.List
	lib := library.Load(src.Content, nil, nil, &loaded)
	check := func(name, text string) []diag.Finding {
		src.Firm = firmWith(map[string]string{name: text})
		var found diag.List
		generator.CheckFirm(src, lib, &found)
		return found.Sorted()
	}
	for _, name := range sheetNames {
		own := sheetTemplate(t, name)
		if found := check(name, own); len(found) > 0 {
			t.Errorf("%s: %v", name, found)
		}
		for what, c := range map[string]struct{ from, to, want string }{
			"a field":   {"{{with .View}}", "{{with .View}}{{.Nonesuch}}", "has no field Nonesuch"},
			"the style": {"{{.Style}}", "", "the page has lost {{.Style}}"},
			"a policy":  {`content="{{.Policy}}"`, `content="default-src *"`, "the page's policy, scripts or style differ"},
			"a script":  {"<main>", "<main><script>1</script>", "scripts or style differ"},
		} {
			changed := strings.Replace(own, c.from, c.to, 1)
			found := check(name, changed)
			if changed == own || len(found) == 0 || !strings.Contains(found[0].String(), c.want) || found[0].Pos.File != "firm/theme/templates/"+name+".html" || found[0].Pos.Line < 1 {
				t.Errorf("%s, %s: %v", name, what, found)
			}
		}
	}
}

// A variation and lessons show the firm's own template and style.
func TestSheetsLookAsTheFirm(t *testing.T) {
	src := demo(t)
	src.Firm = firmWith(map[string]string{"variation": strings.Replace(sheetTemplate(t, "variation"), "<main>", "<main><p>Our form 7</p>", 1),
		"lessons": strings.Replace(sheetTemplate(t, "lessons"), "<main>", "<main><p>Our form 8</p>", 1)})
	variation, err := generator.VariationPage(generator.VariationOf(issueWith(1, 60, 100), issueWith(2, 90, 100), nil), src, nil)
	if err != nil || !strings.Contains(string(variation), "Our form 7") || !strings.Contains(string(variation), "letter-spacing:1px") {
		t.Errorf("variation: %v", err)
	}
	lessons, err := generator.Lessons{}.Page(src, nil)
	if err != nil || !strings.Contains(string(lessons), "Our form 8") || !strings.Contains(string(lessons), "letter-spacing:1px") {
		t.Errorf("lessons: %v", err)
	}
}

// What is written beside a German pack is German: the sheet of a variation and the calendar.
func TestBesideAPackInItsLanguage(t *testing.T) {
	src := demoIn(t, "language: de\n")
	results, report, err := generator.ComputeSaid(context.Background(), generator.Options{Version: "test", Sources: src})
	if err != nil {
		t.Fatal(err, report.Findings)
	}
	texts := generator.Texts(src, results.Job)
	before, after := issueWith(1, 60, 10000), issueWith(2, 90, 8850)
	after.Rooms = append(after.Rooms, generator.RoomTally{Room: "B3", Name: "Bad"})
	page, err := generator.VariationPage(generator.VariationOf(before, after, texts), src, texts)
	if err != nil {
		t.Fatal(err)
	}
	shown := visible(string(page))
	for _, w := range []string{"Ausgabe 1 vom 2026-03-09", "Material, ganze Gebinde und Rollen", "−11,50 EUR", "neu", "Neue Ausgabe"} {
		if !strings.Contains(shown, w) {
			t.Errorf("the variation lacks %q", w)
		}
	}
	for _, w := range []string{"issue 1", "Fitting", "added", "Whole", "Old issue", "Signatures"} {
		if strings.Contains(shown, w) {
			t.Errorf("the variation says %q", w)
		}
	}
	if !strings.Contains(string(page), `<html lang="de">`) {
		t.Error("the variation does not say its language")
	}
	data, ok := generator.Calendar(results)
	text := strings.ReplaceAll(string(data), "\r\n ", "") // unfolded
	for _, w := range []string{"Freigegeben\\, wenn: ", "Es unterschreibt: ", "Lieferung storey-", "\\, Terminplan"} {
		if !strings.Contains(text, w) {
			t.Errorf("the calendar lacks %q (%v)", w, ok)
		}
	}
	for _, w := range []string{"Released", "Signs", "Delivery", "programme", "Needed"} {
		for line := range strings.Lines(text) {
			if strings.Contains(line, w) && !strings.HasPrefix(line, "PRODID") {
				t.Errorf("the calendar says %s", line)
			}
		}
	}
}
