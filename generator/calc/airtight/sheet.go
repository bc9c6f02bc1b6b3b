package airtight

import (
	"bytes"
	"slices"
	"strings"

	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

// ParseReadings reads the readings of a fan test from CSV text. Settings come first, a line each, then a table:
//
//	# remarks start with a hash
//	volume, 412, m3
//	inside temperature, 21, C
//	outside temperature, 5, C, under        (a fourth cell: for one direction only)
//	date, 2026-04-20 09:30
//	tester, name
//	issued by, name, by what right
//	preparation, 2                          (method 1, 2 or 3; with 3 the document that names it)
//	opening, B2-O1, closed, photo           (open, closed or sealed; a line each)
//	instrument, fan 2, 2025-11-04, 2026-11-04 (calibrated, next due)
//	direction, phase, pressure [Pa], flow [L/s], weight
//	under, before, -1.4
//	under, step, -13.0, 72.7
//	under, after, -0.6
//
// Directions are under and over (or depressurise and pressurise); pressures are inside less outside, as measured. The
// phases before and after are zero-flow pressures with the fan sealed; their averages can be given as settings instead.
// Semicolons may part the cells, then decimals may have a comma. All findings come with line and column; the input is
// complete only if there is no fault among them.
func ParseReadings(file string, text []byte, found *diag.List) Input {
	s := sheet{found: found, start: diag.Pos{File: file}, comma: comma(text), given: map[given]entry{}, samples: map[given][]q.Pressure{}}
	for _, row := range readRows(file, text, s.comma, found) {
		switch {
		case len(row) == 0 || len(row) == 1 && row[0].text == "" || blank(row):
		case s.columns != nil:
			s.reading(row)
		case strings.EqualFold(row[0].text, "direction"):
			s.header(row)
		case s.describe(row):
		default:
			s.setting(row)
		}
	}
	return s.input()
}

func blank(row []cell) bool {
	return !slices.ContainsFunc(row, func(c cell) bool { return c.text != "" })
}

// comma finds what parts the cells: semicolons if the first line that is no remark has one.
func comma(text []byte) rune {
	for line := range bytes.Lines(text) {
		line = bytes.TrimSpace(bytes.TrimPrefix(line, []byte("\ufeff")))
		if len(line) == 0 || line[0] == '#' {
			continue
		}
		if bytes.ContainsRune(line, ';') {
			return ';'
		}
		return ','
	}
	return ','
}

// given is a setting, or a phase, of one direction; both = true is for both.
type given struct {
	name string
	dir  Direction
	both bool
}

type entry struct {
	value float64
	pos   diag.Pos
}

type column struct {
	name string
	unit unit
}

type sheet struct {
	found    *diag.List
	start    diag.Pos
	comma    rune
	given    map[given]entry
	columns  []column
	samples  map[given][]q.Pressure
	readings [2][]Reading
	setup    Setup
	steps    int // rows that mean to be steps, also the faulty ones
}

// setting is a line before the table: name, value, unit, direction.
type setting struct {
	name      string
	dim       dimension
	low, high float64
	dir       bool // may be given for one direction
}

func settings() []setting {
	zero := func(name string, low, high float64) setting { return setting{name, pressure, low, high, true} }
	return []setting{
		{"volume", volume, 1, 1e8, false}, {"envelope area", area, 1, 1e8, false}, {"floor area", area, 1, 1e8, false},
		{"loss area", area, 1, 1e8, false}, {"height", length, 0, 1000, false},
		{"wind", speed, 0, 100, false}, {"ground wind", speed, 0, 100, false}, {"beaufort", plain, 0, 12, false},
		{"device uncertainty", share, 0, 1, false}, {"gauge uncertainty", pressure, 0, 100, false}, {"size uncertainty", share, 0, 1, false},
		{"inside temperature", temperature, -60, 80, true}, {"outside temperature", temperature, -60, 80, true},
		{"inside humidity", share, 0, 1, true}, {"outside humidity", share, 0, 1, true}, {"air pressure", pressure, 50_000, 120_000, true},
		zero("zero before", -1000, 1000), zero("zero before positive", 0, 1000), zero("zero before negative", -1000, 0),
		zero("zero after", -1000, 1000), zero("zero after positive", 0, 1000), zero("zero after negative", -1000, 0),
	}
}

func (s *sheet) setting(row []cell) {
	name := strings.ToLower(row[0].text)
	all := settings()
	i := slices.IndexFunc(all, func(x setting) bool { return x.name == name })
	if i < 0 {
		s.found.Faultf(row[0].pos, "known settings: "+names(all)+", "+strings.Join(setupNames, ", ")+"; the table starts with the column direction", "unknown setting %q", row[0].text)
		return
	}
	what := all[i]
	if len(row) < 2 {
		s.found.Faultf(row[0].pos, "write: "+what.name+", value, unit", "the setting %q has no value", what.name)
		return
	}
	x, ok := row[1].number(s.comma != ',', s.found)
	u := cell{pos: row[0].pos}
	if len(row) > 2 {
		u = row[2]
	}
	scale, known := unitOf(what.dim, u.text)
	if !known {
		s.found.Faultf(u.pos, "write "+what.dim.known(), "%q is no unit of %s", u.text, what.name)
	}
	key, placed := s.direction(what, row)
	if !ok || !known || !placed {
		return
	}
	value := scale.apply(x)
	if !within(value, what.low, what.high) {
		s.found.Faultf(row[1].pos, "check the figure and its unit", "%s of %s %s cannot be", what.name, row[1].text, u.text)
		return
	}
	if first, twice := s.given[key]; twice {
		s.found.Add(diag.Finding{Pos: row[0].pos, Msg: what.name + " stands twice", Hint: "remove one of the lines", See: []diag.Pos{first.pos}})
		return
	}
	s.given[key] = entry{value, row[0].pos}
}

func names(all []setting) string {
	list := make([]string, len(all))
	for i, x := range all {
		list[i] = x.name
	}
	return strings.Join(list, ", ")
}

// direction reads the fourth cell of a setting.
func (s *sheet) direction(what setting, row []cell) (given, bool) {
	if len(row) < 4 || row[3].text == "" {
		return given{name: what.name, both: true}, true
	}
	d, ok := parseDirection(row[3].text)
	if !ok || !what.dir {
		s.found.Faultf(row[3].pos, "leave the fourth cell empty, or write under or over for what differs between the directions", "%q is no direction of %s", row[3].text, what.name)
		return given{}, false
	}
	return given{name: what.name, dir: d}, true
}

func parseDirection(word string) (Direction, bool) {
	switch strings.ToLower(word) {
	case "under", "depressurise", "depressurize", "depressurisation", "depressurization":
		return Depressurise, true
	case "over", "pressurise", "pressurize", "pressurisation", "pressurization":
		return Pressurise, true
	}
	return 0, false
}
