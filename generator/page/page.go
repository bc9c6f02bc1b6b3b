// Package page renders a pack's views as HTML through templates, twice: as a folder with one file a page, and as one
// self-contained file that works where only a single file can be opened. Both come from the same rendered pages; only
// the frame, the links and the ids differ.
package page

import (
	"bytes"
	"errors"
	"fmt"
	"html/template"
	"io/fs"
	"slices"
	"strings"
	"sync"

	"lapwork/generator/lang"
	"lapwork/generator/output"
	"lapwork/generator/pack"
	"lapwork/generator/parallel"
	"lapwork/generator/theme"
)

// Look is what a pack is rendered with.
type Look struct {
	Templates fs.FS       // *.html
	Theme     fs.FS       // the style sheets and scripts under site/
	Own       theme.Theme // what stands over both
}

// maxRooms is how many rooms one single file carries; above it there is one file for each storey.
const maxRooms = 30

// Render gives every file of the pack: the pages, assets/, and the single file or files named after the pack. It fails
// where a link goes nowhere, an id stands twice on a page, a check carries a seal that is not its statement's, or a
// trusted fragment carries inline style or script; each such place is named. All of that is known when Render returns;
// the bytes of most files are made when they are asked for, so that they need not all be held at once.
func Render(p pack.Pack, look Look) ([]output.File, error) {
	r, err := newRenderer(p, look)
	if err != nil {
		return nil, err
	}
	if err := r.verify(); err != nil {
		return nil, err
	}
	if err := r.render(); err != nil {
		return nil, err
	}
	files := r.folder()
	for i := range files {
		files[i].Path = r.base + files[i].Path
	}
	return append(files, r.single()...), nil
}

// renderer carries one pack through both builds.
type renderer struct {
	pack        pack.Pack
	base        string // folder of all its files but the single ones, with its slash; empty: the root
	parsed      *template.Template
	assets      assets
	index       index
	front       string // path of the overview, or of the first page
	shares      shares
	searchParts []int                // part of each entry
	sections    []*section           // one a page, in order
	pages       map[string]*section  // by path
	framed      map[frameAt]*scanned // frames of the folder's pages
	feet        []*scanned           // foot of the frame: common, then by part
	footIDs     map[string]parts
	kits        kits
	counted     sync.Map // texts of the index of checks, by part
}

// section is one rendered page, links and ids as the views state them.
type section struct {
	*scanned
	page    pack.Page // without its view
	room    string    // path of the room it belongs to; empty: common to all
	part    int       // that it belongs to
	anchor  string    // its id: the path without the ending
	opening string
	up      string // from its file to the pack's root
	carries parts  // parts it shows something of, beside what is common
	data    int    // bytes of the index of checks that its file carries; 0: none
	counts  []int  // positions in that index of what a room's page counts
}

// heavy is the size in bytes from which a page with several storeys' parts is divided: own choice, a megabyte.
const heavy = 1 << 20

// divided is whether the folder has an edition of the page for each storey.
func (s *section) divided() bool { return len(s.carries) > 1 && len(s.text)+s.data > heavy }

func newRenderer(p pack.Pack, look Look) (*renderer, error) {
	r := &renderer{pack: p, base: baseOf(p.Head), shares: split(p), pages: map[string]*section{}}
	for _, e := range p.Search {
		r.searchParts = append(r.searchParts, r.shares.of(e.Path))
	}
	var err error
	if r.index, err = newIndex(p, r.shares); err != nil {
		return nil, err
	}
	if r.parsed, err = readTemplates(look, r.index, r.shares, p.Lang); err != nil {
		return nil, err
	}
	if r.front = r.index.paths[pack.KindOverview]; r.front == "" && len(p.Pages) > 0 {
		r.front = p.Pages[0].Path
	}
	r.assets, err = readAssets(look, p.Head, p.Lang)
	return r, err
}

// readTemplates reads every template in the pack's language and binds the functions they may call.
func readTemplates(look Look, ix index, sh shares, c *lang.Catalogue) (*template.Template, error) {
	names, err := fs.Glob(look.Templates, "*.html")
	if err != nil || len(names) == 0 {
		return nil, errors.Join(err, errors.New("templates: there is no *.html"))
	}
	again := &repeats{shares: sh}
	all := template.New("").Funcs(funcs(ix, sh, c, again))
	again.parsed = all
	for _, name := range look.Own.Templates(names) {
		text, err := look.Own.Text(look.Templates, name, "templates")
		if err != nil {
			return nil, fmt.Errorf("templates: %w", err)
		}
		if _, err := all.New(name).Parse(translated(text, c)); err != nil {
			return nil, err
		}
	}
	return all, nil
}

// render makes the section of every page, then finds what their links mean.
func (r *renderer) render() error {
	rooms := roomPaths(r.pack)
	var err error
	r.sections, err = parallel.Try(len(r.pack.Pages), func(i int) (*section, error) {
		pg := r.pack.Pages[i]
		s, err := r.section(pg, rooms[pg.Path])
		if err != nil {
			return nil, fmt.Errorf("page %s: %w", pg.Path, err)
		}
		r.pack.Pages[i] = s.page // its view is rendered: no longer needed, and large
		return s, nil
	})
	if err != nil {
		return err
	}
	for _, s := range r.sections {
		if r.pages[s.page.Path] != nil {
			return fmt.Errorf("page %s stands twice", s.page.Path)
		}
		r.pages[s.page.Path] = s
	}
	if err := r.frames(); err != nil {
		return err
	}
	_, err = parallel.Try(len(r.sections), func(i int) (struct{}, error) { return struct{}{}, r.resolve(r.sections[i], r.sections[i].scanned) })
	return err
}

func (r *renderer) section(pg pack.Page, room string) (*section, error) {
	body, err := r.body(pg)
	if err != nil {
		return nil, err
	}
	body, marked := foreign(body)
	body += r.leftEnglish(marked)
	s := &section{page: pack.Page{Path: pg.Path, Kind: pg.Kind, Title: pg.Title, Where: pg.Where}, room: room, part: common, anchor: anchor(pg.Path), up: strings.Repeat("../", strings.Count(pg.Path, "/"))}
	if i, ok := r.shares.pages[pg.Path]; ok {
		s.part = i
	}
	s.opening = opening(s)
	if pg.Kind == pack.KindOverview {
		s.data = len(r.counts(edition{part: common}))
	}
	if pg.Room != nil {
		s.counts = r.index.counted(pg.Room.Phases)
	}
	s.scanned, err = scan(body)
	for _, m := range s.marks {
		if m.kind != partBegin {
			continue
		}
		for _, i := range m.target.part {
			if i != common && !slices.Contains(s.carries, i) {
				s.carries = append(s.carries, i)
			}
		}
	}
	slices.Sort(s.carries)
	return s, err
}

// content is what a page's template sees.
type content struct {
	Head pack.Head
	Page pack.Page
	View any
}

func (r *renderer) body(pg pack.Page) (string, error) {
	view := view(pg)
	if view == nil {
		return "", fmt.Errorf("it has no %s view", pg.Kind)
	}
	return r.execute(templateName(pg.Kind), content{r.pack.Head, pg, view}, pg.Next)
}

// buffers are used again from page to page, since a page's size is not known before it is rendered.
var buffers = sync.Pool{New: func() any { return new(bytes.Buffer) }}

// execute gives what a template writes, and for a page what stands at its end.
func (r *renderer) execute(name string, data any, next ...*pack.Link) (string, error) {
	b := buffers.Get().(*bytes.Buffer)
	defer buffers.Put(b)
	b.Reset()
	if err := r.parsed.ExecuteTemplate(b, name, data); err != nil {
		return "", err
	}
	for _, link := range next {
		if err := r.parsed.ExecuteTemplate(b, "next", link); err != nil {
			return "", err
		}
	}
	return string(plainPlus(b.Bytes())), nil
}

// plainPlus writes the plus sign of junctions' ids as itself, in place: the templates' escaping writes a reference, for the
// sake of browsers that guess at the encoding. Each page states its own.
func plainPlus(text []byte) []byte {
	const reference = "&#43;"
	end := bytes.Index(text, []byte(reference))
	if end < 0 {
		return text
	}
	for from := end; from >= 0; {
		rest := text[from+len(reference):]
		text[end] = '+'
		next := bytes.Index(rest, []byte(reference))
		stretch := rest
		if next >= 0 {
			stretch = rest[:next]
		}
		end += 1 + copy(text[end+1:], stretch)
		if from = next; next >= 0 {
			from += len(text) - len(rest)
		}
	}
	return text[:end]
}

// frameText is the same for the frame round a page, whose own missing texts are marked but not counted.
func (r *renderer) frameText(name string, data any) (string, error) {
	text, err := r.execute(name, data)
	text, _ = foreign(text)
	return text, err
}

// templateName is the kind, but for the page whose name a part already has.
func templateName(k pack.Kind) string {
	if k == pack.KindCautions {
		return "cautions-page"
	}
	return string(k)
}
