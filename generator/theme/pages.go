package theme

import (
	"encoding/base64"
	"io/fs"
	"path"
	"slices"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"

	"lapwork/generator/diag"
	"lapwork/generator/lang"
	"lapwork/generator/markdown"
)

// Page is a page of a firm or a job, in one or more languages.
type Page struct {
	Name  string // file name without its endings
	After string // entry of the menu that it stands behind; empty: before the search
	Texts []Text // the first is that of NAME.md
}

// Text is a page in one language.
type Text struct {
	Language    string
	Links       []Link // into the pack
	Title, HTML string // HTML is safe: raw HTML was dropped, links stay inside the pack, pictures stand in it
}

// Link is where a page leads to, and the place where it says so.
type Link struct {
	To  string
	Pos diag.Pos
}

// In gives the page in a language; own is false where another has to stand in.
func (p Page) In(tag string) (t Text, own bool) {
	base, _, _ := strings.Cut(tag, "-")
	for _, want := range []string{tag, base} {
		for _, t := range p.Texts {
			if t.Language == want {
				return t, true
			}
		}
	}
	return p.Texts[0], false
}

// The bounds of pages. Own choice.
const (
	maxPage  = 64 << 10
	maxPages = 40 // files
)

// pages reads the folder pages.
func (r reader) pages(t *Theme) {
	entries, err := fs.ReadDir(r.FS, "pages")
	if err != nil {
		return // no pages here
	}
	own := map[string]*Page{}
	var order []string
	n := 0
	for _, e := range entries {
		if e.IsDir() || path.Ext(e.Name()) != ".md" || strings.EqualFold(e.Name(), "readme.md") {
			continue
		}
		if n++; n > maxPages {
			r.found.Faultf(r.at("pages"), "", "more than %d pages", maxPages)
			return
		}
		name, tag, tagged := strings.Cut(strings.TrimSuffix(e.Name(), ".md"), ".")
		if !plainName(name) || strings.Contains(tag, ".") {
			r.found.Faultf(r.at("pages/"+e.Name()), "letters, digits, - and _, then .md or .de.md", "%s cannot be the name of a page", e.Name())
			continue
		}
		text, after, ok := r.page("pages/"+e.Name(), tag)
		if !ok {
			continue
		}
		if own[name] == nil {
			own[name] = &Page{Name: name}
			order = append(order, name)
		}
		p := own[name]
		switch {
		case slices.ContainsFunc(p.Texts, func(o Text) bool { return o.Language == text.Language }):
			r.found.Faultf(r.at("pages/"+e.Name()), "keep one of them", "the page %s stands twice in %s", name, text.Language)
		case tagged:
			p.Texts = append(p.Texts, text)
		default:
			p.Texts, p.After = append([]Text{text}, p.Texts...), after
		}
	}
	for _, name := range order {
		t.Pages = append(slices.DeleteFunc(t.Pages, func(o Page) bool { return o.Name == name }), *own[name])
	}
}

// page reads one file; tag is the language in its name, empty where the file itself says it.
func (r reader) page(name, tag string) (text Text, after string, ok bool) {
	data, ok := r.read(name, maxPage)
	if !ok {
		return text, "", false
	}
	source := strings.ReplaceAll(string(data), "\r\n", "\n")
	at := r.at(name).File
	top := diag.Pos{File: at, Line: 1, Col: 1}
	if !utf8.ValidString(source) || lang.Marked(source) || strings.ContainsFunc(source, func(c rune) bool { return c < ' ' && c != '\n' && c != '\t' }) {
		r.found.Faultf(top, "save it as UTF-8 text", "the page holds characters that no text has")
		return text, "", false
	}
	rest, begun := strings.CutPrefix(source, "---\n")
	front, body, ended := strings.Cut(rest, "\n---\n")
	if !begun || !ended {
		r.found.Faultf(top, "begin with ---, title: ..., ---", "a page begins with front matter")
		return text, "", false
	}
	before := r.found.Count(diag.Fault)
	text.Language = tag
	after = r.front(at, front, &text)
	if text.Language == "" {
		text.Language = lang.Source
	}
	text.HTML = r.body(at, name, source, body, &text.Links)
	return text, after, r.found.Count(diag.Fault) == before
}

// front reads title, after and language.
func (r reader) front(at, front string, into *Text) (after string) {
	top := diag.Pos{File: at, Line: 1, Col: 1}
	var root yaml.Node
	if err := yaml.Unmarshal([]byte(front), &root); err != nil || len(root.Content) == 0 || root.Content[0].Kind != yaml.MappingNode {
		r.found.Faultf(top, "lines as title: Your first day", "the front matter cannot be read")
		return ""
	}
	pairs := root.Content[0].Content
	for i := 0; i+1 < len(pairs); i += 2 {
		k, v := pairs[i], pairs[i+1]
		here := diag.Pos{File: at, Line: k.Line + 1, Col: k.Column}
		value := strings.TrimSpace(v.Value)
		switch {
		case v.Kind != yaml.ScalarNode || v.Anchor != "" || value == "" || utf8.RuneCountInString(value) > 80:
			r.found.Faultf(here, "a text of at most 80 characters", "%s is not a text that fits", k.Value)
		case k.Value == "title":
			into.Title = value
		case k.Value == "after":
			if after = value; !slices.Contains(r.program.Menu, value) {
				r.found.Faultf(diag.Pos{File: at, Line: v.Line + 1, Col: v.Column}, "one of: "+strings.Join(r.program.Menu, ", "), "the menu has no entry %q", value)
			}
		case k.Value == "language" && into.Language == "":
			into.Language = value
		case k.Value == "language":
			r.found.Faultf(here, "leave it out: the name of the file says it", "the language stands twice")
		default:
			r.found.Faultf(here, "title, after, language", "a page has no %q", k.Value)
		}
	}
	if into.Title == "" {
		r.found.Faultf(top, "add title: to the front matter", "the page has no title")
	}
	return after
}

// body renders a page's text. Links stay inside the pack; pictures are put into the page.
func (r reader) body(at, name, source, body string, links *[]Link) string {
	sum := 0
	begin := len(source) - len(body)
	return markdown.New().Page(body, markdown.Inside{
		Link: func(to string, offset int) string {
			here := place(at, source, begin+offset)
			switch path, _, _ := strings.Cut(to, "#"); {
			case strings.HasPrefix(to, "tel:"), strings.HasPrefix(to, "mailto:"):
				return to
			case !strings.Contains(to, ":") && (strings.HasSuffix(path, ".html") || strings.HasPrefix(to, "files/")):
				*links = append(*links, Link{to, here})
				return to
			}
			r.found.Faultf(here, "a page of the pack, materials.html, or files/NAME; write an address as text", "the link %q leads out of the pack", to)
			return ""
		},
		Image: func(to string, offset int) string {
			here := place(at, source, begin+offset)
			if !plainName(to) || !slices.Contains(pictures, strings.ToLower(path.Ext(to))) {
				r.found.Faultf(here, "a file beside the page: photo.jpg, drawing.svg", "%q is no picture of the folder pages", to)
				return ""
			}
			data, ok := r.read(path.Join(path.Dir(name), to), maxPicture)
			if !ok {
				r.found.Faultf(here, "put it beside the page", "the picture %q cannot be taken", to)
				return ""
			}
			p, ok := r.picture(path.Join(path.Dir(name), to), data, maxPicture)
			if sum += base64.StdEncoding.EncodedLen(len(data)); ok && sum > 2*maxPicture {
				r.found.Faultf(here, "make them smaller", "the pictures of the page have more than %d bytes together", 2*maxPicture)
				return ""
			}
			return p.URI()
		},
	})
}
