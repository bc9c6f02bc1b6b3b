package generator_test

import (
	"context"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"golang.org/x/net/html"

	"lapwork/generator"
	"lapwork/generator/theme"
	"lapwork/themes"
)

// atTheWall are the kinds of page that are read at the wall, by the class of their section.
var atTheWall = []string{"room", "phase", "surface", "signoff"}

// mostStyle is what such a page may ask for in style, paper and what a firm adds apart: own choice, half of the 25 kB that it
// fetches beside itself.
const mostStyle = 12_500

// scriptClasses that stand alone in a rule of a style sheet that not every page links, and where the scripts set them.
var scriptClasses = map[string]string{
	"until":  "behind the heading of an activity, which only pages of a room have",
	"behind": "below a running clock, which only pages of a room have",
}

// shown is a page as a style sheet sees it: the names of its elements, and of its classes with a dot before.
type shown struct {
	path, kind string
	names      map[string]bool
	links      []string // style sheets, without those for print
	paper      []string
	single     bool
}

// shownIn reads every page of a pack.
func shownIn(t *testing.T, dir string) []shown {
	t.Helper()
	var out []shown
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || filepath.Ext(path) != ".html" {
			return err
		}
		f, err := os.Open(path)
		if err != nil {
			return err
		}
		defer f.Close()
		s, err := shownBy(f)
		s.path, _ = filepath.Rel(dir, path)
		out = append(out, s)
		return err
	})
	if err != nil || len(out) == 0 {
		t.Fatal(len(out), err)
	}
	return out
}

func shownBy(f *os.File) (shown, error) {
	s := shown{names: map[string]bool{}}
	tokens := html.NewTokenizer(f)
	for {
		switch tokens.Next() {
		case html.ErrorToken:
			return s, nil
		case html.StartTagToken, html.SelfClosingTagToken:
			s.element(tokens.Token(), filepath.Dir(f.Name()))
		}
	}
}

func (s *shown) element(tag html.Token, dir string) {
	at := map[string]string{}
	for _, a := range tag.Attr {
		at[a.Key] = a.Val
	}
	classes := strings.Fields(at["class"])
	s.names[tag.Data] = true
	for _, c := range classes {
		s.names["."+c] = true
	}
	switch {
	case tag.Data == "section" && len(classes) > 1 && classes[0] == "page" && s.kind == "":
		s.kind = classes[1]
	case tag.Data == "html":
		s.single = at["data-build"] == "single"
	case tag.Data == "link" && at["rel"] == "stylesheet" && at["media"] == "print":
		s.paper = append(s.paper, filepath.Join(dir, at["href"]))
	case tag.Data == "link" && at["rel"] == "stylesheet":
		s.links = append(s.links, filepath.Join(dir, at["href"]))
	}
}

// No page lacks a rule: one whose elements and classes all stand on the page, or may be set there by a script, is in a style
// sheet that the page links. And what a page at the wall asks for in style is small. Packs: the demo, a job in two
// languages, a preview of the library.
func TestStyleSheetsOfPages(t *testing.T) {
	rules, scripted := themeRules(t), scriptedNames(t)
	kinds := map[string]int{}
	for _, s := range slices.Concat(shownIn(t, packed(t, demo(t))), shownIn(t, packed(t, inTwoLanguages(t))), shownIn(t, previewed(t))) {
		if s.single {
			continue // it carries all of them
		}
		kinds[s.kind] = max(kinds[s.kind], s.weight(t))
		for sheet, selectors := range rules {
			if slices.ContainsFunc(slices.Concat(s.links, s.paper), func(link string) bool { return filepath.Base(link) == sheet }) {
				continue
			}
			for selector, names := range selectors {
				if s.meets(names, scripted) {
					t.Errorf("%s (%s) may need %q, which stands in %s", s.path, s.kind, selector, sheet)
				}
			}
		}
	}
	for _, kind := range atTheWall {
		if w := kinds[kind]; w == 0 || w > mostStyle {
			t.Errorf("a page of kind %s asks for %d bytes of style, more than %d", kind, w, mostStyle)
		}
	}
	if len(kinds) < 24 { // of the 25 of package pack: a dwelling that is stated once for several has a page in other jobs
		t.Errorf("pages of %d kinds only: %v", len(kinds), slices.Sorted(maps.Keys(kinds)))
	}
	t.Log("bytes of style:", kinds)
}

// weight is the size of the style sheets that a page links, paper and what a firm adds apart.
func (s shown) weight(t *testing.T) int {
	n := 0
	for _, link := range s.links {
		if filepath.Base(link) != "added.css" {
			n += len(readFile(t, link))
		}
	}
	for _, link := range s.paper {
		readFile(t, link)
	}
	return n
}

// meets is whether all names of a selector stand on the page or may come by a script.
func (s shown) meets(names []string, scripted map[string]bool) bool {
	return !slices.ContainsFunc(names, func(n string) bool {
		return !s.names[n] && (!scripted[n] || scriptClasses[strings.TrimPrefix(n, ".")] != "")
	})
}

func packed(t *testing.T, src generator.Sources) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "pack")
	generate(t, src, dir)
	return dir
}

// inTwoLanguages is a small job in German with all pages in Polish too.
func inTwoLanguages(t *testing.T) generator.Sources {
	src := demo(t)
	src.Firm, src.Job = nil, fstest.MapFS{"job.yaml": {Data: []byte("language: de\nalso-in: [pl]\n" + readFile(t, "../testdata/handworked/gable/job.yaml"))}}
	return src
}

func previewed(t *testing.T) string {
	t.Helper()
	src := demo(t)
	dir := filepath.Join(t.TempDir(), "preview")
	if report, err := generator.Preview(context.Background(), generator.Options{Sources: src, Out: dir, Version: "test"}); err != nil {
		t.Fatal(err, report.Findings)
	}
	return dir
}

var (
	cssRemark  = regexp.MustCompile(`(?s)/\*.*?\*/`)
	cssString  = regexp.MustCompile(`"[^"]*"`)
	cssRule    = regexp.MustCompile(`([^{}]+)\{`)
	cssAside   = regexp.MustCompile(`:(not|nth-child)\((?:[^()]|\([^()]*\))*\)|\[[^\]]*\]|::?[a-z-]+`)
	cssOneOf   = regexp.MustCompile(`:is\(([^()]*)\)`)
	cssName    = regexp.MustCompile(`\.?[a-zA-Z][\w-]*`)
	nameSet    = regexp.MustCompile(`createElement\(([^)]*)|classList\.\w+\(([^;]*)|className = ([^;]*)|el\(([^;]*)|class="([^"]*)"`)
	scriptWord = regexp.MustCompile(`'([a-z][a-z -]*)'|^[a-z][a-z -]*$`)
)

// themeRules gives for each style sheet of the theme its selectors, with the names of elements and classes that each needs.
// Selectors that are for the whole of a page, such as :root, need none and are left out.
func themeRules(t *testing.T) map[string]map[string][]string {
	t.Helper()
	styles, err := theme.ReadStyles(themes.FS)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]map[string][]string{}
	for _, f := range styles {
		name := filepath.Base(f.At)
		if name == "single.css" {
			continue // for the single file alone: its first class is set in no other
		}
		out[name] = map[string][]string{}
		for _, g := range cssRule.FindAllStringSubmatch(cssString.ReplaceAllString(cssRemark.ReplaceAllString(f.Text, ""), `""`), -1) {
			head := strings.TrimSpace(g[1][strings.LastIndexAny(g[1], ";")+1:])
			if strings.HasPrefix(head, "@") {
				continue
			}
			for _, one := range alternatives(head) {
				if names := cssName.FindAllString(cssAside.ReplaceAllString(one, ""), -1); len(names) > 0 {
					out[name][one] = names
				}
			}
		}
		if len(out[name]) == 0 {
			t.Errorf("%s has no rules", name)
		}
	}
	return out
}

// alternatives writes a list of selectors out, each :is() with every one of its choices.
func alternatives(list string) []string {
	if g := cssOneOf.FindStringSubmatchIndex(list); g != nil {
		// The selector round it, up to the commas outside brackets.
		from, to := edges(list, g[0], g[1])
		var out []string
		for _, choice := range strings.Split(list[g[2]:g[3]], ",") {
			out = append(out, list[from:g[0]]+strings.TrimSpace(choice)+list[g[1]:to])
		}
		return alternatives(list[:from] + strings.Join(out, ",") + list[to:])
	}
	var out []string
	for list != "" {
		_, to := edges(list, 0, 0)
		out = append(out, strings.TrimSpace(list[:to]))
		list = strings.TrimPrefix(list[to:], ",")
	}
	return out
}

// edges are where the selector that holds a stretch of a list begins and ends.
func edges(list string, from, to int) (begin, end int) {
	depth := 0
	for i := from - 1; i >= 0 && (list[i] != ',' || depth > 0); i-- {
		depth += strings.Count(list[i:i+1], ")") - strings.Count(list[i:i+1], "(")
		begin = from - i
	}
	depth, end = 0, to
	for end < len(list) && (list[end] != ',' || depth > 0) {
		depth += strings.Count(list[end:end+1], "(") - strings.Count(list[end:end+1], ")")
		end++
	}
	return from - begin, end
}

// scriptedNames are the elements that the theme's scripts may make and the classes that they may set, these with a dot
// before. Some words are neither: that only asks for more.
func scriptedNames(t *testing.T) map[string]bool {
	t.Helper()
	out := map[string]bool{}
	names, err := filepath.Glob("../themes/site/*.js")
	if err != nil || len(names) == 0 {
		t.Fatal(names, err)
	}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, g := range nameSet.FindAllStringSubmatch(string(text), -1) {
			for _, part := range g[1:] {
				for _, w := range scriptWord.FindAllStringSubmatch(part, -1) {
					for _, name := range strings.Fields(strings.Trim(w[0], "'")) {
						out[name], out["."+name] = true, true
					}
				}
			}
		}
	}
	for _, state := range []string{"none", "part", "done", "stop", "old"} { // 'st is-' and the state of a check
		out[".is-"+state] = true
	}
	for _, c := range []string{".set", ".runs", ".until", ".on", ".recording", ".is-done"} {
		if !out[c] {
			t.Errorf("no script was found to set %s: read them anew", c)
		}
	}
	return out
}
