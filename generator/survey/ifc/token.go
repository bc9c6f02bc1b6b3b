package ifc

import "lapwork/generator/diag"

// word reads letters, digits, _ and - (section names carry it) and gives them in upper case, until the next word.
func (s *scanner) word() []byte {
	s.name = s.name[:0]
	for len(s.name) < 256 {
		for s.i < len(s.window) && classes[s.window[s.i]]&inWord != 0 && len(s.name) < 256 {
			c := s.window[s.i]
			if c >= 'a' && c <= 'z' {
				c -= 'a' - 'A'
			}
			s.name = append(s.name, c)
			s.pass(1)
		}
		c := s.peek()
		if !wordPart(c) && c != '-' && c != '!' {
			break
		}
		if c >= 'a' && c <= 'z' {
			c -= 'a' - 'A'
		}
		s.name = append(s.name, c)
		s.next()
	}
	return s.name
}

// integer reads digits; ok is false where there is none or the number is too large for any file.
func (s *scanner) integer() (id uint64, ok bool) {
	for digit(s.peek()) {
		c, _ := s.next()
		if id > (1<<63)/10 {
			ok = false
			for digit(s.peek()) {
				s.next()
			}
			return 0, false
		}
		id, ok = id*10+uint64(c-'0'), true
	}
	return id, ok
}

// maxDepth bounds how deep lists nest; the schemas need three.
const maxDepth = 64

// list checks and stores attribute values from an opening bracket to the one that closes it.
func (s *scanner) list(start diag.Pos) error {
	depth, value := 0, false // value: one stands before the next separator
	for {
		s.blank()
		if s.ended() {
			s.fault(start, "the file may be cut off; get it again", "the statement that starts here does not end")
			return errSyntax
		}
		if len(s.buf) > maxRecord {
			s.fault(start, "", "the statement is longer than %d MB", maxRecord>>20)
			return errSyntax
		}
		at, c := s.pos(), s.peek()
		switch {
		case c == '(' && !value:
			if depth++; depth > maxDepth {
				s.fault(at, "", "lists are nested more than %d deep", maxDepth)
				return errSyntax
			}
			s.keep()
		case c == ')' && (value || s.buf[len(s.buf)-1] == '('):
			s.keep()
			if depth--; depth == 0 {
				return nil
			}
			value = true
		case c == ',' && value:
			s.keep()
			value = false
		case value || c == ')' || c == ',':
			return s.unexpected(at)
		case letter(c):
			s.run(inWord)
			if s.blank(); s.peek() != '(' {
				return s.unexpected(s.pos())
			}
		default:
			if err := s.scalar(at, c); err != nil {
				return err
			}
			value = true
		}
	}
}

// scalar checks and stores one simple value.
func (s *scanner) scalar(at diag.Pos, c byte) error {
	from := len(s.buf)
	switch {
	case c == '$' || c == '*':
		s.keep()
	case c == '\'' || c == '"':
		return s.quoted(at, c)
	case c == '#':
		s.keep()
		if s.run(inDigits); len(s.buf) == from+1 {
			return s.unexpected(at)
		}
	case c == '.' && letter(s.peekAt(1)):
		s.keep()
		s.run(inWord)
		if s.peek() != '.' {
			return s.unexpected(s.pos())
		}
		s.keep()
	case numberPart(c):
		s.run(inNumber)
		if !isNumber(s.buf[from:]) {
			return s.unexpected(at)
		}
	default:
		return s.unexpected(at)
	}
	return nil
}

// isNumber checks sign, digits with at most one point, and an exponent.
func isNumber(b []byte) bool {
	i, digits, points := 0, 0, 0
	if b[0] == '+' || b[0] == '-' {
		i++
	}
	for ; i < len(b) && (digit(b[i]) || b[i] == '.'); i++ {
		if b[i] == '.' {
			points++
		} else {
			digits++
		}
	}
	if digits == 0 || points > 1 {
		return false
	}
	if i == len(b) {
		return true
	}
	if b[i] != 'E' && b[i] != 'e' {
		return false
	}
	if i++; i < len(b) && (b[i] == '+' || b[i] == '-') {
		i++
	}
	for digits = 0; i < len(b) && digit(b[i]); i++ {
		digits++
	}
	return i == len(b) && digits > 0 && digits < 4
}

// quoted stores a string. A line break inside is no part of it.
func (s *scanner) quoted(at diag.Pos, quote byte) error {
	s.keep()
	for {
		s.run(plainText)
		c, ok := s.next()
		switch {
		case !ok || len(s.buf) > maxRecord:
			s.fault(at, "", "the string that starts here does not end")
			return errSyntax
		case c == '\n' || c == '\r':
		case c == quote && s.peek() == quote:
			s.next()
			s.buf = append(s.buf, c, c)
		case c == quote:
			s.buf = append(s.buf, c)
			return nil
		default:
			s.buf = append(s.buf, c)
		}
	}
}

// keep stores the next byte.
func (s *scanner) keep() {
	if c, ok := s.next(); ok {
		s.buf = append(s.buf, c)
	}
}

// run stores the bytes of a class up to the next that is none; no class has a line end.
func (s *scanner) run(in class) {
	for !s.ended() && len(s.buf) <= maxRecord {
		rest := s.window[s.i:]
		n := 0
		for n < len(rest) && classes[rest[n]]&in != 0 {
			n++
		}
		s.buf = append(s.buf, rest[:n]...)
		s.pass(n)
		if n < len(rest) {
			return
		}
	}
}

// pass goes on behind n bytes of the window among which is no line end.
func (s *scanner) pass(n int) {
	s.i, s.col = s.i+n, s.col+n
	s.cr = s.cr && n == 0
}

func (s *scanner) unexpected(at diag.Pos) error {
	var text []byte
	for n := 0; n < 20; n++ {
		c := s.peekAt(n)
		if c == 0 || c == '\n' || c == '\r' {
			break
		}
		text = append(text, c)
	}
	s.fault(at, "the statement up to its semicolon was left out; write the file again", "%s does not fit here", excerpt(string(text)))
	return errSyntax
}
