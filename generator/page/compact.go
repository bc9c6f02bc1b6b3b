package page

import "strings"

// compact writes a style sheet without what only readers of its file need: remarks, the last semicolon of a rule, and
// white space, of which one blank stays where it may mean something. It knows no properties and no values: a blank goes
// beside { } ; , > and behind a colon, never before one, since "li :first-child" is not "li:first-child".
func compact(css string) string {
	c := compactor{css: css, out: make([]byte, 0, len(css)), last: '}'} // as behind a rule, where no blank stays
	for c.at < len(css) {
		c.next()
	}
	return string(c.out)
}

type compactor struct {
	css    string
	at     int
	out    []byte
	blank  bool // white space was read behind what stands in out
	parted bool // a remark was
	last   byte // what stands last in out; of what was taken whole a letter, since an escaped brace is none
	ends   int  // how many semicolons stand last
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
		_, after, _ := strings.Cut(rest[2:], "*/")
		c.at, c.parted = len(c.css)-len(after), true
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

// whole takes a text as it stands.
func (c *compactor) whole(n int) {
	c.settle(c.css[c.at])
	c.out = append(c.out, c.css[c.at:c.at+n]...)
	c.at, c.last, c.ends = c.at+n, 'w', 0
}

func (c *compactor) byte(b byte) {
	c.settle(b)
	if n := len(c.out) - c.ends; b == '}' && n > 0 && c.out[n-1] != ':' { // behind a colon they end an empty value
		c.out = c.out[:n]
	}
	c.ends++
	if b != ';' {
		c.ends = 0
	}
	c.out = append(c.out, b)
	c.at, c.last = c.at+1, b
}

// settle writes before the next byte what may mean something: a blank, or a remark that alone divides two words. The value
// of a variable may be a blank.
func (c *compactor) settle(next byte) {
	empty := c.last == ':' && (next == ';' || next == '}')
	if empty || strings.IndexByte(loose, next) < 0 && strings.IndexByte(loose+":", c.last) < 0 {
		switch {
		case c.blank:
			c.out = append(c.out, ' ')
		case c.parted:
			c.out = append(c.out, "/**/"...)
		}
	}
	c.blank, c.parted = false, false
}

// afterURL is whether a bracket that follows holds an address.
func (c *compactor) afterURL() bool {
	n := len(c.out)
	return !c.blank && n >= 3 && strings.EqualFold(string(c.out[n-3:]), "url")
}

// stringEnd is behind the quote that ends a string, or behind its line, which ends it where no quote does.
func stringEnd(s string) int {
	for i := 1; i < len(s); i++ {
		switch s[i] {
		case '\\':
			i++
		case s[0], '\n':
			return i + 1
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
