package assess

import "fmt"

// Date is a day of the Gregorian calendar, counted in days from 1970-01-01. It knows no clock and no time zone.
type Date int

// ParseDate reads a date as in ISO 8601: 2026-03-09. ok is false for anything else, 2026-02-30 included.
func ParseDate(text string) (d Date, ok bool) {
	if len(text) != 10 || text[4] != '-' || text[7] != '-' {
		return 0, false
	}
	year, month, day := digits(text[:4]), digits(text[5:7]), digits(text[8:])
	if year < 1 || month < 1 || month > 12 || day < 1 {
		return 0, false
	}
	d = civil(year, month, day)
	return d, d.String() == text
}

// digits reads a number of decimal digits only, else -1.
func digits(text string) int {
	n := 0
	for _, r := range []byte(text) {
		if r < '0' || r > '9' {
			return -1
		}
		n = 10*n + int(r-'0')
	}
	return n
}

// days of a cycle of 400 years, and from 0000-03-01 to 1970-01-01.
const (
	cycle = 146097
	epoch = 719468
)

// civil counts the days to a date. A year is taken to begin in March, so that the leap day is its last: the months then
// have 153 days in every five, and the leap rule of the Gregorian calendar repeats after 400 years.
func civil(year, month, day int) Date {
	if month < 3 {
		year, month = year-1, month+12
	}
	ofYear := (153*(month-3)+2)/5 + day - 1
	return Date(365*year + year/4 - year/100 + year/400 + ofYear - epoch)
}

// Civil gives year, month and day of the month.
func (d Date) Civil() (year, month, day int) {
	n := int(d) + epoch
	cycles := n / cycle
	n %= cycle
	year = (n - n/1460 + n/36524 - n/(cycle-1)) / 365
	ofYear := n - (365*year + year/4 - year/100)
	year += 400 * cycles
	month = (5*ofYear + 2) / 153
	day = ofYear - (153*month+2)/5 + 1
	if month += 3; month > 12 {
		year, month = year+1, month-12
	}
	return year, month, day
}

// Weekday gives 0 for Monday to 6 for Sunday: the days of ISO 8601 less one.
func (d Date) Weekday() int { return ((int(d)+3)%7 + 7) % 7 }

// String writes the date as in ISO 8601.
func (d Date) String() string {
	year, month, day := d.Civil()
	return fmt.Sprintf("%04d-%02d-%02d", year, month, day)
}
