package survey

import (
	"fmt"
	"strings"
)

// Said is a sentence with its values apart, so that it can be said in another language. Its text is English.
type Said struct {
	Pattern string
	Values  []any
}

// Say makes a sentence. The pattern is a literal, so that a test can list what there is to translate.
func Say(pattern string, values ...any) Said { return Said{pattern, values} }

// String is the sentence in English.
func (s Said) String() string {
	if s.Pattern == "" {
		return ""
	}
	return fmt.Sprintf(s.Pattern, s.Values...)
}

// Counted is a number of things: "1 room" or "2 rooms".
type Counted struct {
	N         int
	One, Many string
}

// Things makes a number of things; the words are literals too.
func Things(n int, one, many string) Counted { return Counted{n, one, many} }

// String is the number with its word in English.
func (c Counted) String() string {
	if c.N == 1 {
		return "1 " + c.One
	}
	return fmt.Sprintf(c.Pattern(), c.N)
}

// Pattern is what languages translate, with a form for one.
func (c Counted) Pattern() string { return "%d " + c.Many }

// List are sentences in a row, with commas between.
type List []Said

// String is the list in English.
func (l List) String() string { return strings.Join(InEnglish(l), ", ") }

// Is reports whether there is a sentence at all.
func (s Said) Is() bool { return s.Pattern != "" }

// InEnglish are sentences as English texts.
func InEnglish(list []Said) []string {
	out := make([]string, 0, len(list))
	for _, s := range list {
		out = append(out, s.String())
	}
	return out
}

// plural is a number of things as an English text.
func plural(n int, one, many string) string { return Things(n, one, many).String() }

// join lists words: "a, b and c".
func join(words []string) string {
	switch n := len(words); n {
	case 0:
		return ""
	case 1:
		return words[0]
	default:
		out := words[0]
		for _, w := range words[1 : n-1] {
			out += ", " + w
		}
		return out + " and " + words[n-1]
	}
}
