package survey

import (
	"bufio"
	"io"
	"unicode/utf16"
	"unicode/utf8"
)

// Text reads a text of any usual encoding as UTF-8. The first bytes decide, not what the text says about itself.
type Text struct {
	Encoding string // "UTF-8", "UTF-8 with mark", "UTF-16 LE", "UTF-16 BE"
	Repaired int    // bytes that were no UTF-8 and were read as Windows-1252
	in       *bufio.Reader
	wide     func([2]byte) uint16 // nil: bytes
	pending  []byte
	err      error
}

// NewText looks at the first bytes of a text.
func NewText(r io.Reader) *Text {
	t := &Text{Encoding: "UTF-8", in: bufio.NewReaderSize(r, 1<<16)}
	head, err := t.in.Peek(4)
	if err != nil && len(head) < 2 {
		return t
	}
	little := func(b [2]byte) uint16 { return uint16(b[0]) | uint16(b[1])<<8 }
	big := func(b [2]byte) uint16 { return uint16(b[1]) | uint16(b[0])<<8 }
	skip := 0
	switch {
	case head[0] == 0xFF && head[1] == 0xFE:
		t.Encoding, t.wide, skip = "UTF-16 LE", little, 2
	case head[0] == 0xFE && head[1] == 0xFF:
		t.Encoding, t.wide, skip = "UTF-16 BE", big, 2
	case len(head) >= 3 && head[0] == 0xEF && head[1] == 0xBB && head[2] == 0xBF:
		t.Encoding, skip = "UTF-8 with mark", 3
	case len(head) == 4 && head[1] == 0 && head[3] == 0 && head[0] != 0:
		t.Encoding, t.wide = "UTF-16 LE", little
	case len(head) == 4 && head[0] == 0 && head[2] == 0 && head[1] != 0:
		t.Encoding, t.wide = "UTF-16 BE", big
	}
	if _, err := t.in.Discard(skip); err != nil {
		t.err = err
	}
	return t
}

// Read gives UTF-8.
func (t *Text) Read(p []byte) (int, error) {
	for len(t.pending) == 0 {
		if t.err != nil {
			return 0, t.err
		}
		t.more()
	}
	n := copy(p, t.pending)
	t.pending = t.pending[n:]
	return n, nil
}

// more decodes a stretch into pending.
func (t *Text) more() {
	out := make([]byte, 0, 4096)
	for len(out) < 4000 && t.err == nil {
		if t.wide != nil {
			out = t.unit(out)
		} else {
			out = t.char(out)
		}
	}
	t.pending = out
}

// unit reads one code unit of UTF-16, or a pair.
func (t *Text) unit(out []byte) []byte {
	var b [2]byte
	if _, t.err = io.ReadFull(t.in, b[:]); t.err != nil {
		if t.err == io.ErrUnexpectedEOF {
			t.Repaired, t.err = t.Repaired+1, io.EOF
		}
		return out
	}
	r := rune(t.wide(b))
	if utf16.IsSurrogate(r) {
		next, err := t.in.Peek(2)
		if err == nil {
			if pair := utf16.DecodeRune(r, rune(t.wide([2]byte(next)))); pair != utf8.RuneError {
				_, t.err = t.in.Discard(2)
				return utf8.AppendRune(out, pair)
			}
		}
		t.Repaired++
		r = utf8.RuneError
	}
	return utf8.AppendRune(out, r)
}

// char reads one character of UTF-8, or a byte that is none.
func (t *Text) char(out []byte) []byte {
	r, size, err := t.in.ReadRune()
	if err != nil {
		t.err = err
		return out
	}
	if r != utf8.RuneError || size != 1 {
		return utf8.AppendRune(out, r)
	}
	t.Repaired++
	if t.err = t.in.UnreadRune(); t.err != nil {
		return out
	}
	b, err := t.in.ReadByte()
	t.err = err
	return utf8.AppendRune(out, western(b))
}

// western is a byte of Windows-1252: ISO 8859-1 but for 80 to 9F.
func western(b byte) rune {
	const high = "€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ"
	if b < 0x80 || b >= 0xA0 {
		return rune(b)
	}
	return []rune(high)[b-0x80]
}
