package theme

import (
	"regexp"
	"slices"
	"strings"

	"lapwork/generator/diag"
)

// check measures the colours that a rule of a theme sets, in every scheme it holds in, and refuses what could not be
// measured or hides what protects people.
func (r rule) check(schemes []scheme, found *diag.List) {
	var text, ground value
	for _, v := range r.values {
		switch v.name {
		case "color":
			text = v
		case "background", "background-color":
			ground = v
		case "opacity", "filter", "mix-blend-mode", "backdrop-filter":
			if v.text != "1" && v.text != "none" && v.text != "normal" {
				found.Faultf(v.pos, "leave it out and set the colours themselves", "%s changes colours so that their contrast cannot be measured", v.name)
			}
		}
		if drawn := strings.HasPrefix(v.name, "border") || strings.HasPrefix(v.name, "outline"); drawn {
			r.edge(v, schemes, found)
		}
		r.hides(v, found)
	}
	if text.text == "" && ground.text == "" {
		return
	}
	for _, s := range schemes {
		if !r.holds(s) {
			continue
		}
		a, okA := s.resolve(text, "ink")
		b, okB := s.resolve(ground, "ground")
		if !okA || !okB {
			v := text
			if okA {
				v = ground
			}
			found.Faultf(v.pos, "write #RRGGBB or var(--ink), so that its contrast can be measured", "the colour %s of %s cannot be measured", v.text, r.selector)
			return
		}
		pos := text.pos
		if pos.File == "" {
			pos = ground.pos
		}
		if ratio := Contrast(a, b); ratio < readable {
			found.Faultf(pos, instead(a, b, readable), "%s: %s writes %s on %s: %s, less than %.0f : 1", s.name, r.selector, a, b, shown(ratio), readable)
		}
	}
}

// holds reports whether a rule is in force in a scheme.
func (r rule) holds(s scheme) bool {
	paper := s.name == "paper"
	switch {
	case strings.Contains(r.around, "print"):
		return paper
	case strings.Contains(r.around, "@media screen"), strings.Contains(r.around, "prefers-color-scheme"):
		return !paper
	}
	return true
}

var named = regexp.MustCompile(`^var\(\s*--([a-z-]+)\s*\)$`)

// resolve gives the colour that a value is in a scheme; one that says nothing is that of the page.
func (s scheme) resolve(v value, usual string) (string, bool) {
	text, _, _ := strings.Cut(v.text, "!")
	text = strings.TrimSpace(text)
	switch strings.ToLower(text) {
	case "", "none", "transparent", "inherit", "currentcolor", "0", "unset":
		return s.colours[usual].value, true
	}
	if g := named.FindStringSubmatch(text); g != nil {
		text = s.colours[g[1]].value
	}
	_, ok := channels(text)
	return text, ok
}

var colourParts = regexp.MustCompile(`var\(\s*--[a-z-]+\s*\)|#[0-9A-Fa-f]+|[a-z-]+\([^)]*\)|[A-Za-z-]+`)

// edgeWords may stand in a border beside its colour.
var edgeWords = strings.Fields("solid dashed dotted double none hidden px mm pt em rem ch thin medium thick inherit transparent currentcolor currentColor auto collapse separate unset important groove")

// edge measures the colour of a border against the page. Lines that only divide are exempt: var(--rule), var(--line).
func (r rule) edge(v value, schemes []scheme, found *diag.List) {
	if strings.HasSuffix(v.name, "radius") || strings.HasSuffix(v.name, "width") || strings.HasSuffix(v.name, "style") || strings.HasSuffix(v.name, "offset") || strings.HasSuffix(v.name, "collapse") || strings.HasSuffix(v.name, "spacing") {
		return
	}
	for _, part := range colourParts.FindAllString(v.text, -1) {
		if part == "var(--rule)" || part == "var(--line)" || slices.Contains(edgeWords, part) {
			continue
		}
		for _, s := range schemes {
			if !r.holds(s) {
				continue
			}
			a, ok := s.resolve(value{text: part}, "ink")
			ground := s.colours["ground"].value
			if !ok {
				found.Faultf(v.pos, "write #RRGGBB or var(--edge), so that its contrast can be measured", "the colour %s of %s cannot be measured", part, r.selector)
				break
			}
			if ratio := Contrast(a, ground); ratio < edges {
				found.Faultf(v.pos, instead(a, ground, edges), "%s: the edge of %s is %s on %s: %s, less than %.0f : 1", s.name, r.selector, a, ground, shown(ratio), edges)
			}
		}
	}
}

// kept are the parts of a page that no theme hides: what warns, what blocks, what is signed.
var kept = regexp.MustCompile(`\.(cautions?|stop|mk|lv|holds?|warn|checks?|accept|good|seals|said|notes|missing)([^a-z]|$)`)

var hidden = regexp.MustCompile(`^(none|hidden|collapse|0(px|pt|mm|em|rem|%)?)\b`)

func (r rule) hides(v value, found *diag.List) {
	hide := (v.name == "display" || v.name == "visibility" || v.name == "font-size" || v.name == "height" || v.name == "max-height" || v.name == "content-visibility") && hidden.MatchString(v.text)
	if !hide || !kept.MatchString(r.selector) {
		return
	}
	found.Add(diag.Finding{Pos: v.pos, Msg: r.selector + " is hidden: what warns, blocks or is signed stays on the page", Hint: "leave it out"})
}
