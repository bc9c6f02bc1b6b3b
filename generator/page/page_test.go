package page_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"net/url"
	"os"
	"path"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"lapwork/generator/output"
	"lapwork/generator/pack"
	"lapwork/generator/page"
	"lapwork/templates"
	"lapwork/themes"

	"golang.org/x/net/html"
)

var look = page.Look{Templates: templates.FS, Theme: themes.FS}

func render(t testing.TB, p pack.Pack) []output.File {
	t.Helper()
	files, err := page.Render(p, look)
	if err != nil {
		t.Fatal(err)
	}
	for i, f := range files {
		data, err := f.Bytes()
		if err != nil {
			t.Fatal(err)
		}
		files[i] = output.File{Path: f.Path, Data: data}
	}
	return files
}

// written puts a pack into a folder as it would be unpacked on a tablet.
func written(t testing.TB, dir string, files []output.File) {
	t.Helper()
	for _, f := range files {
		path := filepath.Join(dir, filepath.FromSlash(f.Path))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, f.Data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// TestLinksResolve follows every link of both builds of two jobs, the second with a single file for each storey.
func TestLinksResolve(t *testing.T) {
	for _, rooms := range []int{3, 34} {
		files := render(t, jobOf(rooms))
		ids := map[string]map[string]bool{}
		for _, f := range files {
			ids[f.Path] = idsOf(t, f)
		}
		n := 0
		for _, f := range files {
			for _, href := range linksOf(t, f) {
				n++
				u, err := url.Parse(href)
				if err != nil || u.Scheme == "data" {
					continue
				}
				to := f.Path
				if u.Path != "" {
					to = path.Join(path.Dir(f.Path), u.Path)
				}
				if ids[to] == nil {
					t.Errorf("%s: %q goes to no file", f.Path, href)
				} else if u.Fragment != "" && !ids[to][u.Fragment] {
					t.Errorf("%s: %q goes to no id", f.Path, href)
				}
			}
		}
		if n < 200 {
			t.Errorf("only %d links were followed", n)
		}
	}
}

// idsOf gives every id of an HTML file and fails where one stands twice; other files have none.
func idsOf(t *testing.T, f output.File) map[string]bool {
	ids := map[string]bool{}
	if path.Ext(f.Path) != ".html" {
		return ids
	}
	eachAttr(t, f, func(_, key, value string) {
		if key != "id" {
			return
		}
		if ids[value] {
			t.Errorf("%s: id %q stands twice", f.Path, value)
		}
		ids[value] = true
	})
	return ids
}

func linksOf(t *testing.T, f output.File) []string {
	var links []string
	if path.Ext(f.Path) == ".html" {
		eachAttr(t, f, func(_, key, value string) {
			if key == "href" || key == "src" {
				links = append(links, value)
			}
			if strings.Contains(value, "url(#") {
				links = append(links, "#"+strings.TrimSuffix(strings.TrimPrefix(value, "url(#"), ")"))
			}
			if key == "aria-labelledby" || key == "aria-describedby" {
				for _, id := range strings.Fields(value) {
					links = append(links, "#"+id)
				}
			}
		})
	}
	return links
}

func eachAttr(t *testing.T, f output.File, visit func(tag, key, value string)) {
	t.Helper()
	root, err := html.Parse(bytes.NewReader(f.Data))
	if err != nil {
		t.Fatal(err)
	}
	for n := range root.Descendants() {
		for _, a := range n.Attr {
			visit(n.Data, a.Key, a.Val)
		}
	}
}

// TestSelfContained holds what the single file may not do: ask for anything, or carry anything its policy refuses.
func TestSelfContained(t *testing.T) {
	f := output.File{Path: "ml-12.html", Data: find(t, render(t, job()), "ml-12.html")}
	eachAttr(t, f, func(tag, key, value string) {
		if key == "src" && !strings.HasPrefix(value, "data:") || key == "style" || strings.HasPrefix(key, "on") || tag == "link" && key == "href" && value != "data:," {
			t.Errorf("<%s %s=%q>", tag, key, value)
		}
	})
	root, err := html.Parse(bytes.NewReader(f.Data))
	if err != nil {
		t.Fatal(err)
	}
	policy, inline := "", 0
	for n := range root.Descendants() {
		for _, a := range n.Attr {
			if a.Key == "content" && strings.Contains(a.Val, "default-src 'none'") {
				policy = a.Val
			}
		}
		if kind := attr(n, "type"); (n.Data == "script" && kind != "application/json") || n.Data == "style" {
			inline++
			sum := sha256.Sum256([]byte(n.FirstChild.Data))
			if !strings.Contains(policy, "'sha256-"+base64.StdEncoding.EncodeToString(sum[:])+"'") {
				t.Errorf("a <%s> is not in the policy %s", n.Data, policy)
			}
		}
	}
	if inline != 6 || strings.Contains(policy, "unsafe") || strings.Contains(policy, "connect-src") {
		t.Errorf("%d inline texts, policy %s", inline, policy)
	}
}

func attr(n *html.Node, key string) string {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}

func TestSameInputSameBytes(t *testing.T) {
	a, b := render(t, jobOf(5)), render(t, jobOf(5))
	if !reflect.DeepEqual(a, b) {
		t.Error("two renderings of one pack differ")
	}
}

func TestOneFileForEachStorey(t *testing.T) {
	files := render(t, jobOf(34))
	ground, upper := string(find(t, files, "ml-12-ground-floor.html")), string(find(t, files, "ml-12-upper-floor.html"))
	for text, want := range map[string][2]bool{`id="rooms/A1"`: {true, false}, `id="surfaces/B1-W3"`: {false, true}, `id="signoff/B1"`: {false, true}, `id="materials"`: {true, true},
		`href="#rooms/B1"`: {false, true}, `href="ml-12-upper-floor.html#rooms/B1"`: {true, false}} {
		if strings.Contains(ground, text) != want[0] || strings.Contains(upper, text) != want[1] {
			t.Errorf("%s: ground %v, upper %v; want %v", text, strings.Contains(ground, text), strings.Contains(upper, text), want)
		}
	}
}

// TestRefused changes a good pack in one place each and wants that place named.
func TestRefused(t *testing.T) {
	for _, c := range []struct {
		name, want string
		spoil      func(*pack.Pack)
	}{
		{"a text after sealing", "A1/QA-15/A1: the seal", func(p *pack.Pack) { roomOf(p).Activities[0].Checks[0].Accept = "looks good" }},
		{"a page's seal", "the seal", func(p *pack.Pack) { signOffOf(p).Groups[0].Signs[0].Title = "Other words" }},
		{"a link to no page", `"nowhere.html" goes to no page`, func(p *pack.Pack) { roomOf(p).SignOff.Path = "nowhere.html" }},
		{"a link to no id", `"rooms/A1.html#none" goes to no id`, func(p *pack.Pack) { roomOf(p).SignOff.Path = "rooms/A1.html#none" }},
		{"an id twice", `id "A1-W3" stands twice`, func(p *pack.Pack) { r := roomOf(p); r.Surfaces = append(r.Surfaces, r.Surfaces[0]) }},
		{"inline style", "the policy refuses", func(p *pack.Pack) { roomOf(p).View.SVG = `<svg viewBox="0 0 1 1"><path style="fill:red"/></svg>` }},
		{"a script", "the policy refuses", func(p *pack.Pack) { roomOf(p).Activities[0].Work[0].Steps[0].HTML = `<script>1</script>` }},
		{"an unknown record", "none of tick", func(p *pack.Pack) { roomOf(p).Activities[0].Checks[0].Record = "stamp" }},
		{"a check unlisted", "not among the pack's checks", func(p *pack.Pack) { p.Checks = p.Checks[1:] }},
		{"a view missing", "has no room view", func(p *pack.Pack) { p.Pages[len(p.Pages)-3].Room = nil }},
	} {
		p := job()
		c.spoil(&p)
		if _, err := page.Render(p, look); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: want an error with %q, got %v", c.name, c.want, err)
		}
	}
}

func roomOf(p *pack.Pack) *pack.Room {
	for _, pg := range p.Pages {
		if pg.Room != nil {
			return pg.Room
		}
	}
	return nil
}

func signOffOf(p *pack.Pack) *pack.SignOff {
	for _, pg := range p.Pages {
		if pg.SignOff != nil {
			return pg.SignOff
		}
	}
	return nil
}

// TestText holds that what a job's author writes stays text.
func TestText(t *testing.T) {
	p := job()
	roomOf(&p).Name = `<img src=x onerror=alert(1)>"'`
	p.Search = []pack.SearchEntry{{Text: "</script><b>", Path: "rooms/A1.html"}}
	p.Head.Job = `a"; } body { display: none } /* </style>`
	files := render(t, p)
	for _, name := range []string{"rooms/A1.html", "search.html", "ml-12.html", "assets/style.css"} {
		data := find(t, files, name)
		for _, bad := range []string{"<img src=x", "</script><b>", `a"; }`} {
			if bytes.Contains(data, []byte(bad)) {
				t.Errorf("%s: %q went through", name, bad)
			}
		}
	}
}

func TestServed(t *testing.T) {
	file := find(t, render(t, job()), "ml-12.html")
	got := string(page.Served(file, "/records"))
	if !strings.Contains(got, ` data-post="/records" data-build="single"`) || strings.Count(got, "connect-src &#39;self&#39;") != 1 || len(got) != len(file)+len(` data-post="/records"`)+len(" connect-src &#39;self&#39;;") {
		t.Error("the served file does not say where to post, or more changed than that")
	}
}

// TestWeight holds the budget of offline use for a page and for what pages share: own choice, measured on a slow tablet's
// budget of 60 kB a page and 26 kB for the recording script.
func TestWeight(t *testing.T) {
	for _, f := range render(t, job()) {
		limit := 60_000
		if f.Path == "ml-12.html" {
			limit = 3_000_000
		}
		if path.Ext(f.Path) == ".js" {
			limit = 22_000 // what records, with what it says as patterns for other languages
		}
		if len(f.Data) > limit {
			t.Errorf("%s has %d bytes, more than %d", f.Path, len(f.Data), limit)
		}
	}
}
