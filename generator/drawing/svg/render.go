package svg

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"lapwork/generator/drawing"
)

// Render gives the figure as inline SVG. The prefix must be unique on its page: ids of the title and the description
// start with it. The page brings StyleSheet, and Defs with the hatches that its figures name.
func Render(prefix string, f drawing.Figure) string {
	c := &Canvas{}
	f.Draw(c)
	return string(c.document(cleanID(prefix), "", nil))
}

// Standalone gives the figure as a file of its own, in the light scheme and with the hatches it uses.
func Standalone(f drawing.Figure) string {
	c := &Canvas{}
	f.Draw(c)
	head := append([]byte("<style>"+usual+scheme("", drawing.Light())+"</style>"), c.defs()...)
	head = appendTenths(append(head, `<rect class="df-ground" width="`...), tenths(c.view.Width))
	head = append(appendTenths(append(head, `" height="`...), tenths(c.view.Height)), `"/>`...)
	return string(c.document("figure", ` xmlns="http://www.w3.org/2000/svg"`, head)) + "\n"
}

func (c *Canvas) defs() string {
	var names []string
	for m := range c.used {
		names = append(names, hatchID(m))
	}
	if len(names) == 0 {
		return ""
	}
	return `<defs stroke-width="1">` + patterns(names) + "</defs>"
}

func (c *Canvas) document(prefix, more string, head []byte) []byte {
	size := 512 + 4*len(prefix) + len(c.view.Title) + len(c.view.Desc) + len(head)
	for _, l := range c.layers {
		size += 128 + len(l.body) + len(l.pen.data)
	}
	b := make([]byte, 0, size)
	w, h := tenths(c.view.Width), tenths(c.view.Height)
	b = append(append(append(b, "<svg"...), more...), ` class="drawing" role="img" aria-labelledby="`...)
	b = append(append(append(b, prefix...), `-t" aria-describedby="`...), prefix...)
	b = appendTenths(append(b, `-d" width="`...), w)
	b = appendTenths(append(b, `" height="`...), h)
	b = append(appendTenths(append(b, `" viewBox="0 0 `...), w), ' ')
	b = append(append(append(appendTenths(b, h), `"><title id="`...), prefix...), `-t">`...)
	b = append(append(append(appendEscaped(b, c.view.Title), `</title><desc id="`...), prefix...), `-d">`...)
	b = append(append(appendEscaped(b, c.view.Desc), "</desc>"...), head...)
	for _, l := range c.layers {
		b = l.write(b)
	}
	return append(b, "</svg>"...)
}

// cleanID keeps letters, digits and hyphens, so that any surface or junction id can be a prefix.
func cleanID(s string) string {
	out := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-', r == '_':
			return r
		}
		return '-'
	}, s)
	if out == "" || out[0] >= '0' && out[0] <= '9' || out[0] == '-' {
		out = "d" + out
	}
	return out
}

// Escape makes text safe inside elements and attribute values; what XML does not allow at all is dropped.
func Escape(s string) string { return string(appendEscaped(nil, s)) }

func appendEscaped(b []byte, s string) []byte {
	for _, r := range s {
		switch {
		case r == '&':
			b = append(b, "&amp;"...)
		case r == '<':
			b = append(b, "&lt;"...)
		case r == '>':
			b = append(b, "&gt;"...)
		case r == '"':
			b = append(b, "&#34;"...)
		case r == '\'':
			b = append(b, "&#39;"...)
		case r == '\t' || r == '\n' || r == '\r':
			b = append(b, ' ')
		case r < 0x20, r == 0xFFFE, r == 0xFFFF, r == 0xFFFD:
		default:
			b = utf8.AppendRune(b, r)
		}
	}
	return b
}

// usual is what most pieces of a drawing have, so that they need not say it: no fill, a thin stroke, text in the middle of
// its place. The class dr is a stroke with round ends and corners.
const usual = ".drawing{fill:none;stroke-width:1.5;font-family:system-ui,sans-serif;font-size:14px;text-anchor:middle}\n.dr{stroke-linecap:round;stroke-linejoin:round}\n"

// StyleSheet gives the rules a page's style sheet needs for drawings: the sun and the dark scheme, and paper. A scheme
// is chosen by class sun or dark on the root element; without one, dark follows the reader's system.
func StyleSheet() string {
	var b strings.Builder
	b.WriteString(".drawing-defs{position:absolute}\n.drawing{display:block;max-width:none;height:auto}\n" + usual)
	b.WriteString(scheme("", drawing.Light()))
	b.WriteString(scheme(".sun ", drawing.Sun()))
	b.WriteString(scheme(".dark ", drawing.Dark()))
	b.WriteString("@media print{\n.drawing{max-width:100%}\n" + scheme(":root ", drawing.Sun()) + "}\n")
	return b.String()
}

func scheme(selector string, p drawing.Palette) string {
	var b strings.Builder
	for _, ink := range drawing.Inks() {
		fmt.Fprintf(&b, "%s.ds-%s{stroke:%s}%s.df-%s{fill:%s}\n", selector, ink.Name(), p[ink], selector, ink.Name(), p[ink])
	}
	return b.String()
}
