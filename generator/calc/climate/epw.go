package climate

import (
	"bytes"
	"strconv"
	"strings"
	"unicode/utf8"

	"lapwork/generator/calc/sun"
	"lapwork/generator/calc/table"
	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

// Hour is one row of a weather file. What the file marks as missing is absent, not a large number.
type Hour struct {
	Month, Day, Hour int // hour 1 is 00:01 to 01:00
	T                q.Temperature
	HasT             bool
	RH               q.Ratio // over liquid water; at most 1
	HasRH            bool
	Dew              q.Temperature // over liquid water
	HasDew           bool
	Pressure         q.Pressure // 0: missing
	Radiation        Radiation
	HasRadiation     bool // all four figures are there
}

// Weather is a weather file in the EPW form: what is needed of it here.
type Weather struct {
	City, Country string
	Origin        string   // the data source its header names
	Height        q.Length // above the sea; valid where HasHeight
	HasHeight     bool
	Site          sun.Site // valid where HasSite
	HasSite       bool
	LeapYear      bool // its header says that leap years are observed
	PerHour       int  // rows an hour
	Comments      []string
	Hours         []Hour
}

// headerLines are the lines before the data, in fixed order, by their first field.
var headerLines = []string{"LOCATION", "DESIGN CONDITIONS", "TYPICAL/EXTREME PERIODS", "GROUND TEMPERATURES", "HOLIDAYS/DAYLIGHT SAVING", "COMMENTS 1", "COMMENTS 2", "DATA PERIODS"}

// mostFaults bounds the findings of one weather file: a wrong kind of file would give one a line.
const mostFaults = 20

// ParseEPW reads a weather file. ok is false if it has faults. Columns and missing marks after the data dictionary of
// the EPW form (public documentation of the weather converter).
func ParseEPW(file string, text []byte, found *diag.List) (w Weather, ok bool) {
	faults := 0
	fault := func(line, col int, hint, format string, args ...any) {
		if faults++; faults <= mostFaults {
			found.Faultf(diag.Pos{File: file, Line: line, Col: col}, hint, format, args...)
		}
	}
	n := 0
	for raw := range bytes.Lines(bytes.TrimPrefix(text, []byte("\ufeff"))) {
		n++
		fields := strings.Split(strings.TrimRight(decode(raw), "\r\n"), ",")
		switch {
		case n <= len(headerLines):
			if !strings.HasPrefix(strings.ToUpper(strings.TrimSpace(fields[0])), headerLines[n-1]) {
				fault(n, 1, "an EPW file starts with eight header lines in fixed order", "line %d is not %q", n, headerLines[n-1])
				return w, false
			}
			w.header(n, fields)
		case len(fields) == 1 && strings.TrimSpace(fields[0]) == "":
		default:
			if h, column, why := readHour(fields); why != "" {
				fault(n, position(fields, column), "see the data dictionary of the EPW form", "%s", why)
			} else {
				w.Hours = append(w.Hours, h)
			}
		}
	}
	if n <= len(headerLines) || len(w.Hours) == 0 && faults == 0 {
		fault(n, 0, "eight header lines and a row an hour", "the weather file has no data")
	}
	return w, faults == 0
}

// decode reads a line as UTF-8, or as Latin-1 where it is not: headers in the wild carry either.
func decode(raw []byte) string {
	if utf8.Valid(raw) {
		return string(raw)
	}
	runes := make([]rune, len(raw))
	for i, b := range raw {
		runes[i] = rune(b)
	}
	return string(runes)
}

// position gives the byte column of a field, from 1.
func position(fields []string, i int) int {
	col := 1
	for _, f := range fields[:i] {
		col += len(f) + 1
	}
	return col
}

func (w *Weather) header(n int, fields []string) {
	field := func(i int) string {
		if i < len(fields) {
			return strings.TrimSpace(fields[i])
		}
		return ""
	}
	switch n {
	case 1:
		w.City, w.Country, w.Origin = field(1), field(3), field(4)
		if h, ok := table.Number(field(9), -500, 9000); ok {
			w.Height, w.HasHeight = q.Length(h), true
		}
		w.site(field)
	case 5:
		w.LeapYear = strings.EqualFold(field(1), "yes")
	case 6, 7:
		w.Comments = append(w.Comments, strings.Trim(strings.TrimSpace(strings.Join(fields[1:], ",")), `"`))
	case 8:
		w.PerHour = 1
		if per, ok := table.Number(field(2), 1, 60); ok {
			w.PerHour = int(per)
		}
	}
}

// site takes latitude, longitude and zone from the first line.
func (w *Weather) site(field func(int) string) {
	latitude, north := table.Number(field(6), -90, 90)
	longitude, east := table.Number(field(7), -180, 180)
	zone, clock := table.Number(field(8), -12, 14)
	w.Site, w.HasSite = sun.Site{Latitude: q.Degrees(latitude), Longitude: q.Degrees(longitude), Zone: zone}, north && east && clock
}

var longest = [13]int{0, 31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}

// readHour reads a data row; why says what is wrong in which field.
func readHour(fields []string) (h Hour, column int, why string) {
	if len(fields) < 10 {
		return h, 0, "a data row has at least ten fields, this one " + strconv.Itoa(len(fields))
	}
	whole := func(i, low, high int) int {
		x, err := strconv.Atoi(strings.TrimSpace(fields[i]))
		if (err != nil || x < low || x > high) && why == "" {
			column, why = i, "not a whole number from "+strconv.Itoa(low)+" to "+strconv.Itoa(high)+": "+strconv.Quote(fields[i])
			return low
		}
		return x
	}
	h.Month = whole(1, 1, 12)
	h.Day, h.Hour = whole(2, 1, longest[h.Month]), whole(3, 1, 24)
	// value reads a figure; missing is what lies at or above the mark, or an empty field.
	value := func(i int, low, high, mark float64) (float64, bool) {
		text := strings.TrimSpace(fields[i])
		x, err := strconv.ParseFloat(text, 64)
		if text == "" || err == nil && x >= mark {
			return 0, false
		}
		if (err != nil || !(x >= low && x <= high)) && why == "" {
			column, why = i, "not a figure of this column: "+strconv.Quote(fields[i])
			return 0, false
		}
		return x, true
	}
	t, hasT := value(6, -90, 70, 99.9)
	dew, hasDew := value(7, -90, 60, 99.9)
	rh, hasRH := value(8, 0, 110, 999)
	p, _ := value(9, 30000, 120000, 999999)
	h.T, h.HasT, h.Dew, h.HasDew = q.Temperature(t), hasT, q.Temperature(dew), hasDew
	h.RH, h.HasRH, h.Pressure = q.Ratio(min(rh/100, 1)), hasRH, q.Pressure(p)
	if len(fields) > lastRadiation {
		h.Radiation, h.HasRadiation = readRadiation(value)
	}
	return h, column, why
}

// The columns of radiation, Wh/m² over the hour: of the sky's heat on a level face, of the sun on a level face, at right angles
// to its rays, and of the sky on a level face.
const (
	skyColumn = 12 + iota
	globalColumn
	directColumn
	lastRadiation
)

// leastSky is the least heat radiation that any sky sends, W/m²: a column of zeros is one that nobody filled.
const leastSky = 50

func readRadiation(value func(i int, low, high, mark float64) (float64, bool)) (r Radiation, ok bool) {
	heat, sky := value(skyColumn, 0, 800, 9999)
	global, all := value(globalColumn, 0, 2000, 9999)
	direct, beam := value(directColumn, 0, 2000, 9999)
	diffuse, scattered := value(lastRadiation, 0, 2000, 9999)
	r.Sky, r.Global, r.Direct, r.Diffuse = q.Irradiance(heat), q.Irradiance(global), q.Irradiance(direct), q.Irradiance(diffuse)
	return r, sky && all && beam && scattered && heat >= leastSky
}
