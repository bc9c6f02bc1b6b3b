package page

import (
	"cmp"
	"html/template"
	"slices"
	"strings"

	"lapwork/generator/lang"
	"lapwork/generator/output"
	"lapwork/generator/pack"
)

// folder gives one file a page and the assets. A page too heavy for a tablet is divided: its own file shows what is common
// to all storeys, and each storey has an edition beside it.
func (r *renderer) folder() []output.File {
	var files []output.File
	for _, s := range r.assets.styles {
		if slices.ContainsFunc(r.sections, func(of *section) bool { return r.takes(of.page.Kind, s.name) }) {
			files = append(files, output.File{Path: "assets/" + s.name, Data: []byte(s.text)})
		}
	}
	for _, s := range r.assets.scripts {
		if s.name != onlySingle {
			files = append(files, output.File{Path: "assets/" + s.name, Data: []byte(s.text)})
		}
	}
	if m := r.pack.Head.Mark; m != nil {
		files = append(files, output.File{Path: markFile(m), Data: m.Data})
	}
	for _, s := range r.sections {
		for _, e := range s.editions() {
			path := s.page.Path
			if s.divided() {
				path = r.path(s, e.part)
			}
			files = append(files, output.File{Path: path, Make: func(b []byte) ([]byte, error) { return r.page(b, s, e) }})
		}
	}
	return files
}

// markFile is where the firm's mark lies in the folder.
func markFile(m *pack.Mark) string { return "assets/mark" + m.Ending }

// editions are those that the folder has of a page: one, or that of what is common and each storey's.
func (s *section) editions() []edition {
	if !s.divided() {
		return []edition{{whole: true, part: s.part}}
	}
	all := []edition{{part: common}}
	for _, i := range s.carries {
		all = append(all, edition{part: i})
	}
	return all
}

// page appends one file of the folder.
func (r *renderer) page(b []byte, s *section, e edition) ([]byte, error) {
	others, err := r.beside(s, e)
	if err != nil {
		return nil, err
	}
	shell := r.framed[frameAt{e.part, s.up}]
	body := place{edition: e, section: s, up: s.up}
	around := place{edition: e, up: s.up, room: s.room}
	around.fill = func(b []byte, hole string) []byte {
		switch hole {
		case "title":
			return append(b, template.HTMLEscapeString(r.titleOf(s))...)
		case "where":
			return append(b, template.HTMLEscapeString(lang.Plain(where(s.page)))...)
		case "style":
			return r.appendLinks(b, s)
		case "hatches":
			return append(b, hatches(s)...)
		case "data":
			if len(s.counts) > 0 {
				b = append(b, dataElement("checks-data", r.index.runs(s.counts))...)
			}
			return append(b, r.data(s.page.Kind == pack.KindOverview, s.page.Kind == pack.KindSearch, e)+r.kitOf(s)...)
		case "section":
			b = append(append(append(b, s.opening...), r.otherLanguages(s, e)...), others...)
			b = r.appendText(b, s.scanned, body)
			return append(b, "</section>"...)
		}
		return b
	}
	return r.appendText(slices.Grow(b, len(shell.text)+len(s.text)+4096), shell, around), nil
}

// beside lists the editions of a divided page at its top.
func (r *renderer) beside(s *section, e edition) (string, error) {
	if !s.divided() {
		return "", nil
	}
	b := besideList{Open: s.page.Kind == pack.KindOverview, Links: []besideLink{{Text: r.say("Common to all"), Path: s.up + s.page.Path, Here: e.part == common}}}
	for _, i := range s.carries {
		b.Links = append(b.Links, besideLink{Text: r.shares.list[i].storey, Path: s.up + r.path(s, i), Here: i == e.part})
	}
	for _, link := range b.Links {
		if link.Here {
			b.Here = link.Text
		}
	}
	return r.frameText("beside", b)
}

// besideList is the editions of a divided page, and the name of the one shown.
type besideList struct {
	Here  string
	Open  bool // the list is shown without being asked for: on the overview, where the frame leads for all storeys
	Links []besideLink
}

// besideLink is one edition of a divided page.
type besideLink struct {
	Text, Path string
	Here       bool
}

// opening is the start tag of a page's section.
func opening(s *section) string {
	e := func(text string) string { return template.HTMLEscapeString(lang.Plain(text)) }
	return `<section class="page ` + e(string(s.page.Kind)) + `" id="` + e(s.anchor) + `" data-where="` + e(where(s.page)) + `" data-room="` + e(s.room) + `">`
}

// where is the short place for the top line; a page that states none is its own.
func where(pg pack.Page) string { return cmp.Or(pg.Where, pg.Title) }

// anchor is a page's id: its path without the ending.
func anchor(path string) string { return strings.TrimSuffix(path, ".html") }
