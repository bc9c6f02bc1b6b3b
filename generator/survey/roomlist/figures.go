package roomlist

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// scales are units in metres, by power; feet and inches are exact by definition (1959).
var scales = map[string]struct {
	factor float64
	power  int
}{
	"mm": {0.001, 1}, "cm": {0.01, 1}, "m": {1, 1}, "ft": {0.3048, 1}, "feet": {0.3048, 1}, "'": {0.3048, 1}, "in": {0.0254, 1}, "inch": {0.0254, 1}, "inches": {0.0254, 1}, `"`: {0.0254, 1},
	"meters": {1, 1}, "metres": {1, 1}, "meter": {1, 1}, "millimeters": {0.001, 1}, "millimetres": {0.001, 1},
	"m2": {1, 2}, "m²": {1, 2}, "sqm": {1, 2}, "qm": {1, 2}, "sq m": {1, 2}, "ft2": {0.09290304, 2}, "ft²": {0.09290304, 2}, "sqft": {0.09290304, 2}, "sq ft": {0.09290304, 2}, "sf": {0.09290304, 2},
	"m3": {1, 3}, "m³": {1, 3}, "cbm": {1, 3}, "ft3": {0.028316846592, 3}, "ft³": {0.028316846592, 3}, "cu ft": {0.028316846592, 3}, "cf": {0.028316846592, 3},
	"°": {1, 9}, "deg": {1, 9}, "degrees": {1, 9}, "grad": {1, 9},
}

// unitScale is the factor of a unit of the given power; 0 where it is none. Power 0 takes any unit.
func unitScale(unit string, power int) float64 {
	s, ok := scales[strings.TrimSuffix(strings.TrimSpace(strings.ToLower(unit)), ".")]
	if !ok || power != 0 && s.power != power {
		return 0
	}
	return s.factor
}

// blank are cells that state nothing.
func blank(cell string) bool {
	switch strings.ToLower(strings.TrimSpace(cell)) {
	case "", "-", "–", "—", "n/a", "na", "n.a.", "k.a.", "k. a.", "nd", "n.d.", "?", "tbd", "null", "none":
		return true
	}
	return false
}

var figure = regexp.MustCompile(`^([+-]?[\d.,'\x{00a0}\x{202f} ]*\d)\s*([^\d\s].*)?$`)

// feetInches is a length as a tape of feet shows it: 12'-6", 12' 6 1/2", 8'6, 4 1/2". No more than two digits stand behind
// feet: 1'250 is a thousand.
var feetInches = regexp.MustCompile(`^(?:(\d+) *(?:'|ft\.?|feet) *-? *)?(?:(\d{1,2}(?:\.\d+)?)(?:[ -]+(\d+)/(\d+))?|(\d+)/(\d+)) *(''|"|in\.?|inch|inches)?$`)

// typed are marks as spreadsheets write them, and fractions of one character.
var typed = strings.NewReplacer("′", "'", "’", "'", "″", `"`, "”", `"`, "“", `"`, "½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8")

// feet reads feet, inches and fractions of an inch.
func feet(cell string) (value float64, ok bool) {
	m := feetInches.FindStringSubmatch(strings.TrimSpace(typed.Replace(cell)))
	if m == nil {
		return 0, false
	}
	part := func(text string) float64 {
		x, err := strconv.ParseFloat("0"+text, 64)
		ok = ok && err == nil
		return x
	}
	ok = m[1] != "" || m[7] != ""
	inches := part(m[2])
	if top, bottom := part(m[3]+m[5]), part(m[4]+m[6]); m[3]+m[5] != "" {
		ok = ok && top < bottom
		inches += top / max(bottom, 1)
	}
	ok = ok && (m[1] == "" || inches < 12)
	return part(m[1]) + inches/12, ok
}

// parse reads a figure with the unit that may stand behind it. The unit is empty where none stands there.
func parse(cell string, commaDecimal bool) (value float64, unit string, ok bool) {
	if x, ok := feet(cell); ok {
		return x, "ft", true
	}
	cell = strings.TrimSpace(typed.Replace(cell))
	if x, err := strconv.ParseFloat(cell, 64); err == nil && !commaDecimal { // also 1e-05, as workbooks store
		return x, "", !math.IsNaN(x) && !math.IsInf(x, 0)
	}
	m := figure.FindStringSubmatch(cell)
	if m == nil {
		return 0, "", false
	}
	x, err := strconv.ParseFloat(plainNumber(m[1], commaDecimal), 64)
	unit = strings.ToLower(strings.TrimSpace(m[2]))
	if err != nil || unit != "" && unitScale(unit, 0) == 0 {
		return 0, "", false
	}
	return x, unit, true
}

// plainNumber turns grouped digits and a decimal comma into a number as Go reads it.
func plainNumber(s string, commaDecimal bool) string {
	s = strings.NewReplacer("'", "", " ", "", "\u00a0", "", "\u202f", "").Replace(s)
	comma, point := strings.LastIndexByte(s, ','), strings.LastIndexByte(s, '.')
	switch {
	case comma >= 0 && point >= 0 && comma > point: // 1.234,5
		return strings.Replace(strings.ReplaceAll(s, ".", ""), ",", ".", 1)
	case comma >= 0 && point >= 0: // 1,234.5
		return strings.ReplaceAll(s, ",", "")
	case comma >= 0 && (commaDecimal || len(s)-comma-1 != 3 || strings.Count(s, ",") == 1 && comma > 3):
		return strings.Replace(s, ",", ".", 1)
	case comma >= 0: // 1,234
		return strings.ReplaceAll(s, ",", "")
	case commaDecimal && strings.Count(s, ".") == 1 && len(s)-point-1 == 3 && point <= 3 && s[0] != '0': // 1.234
		return strings.ReplaceAll(s, ".", "")
	}
	return s
}

// guess is the unit of lengths that carry none, by their middle value. Rooms are 2 to 6 m high and a few metres wide;
// sure is false where another unit is as likely.
func guess(values []float64) (unit string, sure bool) {
	values = slices.DeleteFunc(slices.Clone(values), func(x float64) bool { return x <= 0 })
	if len(values) == 0 {
		return "m", true
	}
	slices.Sort(values)
	switch mid := values[len(values)/2]; {
	case mid >= 1000:
		return "mm", true
	case mid >= 150:
		return "cm", true
	case mid <= 6.5:
		return "m", true
	case mid <= 30:
		return "m", false // 8 may be feet
	}
	return "cm", false
}
