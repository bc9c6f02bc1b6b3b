package roomlist

import (
	"slices"
	"strings"

	"lapwork/generator/survey"
)

// powers of the fields that are measured.
var powers = map[field]int{length: 1, width: 1, height: 1, knee: 1, elevation: 1, perimeter: 1, area: 2, grossArea: 2, volume: 3}

// settleUnits finds the unit of each measured column: of its title, else by the size of its figures. Lengths of one list
// are taken to have one unit, but for heights, which are often stated apart.
func (r *reader) settleUnits() {
	r.units = map[field]string{}
	inFeet := r.inFeet()
	var said []string
	var guessed survey.List
	for _, c := range r.cols {
		power := powers[c.field]
		if power == 0 {
			continue
		}
		switch {
		case unitScale(c.unit, power) > 0:
			r.units[c.field] = c.unit
			said = append(said, fieldWords[c.field]+" "+c.unit)
			continue
		case inFeet:
			r.units[c.field] = [...]string{1: "ft", 2: "ft²", 3: "ft³"}[power]
		case power == 2:
			r.units[c.field] = "m²"
		case power == 3:
			r.units[c.field] = "m³"
		default:
			values := r.values(c.at)
			if len(values) == 0 {
				continue
			}
			unit, sure := guess(values)
			r.units[c.field] = unit
			if !sure {
				r.b.Found.Openf(r.pos(r.header, c.at), "", "write the unit into the title, as in \"Length (m)\"", "the unit of column %s (%s) could be another: %s was taken",
					letter(c.at), c.title, unit)
			}
		}
		if slices.ContainsFunc(r.values(c.at), func(x float64) bool { return x > 0 }) {
			guessed = append(guessed, survey.Say("%s %s", wordOf(c.field), r.units[c.field]))
		}
	}
	r.b.Source.Units = strings.Join(append(said, survey.InEnglish(guessed)...), ", ")
	if len(guessed) > 0 {
		r.b.Found.Openf(r.pos(r.header, 0), "", "write the units into the titles, as in \"Height (mm)\"", "no unit is stated; by the size of the figures: %s", guessed)
		r.b.Assumed = append(r.b.Assumed, survey.Say("no unit is stated; by the size of the figures: %s", guessed))
	}
}

// inFeet reports whether the lengths of the list are feet and inches: most of those that have a unit.
func (r *reader) inFeet() bool {
	english, metric := 0, 0
	count := func(unit string) {
		switch scale := unitScale(unit, 1); {
		case scale == 0:
		case scale == 0.3048 || scale == 0.0254:
			english++
		default:
			metric++
		}
	}
	for _, c := range r.cols {
		if powers[c.field] != 1 {
			continue
		}
		count(c.unit)
		for _, row := range r.rows[r.header+1:] {
			if c.at < len(row) {
				_, unit, _ := parse(row[c.at], r.comma)
				count(unit)
			}
		}
	}
	return english > metric
}

// values are the bare figures of a column.
func (r *reader) values(col int) []float64 {
	var out []float64
	for _, row := range r.rows[r.header+1:] {
		if col < len(row) && !blank(row[col]) {
			if x, unit, ok := parse(row[col], r.comma); ok && unit == "" {
				out = append(out, x)
			}
		}
	}
	return out
}

// measure reads a figure of a row in metres, square metres, cubic metres or degrees; 0 where there is none.
func (r *reader) measure(i int, row []string, f field) float64 {
	text := r.cell(row, f)
	if text == "" {
		return 0
	}
	x, unit, ok := parse(text, r.comma)
	power := powers[f]
	if ok && unit != "" && power > 0 && unitScale(unit, power) == 0 {
		ok = false
	}
	if !ok || x < 0 && f != elevation {
		r.bad(i, f, text, survey.Say("a figure"))
		return 0
	}
	if unit == "" {
		unit = r.units[f]
	}
	if power == 0 {
		return x
	}
	return x * unitScale(unit, power)
}
