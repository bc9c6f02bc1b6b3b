package ifc

import (
	"errors"
	"io"
	"strconv"
	"strings"

	"lapwork/generator/diag"
)

// maxRecord bounds one record's text. The longest seen are point lists of a few megabytes.
const maxRecord = 64 << 20

// maxFindings bounds how many syntax findings one file gives: a file that is no STEP file at all would give millions.
const maxFindings = 50

// scanner reads a STEP file token by token. Memory is the read buffer and one record.
type scanner struct {
	r         io.Reader
	window    []byte // read and not yet used: window[i:]
	i         int
	eof       bool
	file      string
	line, col int // of the next byte
	cr        bool
	err       error // of the source, other than its end
	found     *diag.List
	findings  int
	name      []byte // the word read last
	buf       []byte // the record being read, without blanks and comments
}

// windowSize is how many bytes are read at a time; ahead is how far the scanner looks ahead.
const (
	windowSize = 64 << 10
	ahead      = 32
)

func newScanner(file string, r io.Reader, found *diag.List) *scanner {
	return &scanner{r: r, window: make([]byte, 0, windowSize), file: file, line: 1, col: 1, found: found}
}

// errSyntax says that a statement ended in a finding.
var errSyntax = errors.New("syntax error")

// pos is the place of the next byte.
func (s *scanner) pos() diag.Pos { return diag.Pos{File: s.file, Line: s.line, Col: s.col} }

// fill reads on until there is enough to look ahead, or the end.
func (s *scanner) fill() {
	left := copy(s.window, s.window[s.i:])
	s.window, s.i = s.window[:left], 0
	for idle := 0; len(s.window) < ahead && !s.eof; {
		n, err := s.r.Read(s.window[len(s.window):cap(s.window)])
		s.window = s.window[:len(s.window)+n]
		if idle++; n > 0 {
			idle = 0
		}
		if err == nil && idle > 100 {
			err = io.ErrNoProgress
		}
		if err != nil {
			s.eof = true
			if err != io.EOF {
				s.err = err
			}
		}
	}
}

func (s *scanner) next() (byte, bool) {
	if s.ended() {
		return 0, false
	}
	c := s.window[s.i]
	s.i++
	switch {
	case c == '\n' && s.cr:
		// the second half of a line end
	case c == '\n' || c == '\r':
		s.line, s.col = s.line+1, 1
	default:
		s.col++
	}
	s.cr = c == '\r'
	return c, true
}

// peek gives the next byte, or 0 at the end.
func (s *scanner) peek() byte {
	if s.i < len(s.window) {
		return s.window[s.i]
	}
	return s.peekAt(0)
}

// peekAt looks n bytes ahead, less than ahead.
func (s *scanner) peekAt(n int) byte {
	if s.i+n >= len(s.window) {
		s.fill()
		if s.i+n >= len(s.window) {
			return 0
		}
	}
	return s.window[s.i+n]
}

func (s *scanner) ended() bool {
	if s.i < len(s.window) {
		return false
	}
	s.fill()
	return s.i >= len(s.window)
}

// blank skips white space and comments. A comment that never closes is a fault where it opens.
func (s *scanner) blank() {
	for {
		switch c := s.peek(); {
		case c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f' || c == '\v':
			s.next()
		case c == '/' && s.peekAt(1) == '*':
			s.comment()
		default:
			return
		}
	}
}

func (s *scanner) comment() {
	open := s.pos()
	s.next()
	s.next()
	for star := false; ; {
		c, ok := s.next()
		if !ok {
			s.fault(open, "close the comment with */, or remove its start", "a comment opens here and never closes; nothing after it was read")
			return
		}
		if star && c == '/' {
			return
		}
		star = c == '*'
	}
}

func (s *scanner) fault(at diag.Pos, hint, format string, args ...any) {
	s.findings++
	switch {
	case s.findings < maxFindings:
		s.found.Faultf(at, hint, format, args...)
	case s.findings == maxFindings:
		s.found.Faultf(at, "check that the file is a STEP file (ISO 10303-21)", "more than %d syntax errors; the rest is not listed", maxFindings-1)
	}
}

// stray reports text that belongs to no statement and skips it: to the end of the line, or to a statement further on in
// the same line.
func (s *scanner) stray() {
	at := s.pos()
	var b strings.Builder
	for !s.ended() {
		c := s.peek()
		if c == '\n' || c == '\r' || c == '#' && b.Len() > 0 {
			break
		}
		s.next()
		if b.Len() < 40 {
			b.WriteByte(c)
		}
	}
	s.findings++
	if s.findings < maxFindings {
		s.found.Openf(at, "", "check what the file lost here: write it again from the program it came from",
			"%s stands between two statements and was skipped", excerpt(b.String()))
	}
}

func excerpt(text string) string { return strconv.QuoteToASCII(strings.TrimSpace(text)) }

// skipStatement goes on behind the next semicolon outside strings.
func (s *scanner) skipStatement() {
	for {
		c, ok := s.next()
		if !ok || c == ';' {
			return
		}
		if c == '\'' {
			for c, ok = s.next(); ok && c != '\''; c, ok = s.next() {
			}
		}
	}
}
