package page

import "strings"

// compact writes a style sheet without what only readers of its file need: remarks, the last semicolon of a rule, and
// white space, of which one blank stays where it may mean something. It knows no properties and no values: a blank goes
// beside { } ; , > and behind a colon, never before one, since "li :first-child" is not "li:first-child".
func compact(css string) string {
	c := compactor{css: css, out: make([]byte, 0, len(css))}
	for c.at < len(css) {
		c.next()
	}
	return string(c.out)
}

type compactor struct {
	css   string
	at    int
	out   []byte
	blank bool // white space was read behind what stands in out
}

const (
	cssSpace = " \t\r\n\f"
	loose    = "{};,>" // beside these white space means nothing
)

// next reads one byte, or what is taken whole: a remark, a string, an escape, an address without quotes.
func (c *compactor) next() {
	rest := c.css[c.at:]
	switch b := rest[0]; {
	case strings.IndexByte(cssSpace, b) >= 0:
		c.at, c.blank = c.at+1, true
	case strings.HasPrefix(rest, "/*"):
		c.remark(rest)
	case b == '"' || b == '\'':
		c.whole(stringEnd(rest))
	case b == '\\':
		c.whole(escapeEnd(rest))
	case b == '(' && c.afterURL():
		c.whole(addressEnd(rest))
	default:
		c.byte(b)
	}
}

// remark leaves a remark out. Between two words it divides them, and nothing else would.
func (c *compactor) remark(rest string) {
	_, after, _ := strings.Cut(rest[2:], "*/")
	c.at = len(c.css) - len(after)
	if !c.blank && len(c.out) > 0 && after != "" && strings.IndexByte(cssSpace+loose+":", after[0]) < 0 && strings.IndexByte(loose+":", c.last()) < 0 {
		c.out = append(c.out, "/**/"...)
	}
}

// whole takes a text as it stands.
func (c *compactor) whole(n int) {
	c.settle(c.css[c.at])
	c.out = append(c.out, c.css[c.at:c.at+n]...)
	c.at += n
}

func (c *compactor) byte(b byte) {
	c.settle(b)
	if n := len(c.out); b == '}' && n > 1 && c.out[n-1] == ';' && c.out[n-2] != ':' {
		c.out = c.out[:n-1]
	}
	c.out = append(c.out, b)
	c.at++
}

// settle writes the blank before the next byte where it may mean something. The value of a variable may be a blank.
func (c *compactor) settle(next byte) {
	last := c.last()
	empty := last == ':' && (next == ';' || next == '}')
	if c.blank && (empty || strings.IndexByte(loose, next) < 0 && strings.IndexByte(loose+":", last) < 0) {
		c.out = append(c.out, ' ')
	}
	c.blank = false
}

// last is the last byte written; at the begin of a sheet a brace, beside which no blank stays.
func (c *compactor) last() byte {
	if len(c.out) == 0 {
		return '}'
	}
	return c.out[len(c.out)-1]
}

// afterURL is whether a bracket that follows holds an address.
func (c *compactor) afterURL() bool {
	n := len(c.out)
	return !c.blank && n >= 3 && strings.EqualFold(string(c.out[n-3:]), "url")
}

// stringEnd is behind the quote that ends a string, or behind its line where none does.
func stringEnd(s string) int {
	for i := 1; i < len(s); i++ {
		switch s[i] {
		case '\\':
			i++
		case s[0]:
			return i + 1
		case '\n':
			return i
		}
	}
	return len(s)
}

// escapeEnd is behind an escape: one character, or up to six hexadecimal digits with the blank that ends them.
func escapeEnd(s string) int {
	n := 1
	for n < len(s) && n < 7 && strings.IndexByte("0123456789abcdefABCDEF", s[n]) >= 0 {
		n++
	}
	if n == 1 || n < len(s) && strings.IndexByte(cssSpace, s[n]) >= 0 {
		n++
	}
	return min(n, len(s))
}

// addressEnd is behind the bracket that ends an address; one in quotes is a string, which is read as one.
func addressEnd(s string) int {
	inside := strings.TrimLeft(s[1:], cssSpace)
	if inside != "" && (inside[0] == '"' || inside[0] == '\'') {
		return 1
	}
	for i := 1; i < len(s); i++ {
		switch s[i] {
		case '\\':
			i++
		case ')':
			return i + 1
		}
	}
	return len(s)
}
