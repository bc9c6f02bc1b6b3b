package library

import (
	"regexp"
	"strconv"
)

// Range is what a check's number may be. Low and High are decimal text; empty: no bound on that side. Without a unit nothing
// is measured, or what is measured has no one number to accept.
type Range struct{ Unit, Low, High string }

// writtenRange has the three ways to write a range: 5 to 30 °C, 4 mm or more, 20 % or less.
var writtenRange = regexp.MustCompile(`^(-?[0-9]+(?:\.[0-9]+)?)(?: to (-?[0-9]+(?:\.[0-9]+)?))? (.+?)(?: or (more|less))?$`)

// parseRange reads a range as a person writes it; ok is false where it is none.
func parseRange(text string) (r Range, ok bool) {
	m := writtenRange.FindStringSubmatch(text)
	switch {
	case m == nil || len(m[3]) > 12:
		return r, false
	case m[2] != "" && m[4] == "":
		r = Range{m[3], m[1], m[2]}
	case m[2] == "" && m[4] == "more":
		r = Range{Unit: m[3], Low: m[1]}
	case m[2] == "" && m[4] == "less":
		r = Range{Unit: m[3], High: m[1]}
	default:
		return r, false
	}
	return r, r.ordered()
}

// ordered says whether both ends are numbers, the low one first.
func (r Range) ordered() bool {
	low, errLow := strconv.ParseFloat(r.Low, 64)
	high, errHigh := strconv.ParseFloat(r.High, 64)
	return (r.Low == "" || errLow == nil) && (r.High == "" || errHigh == nil) && (r.Low == "" || r.High == "" || low <= high)
}
