package lang

import (
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"

	"lapwork/generator/diag"
	"lapwork/generator/sorting"
)

// Source is the language that everything is written in first.
const Source = "en"

// Names are the languages that come with the program, by tag, each in its own words.
var Names = map[string]string{"en": "English", "de": "Deutsch", "fr": "Français", "es": "Español", "pl": "Polski"}

// Name is a language's name in its own words, or its tag.
func Name(tag string) string {
	if name := Names[tag]; name != "" {
		return name
	}
	if name := Names[base(tag)]; name != "" {
		return name + " (" + tag + ")"
	}
	return tag
}

// Catalogue is one language. The nil catalogue is English: everything stands as it was written.
type Catalogue struct {
	tag      string
	language language.Tag
	texts    map[string]entry
	shipped  bool // there was a file of the built-in layer
	reviewed bool // every file says that it was read by a native speaker
	silent   bool // missing texts are not marked
}

// entry is what stands for one English text.
type entry struct {
	forms map[plural.Form]string
	pos   diag.Pos
}

// Tag is the language's tag: de, fr-CA.
func (c *Catalogue) Tag() string {
	if c == nil {
		return Source
	}
	return c.tag
}

// English reports whether texts stand as they were written.
func (c *Catalogue) English() bool { return c == nil || base(c.tag) == Source }

// Reviewed reports whether a native speaker has read the whole language.
func (c *Catalogue) Reviewed() bool { return c.English() || c.reviewed }

// Quiet gives the same language without marks round missing texts, for what is not a page: lists, calendars, exports.
func (c *Catalogue) Quiet() *Catalogue {
	if c == nil {
		return nil
	}
	q := *c
	q.silent = true
	return &q
}

// Len gives how many texts the language has.
func (c *Catalogue) Len() int {
	if c == nil {
		return 0
	}
	return len(c.texts)
}

// Has reports whether a text has a translation.
func (c *Catalogue) Has(english string) bool {
	if c == nil {
		return false
	}
	_, ok := c.texts[english]
	return ok
}

// Text gives what stands for a plain text. One without a translation stays English and is marked.
func (c *Catalogue) Text(english string) string {
	if english == "" || c == nil {
		return english
	}
	if e, ok := c.texts[english]; ok {
		return e.forms[plural.Other]
	}
	return c.missing(english)
}

// Say gives the text of a pattern with its values. One without a translation stays English and is marked.
func (c *Catalogue) Say(pattern string, values ...any) string {
	if pattern == "" {
		return ""
	}
	if c != nil {
		if e, ok := c.texts[pattern]; ok {
			pattern = e.form(c.language, values)
			return fmt.Sprintf(pattern, values...)
		}
	}
	if c.English() || Wordless(pattern) {
		return fmt.Sprintf(pattern, values...)
	}
	return c.missing(fmt.Sprintf(pattern, values...))
}

// Wordless reports whether a pattern has no words of its own, only values and signs: it is the same in every language.
func Wordless(pattern string) bool {
	rest := verb.ReplaceAllString(pattern, "")
	return !strings.ContainsFunc(rest, unicode.IsLetter)
}

// form chooses among the forms of an entry by the first whole number of the values.
func (e entry) form(tag language.Tag, values []any) string {
	if len(e.forms) > 1 {
		for _, v := range values {
			n, ok := whole(v)
			if !ok {
				continue
			}
			if text, ok := e.forms[plural.Cardinal.MatchPlural(tag, n, 0, 0, 0, 0)]; ok {
				return text
			}
			break
		}
	}
	return e.forms[plural.Other]
}

// whole gives the size of a whole number; the rules need no more than its last digits.
func whole(v any) (int, bool) {
	var n int64
	switch v := v.(type) {
	case int:
		n = int64(v)
	case int64:
		n = v
	case int32:
		n = int64(v)
	case interface{ Int() int }:
		n = int64(v.Int())
	default:
		return 0, false
	}
	if n < 0 {
		n = -n
	}
	if n > 1e9 {
		n = 1e9 + n%1e6
	}
	return int(n), true
}

// Forms gives the plural forms of a pattern's translation by their names; only "other" where it has one form, nil where it
// has no translation.
func (c *Catalogue) Forms(english string) map[string]string {
	if c == nil || !c.Has(english) {
		return nil
	}
	out := map[string]string{}
	for name, form := range formNames {
		if text, ok := c.texts[english].forms[form]; ok {
			out[name] = text
		}
	}
	return out
}

// Pattern gives a pattern itself, for who fills it in later; one without a translation stays English.
func (c *Catalogue) Pattern(english string) string {
	if c != nil {
		if e, ok := c.texts[english]; ok {
			return e.forms[plural.Other]
		}
	}
	return english
}

func (c *Catalogue) missing(text string) string {
	if c.English() || c.silent {
		return text
	}
	return Mark(text)
}

// Entry is one English text of a catalogue with the place of its translation.
type Entry struct {
	English string
	Pos     diag.Pos
}

// Entries lists what the catalogue translates, sorted by the English text.
func (c *Catalogue) Entries() []Entry {
	if c == nil {
		return nil
	}
	out := make([]Entry, 0, len(c.texts))
	for k, e := range c.texts {
		out = append(out, Entry{k, e.pos})
	}
	sorting.Func(out, func(a, b Entry) int {
		if a.English < b.English {
			return -1
		}
		return 1
	})
	return out
}

// DayStop is what stands after the number of a day in a date: German counts it as an ordinal.
func DayStop(tag string) string {
	if base(tag) == "de" {
		return "."
	}
	return ""
}
