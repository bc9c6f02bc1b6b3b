package jobfile

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"

	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

// unit is a unit of length in micrometres; the international foot and inch (1959) are exact in it.
type unit int64

var units = map[string]unit{"mm": 1_000, "cm": 10_000, "m": 1_000_000, "in": 25_400, "ft": 304_800}

var (
	oneLength  = regexp.MustCompile(`^([+-]?)(\d{1,9})(?:\.(\d{1,6}))?\s*(mm|cm|m|in|ft)?$`)
	feetInches = regexp.MustCompile(`^([+-]?)(\d{1,6})\s*ft\s+(?:(\d{1,2})\s+)?(?:(\d{1,2})/(\d{1,2})\s*in|(\d{1,2})(?:\.(\d{1,6}))?\s*in)$`)
)

const lengthPattern = `^[+-]?\d{1,9}(\.\d{1,6})?\s*(mm|cm|m|in|ft)?$|^[+-]?\d{1,6}\s*ft\s+[\d ./]+\s*in$`

// length is a length from low to high, with its unit as text or in the unit of the job's header.
//
//go:noinline
func length(low, high q.MM) value[q.MM] {
	s := schema{AnyOf: []*schema{{Type: "number"}, {Type: "string", Pattern: lengthPattern}}}
	v := scalar("a length as 2.4 m or 60 mm", s, func(r *reader, text string) (q.MM, string, string) {
		mm, wrong, hint := parseLength(text, r.unit)
		if wrong == "" && (mm < low || mm > high) {
			return 0, mmText(mm) + " is out of range here", "from " + mmText(low) + " to " + mmText(high)
		}
		return mm, wrong, hint
	})
	read := v.read
	v.read = func(r *reader, n *yaml.Node) (q.MM, bool) {
		if r.unit == 0 && n.Kind == yaml.ScalarNode && bareNumber.MatchString(n.Value) {
			if _, wrong, _ := parseLength(strings.TrimSpace(n.Value), 0); wrong != "" {
				r.bare = append(r.bare, bare{strings.TrimSpace(n.Value), r.pos(n)})
				return 0, false
			}
		}
		return read(r, n)
	}
	return v
}

// bare is a length without a unit in a job that states none for all.
type bare struct {
	text string
	pos  diag.Pos
}

var bareNumber = regexp.MustCompile(`^\s*[+-]?\d{1,9}(\.\d{1,6})?\s*$`)

// tellBare reports the lengths without a unit at once: who leaves out the unit of one leaves it out of all.
func (r *reader) tellBare() {
	if len(r.bare) == 0 {
		return
	}
	first := r.bare[0]
	var see []diag.Pos
	for _, b := range r.bare[1:min(len(r.bare), 4)] {
		see = append(see, b.pos)
	}
	more := ""
	switch n := len(r.bare) - 1; {
	case n == 1:
		more = "; one more length has none"
	case n > 1:
		more = "; " + strconv.Itoa(n) + " more lengths have none"
	}
	r.faultSee(first.pos, see, "put \"lengths: mm\" at the top of job.yaml, or write each with its unit: "+first.text+" mm or "+first.text+" m", "\"%s\" has no unit%s", clip(first.text), more)
}

// parseLength reads a length to the nearest whole millimetre. The usual unit serves for bare numbers; 0 means none.
func parseLength(text string, usual unit) (mm q.MM, wrong, hint string) {
	const how = "write a number and its unit: 2.4 m, 60 mm, 8 ft 2 in"
	if m := feetInches.FindStringSubmatch(text); m != nil {
		return feetAndInches(m, text, how)
	}
	m := oneLength.FindStringSubmatch(text)
	if m == nil {
		return 0, "\"" + clip(text) + "\" is not a length", how
	}
	u := usual
	if m[4] != "" {
		u = units[m[4]]
	}
	micro, ok := scaled(m[2], m[3], u)
	switch {
	case u == 0 && micro == 0 && isZero(m[2], m[3]):
		return 0, "", ""
	case u == 0:
		return 0, "\"" + clip(text) + "\" has no unit", "write " + text + " mm or " + text + " m, or put \"lengths: mm\" at the top of job.yaml"
	case !ok:
		return 0, "\"" + clip(text) + "\" is too long", how
	}
	return signed(m[1], micro), "", ""
}

// feetAndInches reads 8 ft 2 in, 8 ft 2.5 in and 8 ft 2 1/2 in.
func feetAndInches(m []string, text, how string) (q.MM, string, string) {
	feet, ok := scaled(m[2], "", units["ft"])
	var inches int64
	ok2 := true
	if m[6] != "" && m[3] == "" {
		inches, ok2 = scaled(m[6], m[7], units["in"])
	} else if m[5] != "" {
		inches, ok2 = fraction(m[3], m[4], m[5])
	} else {
		ok2 = false
	}
	if !ok || !ok2 || inches >= int64(units["ft"]) {
		return 0, "\"" + clip(text) + "\" is not a length", how
	}
	return signed(m[1], feet+inches), "", ""
}

// fraction gives the micrometres of whole and top/bottom inches.
func fraction(whole, top, bottom string) (int64, bool) {
	w, ok := scaled(whole, "", units["in"])
	t, err1 := strconv.ParseInt(top, 10, 64)
	b, err2 := strconv.ParseInt(bottom, 10, 64)
	if !ok || err1 != nil || err2 != nil || b == 0 || t >= b {
		return 0, false
	}
	return w + (t*int64(units["in"])+b/2)/b, true
}

// scaled gives whole.decimals times a unit in micrometres, rounded; false if it does not fit.
func scaled(whole, decimals string, u unit) (int64, bool) {
	if whole+decimals == "" {
		return 0, true
	}
	n, err := strconv.ParseInt(whole+decimals, 10, 64)
	ten := int64(1)
	for range decimals {
		ten *= 10
	}
	if err != nil || n > 1<<62/304_800 {
		return 0, false
	}
	return (n*int64(u) + ten/2) / ten, true
}

func isZero(whole, decimals string) bool {
	n, err := strconv.ParseInt(whole+decimals, 10, 64)
	return err == nil && n == 0
}

// signed rounds micrometres to millimetres, halves away from zero.
func signed(sign string, micro int64) q.MM {
	mm := q.MM((micro + 500) / 1000)
	if sign == "-" {
		return -mm
	}
	return mm
}

// mmText writes a length the shortest way that reads back the same.
func mmText(mm q.MM) string {
	if mm%1000 == 0 && mm != 0 {
		return strconv.Itoa(int(mm/1000)) + " m"
	}
	return strconv.Itoa(int(mm)) + " mm"
}

var degrees = regexp.MustCompile(`^(\d{1,2}(?:\.\d{1,3})?)\s*(?:°|deg)?$`)

// angle is an angle in degrees from the level.
//
//go:noinline
func angle(low, high float64) value[q.Degrees] {
	s := schema{AnyOf: []*schema{{Type: "number", Minimum: &low, Maximum: &high}, {Type: "string", Pattern: degrees.String()}}}
	return scalar("an angle in degrees", s, func(_ *reader, text string) (q.Degrees, string, string) {
		m := degrees.FindStringSubmatch(text)
		if m == nil {
			return 0, "\"" + clip(text) + "\" is not an angle", fmt.Sprintf("write degrees from %g to %g: 42 or 42.5 deg", low, high)
		}
		f, wrong, hint := parseNumber(m[1], low, high)
		return q.Degrees(f), wrong, hint
	})
}
