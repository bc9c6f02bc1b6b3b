package page_test

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// checker gives the path of a file of the npm packages that only tests use. Where they are not installed the test skips; a
// run that sets CI must have them.
func checker(t *testing.T, path string) string {
	t.Helper()
	file, err := filepath.Abs(filepath.Join("../../.ci/node_modules", path))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(file); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatalf("%s is not installed, and CI is set: npm ci --prefix .ci", path)
		}
		t.Skipf("%s is not installed (npm ci --prefix .ci): pages are not checked with it", path)
	}
	return file
}

// axeRun checks the page that shows, with the strict contrast of success criterion 1.4.6 (7:1) besides the usual rules.
const axeRun = `axe.run({include: [['section.page' + (document.documentElement.dataset.build === 'single' ? '.on' : '')], ['.top'], ['#tablet']]}, {resultTypes: ['violations'], rules: {'color-contrast-enhanced': {enabled: true}}}).then(r =>
	r.violations.map(v => v.id + ': ' + v.help + ' | ' + v.nodes.slice(0, 3).map(n => n.target.join(' ') + ' ' + n.html.slice(0, 120)).join(' | ')))`

// TestAxe runs axe-core, an accessibility checker that is not ours, over every kind of page, as it records: in the light
// scheme, and in all schemes and with gloves in the long run.
func TestAxe(t *testing.T) {
	source, err := os.ReadFile(checker(t, "axe-core/axe.min.js"))
	if err != nil {
		t.Fatal(err)
	}
	schemes := []string{""}
	if os.Getenv("LAPWORK_LONG") != "" {
		schemes = []string{"", "sun", "dark"}
	}
	b := newTablet(t)
	b.visit(filepath.Join(pages(t), "ml-12.html"))
	eval[bool](b, string(source)+";true")
	kinds := map[string]string{}
	for _, id := range eval[[]string](b, `[...document.querySelectorAll('section.page')].map(s => s.id + '\n' + s.classList[1])`) {
		page, kind, _ := strings.Cut(id, "\n")
		if kinds[kind] == "" {
			kinds[kind] = page
		}
	}
	for _, scheme := range schemes {
		eval[bool](b, `(document.querySelector('[data-do=look][data-look="`+scheme+`"]').click(), true)`)
		for kind, page := range kinds {
			eval[bool](b, `(location.hash = '#`+page+`', true)`)
			b.until(`document.getElementById('` + page + `').classList.contains('on')`)
			b.axe(kind, scheme)
		}
	}
	// Kinds that the pack of the tests has no page of are checked with every field filled.
	for kind := range viewField {
		if kinds[string(kind)] != "" {
			continue
		}
		p, _ := onePage(kind, true)
		dir := t.TempDir()
		written(t, dir, render(t, p))
		b.visit(filepath.Join(dir, "a/page.html"))
		eval[bool](b, string(source)+";true")
		for _, scheme := range schemes {
			eval[bool](b, `(document.querySelector('[data-do=look][data-look="`+scheme+`"]').click(), true)`)
			b.axe(string(kind), scheme)
		}
	}
}

func (b *tablet) axe(kind, scheme string) {
	b.t.Helper()
	for _, v := range eval[[]string](b, axeRun) {
		b.t.Errorf("%s, scheme %q: %s", kind, scheme, v)
	}
}

// TestHTMLIsValid runs html-validate, a checker that is not ours, with its standard rules over every page of the folder and
// over the single file.
func TestHTMLIsValid(t *testing.T) {
	program := checker(t, "html-validate/bin/html-validate.mjs")
	node, err := exec.LookPath("node")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("no node found, and CI is set")
		}
		t.Skip("no node found: pages are not validated")
	}
	dir := t.TempDir()
	written(t, dir, render(t, job()))
	config := filepath.Join(dir, ".htmlvalidate.json")
	if err := os.WriteFile(config, []byte(`{"root": true, "extends": ["html-validate:standard"]}`), 0o644); err != nil {
		t.Fatal(err)
	}
	report := filepath.Join(t.TempDir(), "report.json") // a file: what it writes to a pipe may be cut short
	said, failed := exec.Command(node, program, "--config", config, "-f", "json="+report, dir).CombinedOutput()
	out, err := os.ReadFile(report)
	if err != nil {
		t.Fatalf("%v: %s", failed, said)
	}
	var files []struct {
		FilePath string
		Messages []struct {
			RuleID, Message, Selector string
			Line                      int
		}
	}
	if err := json.Unmarshal(out, &files); err != nil {
		t.Fatalf("%v: %s", err, out[:min(len(out), 300)])
	}
	told := map[string]bool{}
	for _, f := range files {
		for _, m := range f.Messages {
			text := fmt.Sprintf("%s: %s", m.RuleID, m.Message)
			if !told[text] {
				told[text] = true
				t.Errorf("%s:%d: %s at %s", filepath.Base(f.FilePath), m.Line, text, m.Selector)
			}
		}
	}
	bad := filepath.Join(dir, "bad.html")
	if err := os.WriteFile(bad, []byte("<!doctype html><title>x</title><p><div></p><img src=a.jpg>"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := exec.Command(node, program, "--config", config, bad).Run(); err == nil {
		t.Error("the checker takes a broken page")
	}
}
