package page

import (
	"cmp"
	"encoding/json"
	"html/template"
	"strings"

	"lapwork/generator/drawing/svg"
	"lapwork/generator/output"
	"lapwork/generator/pack"
)

// frame is what the frame templates see.
type frame struct {
	Head                         pack.Head
	Title, Where, Home, RoomPath string
	Section, Data, Hatches       template.HTML
	Policy                       string
	Style, HeadScript, Script    template.HTML
}

// hatches are the patterns that drawings share, where any of the sections draws with one.
func hatches(sections ...*section) template.HTML {
	for _, s := range sections {
		for _, t := range s.tokens {
			if t.drawing > 0 && strings.Contains(t.raw, "url(#hatch-") {
				return template.HTML(svg.Defs())
			}
		}
	}
	return ""
}

// hole marks where sections go in a rendered frame, so that what is already written is not rewritten again.
const hole = "<!--sections-->"

// folder gives one file a page and the assets.
func (r *renderer) folder() ([]output.File, error) {
	files := []output.File{{Path: "assets/style.css", Data: []byte(r.assets.style)}}
	for i, text := range r.assets.scripts {
		files = append(files, output.File{Path: "assets/" + scripts[i], Data: []byte(text)})
	}
	for _, pg := range r.pack.Pages {
		s := r.pages[pg.Path]
		data, err := r.data(pg.Kind == pack.KindOverview, pg.Kind == pack.KindSearch)
		if err != nil {
			return nil, err
		}
		f := frame{Head: r.pack.Head, Title: pg.Title, Where: where(pg), Home: r.home(), RoomPath: s.room, Section: hole, Data: data, Hatches: hatches(s)}
		shell, err := r.frame("folder", f)
		if err != nil {
			return nil, err
		}
		ru := func(from *section) rules {
			return rules{id: func(id string) string { return id }, ids: s.ids, href: func(href string) string { return r.relative(s, from, href) }}
		}
		text := join(rewrite(scanFrame(shell), ru(nil)), opening(s)+rewrite(s.tokens, ru(s))+"</section>")
		files = append(files, output.File{Path: pg.Path, Data: []byte(text)})
	}
	return files, nil
}

func (r *renderer) frame(name string, f frame) (string, error) {
	var b strings.Builder
	err := r.parsed.ExecuteTemplate(&b, name, f)
	return b.String(), err
}

func join(shell, sections string) string { return strings.Replace(shell, hole, sections, 1) }

// home is the path of the overview, or of the first page.
func (r *renderer) home() string {
	if path := r.index.paths[pack.KindOverview]; path != "" || len(r.pack.Pages) == 0 {
		return path
	}
	return r.pack.Pages[0].Path
}

// relative writes a link from page s; from is nil where the link stands in the frame.
func (r *renderer) relative(s, from *section, href string) string {
	up := strings.Repeat("../", strings.Count(s.page.Path, "/"))
	t, ok := r.resolve(from, href)
	switch {
	case !ok && strings.HasPrefix(href, "assets/"):
		return up + href
	case !ok || strings.HasPrefix(href, "#"):
		return href
	}
	link := up + t.page.page.Path
	if t.id != "" {
		link += "#" + t.id
	}
	return link
}

// data is what the script reads: the check index where progress is counted, the entries where there is a search.
func (r *renderer) data(progress, search bool) (template.HTML, error) {
	var b strings.Builder
	add := func(id string, v any) error {
		text, err := json.Marshal(v) // escapes <, > and &, so it cannot end the element
		b.WriteString(`<script type="application/json" id="` + id + `">` + string(text) + "</script>\n")
		return err
	}
	if progress {
		entries, err := r.index.entries()
		if err != nil {
			return "", err
		}
		if err := add("checks-data", entries); err != nil {
			return "", err
		}
	}
	if search {
		if err := add("search-data", r.searchEntries()); err != nil {
			return "", err
		}
	}
	return template.HTML(b.String()), nil
}

// searchEntries is never null in the page.
func (r *renderer) searchEntries() []pack.SearchEntry {
	return append([]pack.SearchEntry{}, r.pack.Search...)
}

// opening is the start tag of a page's section.
func opening(s *section) string {
	e := template.HTMLEscapeString
	return `<section class="page ` + e(string(s.page.Kind)) + `" id="` + e(anchor(s)) + `" data-path="` + e(s.page.Path) + `" data-title="` + e(s.page.Title) +
		`" data-where="` + e(where(s.page)) + `" data-room="` + e(s.room) + `">`
}

// where is the short place for the top line; a page that states none is its own.
func where(pg pack.Page) string { return cmp.Or(pg.Where, pg.Title) }

// anchor is a page's id: its path without the ending.
func anchor(s *section) string { return strings.TrimSuffix(s.page.Path, ".html") }
