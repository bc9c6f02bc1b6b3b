package svg

import (
	"fmt"
	"strings"

	"lapwork/generator/drawing"
)

// Render gives the figure as inline SVG. The prefix must be unique on its page: ids of the title and the description
// start with it. The page brings the hatches once, see Defs.
func Render(prefix string, f drawing.Figure) string {
	c := &Canvas{}
	f.Draw(c)
	return c.document(cleanID(prefix), "")
}

// Standalone gives the figure as a file of its own, with the hatches it uses.
func Standalone(f drawing.Figure) string {
	c := &Canvas{}
	f.Draw(c)
	c.closeGroup()
	var defs strings.Builder
	for _, m := range hatches() {
		if c.used[m] {
			defs.WriteString(pattern(m))
		}
	}
	paper := fmt.Sprintf(`<rect class="df-ground" width="%s" height="%s" fill="%s"/>`, num(c.view.Width), num(c.view.Height), drawing.Light()[drawing.Ground])
	if defs.Len() > 0 {
		paper = "<defs>" + defs.String() + "</defs>" + paper
	}
	return c.document("figure", paper) + "\n"
}

func (c *Canvas) document(prefix, head string) string {
	c.closeGroup()
	w, h := num(c.view.Width), num(c.view.Height)
	return `<svg xmlns="http://www.w3.org/2000/svg" class="drawing" role="img" aria-labelledby="` + prefix + `-t" aria-describedby="` + prefix +
		`-d" width="` + w + `" height="` + h + `" viewBox="0 0 ` + w + ` ` + h + `" font-family="system-ui,sans-serif">` +
		`<title id="` + prefix + `-t">` + Escape(c.view.Title) + `</title><desc id="` + prefix + `-d">` + Escape(c.view.Desc) + `</desc>` +
		head + c.body.String() + `</svg>`
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
func Escape(s string) string {
	var out strings.Builder
	for _, r := range s {
		switch {
		case r == '&':
			out.WriteString("&amp;")
		case r == '<':
			out.WriteString("&lt;")
		case r == '>':
			out.WriteString("&gt;")
		case r == '"':
			out.WriteString("&#34;")
		case r == '\'':
			out.WriteString("&#39;")
		case r == '\t' || r == '\n' || r == '\r':
			out.WriteByte(' ')
		case r < 0x20, r == 0xFFFE, r == 0xFFFF, r == 0xFFFD:
		default:
			out.WriteRune(r)
		}
	}
	return out.String()
}

// StyleSheet gives the rules a page's style sheet needs for drawings: the sun and the dark scheme, and paper. A scheme
// is chosen by class sun or dark on the root element; without one, dark follows the reader's system.
func StyleSheet() string {
	var b strings.Builder
	b.WriteString(".drawing-defs{position:absolute}\n.drawing{display:block;max-width:none;height:auto}\n")
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
