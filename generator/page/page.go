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
	"strings"

	"lapwork/generator/drawing"
	"lapwork/generator/drawing/svg"
	"lapwork/generator/output"
	"lapwork/generator/pack"
)

// Look is what a pack is rendered with.
type Look struct {
	Templates fs.FS // *.html
	Theme     fs.FS // site/style.css and the scripts beside it
}

// maxRooms is how many rooms one single file carries; above it there is one file for each storey.
const maxRooms = 30

// Render gives every file of the pack: the pages, assets/, and the single file or files named after the pack. It fails
// where a link goes nowhere, an id stands twice on a page, a check carries a seal that is not its statement's, or a
// trusted fragment carries inline style or script; each such place is named.
func Render(p pack.Pack, look Look) ([]output.File, error) {
	r, err := newRenderer(p, look)
	if err != nil {
		return nil, err
	}
	if err := r.verify(); err != nil {
		return nil, err
	}
	if err := r.sections(); err != nil {
		return nil, err
	}
	files, err := r.folder()
	if err != nil {
		return nil, err
	}
	single, err := r.single()
	if err != nil {
		return nil, err
	}
	return append(files, single...), r.links.dangling()
}

// renderer carries one pack through both builds.
type renderer struct {
	pack   pack.Pack
	parsed *template.Template
	assets assets
	index  index
	pages  map[string]*section // by path
	links  links
}

// section is one rendered page, links and ids as the views state them.
type section struct {
	page   pack.Page
	room   string // path of the room it belongs to; empty: common to all
	tokens []token
	ids    map[string]bool
}

// scripts are the theme's scripts in the order they run; the first runs before layout.
var scripts = []string{"head.js", "hash.js", "store.js", "guide.js", "pack.js"}

// assets are the theme's texts; scripts in the order of that list.
type assets struct {
	style   string
	scripts []string
}

func newRenderer(p pack.Pack, look Look) (*renderer, error) {
	r := &renderer{pack: p, index: newIndex(p), pages: map[string]*section{}}
	var err error
	if r.parsed, err = parse(look.Templates, r.index); err != nil {
		return nil, err
	}
	r.assets, err = readAssets(look.Theme, p.Head)
	return r, err
}

// parse reads every template and binds the functions they may call.
func parse(fsys fs.FS, ix index) (*template.Template, error) {
	return template.New("").Funcs(funcs(ix)).ParseFS(fsys, "*.html")
}

func readAssets(theme fs.FS, head pack.Head) (assets, error) {
	style, err := fs.ReadFile(theme, "site/style.css")
	if err != nil {
		return assets{}, fmt.Errorf("theme: %w", err)
	}
	a := assets{style: string(style) + drawingStyle() + marginBoxes(head)}
	for _, name := range scripts {
		data, err := fs.ReadFile(theme, "site/"+name)
		if err != nil {
			return assets{}, fmt.Errorf("theme: %w", err)
		}
		if bytes.Contains(data, []byte("</")) {
			return assets{}, fmt.Errorf(`theme: %s contains "</", which may end it inside a page`, name)
		}
		a.scripts = append(a.scripts, string(data))
	}
	return a, nil
}

// drawingStyle is what drawings need, on a ground of the palette they are drawn in.
func drawingStyle() string {
	return svg.StyleSheet() + ":root.dark{--paper:" + drawing.Dark()[drawing.Ground] + ";--paper-ink:" + drawing.Dark()[drawing.Black] + "}\n"
}

// marginBoxes prints job and revision in the paper's margin beside the page number.
func marginBoxes(head pack.Head) string {
	return "@page{@bottom-left{content:" + cssString(head.Job+" · "+head.Revision) + "}}\n"
}

func cssString(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		if r < 0x20 || strings.ContainsRune(`"\<>`, r) {
			fmt.Fprintf(&b, `\%x `, r)
		} else {
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// sections renders the body of every page once.
func (r *renderer) sections() error {
	var errs []error
	rooms := roomPaths(r.pack)
	for _, pg := range r.pack.Pages {
		body, err := r.body(pg)
		if err != nil {
			errs = append(errs, fmt.Errorf("page %s: %w", pg.Path, err))
			continue
		}
		s := &section{page: pg, room: rooms[pg.Path], tokens: scan(body)}
		if s.ids, err = declaredIDs(s.tokens); err != nil {
			errs = append(errs, fmt.Errorf("page %s: %w", pg.Path, err))
		}
		if r.pages[pg.Path] != nil {
			errs = append(errs, fmt.Errorf("page %s stands twice", pg.Path))
		}
		r.pages[pg.Path] = s
	}
	return errors.Join(errs...)
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
	var b strings.Builder
	if err := r.parsed.ExecuteTemplate(&b, templateName(pg.Kind), content{r.pack.Head, pg, view}); err != nil {
		return "", err
	}
	err := r.parsed.ExecuteTemplate(&b, "next", pg.Next)
	return b.String(), err
}

// templateName is the kind, but for the page whose name a part already has.
func templateName(k pack.Kind) string {
	if k == pack.KindCautions {
		return "cautions-page"
	}
	return string(k)
}
