package svg

import (
	"slices"
	"strings"

	"lapwork/generator/drawing"
)

// Defs gives the hatches of a page's drawings, once per page: those of the ids that the drawings name in url(#...). The
// element must stay rendered (moved out of the way, not hidden), or browsers drop what refers to it.
func Defs(ids []string) string {
	text := patterns(ids)
	if text == "" {
		return ""
	}
	return `<svg class="drawing-defs" width="0" height="0" aria-hidden="true" focusable="false"><defs>` + text + `</defs></svg>`
}

// patterns are the hatches of the ids, in the order of the list of hatches.
func patterns(ids []string) string {
	var b strings.Builder
	for _, m := range hatches() {
		if slices.Contains(ids, hatchID(m)) {
			b.WriteString(pattern(m))
		}
	}
	return b.String()
}

// HatchIDs lists the ids of all hatches.
func HatchIDs() []string {
	var ids []string
	for _, m := range hatches() {
		ids = append(ids, hatchID(m))
	}
	return ids
}

// hatches lists the materials, the laps of strip layouts and the wet planes of charts.
func hatches() []drawing.Material {
	return append(drawing.Materials(), drawing.LapHatch, drawing.WetHatch)
}

func hatchID(m drawing.Material) string { return "hatch-" + string(m) }

func known(m drawing.Material) bool {
	_, ok := tiles[m]
	return ok
}

// tile is one repeat of a hatch: its size, its turn, and its marks as path data for lines and for dots.
type tile struct {
	w, h, turn string
	lines      string      // stroked 1 px
	dots       string      // filled
	shade      bool        // on the tint instead of the paper
	ink        drawing.Ink // NoInk: black
}

// tiles hold the hatches. ISO 128 knows the 45-degree hatching and leaves special materials to practice; the patterns
// here are general drawing practice, no single source.
var tiles = map[drawing.Material]tile{
	"timber-end":     {w: "14", h: "14", lines: "M0 0l14 14M14 0l-14 14"},
	"timber-along":   {w: "48", h: "16", lines: "M0 3h30M36 3h12M0 8c10-2.5 20 2.5 30 0s12-1 18 0M0 13h14M20 13h28"},
	"masonry":        {w: "16", h: "16", turn: "45", lines: "M4 0v16M8 0v16"},
	"concrete":       {w: "40", h: "36", lines: "M8 10l5-7l4 8zM28 28l6-5l2 8z", dots: dots("4 26", "22 6", "33 11", "14 20", "24 19", "8 32", "20 31", "37 3")},
	"insulation":     {w: "20", h: "28", lines: "M0 14c0-18 10-18 10 0s10 18 10 0"},
	"plasterboard":   {w: "9", h: "9", dots: dots("2 2", "6.5 6.5")},
	"plaster":        {w: "6", h: "6", dots: dots("1.5 1.5", "4.5 4.5")},
	"ground":         {w: "26", h: "20", turn: "-45", lines: "M0 3h18M0 7h18M8 13h18M8 17h18"},
	"panel":          {w: "18", h: "8", lines: "M1 2l7 3M10 6l7-3M9 1l4 1"},
	"noncombustible": {w: "12", h: "12", lines: "M2 2l4 4M6 2l-4 4M8 8l3 3M11 8l-3 3"},
	"metal":          {w: "4", h: "4", turn: "45", lines: "M2 0v4"},
	"plastic":        {w: "8", h: "8", turn: "-45", lines: "M4 0v8"},
	drawing.LapHatch: {w: "5", h: "5", turn: "45", lines: "M1 0v5", ink: drawing.SheetInk},
	drawing.WetHatch: {w: "6", h: "6", turn: "-45", lines: "M2 0v6"},
	"glass":          {w: "26", h: "26", turn: "45", lines: "M6 0v12M10 4v10", shade: true},
}

func dots(at ...string) string {
	var b strings.Builder
	for _, p := range at {
		b.WriteString("M" + p + "h1.6v1.6h-1.6z")
	}
	return b.String()
}

func pattern(m drawing.Material) string {
	t, ok := tiles[m]
	if !ok {
		return ""
	}
	if t.ink == drawing.NoInk {
		t.ink = drawing.Black
	}
	ground := "df-ground"
	if t.shade {
		ground = "df-shade"
	}
	var b strings.Builder
	b.WriteString(`<pattern id="` + hatchID(m) + `" width="` + t.w + `" height="` + t.h + `" patternUnits="userSpaceOnUse"`)
	if t.turn != "" {
		b.WriteString(` patternTransform="rotate(` + t.turn + `)"`)
	}
	b.WriteString(`><rect class="` + ground + `" width="` + t.w + `" height="` + t.h + `"/>`)
	if t.lines != "" {
		b.WriteString(`<path class="ds-` + t.ink.Name() + `" d="` + t.lines + `" fill="none"/>`)
	}
	if t.dots != "" {
		b.WriteString(`<path class="df-` + t.ink.Name() + `" d="` + t.dots + `"/>`)
	}
	b.WriteString(`</pattern>`)
	return b.String()
}
