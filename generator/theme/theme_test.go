package theme_test

import (
	"bytes"
	"image"
	"image/png"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	_ "lapwork/generator/lawtest"
	"lapwork/generator/theme"
	"lapwork/themes"
)

func program(t testing.TB) theme.Program {
	t.Helper()
	styles, err := theme.ReadStyles(themes.FS)
	if err != nil {
		t.Fatal(err)
	}
	return theme.Program{Styles: styles, Menu: []string{"start", "materials"}}
}

// read reads a firm's folder of the files, with a look.
func read(t testing.TB, files map[string]string, look job.Look) (theme.Theme, []diag.Finding) {
	t.Helper()
	folder := fstest.MapFS{}
	for name, text := range files {
		folder[name] = &fstest.MapFile{Data: []byte(text)}
	}
	var found diag.List
	th := theme.Read([]theme.Folder{{Dir: "firm", FS: folder, Look: look}}, program(t), &found)
	return th, found.Sorted()
}

// Black on white is 21; #767676 on white is 4.54 and #777777 is 4.48, the last grey above and the first below 4.5; #595959 on
// white is 7.00, #5a5a5a 6.90 (quoted widely, from memory). To two decimals, hence half of the last.
func TestContrast(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want float64
	}{{"#000000", "#ffffff", 21}, {"#000", "#FFF", 21}, {"#777", "#ffffff", 4.48}, {"#767676", "#FFFFFF", 4.54}, {"#777777", "#ffffff", 4.48}, {"#595959", "#ffffff", 7.00}, {"#5a5a5a", "#ffffff", 6.90}} {
		if got := theme.Contrast(c.a, c.b); math.Abs(got-c.want) > 0.0051 {
			t.Errorf("%s on %s: %.3f, want %.2f", c.a, c.b, got, c.want)
		}
	}
	if got := theme.Contrast("red", "#ffffff"); got == got {
		t.Errorf("a word has a contrast: %v", got)
	}
}

// Each colour that cannot be read is found at its place in the scheme it fails in, with the ratio.
func TestColoursAreMeasured(t *testing.T) {
	at := diag.Pos{File: "firm/firm.yaml", Line: 7, Col: 3}
	for name, c := range map[string]struct {
		css  string
		look []job.Colour
		want string // empty: no finding
	}{
		"the usual look":   {"", nil, ""},
		"a grey word":      {"", []job.Colour{{Scheme: "usual", Name: "quiet", Value: "#777777", Pos: at}}, "firm/firm.yaml:7:3: usual: --quiet #777777 on --ground #FBFAF6 has 4.28 : 1, less than 7 : 1"},
		"a pale accent":    {"", []job.Colour{{Scheme: "usual", Name: "touch", Value: "#4f9bc4", Pos: at}}, "usual: --touch #4f9bc4 on --ground"},
		"dark":             {"", []job.Colour{{Scheme: "dark", Name: "caution", Value: "#7a4b00", Pos: at}}, "dark: --caution #7a4b00 on --ground #0F1614"},
		"sun":              {"", []job.Colour{{Scheme: "sun", Name: "stop", Value: "#ff0000", Pos: at}}, "sun: --stop #ff0000 on --ground #FFF has 3.99 : 1"},
		"an edge":          {"", []job.Colour{{Scheme: "usual", Name: "edge", Value: "#aaaaaa", Pos: at}}, "--edge #aaaaaa on --ground #FBFAF6 has 2.22 : 1, less than 3 : 1"},
		"a brown accent":   {"", []job.Colour{{Scheme: "usual", Name: "touch", Value: "#5a2d0c", Pos: at}}, ""},
		"a ground":         {"", []job.Colour{{Scheme: "usual", Name: "ground", Value: "#9fc5e8", Pos: at}}, "usual: --quiet #43524E on --ground #9fc5e8"},
		"in the style":     {":root { --ink: #666666; }", nil, "firm/theme/site/added.css:1:9: usual: --ink #666666 on --ground"},
		"in one rule":      {".q {\n  color: #888888;\n}", nil, "added.css:2:3: usual: .q writes #888888 on #FBFAF6: 3.3"},
		"on a dark box":    {".q { background: #14201D; color: #ffffff }", nil, ""},
		"ink on dark box":  {".q { background: #14201D }", nil, "usual: .q writes #14201D on #14201D: 1.00 : 1"},
		"two variables":    {".q { background: var(--rule); color: var(--quiet) }", nil, ".q writes #43524E on #B9C2BD"},
		"swapped":          {".q { background: var(--ink); color: var(--ground) }", nil, ""},
		"a word":           {".q { color: red }", nil, "added.css:1:6: the colour red of .q cannot be measured"},
		"a gradient":       {".q { background: linear-gradient(#000000, #ffffff) }", nil, "cannot be measured"},
		"an unknown name":  {".q { color: var(--ours) }", nil, "cannot be measured"},
		"see-through":      {".q { opacity: .4 }", nil, "opacity changes colours"},
		"an edge of a box": {".q { border: 2px solid #cccccc }", nil, "the edge of .q is #cccccc on #FBFAF6"},
		"a divider":        {".q { border: 2px solid var(--rule) }", nil, ""},
		"print only":       {"@media print { .q { color: #aaaaaa } }", nil, "paper: .q writes #aaaaaa on #FFFFFF"},
		"print is white":   {"@media print { .q { color: #444444 } }", nil, ""},
		"hidden caution":   {".caution { display: none }", nil, "stays on the page"},
		"hidden strip":     {".strip { display: none }", nil, ""},
		"a font":           {"@font-face { font-family: x }", nil, "@font-face is refused"},
		"import":           {"@import \"x.css\";", nil, "added.css:1:1: \"@import"},
		"a request":        {".q { list-style: url(http://x/y.png) }", nil, "asks for nothing outside itself: http://x/y.png"},
		"its own picture":  {".q { list-style: url(data:image/png;base64,AAAA) }", nil, ""},
		"an end":           {".q::after { content: \"</style>\" }", nil, `"</" is refused in a style`},
		"an escape":        {".q { c\\6flor: #888888 }", nil, "is not read"},
		"a rule in a rule": {".q { &:hover { color: #888888 } }", nil, "a rule inside a rule"},
		"not closed":       {".q { margin: 0", nil, "is not closed"},
		"a stray brace":    {"}", nil, "closes nothing"},
		"comments":         {"/* .q { color: red } */ .q { margin: /* x */ 0 }", nil, ""},
	} {
		files := map[string]string{}
		if c.css != "" {
			files["theme/site/added.css"] = c.css
		}
		_, found := read(t, files, job.Look{Colours: c.look})
		var all []string
		for _, f := range found {
			all = append(all, f.String())
		}
		text := strings.Join(all, "\n")
		if (c.want == "") != (len(found) == 0) || !strings.Contains(text, c.want) {
			t.Errorf("%s: %q, want %q", name, text, c.want)
		}
	}
}

// A style sheet in place of the program's keeps its schemes, or says which colour is missing.
func TestAStyleOfItsOwn(t *testing.T) {
	for _, f := range program(t).Styles {
		th, found := read(t, map[string]string{"theme/" + f.At: f.Text}, job.Look{})
		if len(found) > 0 || th.Over[f.At].Text != f.Text {
			t.Errorf("the program's own %s: %v", f.At, found)
		}
	}
	_, found := read(t, map[string]string{"theme/site/style.css": "body { margin: 0 }\n"}, job.Look{})
	if len(found) == 0 || !strings.Contains(found[0].String(), "firm/theme/site/style.css: the style sheet has no --") {
		t.Errorf("a style without schemes: %v", found)
	}
}

// The style sheet of a firm that took over the program's when it was a single one has the rules of all of them, in groups of
// its own: none is held against it again. What it says differently is.
func TestAStyleSheetFromBefore(t *testing.T) {
	all := ""
	for _, f := range program(t).Styles {
		all += f.Text
	}
	all += ".stop.is-done a{display:none}\n.warn[hidden]{display:none}\n.file input{opacity:0;min-height:0}\n.pad{background:#FFFFFF;height:auto}\n"
	if _, found := read(t, map[string]string{"theme/site/style.css": all}, job.Look{}); len(found) > 0 {
		t.Errorf("the program's own rules: %v", found)
	}
	for css, want := range map[string]string{
		".stop a{display:none}":                ".stop a is hidden",
		".is-done,.checks{display:none}":       ".checks is hidden",
		".goods{display:none}":                 "",
		".pad{background:#FFF;color:#777}":     ".pad writes #777 on #FFF",
		".file input{opacity:.5}":              "opacity",
		".file input,.file b{opacity:0}":       "opacity",
		"@media print{.file input{opacity:0}}": "opacity",
	} {
		_, found := read(t, map[string]string{"theme/site/style.css": all + css}, job.Look{})
		if want == "" && len(found) > 0 || want != "" && (len(found) == 0 || !strings.Contains(found[0].String(), want)) {
			t.Errorf("%s: %v, want %q", css, found, want)
		}
	}
}

// An accent alone can be read in every scheme: the dark one takes a lighter shade, and what stands on it is black or white.
func TestAccentLaw(t *testing.T) {
	base := program(t)
	rapid.Check(t, func(t *rapid.T) {
		hex := []byte("#000000")
		for i := 1; i < 7; i++ {
			hex[i] = "0123456789abcdef"[rapid.IntRange(0, 15).Draw(t, "digit")]
		}
		var found diag.List
		theme.Read([]theme.Folder{{Dir: "firm", FS: fstest.MapFS{}, Look: job.Look{Accent: string(hex)}}}, base, &found)
		for _, f := range found.Sorted() {
			if !strings.HasPrefix(f.Msg, "usual: --touch") && !strings.HasPrefix(f.Msg, "usual: --on-touch") {
				t.Fatalf("%s: %v", hex, f)
			}
		}
		if fits := theme.Contrast(string(hex), "#FBFAF6") >= 7; fits != (found.Err() == nil) {
			t.Fatalf("%s has %.2f on the ground: %v", hex, theme.Contrast(string(hex), "#FBFAF6"), found.Err())
		}
	})
}

const svgHead = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 20">`

// What a mark could carry besides its shapes is refused at its place.
func TestMarks(t *testing.T) {
	var picture bytes.Buffer
	if err := png.Encode(&picture, image.NewGray(image.Rect(0, 0, 30, 10))); err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct{ file, text, want string }{
		"plain":           {"m.svg", svgHead + `<path d="M0 0 L9 9" fill="url(#g)"/></svg>`, ""},
		"png":             {"m.png", picture.String(), ""},
		"missing":         {"m.svg", "", "there is no m.svg"},
		"a script":        {"m.svg", svgHead + "\n<script>alert(1)</script></svg>", "firm/m.svg:2:1: <script> is refused"},
		"an event":        {"m.svg", svgHead + `<path onclick="x()"/></svg>`, "the attribute onclick is refused"},
		"foreign content": {"m.svg", svgHead + `<foreignObject/></svg>`, "<foreignObject> is refused"},
		"a reference":     {"m.svg", svgHead + `<use href="http://x/y.svg#a"/></svg>`, "refers to nothing outside itself"},
		"an old link":     {"m.svg", svgHead + `<use xmlns:xlink="http://www.w3.org/1999/xlink" xlink:href="file:///etc/passwd"/></svg>`, "refers to nothing outside itself"},
		"a picture in it": {"m.svg", svgHead + `<image href="#a"/></svg>`, "<image> is refused"},
		"a style":         {"m.svg", svgHead + `<style>@import "x"</style></svg>`, "<style> is refused"},
		"url":             {"m.svg", svgHead + `<path fill="url( 'http://x')"/></svg>`, "refers to nothing outside itself"},
		"second url":      {"m.svg", svgHead + `<path style="fill:url(#a);stroke:url(http://x)"/></svg>`, "refers to nothing outside itself"},
		"an entity":       {"m.svg", "<!DOCTYPE svg [<!ENTITY a \"b\">]>" + svgHead + "</svg>", "document type is refused"},
		"an instruction":  {"m.svg", `<?xml-stylesheet href="x"?>` + svgHead + "</svg>", "names a style or a program"},
		"html":            {"m.svg", "<html/>", "begins with <svg"},
		"cut off":         {"m.svg", svgHead + "<path", "cannot be read"},
		"no picture":      {"m.png", "GIF89a", "no picture of its kind"},
		"too large":       {"m.svg", svgHead + strings.Repeat(" ", 70_000) + "</svg>", "more than 65536 are not taken"},
	} {
		files := map[string]string{}
		if c.text != "" {
			files[c.file] = c.text
		}
		th, found := read(t, files, job.Look{Logo: c.file})
		text := ""
		for _, f := range found {
			text += f.String() + "\n"
		}
		if (c.want == "") != (len(found) == 0) || !strings.Contains(text, c.want) || (c.want == "") != (th.Mark != nil) {
			t.Errorf("%s: %q, want %q", name, text, c.want)
		}
	}
}

// Pages stand in their languages; links stay inside the pack, pictures stand in the page, raw HTML is dropped.
func TestPages(t *testing.T) {
	th, found := read(t, map[string]string{
		"pages/yard.md":    "---\ntitle: Yard\nafter: materials\n---\n\n# Gate\n\n<script>x</script>\n\n[m](materials.html) ![g](g.svg)\n",
		"pages/yard.de.md": "---\ntitle: Hof\n---\n\nLaden.\n",
		"pages/g.svg":      svgHead + "</svg>",
		"pages/readme.md":  "not a page",
	}, job.Look{})
	if len(found) > 0 || len(th.Pages) != 1 {
		t.Fatal(found, th.Pages)
	}
	p := th.Pages[0]
	en, _ := p.In("en")
	if de, own := p.In("de-AT"); !own || de.Title != "Hof" || p.After != "materials" {
		t.Errorf("%+v", p)
	}
	if fr, own := p.In("fr"); own || fr.Title != "Yard" {
		t.Errorf("French: %+v, %v", fr, own)
	}
	for _, want := range []string{"<h2>Gate</h2>", `href="materials.html"`, `src="data:image/svg+xml;base64,`} {
		if !strings.Contains(en.HTML, want) {
			t.Errorf("no %q in %s", want, en.HTML)
		}
	}
	if strings.Contains(en.HTML, "<script") || len(en.Links) != 1 || en.Links[0].Pos.Line != 10 {
		t.Errorf("%s, %v", en.HTML, en.Links)
	}
	for name, c := range map[string]struct{ file, text, want string }{
		"no front":       {"a.md", "Hello", "firm/pages/a.md:1:1: a page begins with front matter"},
		"no title":       {"a.md", "---\nafter: start\n---\n\nx\n", "the page has no title"},
		"unknown key":    {"a.md", "---\ntitle: A\ncolour: x\n---\n\nx\n", `a.md:3:1: a page has no "colour"`},
		"unknown entry":  {"a.md", "---\ntitle: A\nafter: stat\n---\n\nx\n", `a.md:3:8: the menu has no entry "stat"`},
		"outside":        {"a.md", "---\ntitle: A\n---\n\n\n[x](https://example.test/)\n", `a.md:6:1: the link "https://example.test/" leads out of the pack`},
		"a program":      {"a.md", "---\ntitle: A\n---\n\n[x](javascript:alert(1).html)\n", "leads out of the pack"},
		"another scheme": {"a.md", "---\ntitle: A\n---\n\n[x](data:text/html,x.html)\n", "leads out of the pack"},
		"picture":        {"a.md", "---\ntitle: A\n---\n\n![x](../firm.svg)\n", "is no picture of the folder pages"},
		"no picture":     {"a.md", "---\ntitle: A\n---\n\n![x](none.png)\n", "cannot be taken"},
		"twice":          {"a.de.md", "---\ntitle: A\nlanguage: fr\n---\n\nx\n", "the language stands twice"},
		"bytes":          {"a.md", "---\ntitle: A\n---\n\n\xff\n", "characters that no text has"},
		"name":           {"a b.md", "---\ntitle: A\n---\n\nx\n", "cannot be the name of a page"},
	} {
		_, found := read(t, map[string]string{"pages/" + c.file: c.text}, job.Look{})
		text := ""
		for _, f := range found {
			text += f.String() + "\n"
		}
		if !strings.Contains(text, c.want) {
			t.Errorf("%s: %q, want %q", name, text, c.want)
		}
	}
}

// A theme has the files it may have; a job's file wins over the firm's.
func TestFiles(t *testing.T) {
	for name, want := range map[string]string{"theme/site/pack.js": "scripts are no part of a theme", "theme/x.txt": "a theme has no file x.txt", "theme/files/a.exe": "is no file that lies beside a pack",
		"theme/files/a.svg": "is refused", "theme/templates/room.html": "holds a character", "theme/README.md": "", "theme/files/a.pdf": ""} {
		_, found := read(t, map[string]string{name: svgHead + "<script/>\x01</svg>"}, job.Look{})
		if (want == "") != (len(found) == 0) || len(found) > 0 && !strings.Contains(found[0].String(), want) && !strings.Contains(found[len(found)-1].String(), want) {
			t.Errorf("%s: %v, want %q", name, found, want)
		}
	}
	if _, found := read(t, nil, job.Look{Theme: "winter", ThemePos: diag.Pos{File: "firm/firm.yaml", Line: 3, Col: 9}}); len(found) != 1 || !strings.Contains(found[0].String(), `firm.yaml:3:9: there is no folder "winter"`) {
		t.Errorf("a theme that is not there: %v", found)
	}
	one := func(text string) fstest.MapFS {
		return fstest.MapFS{"theme/templates/open.html": {Data: []byte(text)}, "theme/files/k.txt": {Data: []byte(text)}}
	}
	var found diag.List
	th := theme.Read([]theme.Folder{{Dir: "firm", FS: one("firm")}, {Dir: "job", FS: one("job")}}, program(t), &found)
	if f := th.Over["templates/open.html"]; f.Text != "job" || f.At != "job/theme/templates/open.html" || len(th.Files) != 1 || string(th.Files[0].Data) != "job" {
		t.Errorf("%+v %+v", th.Over, th.Files)
	}
	if (theme.Theme{}).Own() || !th.Own() {
		t.Error("whether a theme holds anything is told wrongly")
	}
}

// FuzzTheme: no style, page or drawing breaks the reader, and every finding stands inside its file.
func FuzzTheme(f *testing.F) {
	f.Add(".q { color: #888888 } @media print { a { b: c } }", "---\ntitle: A\n---\n\n[x](y.html) ![z](m.svg)", svgHead+"<path/></svg>")
	f.Add("@import 'x'; } { a: {", "---\n---\n", "<!DOCTYPE a>")
	f.Add("/* */ /*", "---\ntitle: [a\n---\n<b>", svgHead)
	f.Fuzz(func(t *testing.T, css, page, drawing string) {
		files := map[string]string{"firm/theme/site/added.css": css, "firm/pages/a.md": page, "firm/m.svg": drawing}
		_, found := read(t, map[string]string{"theme/site/added.css": css, "pages/a.md": page, "m.svg": drawing}, job.Look{Logo: "m.svg"})
		for _, x := range found {
			lines := strings.Split(strings.ReplaceAll(files[x.Pos.File], "\r\n", "\n"), "\n")
			if x.Pos.Line > len(lines) || x.Pos.Line > 0 && x.Pos.Col > len(lines[x.Pos.Line-1])+1 {
				t.Errorf("outside the file of %d lines: %v", len(lines), x)
			}
		}
	})
}
