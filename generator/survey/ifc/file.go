package ifc

import (
	"fmt"
	"io"
	"strings"

	"lapwork/generator/diag"
)

// load reads all records of a STEP file. Syntax errors are findings; the records around them are read.
func load(file string, r io.Reader, found *diag.List) (*store, error) {
	s := newScanner(file, r, found)
	st := newStore(file, found)
	if s.peek() == 0xEF && s.peekAt(1) == 0xBB && s.peekAt(2) == 0xBF {
		for range 3 {
			s.next()
		}
	}
	s.blank()
	if at := s.pos(); string(s.word()) != "ISO-10303-21" {
		if s.err == nil {
			s.fault(at, "give an IFC file in STEP form (.ifc), or one in a zip (.ifczip)", "the file does not start with ISO-10303-21; it is no STEP file")
		}
		return st, s.err
	}
	if s.blank(); s.peek() == ';' {
		s.next()
	}
	for s.statement(st) {
	}
	st.sort()
	if s.err != nil {
		return st, fmt.Errorf("read %s: %w", file, s.err)
	}
	return st, nil
}

// statement reads one statement or skips what is none; false at the end.
func (s *scanner) statement(st *store) bool {
	if s.blank(); s.ended() {
		return false
	}
	at, c := s.pos(), s.peek()
	var err error
	switch {
	case c == '#':
		err = s.instance(st, at)
	case letter(c):
		err = s.keyword(st, at)
	default:
		s.stray()
		return true
	}
	if err != nil {
		s.skipStatement()
	}
	return true
}

// instance reads #12=IFCWALL(...); and stores it.
func (s *scanner) instance(st *store, at diag.Pos) error {
	s.next()
	id, ok := s.integer()
	if s.blank(); !ok || s.peek() != '=' {
		return s.unexpected(s.pos())
	}
	s.next()
	s.blank()
	if s.peek() == '(' {
		s.fault(at, "write the file with one type for each record, as the IFC schemas do", "#%d has several types at once, which is not read", id)
		return errSyntax
	}
	name := s.word()
	kind, keep := st.kind(name)
	if s.blank(); len(name) == 0 || s.peek() != '(' {
		return s.unexpected(s.pos())
	}
	s.buf = s.buf[:0]
	if err := s.list(at); err != nil {
		return err
	}
	if err := s.semicolon(); err != nil {
		return err
	}
	if keep {
		st.add(id, kind, s.buf, at)
	}
	return nil
}

func (s *scanner) semicolon() error {
	if s.blank(); s.peek() != ';' {
		return s.unexpected(s.pos())
	}
	s.next()
	return nil
}

// keyword reads a section name or a header entry.
func (s *scanner) keyword(st *store, at diag.Pos) error {
	word := string(s.word())
	if s.blank(); s.peek() == '(' {
		s.buf = s.buf[:0]
		if err := s.list(at); err != nil {
			return err
		}
		if word == "FILE_SCHEMA" {
			st.setSchema(parse(s.buf), at)
		}
	}
	return s.semicolon()
}

// setSchema keeps the schema's name and says so where it is none we know.
func (s *store) setSchema(args []value, at diag.Pos) {
	names := value{kind: list, items: args}.at(0)
	s.schema = strings.ToUpper(names.at(0).word)
	for _, known := range []string{"IFC2X3", "IFC4", "IFC4X3"} {
		if s.schema == known || strings.HasPrefix(s.schema, known+"_") && known != "IFC4" {
			return
		}
	}
	s.found.Openf(at, "", "compare the rooms found with the drawings", "the schema %q is not one of IFC2X3, IFC4, IFC4X3; it was read as the nearest of them", s.schema)
}
