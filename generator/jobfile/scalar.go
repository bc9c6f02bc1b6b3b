package jobfile

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"
)

// scalar makes a value from a function that turns its text into a T, or says what is wrong with it.
//
//go:noinline
func scalar[T any](want string, s schema, parse func(r *reader, text string) (out T, wrong, hint string)) value[T] {
	return value[T]{
		read: func(r *reader, n *yaml.Node) (out T, ok bool) {
			if n.Kind != yaml.ScalarNode || n.Tag == "!!null" {
				r.wrongKind(n, want)
				return out, false
			}
			out, wrong, hint := parse(r, strings.TrimSpace(n.Value))
			if wrong != "" {
				r.fault(r.pos(n), hint, "%s", wrong)
			}
			return out, wrong == ""
		},
		schema: func(map[string]*schema) *schema {
			out := s
			return &out
		},
	}
}

// text is free text of at most so many characters.
//
//go:noinline
func text(most int) value[string] {
	return scalar("text", schema{Type: "string,number,boolean", MaxLength: most},
		func(_ *reader, text string) (string, string, string) {
			switch {
			case text == "":
				return "", "the text is empty", "fill it in, or delete the line"
			case utf8.RuneCountInString(text) > most:
				return "", "the text is longer than " + strconv.Itoa(most) + " characters", "say it shorter"
			}
			return text, "", ""
		})
}

// word is one of a few words.
//
//go:noinline
func word(words ...string) value[string] {
	return scalar("one of: "+strings.Join(words, ", "), schema{Enum: words},
		func(_ *reader, text string) (string, string, string) {
			if !slices.Contains(words, text) {
				return "", "\"" + clip(text) + "\" is not a word known here", didYouMean(text, words, "one of: ")
			}
			return text, "", ""
		})
}

// yesNo is yes or no.
var yesNo = scalar("yes or no", schema{AnyOf: []*schema{{Type: "boolean"}, {Enum: []string{"yes", "no"}}}},
	func(_ *reader, text string) (bool, string, string) {
		switch strings.ToLower(text) {
		case "yes", "true":
			return true, "", ""
		case "no", "false":
			return false, "", ""
		}
		return false, "\"" + clip(text) + "\" is neither yes nor no", "write yes or no"
	})

// count is a whole number from low to high.
//
//go:noinline
func count(low, high int) value[int] {
	return scalar("a whole number", schema{Type: "integer", Minimum: bound(low), Maximum: bound(high)},
		func(_ *reader, text string) (int, string, string) {
			n, err := strconv.Atoi(text)
			if err != nil {
				return 0, "\"" + clip(text) + "\" is not a whole number", "write digits only"
			}
			if n < low || n > high {
				return 0, strconv.Itoa(n) + " is out of range", "from " + strconv.Itoa(low) + " to " + strconv.Itoa(high)
			}
			return n, "", ""
		})
}

func bound(n int) *float64 {
	f := float64(n)
	return &f
}

var plainNumber = regexp.MustCompile(`^[+-]?\d{1,9}(\.\d{1,9})?$`)

// number is a decimal number without a unit.
//
//go:noinline
func number(low, high float64) value[float64] {
	return scalar("a number", schema{Type: "number", Minimum: &low, Maximum: &high},
		func(_ *reader, text string) (float64, string, string) { return parseNumber(text, low, high) })
}

func parseNumber(text string, low, high float64) (float64, string, string) {
	if !plainNumber.MatchString(text) {
		return 0, "\"" + clip(text) + "\" is not a number", "write digits, with a point before decimals"
	}
	f, err := strconv.ParseFloat(text, 64)
	if err != nil || f < low || f > high {
		return 0, text + " is out of range", "from " + figure(low) + " to " + figure(high)
	}
	return f, "", ""
}

func figure(f float64) string { return strconv.FormatFloat(f, 'f', -1, 64) }

const datePattern = `^\d{4}-\d{2}-\d{2}$`

// date is a calendar day as in ISO 8601: 2026-03-09.
var date = scalar("a date as 2026-03-09", schema{Type: "string", Pattern: datePattern},
	func(_ *reader, text string) (string, string, string) {
		if _, err := time.Parse(time.DateOnly, text); err != nil {
			return "", "\"" + clip(text) + "\" is not a day of the calendar", "write year-month-day: 2026-03-09"
		}
		return text, "", ""
	})

// clock is a time of day, in minutes after midnight.
var clock = scalar("a time as \"07:30\"", schema{Type: "string", Pattern: `^\d{1,2}:\d{2}$`},
	func(_ *reader, text string) (int, string, string) {
		hours, minutes, ok := strings.Cut(text, ":")
		h, err1 := strconv.Atoi(hours)
		m, err2 := strconv.Atoi(minutes)
		if !ok || err1 != nil || err2 != nil || len(minutes) != 2 || h < 0 || h > 23 || m < 0 || m > 59 {
			return 0, "\"" + clip(text) + "\" is not a time of day", "write hours and minutes: \"07:30\""
		}
		return h*60 + m, "", ""
	})

var duration = regexp.MustCompile(`^(\d{1,4})(?:\.(\d))?\s*(h|min)$`)

// minutes is a duration in hours or minutes.
var minutes = scalar("a duration as 8 h or 450 min", schema{Type: "string", Pattern: duration.String()},
	func(_ *reader, text string) (int, string, string) {
		m := duration.FindStringSubmatch(text)
		if m == nil {
			return 0, "\"" + clip(text) + "\" is not a duration", "write it with its unit: 8 h, 450 min"
		}
		whole, err := strconv.Atoi(m[1])
		tenths := 0
		if err == nil && m[2] != "" {
			tenths, err = strconv.Atoi(m[2])
		}
		total := whole
		if m[3] == "h" {
			total = whole*60 + tenths*6
		}
		if err != nil || total < 60 || total > 24*60 || m[3] == "min" && tenths > 0 {
			return 0, "\"" + clip(text) + "\" is no length of a working day", "from 1 h to 24 h"
		}
		return total, "", ""
	})

var percent = regexp.MustCompile(`^(\d{1,3}(?:\.\d{1,4})?)\s*%$`)

// share is a part of one: 15 % or 0.15.
var share = scalar("a share as 15 %", schema{AnyOf: []*schema{{Type: "number", Minimum: bound(0), Maximum: bound(1)}, {Type: "string", Pattern: percent.String()}}},
	func(_ *reader, text string) (float64, string, string) {
		if m := percent.FindStringSubmatch(text); m != nil {
			f, wrong, hint := parseNumber(m[1], 0, 100)
			return f / 100, wrong, hint
		}
		return parseNumber(text, 0, 1)
	})
