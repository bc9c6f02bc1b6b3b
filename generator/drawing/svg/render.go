package svg

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"lapwork/generator/drawing"
)

// Render gives the figure as inline SVG. The prefix must be unique on its page: ids of the title and the description
// start with it. The page brings Base, Colours and Paper, and Defs with the hatches that its figures name.
func Render(prefix string, f drawing.Figure) string {
	c := &Canvas{}
	f.Draw(c)
	return string(c.document(cleanID(prefix), "", nil))
}

// Standalone gives the figure as a file of its own, in the light scheme and with the hatches it uses.
func Standalone(f drawing.Figure) string {
	c := &Canvas{}
	f.Draw(c)
	head := append([]byte("<style>"+usual+plain(drawing.Light())+"</style>"), c.defs()...)
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

// Base are the rules that every drawing takes, whatever its inks.
func Base() string {
	return ".drawing-defs{position:absolute}\n.drawing{display:block;height:auto}\n" + usual
}

// Colours are the rules of some inks on a screen. A scheme is chosen by class sun or dark on the root element; without one
// drawings are light. Each ink is a variable, so that a scheme states it once for lines and areas.
func Colours(inks []drawing.Ink) string {
	var b strings.Builder
	for _, ink := range inks {
		fmt.Fprintf(&b, ".ds-%s{stroke:var(--d-%[1]s)}.df-%[1]s{fill:var(--d-%[1]s)}\n", ink.Name())
	}
	return b.String() + scheme(":root", drawing.Light(), inks) + scheme(".sun", drawing.Sun(), inks) + scheme(".dark", drawing.Dark(), inks)
}

// Paper are the rules of every ink in print: they stand behind all others.
func Paper() string {
	return "@media print{\n.drawing{max-width:100%}\n" + scheme(":root", drawing.Sun(), drawing.Inks()) + "}\n"
}

// plain are the rules of every ink without variables: programs that show a file alone may not know them.
func plain(p drawing.Palette) string {
	var b strings.Builder
	for _, ink := range drawing.Inks() {
		fmt.Fprintf(&b, ".ds-%s{stroke:%s}.df-%[1]s{fill:%[2]s}\n", ink.Name(), p[ink])
	}
	return b.String()
}

func scheme(selector string, p drawing.Palette, inks []drawing.Ink) string {
	var b strings.Builder
	for _, ink := range inks {
		fmt.Fprintf(&b, "--d-%s:%s;", ink.Name(), short(p[ink]))
	}
	return selector + "{" + b.String() + "}\n"
}

// short writes #112233 as #123.
func short(c string) string {
	if len(c) == 7 && c[1] == c[2] && c[3] == c[4] && c[5] == c[6] {
		return "#" + c[1:2] + c[3:4] + c[5:6]
	}
	return c
}
