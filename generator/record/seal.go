package record

import (
	"bytes"
	"encoding/json"
	"strings"
)

// Line is one line of a statement: what a person reads before signing. Key names it in every language and build.
type Line struct{ Key, Text, Unit string }

// MarshalJSON writes a line under short names with its white space folded, as a browser shows it.
func (l Line) MarshalJSON() ([]byte, error) {
	return json.Marshal(map[string]string{"key": l.Key, "text": Folded(l.Text), "unit": l.Unit})
}

// Folded is text as a page shows it: runs of space, tab and line end are one space, none at either end. A no-break space
// stays as it is.
func Folded(text string) string {
	if isFolded(text) { // nearly every text is
		return text
	}
	return strings.Join(strings.FieldsFunc(text, func(r rune) bool {
		return r == ' ' || r == '\t' || r == '\n' || r == '\r' || r == '\f'
	}), " ")
}

func isFolded(text string) bool {
	blank := true // where a space may not stand: at the start and behind another
	for i := range len(text) {
		switch text[i] {
		case '\t', '\n', '\r', '\f':
			return false
		case ' ':
			if blank {
				return false
			}
			blank = true
		default:
			blank = false
		}
	}
	return !blank || text == ""
}

// Seal is the SHA-256, in hex, of a statement's canonical text: an array of {key, text, unit}. Markup, theme and Go names do
// not enter; the order of the lines does. A pack seals every check several times, so the text is written here as Canonical
// writes it, without a tree of values between.
func Seal(statement []Line) string {
	b := bytes.NewBuffer(make([]byte, 0, 2048)) // most statements fit: it does not grow
	b.WriteByte('[')
	for i, l := range statement {
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteString(`{"key":`)
		writeString(b, l.Key)
		b.WriteString(`,"text":`)
		writeString(b, Folded(l.Text))
		b.WriteString(`,"unit":`)
		writeString(b, l.Unit)
		b.WriteByte('}')
	}
	b.WriteByte(']')
	return digest(b.Bytes())
}
