package record

import (
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
	return strings.Join(strings.FieldsFunc(text, func(r rune) bool {
		return r == ' ' || r == '\t' || r == '\n' || r == '\r' || r == '\f'
	}), " ")
}

// Seal is the SHA-256, in hex, of a statement's canonical text: an array of {key, text, unit}. Markup, theme and Go names do
// not enter; the order of the lines does.
func Seal(statement []Line) string {
	if statement == nil {
		statement = []Line{}
	}
	text, err := Canonical(statement)
	if err != nil {
		panic("record: a statement of strings has no canonical text: " + err.Error())
	}
	return digest(text)
}
