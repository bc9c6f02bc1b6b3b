package theme

import (
	"strings"

	"lapwork/generator/diag"
)

// rule is one rule of a style sheet.
type rule struct {
	around   string // the conditions it stands in, joined: "@media print"
	selector string
	values   []value
	pos      diag.Pos
}

// value is one declaration.
type value struct {
	name, text string
	pos        diag.Pos
}

// sheet reads the rules of a style sheet: rules, and rules inside @media and @supports. What it cannot read is a fault at
// its place, since nothing could be said about its colours.
type sheet struct {
	file, text string // comments blanked, so that places stay
	at         int
	rules      []rule
	found      *diag.List
}

// readSheet gives the rules of a text in order.
func readSheet(file, text string, found *diag.List) []rule {
	s := &sheet{file: file, text: blanked(text), found: found}
	s.block("")
	return s.rules
}

// blanked puts blanks in the place of comments.
func blanked(text string) string {
	var b strings.Builder
	for {
		before, rest, ok := strings.Cut(text, "/*")
		b.WriteString(before)
		if !ok {
			return b.String()
		}
		inside, after, _ := strings.Cut(rest, "*/")
		b.WriteString("  " + strings.Map(func(c rune) rune {
			if c == '\n' {
				return c
			}
			return ' '
		}, string([]byte(inside))))
		if strings.HasSuffix(rest, after) && len(inside) < len(rest) {
			b.WriteString("  ")
		}
		text = after
	}
}

func (s *sheet) place(offset int) diag.Pos { return place(s.file, s.text, offset) }

// block reads rules up to the brace that ends them, or to the end.
func (s *sheet) block(around string) {
	for {
		from := s.skip()
		if s.at >= len(s.text) {
			return
		}
		if s.text[s.at] == '}' {
			s.at++
			if around == "" {
				s.found.Faultf(s.place(s.at-1), "delete it, or open it before", "a } closes nothing")
			} else {
				return
			}
			continue
		}
		end := s.find("{;")
		head := strings.TrimSpace(s.text[from:end])
		if end >= len(s.text) || s.text[end] == ';' {
			s.found.Faultf(s.place(from), "write the rules themselves here", "%.40q is no rule; a style sheet asks for no other", head)
			s.at = min(len(s.text), end+1)
			continue
		}
		s.at = end + 1
		s.inside(around, head, from)
	}
}

// inside reads what stands between a head's braces.
func (s *sheet) inside(around, head string, from int) {
	word, _, _ := strings.Cut(head, " ")
	switch {
	case word == "@media" || word == "@supports":
		s.block(strings.TrimSpace(around + " " + strings.Join(strings.Fields(head), " ")))
	case word == "@page":
		s.over()
	case strings.HasPrefix(head, "@"):
		s.found.Faultf(s.place(from), "@media, @supports and @page are read", "%s is refused: a pack loads no fonts and no further styles", word)
		s.over()
	default:
		r := rule{around: around, selector: strings.Join(strings.Fields(head), " "), pos: s.place(from)}
		s.values(&r)
		s.rules = append(s.rules, r)
	}
}

// values reads the declarations of a rule.
func (s *sheet) values(r *rule) {
	for {
		from := s.skip()
		end := s.find(";}{")
		if end < len(s.text) && s.text[end] == '{' {
			s.found.Faultf(s.place(from), "write it as a rule of its own", "a rule inside a rule is not read")
			s.at = end + 1
			s.over()
			continue
		}
		if name, text, ok := strings.Cut(s.text[from:end], ":"); ok {
			r.values = append(r.values, value{strings.ToLower(strings.TrimSpace(name)), strings.TrimSpace(text), s.place(from)})
		} else if strings.TrimSpace(s.text[from:end]) != "" {
			s.found.Faultf(s.place(from), "write name: value;", "%.40q is no declaration", strings.TrimSpace(s.text[from:end]))
		}
		s.at = min(len(s.text), end+1)
		if end >= len(s.text) {
			s.found.Faultf(r.pos, "close it with }", "the rule is not closed")
			return
		}
		if s.text[end] == '}' {
			return
		}
	}
}

// over skips a block with those inside it.
func (s *sheet) over() {
	for depth := 1; depth > 0; s.at++ {
		s.at = s.find("{}")
		if s.at >= len(s.text) {
			return
		}
		if s.text[s.at] == '{' {
			depth++
		} else {
			depth--
		}
	}
}

// skip goes past space and gives where it ends.
func (s *sheet) skip() int {
	for s.at < len(s.text) && strings.IndexByte(" \t\n\r\f;", s.text[s.at]) >= 0 {
		s.at++
	}
	return s.at
}

// find gives the place of the next of some bytes outside quotes and brackets, or the end.
func (s *sheet) find(any string) int {
	quote, depth := byte(0), 0
	for i := s.at; i < len(s.text); i++ {
		c := s.text[i]
		switch {
		case quote != 0:
			if c == '\\' {
				i++
			} else if c == quote || c == '\n' {
				quote = 0
			}
		case c == '"' || c == '\'':
			quote = c
		case c == '(' || c == '[':
			depth++
		case (c == ')' || c == ']') && depth > 0:
			depth--
		case (depth == 0 || c == '}') && strings.IndexByte(any, c) >= 0:
			return i
		}
	}
	return len(s.text)
}
