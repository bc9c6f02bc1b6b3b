package generator_test

import (
	"bytes"
	"html"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"lapwork/content"
	"lapwork/generator"
	"lapwork/generator/diag"
	"lapwork/generator/lang"
)

// demoIn is the demo with other languages in its header.
func demoIn(t testing.TB, header string) generator.Sources {
	t.Helper()
	src := demo(t)
	files := demoWith(t, func(job []byte) []byte {
		return append([]byte(header), bytes.Replace(job, []byte("language: en\n"), nil, 1)...)
	})
	src.Job, src.Firm = files, files
	return src
}

// A pack in three languages has each page once in each, under the same name; the figures and the revision agree; every page
// leads to itself in the other languages, in the folder and in the single files; steps show a second language beneath.
func TestLanguages(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "pack")
	report := generate(t, demoIn(t, "language: de\nalso-in: [pl, en]\nbeneath: pl\n"), dir)
	pages := map[string][]string{}
	for _, root := range []string{"", "pl", "en"} {
		pages[root] = htmlBelow(t, filepath.Join(dir, root), root == "")
	}
	if len(pages[""]) < 100 || !slices.Equal(pages[""], pages["pl"]) || !slices.Equal(pages[""], pages["en"]) {
		t.Fatalf("%d, %d and %d pages in the three languages; want the same names in each", len(pages[""]), len(pages["pl"]), len(pages["en"]))
	}
	for _, page := range pages[""] {
		for _, root := range []string{"", "pl", "en"} {
			text := readFile(t, filepath.Join(dir, root, page))
			tag := root
			if tag == "" {
				tag = "de"
			}
			if !strings.Contains(text, `<html lang="`+tag+`"`) || !strings.Contains(text, `data-rev="`+report.Revision+`"`) {
				t.Errorf("%s/%s: another language or revision than %s, %s", root, page, tag, report.Revision)
			}
			links := tongueLinks(text)
			if len(links) != 2 {
				t.Errorf("%s/%s leads to %d other languages, want 2", root, page, len(links))
			}
			for _, to := range links {
				if _, err := os.Stat(filepath.Join(dir, root, filepath.Dir(page), filepath.FromSlash(to))); err != nil {
					t.Errorf("%s/%s: the way to the other language leads nowhere: %s", root, page, to)
				}
			}
		}
	}
	for _, file := range []string{"26-014.html", "26-014-pl.html", "26-014-en.html"} {
		text := readFile(t, filepath.Join(dir, file))
		for _, to := range tongueLinks(text) {
			name, anchor, _ := strings.Cut(to, "#")
			if !strings.Contains(readFile(t, filepath.Join(dir, name)), `<section class="page `) || anchor == "" {
				t.Errorf("%s: %s is no page of a single file", file, to)
			}
		}
	}
	method := readFile(t, filepath.Join(dir, "methods", "wall-ceiling.html"))
	if !strings.Contains(method, `<details class="other" lang="pl"><summary>Polski</summary>`) {
		t.Error("a step does not show the language beneath it")
	}
	noEnglishLeft(t, dir)
	if got, want := figuresOf(readFile(t, filepath.Join(dir, "materials.html"))), figuresOf(readFile(t, filepath.Join(dir, "en", "materials.html"))); !slices.Equal(got, want) {
		t.Errorf("the figures of the materials differ between languages: %d and %d of them", len(got), len(want))
	}
}

// noEnglishLeft: a text that the German catalogue translates is nowhere left English in a German pack.
func noEnglishLeft(t *testing.T, dir string) {
	var found diag.List
	c := lang.Load("de", []lang.Layer{{Dir: "content", FS: content.FS}}, &found)
	var texts []string
	for _, e := range c.Entries() {
		if len(strings.Fields(e.English)) >= 4 && !strings.ContainsAny(e.English, "%{*\n") && c.Text(e.English) != e.English {
			texts = append(texts, e.English)
		}
	}
	if len(texts) < 500 {
		t.Fatalf("only %d German texts to look for", len(texts))
	}
	for _, page := range htmlBelow(t, dir, true) {
		shown := visible(readFile(t, filepath.Join(dir, page)))
		for _, text := range texts {
			if strings.Contains(shown, "\n"+text+"\n") {
				t.Errorf("%s shows %q in English", page, text)
			}
		}
	}
}

func htmlBelow(t *testing.T, dir string, top bool) []string {
	t.Helper()
	var out []string
	err := filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(dir, p)
		if d.IsDir() && top && (rel == "pl" || rel == "en") {
			return filepath.SkipDir
		}
		if filepath.Ext(p) == ".html" && !strings.HasPrefix(rel, "26-014") {
			out = append(out, rel)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(out)
	return out
}

func readFile(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

var tongues = regexp.MustCompile(`<nav class="tongues".*?</nav>`)
var href = regexp.MustCompile(`href="([^"]*)"`)

// tongueLinks gives where the switches of a file lead.
func tongueLinks(text string) []string {
	var out []string
	for _, nav := range tongues.FindAllString(text, -1) {
		for _, g := range href.FindAllStringSubmatch(nav, -1) {
			out = append(out, html.UnescapeString(g[1]))
		}
	}
	return out
}

var cells = regexp.MustCompile(`<b>(\d[\d\x{202f}.,]*) `)

// figuresOf lists the figures that a page shows bold, with one decimal sign.
func figuresOf(page string) []string {
	var out []string
	page = strings.ReplaceAll(page, `<span lang="en" class="en">`, "")
	for _, g := range cells.FindAllStringSubmatch(page, -1) {
		out = append(out, strings.ReplaceAll(g[1], ",", "."))
	}
	return out
}

var (
	unseen = regexp.MustCompile(`(?s)<script.*?</script>|<style.*?</style>|<span lang="en" class="en">.*?</span>|<svg.*?</svg>`)
	tags   = regexp.MustCompile(`<[^>]*>`)
)

// visible is the text of a page, a line a run; what is marked as English is left out.
func visible(page string) string {
	return html.UnescapeString(tags.ReplaceAllString(unseen.ReplaceAllString(page, "\n"), "\n"))
}
