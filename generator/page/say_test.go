package page

import (
	"strings"
	"testing"
	"testing/fstest"
	"unicode/utf8"

	"lapwork/generator/diag"
	"lapwork/generator/lang"
)

func german(t *testing.T, texts string) *lang.Catalogue {
	t.Helper()
	var found diag.List
	c := lang.Load("de", []lang.Layer{{FS: fstest.MapFS{"lang/de/interface/templates.yaml": {Data: []byte("language: de\nreviewed: no\ntexts:\n" + texts)}}}}, &found)
	if err := found.Err(); err != nil {
		t.Fatal(err)
	}
	return c
}

// What is between tags and in labels is said in the pack's language; a plain action is a value that may move; attributes,
// figures and what an action decides stay.
func TestTranslatedTemplate(t *testing.T) {
	c := german(t, "  \"Checks\": \"Prüfungen\"\n  \"Signs: %v. After: %v.\": \"Nach %[2]v zeichnet %[1]v.\"\n  \"Relative humidity, %%\": \"Relative Feuchte, %%\"\n")
	for _, x := range []struct{ from, want string }{
		{`<h2 class="x">Checks</h2>`, `<h2 class="x">Prüfungen</h2>`},
		{`<div aria-label="Checks" data-do="Checks">`, `<div aria-label="Prüfungen" data-do="Checks">`},
		{`{{with .A}}<p>Signs: {{.Who}}. After: {{.After}}.</p>{{end}}`, `{{with .A}}<p>{{say "Signs: %v. After: %v." (.Who) (.After)}}</p>{{end}}`},
		{`<span>Relative humidity, %</span>`, `<span>Relative Feuchte, %</span>`},
		{`<td>{{.A}} m²</td>`, `<td>{{.A}} m²</td>`},
		{`<a{{if .B}} title="{{.C}}"{{end}} href="#x">12</a>`, `<a{{if .B}} title="{{.C}}"{{end}} href="#x">12</a>`},
		{`{{define "d"}} data-check="{{.Key}}" data-seal="{{.Seal}}"{{end}}`, `{{define "d"}} data-check="{{.Key}}" data-seal="{{.Seal}}"{{end}}`},
		{`<b>Open points</b>`, `<b>` + lang.Mark("Open points") + `</b>`},
	} {
		if got := translated(x.from, c); got != x.want {
			t.Errorf("%s\n got %s\nwant %s", x.from, got, x.want)
		}
	}
}

// Marks become elements where text may have them, and vanish in attributes, drawings and elements that hold text only. What
// is never closed, or closed twice, leaves no mark and breaks no tag.
func TestForeign(t *testing.T) {
	b, e := string(lang.Begin), string(lang.End)
	for _, x := range []struct {
		from, want string
		n          int
	}{
		{"<p>" + b + "open" + e + "</p>", `<p><span lang="en" class="en">open</span></p>`, 1},
		{`<p title="` + b + "open > it" + e + `">x</p>`, `<p title="open > it">x</p>`, 0},
		{"<svg><text>" + b + "room" + e + "</text></svg><p>" + b + "a" + e + "</p>", `<svg><text>room</text></svg><p><span lang="en" class="en">a</span></p>`, 2},
		{"<title>" + b + "Checks" + e + "</title>", "<title>Checks</title>", 1},
		{"<select><option>" + b + "gap" + e + "</option></select>", "<select><option>gap</option></select>", 1},
		{"<p>" + b + "a<b>c</b>" + e + "</p>", "<p>a<b>c</b></p>", 1},
		{"<p>" + e + "a" + b + "</p>", "<p>a</p>", 1},
		{"plain", "plain", 0},
	} {
		got, n := foreign(x.from)
		if got != x.want || n > x.n {
			t.Errorf("%q: %q with %d marks, want %q with %d", x.from, got, n, x.want, x.n)
		}
	}
}

// FuzzForeign: no mark is left, and nothing but the marks and their elements is changed.
func FuzzForeign(f *testing.F) {
	b, e := string(lang.Begin), string(lang.End)
	f.Add("<p>" + b + "a" + e + "</p>")
	f.Add("<svg>" + b + "<title>" + e)
	f.Add("<" + b + `"` + e)
	f.Fuzz(func(t *testing.T, text string) {
		if !utf8.ValidString(text) {
			return // a page is valid text: readers refuse what is not
		}
		got, _ := foreign(text)
		if lang.Marked(got) {
			t.Errorf("marks are left in %q", got)
		}
		if strings.Contains(text, foreignOpen) || strings.Contains(text, foreignClose) {
			return
		}
		if back := strings.ReplaceAll(strings.ReplaceAll(got, foreignOpen, ""), foreignClose, ""); back != lang.Plain(text) {
			t.Errorf("%q became %q", text, back)
		}
	})
}

// A script's texts: the literals it says, in the pack's language, as an object that cannot end its element.
func TestScriptTexts(t *testing.T) {
	script := `say(tr('Signed and kept.')); tr('%d of %d', a, b); tr('A day\'s sheet'); other('Not this')`
	if got := strings.Join(ScriptPatterns(script), "|"); got != "%d of %d|A day's sheet|Signed and kept." {
		t.Errorf("patterns %q", got)
	}
	got, err := scriptTexts(ScriptPatterns(script), []string{"%d of %s"}, german(t, "  \"Signed and kept.\": \"Unterschrieben </script> und behalten.\"\n  \"%d of %d\": {one: \"%d von %d\", other: \"%d von %d.\"}\n"))
	want := `Object.assign(window.lapworkTexts||={},{"%d of %d":{"one":"%d von %d","other":"%d von %d."},"Signed and kept.":"Unterschrieben \u003c/script\u003e und behalten."});` + "\n"
	if err != nil || got != want {
		t.Errorf("got %s, %v\nwant %s", got, err, want)
	}
}
