package page

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"lapwork/generator/drawing"
	"lapwork/generator/drawing/svg"
	"lapwork/generator/lang"
	"lapwork/generator/pack"
	"lapwork/generator/theme"
)

// stylesheet is a style sheet as a pack carries it: the theme's file, what is written for it here, both compact.
type stylesheet struct{ name, text string }

// ownSheet is what a firm or a job adds behind the program's style sheets.
const ownSheet = "added.css"

// rooms are the pages of a room's work; beside them surfaces and sign-offs are read at the wall.
var (
	rooms = []pack.Kind{pack.KindRoom, pack.KindPhase}
	walls = append(slices.Clone(rooms), pack.KindSurface, pack.KindSignOff)
)

// takers say which pages of a folder take a style sheet; one that is not named here all pages take. A single file and the
// sheets beside a pack take every one, in the order of theme.Sheets.
var takers = map[string]func(r *renderer, k pack.Kind) bool{
	"rooms.css":  func(_ *renderer, k pack.Kind) bool { return k != pack.KindSurface && k != pack.KindSignOff },
	"lists.css":  func(_ *renderer, k pack.Kind) bool { return !slices.Contains(rooms, k) },
	"office.css": func(_ *renderer, k pack.Kind) bool { return !slices.Contains(walls, k) },
	"languages.css": func(r *renderer, _ pack.Kind) bool {
		return r.pack.Lang.Tag() != lang.Source || len(r.pack.Head.Languages) > 0
	},
	"single.css": func(*renderer, pack.Kind) bool { return false },
}

// takes is whether the pages of a kind take a style sheet. A template of the firm's may use any class of the program's.
func (r *renderer) takes(k pack.Kind, sheet string) bool {
	only, some := takers[sheet]
	return !some || only(r, k) || r.assets.ownPages && sheet != "single.css"
}

// appendLinks writes the links of a page to the style sheets that it takes.
func (r *renderer) appendLinks(b []byte, s *section) []byte {
	for _, sheet := range r.assets.styles {
		if !r.takes(s.page.Kind, sheet.name) {
			continue
		}
		b = append(append(append(append(b, `<link rel="stylesheet" href="`...), s.up...), "assets/"...), sheet.name...)
		if sheet.name == "paper.css" {
			b = append(b, `" media="print`...)
		}
		b = append(b, `">`...)
	}
	return b
}

// readStyles gives the theme's style sheets with what drawings need, and last what the firm adds.
func readStyles(look Look) ([]stylesheet, error) {
	var out []stylesheet
	for _, name := range theme.Sheets {
		text, err := look.Own.Text(look.Theme, "site/"+name, "")
		if err != nil {
			return nil, fmt.Errorf("theme: %w", err)
		}
		out = append(out, stylesheet{name, text + drawn(name)})
	}
	added := ""
	for _, f := range look.Own.Added {
		added += f.Text
	}
	if added != "" {
		out = append(out, stylesheet{ownSheet, added})
	}
	for i := range out {
		if out[i].text = compact(out[i].text); strings.Contains(out[i].text, "</") {
			return nil, errors.New(`theme: a style contains "</", which may end it inside a page`)
		}
	}
	return out, nil
}

// drawn is what a style sheet says of drawings, on a ground of the palette they are drawn in.
func drawn(sheet string) string {
	switch sheet {
	case "style.css":
		dark := drawing.Dark()
		return svg.Base() + svg.Colours(drawing.PlanInks()) + ".dark{--paper:" + dark[drawing.Ground] + ";--paper-ink:" + dark[drawing.Black] + "}\n"
	case "office.css":
		return svg.Colours(drawing.ChartInks())
	case "paper.css":
		return svg.Paper()
	}
	return ""
}

// onPaper adds what a pack says of itself to the style sheet for paper.
func onPaper(styles []stylesheet, head pack.Head, c *lang.Catalogue) {
	for i := range styles {
		if styles[i].name == "paper.css" {
			styles[i].text += compact(marginBoxes(head) + paperWords(c) + ":root{--photo:" + cssString(lang.Plain(c.Say("photo"))) + "}\n")
		}
	}
}

// style is all of them in one.
func (a assets) style() string {
	var b strings.Builder
	for _, s := range a.styles {
		b.WriteString(s.text)
	}
	return b.String()
}
