package assess

import (
	"testing"
	"time"
)

// The standard library's calendar is the reference: every day of 1896 to 2104, which holds a century year without a leap
// day on each side of 2000, and every 97th day of years 1 to 9999.
func TestDatesAgainstTheStandardLibrary(t *testing.T) {
	check := func(at time.Time) {
		text := at.Format("2006-01-02")
		d, ok := ParseDate(text)
		if !ok || d.String() != text || int64(d)*86400 != at.Unix() || d.Weekday() != (int(at.Weekday())+6)%7 {
			t.Fatalf("%s is read as %v %s, day %d, weekday %d", text, ok, d, int(d), d.Weekday())
		}
	}
	for at := time.Date(1896, 1, 1, 0, 0, 0, 0, time.UTC); at.Year() < 2105; at = at.AddDate(0, 0, 1) {
		check(at)
	}
	for at := time.Date(1, 1, 1, 0, 0, 0, 0, time.UTC); at.Year() < 10000; at = at.AddDate(0, 0, 97) {
		check(at)
	}
}

func TestNoDates(t *testing.T) {
	for _, text := range []string{"", "2026-02-29", "2026-13-01", "2026-00-10", "2026-1-01", "26-01-01", "2026-01-32", "2026/01/01",
		"+026-01-01", "2026-01-0x", "0000-01-01", "2026-01-01T00:00"} {
		if d, ok := ParseDate(text); ok {
			t.Errorf("%q is read as %s", text, d)
		}
	}
}
