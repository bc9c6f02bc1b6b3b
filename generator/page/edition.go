package page

import (
	"html/template"
	"strings"

	"lapwork/generator/pack"
)

// edition is one way of writing a page: into a file of its own or into a single file, whole or with one storey's part.
type edition struct {
	single bool
	whole  bool // nothing is left out
	part   int  // the storey whose part is shown, and whose files links prefer
}

func (e edition) shows(p parts) bool { return e.whole || p.has(e.part) }

// place is where a text is written: the section it belongs to, nil for the frame, and the way from its file to the
// pack's root.
type place struct {
	edition
	section *section
	up      string
	room    string // path of the room that the frame shows as the current one; empty: none
	fill    func(b []byte, hole string) []byte
	kept    *[]mark // nil: all is written; else it takes the rooms' links and all holes but the foot of a frame that many files share
}

// appendText writes a text as the place wants it.
func (r *renderer) appendText(b []byte, s *scanned, at place) []byte {
	done := int32(0)
	for i := 0; i < len(s.marks); i++ {
		m := &s.marks[i]
		b = append(b, s.text[done:m.from]...)
		done = m.to
		switch m.kind {
		case partBegin, folderBegin:
			if m.kind == partBegin && at.shows(m.target.part) || m.kind == folderBegin && !at.single {
				continue
			}
			i = int(m.mate)
			done = s.marks[i].to
		case idDeclared, idNamed:
			if at.single && m.own && at.section != nil {
				b = append(append(b, at.section.anchor...), ':')
			}
			b = append(b, m.name...)
		case linked:
			if m.target == nil && !beside(m.name) {
				b = append(b, s.text[m.from:m.to]...)
				continue
			}
			b = append(b, template.HTMLEscapeString(r.href(m, at))...)
			if at.kept != nil && m.target != nil && m.target.page != nil && m.target.page.page.Kind == pack.KindRoom {
				*at.kept = append(*at.kept, mark{kind: roomLink, from: int32(len(b)), to: int32(len(b)), name: m.target.page.page.Path})
			}
		case roomLink:
			if m.name == at.room {
				b = append(b, `" aria-current="page`...)
			}
		case hole:
			if at.kept != nil && m.name != "foot" {
				*at.kept = append(*at.kept, mark{kind: hole, from: int32(len(b)), to: int32(len(b)), name: m.name})
				continue
			}
			b = at.fill(b, m.name)
		}
	}
	return append(b, s.text[done:]...)
}

// frameAt is where a frame of the folder stands: the part and the way to the pack's root.
type frameAt struct {
	part int
	up   string
}

// settle writes a frame as far as all files of a part that lie as deep share it: what is left are its holes and which room
// is the current one.
func (r *renderer) settle(shell, foot *scanned, at frameAt) *scanned {
	var kept []mark
	around := place{edition: edition{part: at.part}, up: at.up, kept: &kept}
	around.fill = func(b []byte, _ string) []byte {
		return r.appendText(b, foot, place{edition: around.edition, up: at.up})
	}
	b := r.appendText(nil, shell, around)
	return &scanned{text: string(b), marks: kept}
}

// href writes a link of the pack.
func (r *renderer) href(m *mark, at place) string {
	t := m.target
	switch {
	case t == nil && r.base != "" && !strings.HasPrefix(m.name, "assets/"):
		return "../" + at.up + m.name // papers and photos lie once beside all languages
	case t == nil:
		return at.up + m.name
	case t.page == nil:
		return "#" + t.id
	case at.single:
		return r.hash(*t, at)
	case t.page == at.section && strings.HasPrefix(m.name, "#") && at.shows(t.part):
		return m.name
	}
	link := at.up + r.fileOf(*t, at.part)
	if t.id != "" {
		link += "#" + t.id
	}
	return link
}

// hash is a link inside a single file, or into the other storey's file that carries the place.
func (r *renderer) hash(t target, at place) string {
	link := "#" + t.page.anchor
	if t.id != "" {
		link += ":" + t.id
	}
	switch {
	case !at.holds(t.page):
		return r.shares.list[t.page.part].file + link
	case !at.shows(t.part):
		return r.shares.list[t.part[0]].file + link
	}
	return link
}

func (e edition) holds(s *section) bool { return e.whole || s.part == common || s.part == e.part }

// fileOf is the file of a place in the folder: of a page in editions the one that shows it, the asking storey's first.
func (r *renderer) fileOf(t target, part int) string {
	if !t.page.divided() {
		return t.page.page.Path
	}
	if len(t.part) > 0 && !t.part.has(part) {
		part = t.part[0]
	}
	if !t.page.carries.has(part) {
		part = common
	}
	return r.path(t.page, part)
}

// path is the file of a divided page's edition.
func (r *renderer) path(s *section, part int) string {
	if part == common {
		return s.page.Path
	}
	return s.anchor + r.shares.list[part].ending
}
