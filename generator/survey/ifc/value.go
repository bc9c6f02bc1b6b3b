package ifc

import "strconv"

// kind says what an attribute value is.
type kind uint8

const (
	null    kind = iota // $ not given, or * derived; writers mix them up
	number              // integer or real
	text                // string, escapes decoded
	enum                // .NAME.
	ref                 // #12
	list                // ( ... )
	typed               // IFCLABEL('x'): word is the type, items holds the one value
	bitmask             // "0A": kept as text
)

// value is one attribute value of a record.
type value struct {
	kind  kind
	num   float64
	id    uint64
	word  string
	items []value
}

// at gives an item of a list; what is not there is null.
func (v value) at(i int) value {
	if i < 0 || i >= len(v.items) || v.kind != list {
		return value{}
	}
	return v.items[i]
}

// plain takes the type off a typed value.
func (v value) plain() value {
	if v.kind == typed && len(v.items) == 1 {
		return v.items[0]
	}
	return v
}

// record is one instance: its number, type and attributes.
type record struct {
	id   uint64
	kind string // upper case, such as IFCWALL
	args []value
	at   place
}

// place is where a record starts. Lines and byte columns count from 1.
type place struct{ line, col uint32 }

// arg gives an attribute by number from 0; what is not there is null.
func (r record) arg(i int) value {
	if i < 0 || i >= len(r.args) {
		return value{}
	}
	return r.args[i]
}

// name says which record it is: "#12 IFCWALL".
func (r record) name() string { return "#" + strconv.FormatUint(r.id, 10) + " " + r.kind }

// parse takes normalised record text apart: what the scanner has checked and stored, without blanks and comments.
func parse(b []byte) []value {
	p := parser{b: b}
	if p.peek() == '(' {
		return p.list()
	}
	return nil
}

type parser struct {
	b []byte
	i int
}

func (p *parser) peek() byte {
	if p.i < len(p.b) {
		return p.b[p.i]
	}
	return 0
}

// list reads from an opening to its closing bracket.
func (p *parser) list() []value {
	p.i++
	var out []value
	for p.i < len(p.b) {
		switch p.peek() {
		case ')':
			p.i++
			return out
		case ',':
			p.i++
		default:
			if out == nil {
				out = make([]value, 0, 4)
			}
			out = append(out, p.value())
		}
	}
	return out
}

func (p *parser) value() value {
	c := p.peek()
	switch {
	case c == '$' || c == '*':
		p.i++
		return value{}
	case c == '(':
		return value{kind: list, items: p.list()}
	case c == '\'':
		return value{kind: text, word: decode(p.quoted('\''))}
	case c == '"':
		return value{kind: bitmask, word: string(p.quoted('"'))}
	case c == '.':
		return value{kind: enum, word: string(p.enum())}
	case c == '#':
		p.i++
		id, err := strconv.ParseUint(string(p.while(digit)), 10, 64)
		if err != nil {
			return value{} // larger than any number a file can define
		}
		return value{kind: ref, id: id}
	case letter(c):
		word := string(p.while(wordPart))
		return value{kind: typed, word: word, items: p.typedItems()}
	}
	f, err := strconv.ParseFloat(string(p.while(numberPart)), 64)
	if err != nil {
		p.i++ // never stand still
		return value{}
	}
	return value{kind: number, num: f}
}

func (p *parser) typedItems() []value {
	if p.peek() != '(' {
		return nil
	}
	return p.list()
}

func (p *parser) while(in func(byte) bool) []byte {
	from := p.i
	for p.i < len(p.b) && in(p.b[p.i]) {
		p.i++
	}
	return p.b[from:p.i]
}

// quoted gives what stands between quotes; a doubled quote stays doubled.
func (p *parser) quoted(quote byte) []byte {
	p.i++
	from := p.i
	for p.i < len(p.b) {
		if p.b[p.i] == quote {
			if p.i+1 >= len(p.b) || p.b[p.i+1] != quote {
				p.i++
				return p.b[from : p.i-1]
			}
			p.i++
		}
		p.i++
	}
	return p.b[from:]
}

func (p *parser) enum() []byte {
	p.i++
	from := p.i
	for p.i < len(p.b) && p.b[p.i] != '.' {
		p.i++
	}
	word := p.b[from:p.i]
	p.i++
	return word
}

// class is a set of kinds of bytes.
type class uint8

const (
	inDigits class = 1 << iota
	inWord
	inNumber
	plainText // of a string: neither quote nor line end
)

// classes says for each byte what it may stand in.
var classes = func() (all [256]class) {
	for i := range all {
		c := byte(i)
		if digit(c) {
			all[i] |= inDigits
		}
		if wordPart(c) {
			all[i] |= inWord
		}
		if numberPart(c) {
			all[i] |= inNumber
		}
		if c != '\'' && c != '"' && c != '\n' && c != '\r' {
			all[i] |= plainText
		}
	}
	return all
}()

func digit(c byte) bool  { return c >= '0' && c <= '9' }
func letter(c byte) bool { return c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' || c == '_' }
func wordPart(c byte) bool {
	return letter(c) || digit(c)
}
func numberPart(c byte) bool {
	return digit(c) || c == '+' || c == '-' || c == '.' || c == 'E' || c == 'e'
}
