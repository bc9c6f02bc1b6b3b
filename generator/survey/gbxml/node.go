package gbxml

import (
	"bufio"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"

	"lapwork/generator/diag"
)

// node is one element with what it holds, in the schema's namespace.
type node struct {
	name     string
	attrs    map[string]string
	text     string
	children []*node
	pos      diag.Pos
}

func (n *node) attr(name string) string { return n.attrs[name] }

// child is the first child of a name; nil for none.
func (n *node) child(name string) *node {
	for _, c := range n.children {
		if c.name == name {
			return c
		}
	}
	return nil
}

func (n *node) all(name string) []*node {
	var out []*node
	for _, c := range n.children {
		if c.name == name {
			out = append(out, c)
		}
	}
	return out
}

// words is the text of a child, blanks put right.
func (n *node) words(name string) string {
	if c := n.child(name); c != nil {
		return strings.Join(strings.Fields(c.text), " ")
	}
	return ""
}

const (
	maxDepth = 60      // of elements; files go 12 deep
	maxNodes = 400_000 // in one surface or space
)

// tape remembers the last bytes read, for an excerpt where the text is broken.
type tape struct {
	*bufio.Reader
	last [60]byte
	n    int
}

// ReadByte reads on.
func (t *tape) ReadByte() (byte, error) {
	b, err := t.Reader.ReadByte()
	if err == nil {
		t.last[t.n%len(t.last)] = b
		t.n++
	}
	return b, err
}

func (t *tape) excerpt() string {
	var out []byte
	for i := max(0, t.n-len(t.last)); i < t.n; i++ {
		out = append(out, t.last[i%len(t.last)])
	}
	return strings.ToValidUTF8(strings.Join(strings.Fields(string(out)), " "), "")
}

// stream gives elements one after another.
type stream struct {
	dec   *xml.Decoder
	tape  *tape
	file  string
	space string // namespace of the root
	depth int
}

func newStream(file string, r io.Reader) *stream {
	s := &stream{tape: &tape{Reader: bufio.NewReaderSize(r, 1<<16)}, file: file}
	s.dec = xml.NewDecoder(s.tape)
	// the bytes are UTF-8 already, whatever the declaration says
	s.dec.CharsetReader = func(_ string, in io.Reader) (io.Reader, error) { return in, nil }
	return s
}

func (s *stream) pos() diag.Pos {
	line, col := s.dec.InputPos()
	return diag.Pos{File: s.file, Line: line, Col: col}
}

// errEntities refuses a text that declares its own abbreviations: expanding them can fill any memory.
var errEntities = errors.New("the text declares entities, which are refused")

// next gives the next start or end of an element, or the declaration; nil at the end of the text.
func (s *stream) next() (xml.Token, error) {
	for {
		t, err := s.dec.Token()
		if err == io.EOF {
			return nil, nil
		}
		if err != nil {
			return nil, s.broken(err)
		}
		switch t := t.(type) {
		case xml.StartElement:
			if s.depth++; s.depth > maxDepth {
				return nil, fmt.Errorf("elements are nested more than %d deep", maxDepth)
			}
			return t, nil
		case xml.EndElement:
			s.depth--
			return t, nil
		case xml.ProcInst:
			return t.Copy(), nil
		case xml.CharData:
			return t, nil
		case xml.Directive:
			if text := strings.ToUpper(string(t)); strings.Contains(text, "[") || strings.Contains(text, "ENTITY") {
				return nil, errEntities
			}
		}
	}
}

// broken says where a text stops being XML.
func (s *stream) broken(err error) error {
	var syntax *xml.SyntaxError
	if errors.As(err, &syntax) {
		return fmt.Errorf("not well-formed at byte %d: %s, after %q", s.dec.InputOffset(), syntax.Msg, s.tape.excerpt())
	}
	return err
}

// element reads what an element holds, up to its end.
func (s *stream) element(start xml.StartElement, pos diag.Pos) (*node, error) {
	count := 0
	return s.inside(start, pos, &count)
}

func (s *stream) inside(start xml.StartElement, pos diag.Pos, count *int) (*node, error) {
	if *count++; *count > maxNodes {
		return nil, fmt.Errorf("element %s holds more than %d others", start.Name.Local, maxNodes)
	}
	n := &node{name: start.Name.Local, pos: pos}
	if len(start.Attr) > 0 {
		n.attrs = make(map[string]string, len(start.Attr))
		for _, a := range start.Attr {
			n.attrs[a.Name.Local] = strings.TrimSpace(a.Value)
		}
	}
	for {
		at := s.pos()
		t, err := s.next()
		if err != nil {
			return nil, err
		}
		switch t := t.(type) {
		case nil:
			return nil, io.ErrUnexpectedEOF
		case xml.StartElement:
			c, err := s.inside(t, at, count)
			if err != nil {
				return nil, err
			}
			if t.Name.Space == s.space {
				n.children = append(n.children, c)
			}
		case xml.EndElement:
			return n, nil
		case xml.CharData:
			if len(n.children) == 0 && len(n.text) < 4096 {
				n.text += string(t)
			}
		}
	}
}

// skip reads over an element.
func (s *stream) skip() error {
	for level := 1; level > 0; {
		t, err := s.next()
		if err != nil {
			return err
		}
		switch t.(type) {
		case nil:
			return io.ErrUnexpectedEOF
		case xml.StartElement:
			level++
		case xml.EndElement:
			level--
		}
	}
	return nil
}
