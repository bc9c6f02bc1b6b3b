package lang

import "strings"

// Begin and End stand round a text that has no translation, up to the page: it shows them as a mark and a language
// attribute and counts them. They are characters of private use, which no font draws and no job file may hold.
const (
	Begin = '\uE0F0'
	End   = '\uE0F1'
)

const both = string(Begin) + string(End)

// Mark puts the marks of a missing translation round a text. Marks inside are dropped: the whole is missing.
func Mark(text string) string {
	if text == "" {
		return ""
	}
	return string(Begin) + Plain(text) + string(End)
}

// Marked reports whether a text holds a mark.
func Marked(text string) bool {
	return strings.IndexByte(text, both[0]) >= 0 && strings.ContainsAny(text, both) // most text has none: ask the fast way first
}

// Plain gives a text without marks.
func Plain(text string) string {
	if !Marked(text) {
		return text
	}
	return strings.ReplaceAll(strings.ReplaceAll(text, string(Begin), ""), string(End), "")
}
