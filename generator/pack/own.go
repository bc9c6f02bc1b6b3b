package pack

import (
	"cmp"
	"path"
	"slices"
	"strings"

	"lapwork/generator/lang"
	"lapwork/generator/theme"
)

// Mark is a firm's mark as pages show it.
type Mark struct {
	URI           string // the picture itself
	Ending        string // .svg, .png: of its file beside the pages
	Data          []byte
	Width, Height int // as shown, in pixels
}

// OwnPage is a page of the firm's or the job's own.
type OwnPage struct {
	HTML     string // rendered Markdown, made safe: trusted
	Language string // of the text
	Note     string // where it stands in another language than the pack: which
	Files    bool   // it leads to files beside the pages, which the single file does not carry
}

// A mark is shown as large as fits into this field. Own choice: as high as two lines.
const markWidth, markHeight = 220, 64

func (b Build) mark() *Mark {
	p := b.Own.Mark
	if p == nil {
		return nil
	}
	w, h := markWidth, p.Height*markWidth/p.Width
	if h > markHeight {
		w, h = p.Width*markHeight/p.Height, markHeight
	}
	return &Mark{URI: p.URI(), Ending: p.Ending, Data: p.Data, Width: max(1, w), Height: max(1, h)}
}

// contactLines are the lines of the firm's contact block, under its name.
func (a *assembler) contactLines() []string {
	lines := append([]string{a.Job.Firm.Address, a.Job.Firm.Contact}, a.build.Own.Lines...)
	return slices.DeleteFunc(lines, func(line string) bool { return line == "" })
}

// MenuNames name the entries of the menu that a page of the firm's may stand behind.
var MenuNames = []string{"overview", "start", "open", "junctions", "materials", "cutting", "programme", "late", "trades", "air", "moisture", "sign-off", "defects", "site", "changes", "handover",
	"declaration", "cautions"}

// menuName is the name of a page in the menu.
func menuName(to string) string {
	switch name := strings.TrimSuffix(path.Base(to), ".html"); {
	case name == "index":
		return "overview"
	case strings.HasPrefix(to, "signoff/"):
		return "sign-off"
	default:
		return name
	}
}

// ownPages are the firm's and the job's own pages in the pack's language.
func (a *assembler) ownPages() []Page {
	var out []Page
	for _, p := range a.build.Own.Pages {
		t, own := p.In(a.build.Lang.Tag())
		v := &OwnPage{HTML: t.HTML, Language: t.Language}
		for _, l := range t.Links {
			v.Files = v.Files || strings.HasPrefix(l.To, "files/")
		}
		if !own {
			v.Note = a.say("This page is there in %s only.", lang.Name(t.Language))
		}
		out = append(out, Page{Path: ownPath(p), Kind: KindOwn, Title: t.Title, Where: t.Title, Own: v})
	}
	return out
}

func ownPath(p theme.Page) string { return "pages/" + p.Name + ".html" }

// withOwn puts the own pages into the menu, each behind the entry it names, else before the search.
func (a *assembler) withOwn(menu []Link) []Link {
	for _, p := range slices.Backward(a.build.Own.Pages) {
		t, _ := p.In(a.build.Lang.Tag())
		after := cmp.Or(p.After, "cautions")
		at := slices.IndexFunc(menu, func(l Link) bool { return menuName(l.Path) == after })
		menu = slices.Insert(menu, at+1, Link{Text: t.Title, Path: ownPath(p)})
	}
	return menu
}
