package record

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"
)

// shape is what a kind of record holds beside what every record has.
type shape struct {
	since  int                 // version that it came with
	fields map[string]fieldFor // names in Fields
}

// fieldFor says why a text is none of its sort; empty: it is.
type fieldFor func(text string) string

func anyText(string) string { return "" }

func aNumber(text string) string {
	if !isDecimal(text) {
		return "is no decimal number"
	}
	return ""
}

func aCount(text string) string {
	if n, err := strconv.Atoi(text); err != nil || n < 1 || n > 9_999 || strconv.Itoa(n) != text {
		return "is no count"
	}
	return ""
}

func aDate(text string) string {
	if _, err := time.Parse(time.DateOnly, text); err != nil {
		return "is no date such as 2026-11-25"
	}
	return ""
}

// shapes are all kinds. Version 1 is what the first packs wrote; a kind or a field of version 2 stands only in a record
// that says so, so that an older program refuses it by its version and not by surprise.
var shapes = map[Kind]shape{
	Tick: {since: 1}, Reading: {since: 1}, Photo: {since: 1}, Note: {since: 1}, Defect: {since: 1}, Sign: {since: 1}, Void: {since: 1},
	Cut: {since: 2}, Stand: {since: 2}, Settle: {since: 2},
	Start: {2, map[string]fieldFor{"air": aNumber, "rh": aNumber, "surface": aNumber, "timber": aNumber, "answer": anyText}},
	Goods: {2, map[string]fieldFor{"useby": aDate, "amount": anyText}},
	Work:  {2, map[string]fieldFor{"kind": anyText, "places": aCount}},
	Day:   {2, map[string]fieldFor{"crew": anyText, "hours": aNumber, "climate": anyText, "done": anyText, "blocked": anyText, "minutes": aNumber}},
}

// malformed says what is wrong with the form of r; empty: nothing.
func (r Record) malformed() string {
	s, known := shapes[r.Kind]
	switch {
	case r.V != 1 && r.V != 2:
		return fmt.Sprintf("version %d is unknown", r.V)
	case !isHex(r.ID, 24) || !isHex(r.Dev, 24):
		return "its id or its tablet is not 24 hex digits"
	case r.Seq < 1 || r.Seq > 1<<40:
		return "its position in the chain is out of range"
	case !isHex(r.Hash, 64) || r.Prev != "" && !isHex(r.Prev, 64):
		return "its hash is not 64 hex digits"
	case !known:
		return fmt.Sprintf("kind %q is unknown", r.Kind)
	case r.V < s.since || r.V < 2 && (r.Tool != "" || len(r.Fields) > 0):
		return fmt.Sprintf("it holds what version %d does not know", r.V)
	case r.tooLong():
		return "a text in it is too long"
	}
	if _, err := time.Parse(time.RFC3339, r.At); err != nil {
		return "its time is not of the form 2026-11-25T05:00:47+01:00"
	}
	for _, name := range slices.Sorted(maps.Keys(r.Fields)) {
		check, ok := s.fields[name]
		if !ok {
			return fmt.Sprintf("a record of kind %s has no field %q", r.Kind, clip(name))
		}
		if why := check(r.Fields[name]); why != "" {
			return fmt.Sprintf("its field %s %s", name, why)
		}
	}
	return r.wrongValue()
}

func (r Record) wrongValue() string {
	switch r.Kind {
	case Tick:
		if r.Value != "yes" && r.Value != "no" && r.Value != "na" {
			return fmt.Sprintf("a tick is yes, no or na, not %q", r.Value)
		}
	case Reading:
		if !isDecimal(r.Value) {
			return fmt.Sprintf("the reading %q is not a decimal number", r.Value)
		}
	case Photo:
		if !isHex(r.Value, 64) {
			return "the photo's hash is not 64 hex digits"
		}
	case Void:
		if r.Of == "" {
			return "it voids nothing"
		}
	}
	return r.wrongLater()
}

// longestStrip is the longest clear length that a record may state, mm: longer than any roll. Own choice.
const longestStrip = 200_000

// wrongLater is wrongValue for the kinds of version 2.
func (r Record) wrongLater() string {
	switch r.Kind {
	case Cut:
		if mm, ok := r.ClearLength(); r.Place == "" || !ok || mm < 1 || mm > longestStrip {
			return fmt.Sprintf("%q is no length in whole millimetres of a named strip", clip(r.Value))
		}
	case Stand:
		if r.Check == "" || r.Seal == "" || r.Name == "" || r.Reason == "" || len(r.Covers) == 0 {
			return "to stand again it must name the check, its words now, who says so, why, and what stands"
		}
	case Settle:
		if r.Place == "" || r.Name == "" || r.Text == "" {
			return "to settle a spot it must name the spot, who decided and what is to be done"
		}
	case Goods:
		if r.Place == "" {
			return "it does not say which goods came"
		}
	case Work:
		if r.Place == "" || r.Fields["kind"] == "" || !isDecimal(r.Value) || strings.HasPrefix(r.Value, "-") {
			return "time taken needs its room, what was done there and minutes"
		}
	case Day:
		if why := aDate(r.Value); why != "" || r.Name == "" {
			return "a day's sheet needs its date and who signs it"
		}
	}
	return ""
}

// ClearLength is the length of a record of kind Cut in whole millimetres.
func (r Record) ClearLength() (mm int, ok bool) {
	if r.Kind != Cut || r.Value == "" || len(r.Value) > 6 || strings.Trim(r.Value, "0123456789") != "" {
		return 0, false
	}
	for _, d := range r.Value {
		mm = 10*mm + int(d-'0')
	}
	return mm, true
}

func clip(text string) string {
	if len(text) > 40 {
		text = text[:40]
	}
	return strings.ToValidUTF8(text, "")
}

func (r Record) tooLong() bool {
	texts := []string{r.Pack, r.Rev, r.Lang, r.At, r.Who, r.Job, r.Check, r.Seal, r.Value, r.Unit, r.Reason, r.Name, r.Role, r.Of, r.Place,
		r.Severity, r.Cause, r.Text, r.Tool}
	texts = slices.Concat(texts, r.But, r.Covers, slices.Collect(maps.Keys(r.Seals)), slices.Collect(maps.Values(r.Seals)),
		slices.Collect(maps.Keys(r.Fields)), slices.Collect(maps.Values(r.Fields)))
	points := 0
	for _, s := range r.Strokes {
		points += len(s)
	}
	return points > MaxPoints || slices.ContainsFunc(texts, func(s string) bool { return len(s) > MaxText })
}

func isHex(s string, n int) bool {
	return len(s) == n && strings.Trim(s, hexDigits) == ""
}

// isDecimal takes an optional minus, digits, and a point with digits; at most 16 characters.
func isDecimal(s string) bool {
	whole, part, point := strings.Cut(strings.TrimPrefix(s, "-"), ".")
	digits := func(t string) bool { return t != "" && strings.Trim(t, "0123456789") == "" }
	return len(s) <= 16 && digits(whole) && (!point || digits(part))
}
