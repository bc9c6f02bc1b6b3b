package workbook

import (
	"encoding/xml"
	"fmt"
	"io"
)

const (
	mostDepth = 64      // elements in each other; a worksheet has seven
	mostTag   = 1 << 20 // bytes between two ends of tags: one tag with its attributes, or the text of a cell
)

// guard reads a part and fails before it costs more than it may: a small file can unpack to any size, and a tag that is
// not ended is kept in memory until it is.
type guard struct {
	in    io.Reader
	book  *book
	left  int64
	run   int
	inTag bool
	plain bool // the tag is a comment or an instruction, where quotes mean nothing
	quote byte
}

func (g *guard) Read(p []byte) (int, error) {
	if g.left <= 0 || g.book.left <= 0 {
		// One more byte tells an end from a part that goes on.
		if n, err := g.in.Read(make([]byte, 1)); n == 0 && err != nil {
			return 0, err
		}
		return 0, fmt.Errorf("larger than a list would be: more than %d MB unpacked", min(g.book.limits.Bytes, g.book.limits.Part)>>20)
	}
	n, err := g.in.Read(p[:min(int64(len(p)), g.left, g.book.left)])
	g.left, g.book.left = g.left-int64(n), g.book.left-int64(n)
	for _, c := range p[:n] {
		if g.follow(c); g.run > mostTag {
			return 0, fmt.Errorf("a tag or a text of more than %d MB", mostTag>>20)
		}
	}
	return n, err
}

// follow counts the bytes since the last tag ended or this one began.
func (g *guard) follow(c byte) {
	g.run++
	switch {
	case !g.inTag:
		if c == '<' {
			g.inTag, g.plain, g.quote, g.run = true, false, 0, 0
		}
	case g.run == 1 && (c == '!' || c == '?'):
		g.plain = true
	case g.quote != 0:
		if c == g.quote {
			g.quote = 0
		}
	case !g.plain && (c == '"' || c == '\''):
		g.quote = c
	case c == '>':
		g.inTag, g.run = false, 0
	}
}

// tokens are the tokens of a part with the depth they stand in.
type tokens struct {
	d     *xml.Decoder
	depth int // of a start: with its own element
}

func (x *tokens) next() (xml.Token, error) {
	t, err := x.d.Token()
	if err != nil {
		return nil, err
	}
	switch t.(type) {
	case xml.StartElement:
		if x.depth++; x.depth > mostDepth {
			return nil, fmt.Errorf("elements stand more than %d deep in each other", mostDepth)
		}
	case xml.EndElement:
		x.depth--
	}
	return t, nil
}

// inside calls visit for every element directly below the one whose start was read last, up to its end; what visit leaves
// of one is passed over.
func (x *tokens) inside(visit func(e xml.StartElement) error) error {
	depth := x.depth
	for x.depth >= depth {
		t, err := x.next()
		if err != nil {
			return torn(err)
		}
		if e, ok := t.(xml.StartElement); ok && x.depth == depth+1 {
			if err := visit(e); err != nil {
				return err
			}
		}
	}
	return nil
}

// text gives the text of the element whose start was read last, up to its end, without that of elements in it.
func (x *tokens) text(most int) (string, error) {
	var out []byte
	depth := x.depth
	for x.depth >= depth {
		t, err := x.next()
		if err != nil {
			return "", torn(err)
		}
		if c, ok := t.(xml.CharData); ok && x.depth == depth {
			if out = append(out, c...); len(out) > most {
				return "", fmt.Errorf("a text of more than %d bytes", most)
			}
		}
	}
	return string(out), nil
}

// torn keeps an end in the middle from being taken for the end.
func torn(err error) error {
	if err == io.EOF {
		return io.ErrUnexpectedEOF
	}
	return err
}
