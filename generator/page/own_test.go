package page_test

import (
	"io/fs"
	"strings"
	"testing"

	"lapwork/generator/diag"
	"lapwork/generator/page"
	"lapwork/generator/theme"
	"lapwork/templates"
)

func builtinTemplate(t *testing.T, name string) string {
	t.Helper()
	text, err := fs.ReadFile(templates.FS, name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func checkOwn(over map[string]string) []diag.Finding {
	own := theme.Theme{Over: map[string]theme.File{}}
	for name, text := range over {
		own.Over["templates/"+name] = theme.File{At: "firm/theme/templates/" + name, Text: text}
	}
	var found diag.List
	page.CheckOwn(templates.FS, own, nil, &found)
	return found.Sorted()
}

// The program's own templates have no finding when they stand as a theme's: what the check finds, it finds for a reason. The
// pages of other commands are no part of a pack.
func TestOwnTemplatesOfTheProgram(t *testing.T) {
	over := map[string]string{}
	names, err := fs.Glob(templates.FS, "*.html")
	if err != nil || len(names) < 20 {
		t.Fatal(names, err)
	}
	for _, name := range names {
		if name != "survey.html" && name != "lessons.html" && name != "variation.html" {
			over[name] = builtinTemplate(t, name)
		}
	}
	for _, f := range checkOwn(over) {
		t.Error(f)
	}
}

// TestEveryKindIsChecked: a field that no view has is found in the template of every kind of page.
func TestEveryKindIsChecked(t *testing.T) {
	if len(page.Kinds) != len(viewField) {
		t.Fatalf("%d kinds are checked, there are %d", len(page.Kinds), len(viewField))
	}
	for _, k := range page.Kinds {
		name := string(k)
		if name == "cautions" {
			name = "cautions-page"
		}
		names, err := fs.Glob(templates.FS, "*.html")
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range names {
			text, define := builtinTemplate(t, file), `{{define "`+name+`"}}`
			if !strings.Contains(text, define) {
				continue
			}
			found := checkOwn(map[string]string{file: strings.Replace(text, define, define+`{{$.View.Nonesuch}}`, 1)})
			if len(found) != 1 || !strings.Contains(found[0].String(), "has no field Nonesuch") {
				t.Errorf("%s: %v", k, found)
			}
		}
	}
}

// What would fail on some page, or what a pack refuses, is found at its place before anything is written.
func TestOwnTemplatesRefused(t *testing.T) {
	late := builtinTemplate(t, "late.html")
	frame := builtinTemplate(t, "frame.html")
	for name, c := range map[string]struct{ file, text, want string }{
		"a field":               {"late.html", strings.Replace(late, "{{.Latest}}", "{{.Latets}}", 1), "firm/theme/templates/late.html:6:"},
		"a field in a part":     {"late.html", strings.Replace(late, "{{.Event}}</h2>", "{{.Event.Name}}</h2>", 1), "a string has no field Name"},
		"a range":               {"late.html", strings.Replace(late, "{{range .Rows}}", "{{range .Event}}", 1), "nothing to range over in a string"},
		"a variable":            {"late.html", strings.Replace(late, "{{with $.View}}", "{{with $.Veiw}}", 1), "content has no field Veiw"},
		"a value":               {"late.html", strings.Replace(late, "{{only .Room}}", "{{keys .Room}}", 1), "keys takes a list of string, not a string"},
		"how many values":       {"late.html", strings.Replace(late, "{{only .Room}}", "{{keys}}", 1), "keys takes 1 values, not 0"},
		"a part":                {"late.html", strings.Replace(late, `{{template "notes"`, `{{template "nots"`, 1), `there is no part "nots"`},
		"the syntax":            {"late.html", strings.Replace(late, "{{else}}", "{{else", 1), "the template cannot be read"},
		"a function":            {"late.html", strings.Replace(late, "{{only .Room}}", "{{onyl .Room}}", 1), `function "onyl" not defined`},
		"the page itself":       {"late.html", "{{define \"other\"}}x{{end}}", `the part "late" is missing`},
		"a part for nothing":    {"ours.html", `{{define "ours"}}x{{end}}`, `nothing in a pack shows the part "ours"`},
		"a part of another":     {"ours.html", `{{define "caution"}}x{{end}}`, `the part "caution" stands in another template too`},
		"a script":              {"late.html", strings.Replace(late, "<p>What", "<script>1</script><p>What", 1), `a pack refuses "<script"`},
		"a style":               {"late.html", strings.Replace(late, "<p>What", `<p style="color:red">What`, 1), `a pack refuses "style="`},
		"an event":              {"late.html", strings.Replace(late, "<p>What", `<p onclick="x">What`, 1), `a pack refuses "onclick="`},
		"a request":             {"late.html", strings.Replace(late, "<p>What", `<img src="https://x.test/a.png"><p>What`, 1), `a pack refuses "src=`},
		"an open tag":           {"late.html", strings.Replace(late, "<p>What", `<p title="{{.Notes}}>What`, 1), "late.html"},
		"the policy":            {"frame.html", strings.Replace(frame, "default-src 'none'", "default-src *", 1), "the frame's policy, scripts or style differ"},
		"a script of the frame": {"frame.html", strings.Replace(frame, `<script src="assets/pack.js"></script>`, "", 1), "the frame's policy, scripts or style differ"},
		"a place of the frame":  {"frame.html", strings.Replace(frame, "{{.Data}}", "", 1), "the frame has lost {{.Data}}"},
		"the warning":           {"frame.html", strings.Replace(frame, `id="warn"`, "", 1), `the frame has lost id="warn"`},
	} {
		found := checkOwn(map[string]string{c.file: c.text})
		text := ""
		for _, f := range found {
			text += f.String() + "\n"
			if !strings.HasPrefix(f.Pos.File, "firm/theme/templates/") || f.Pos.Line < 1 {
				t.Errorf("%s: no place in the theme: %v", name, f)
			}
		}
		if !strings.Contains(text, c.want) {
			t.Errorf("%s: %q, want %q", name, text, c.want)
		}
	}
}
