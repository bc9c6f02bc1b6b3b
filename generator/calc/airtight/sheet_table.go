package airtight

import (
	"slices"
	"strings"

	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

// header reads the names and units of the columns.
func (s *sheet) header(row []cell) {
	dims := map[string]dimension{"direction": plain, "phase": plain, "pressure": pressure, "flow": flow, "weight": plain}
	s.columns = make([]column, len(row))
	seen := map[string]bool{}
	for i, c := range row {
		name, word, _ := strings.Cut(strings.ToLower(c.text), " ")
		word = strings.Trim(word, " []()")
		dim, ok := dims[name]
		if !ok {
			s.found.Faultf(c.pos, "the columns are direction, phase, pressure [Pa], flow [m3/h] and, if wanted, weight", "unknown column %q", c.text)
			continue
		}
		u, ok := unitOf(dim, word)
		if !ok {
			s.found.Faultf(c.pos, "write "+name+" ["+strings.Split(dim.known(), ",")[0]+"]; known are "+dim.known(), "the column %q has no known unit", c.text)
			continue
		}
		if seen[name] {
			s.found.Faultf(c.pos, "remove one of them", "the column %q stands twice", name)
			continue
		}
		seen[name] = true
		s.columns[i] = column{name, u}
	}
	for _, need := range []string{"direction", "phase", "pressure", "flow"} {
		if !seen[need] && !slices.ContainsFunc(row, func(c cell) bool { return strings.HasPrefix(strings.ToLower(c.text), need) }) {
			s.found.Faultf(row[0].pos, "add the column", "the column %q is missing", need)
		}
	}
}

// tableRow is a row of the table by the names of its columns.
type tableRow struct {
	sheet *sheet
	start diag.Pos
	cells map[string]cell
	units map[string]unit
}

func (s *sheet) tableRow(row []cell) (tableRow, bool) {
	if len(row) > len(s.columns) {
		s.found.Faultf(row[len(s.columns)].pos, "count the cells; a decimal comma parts a cell in two", "the row has %d cells, the header %d", len(row), len(s.columns))
		return tableRow{}, false
	}
	r := tableRow{s, row[0].pos, map[string]cell{}, map[string]unit{}}
	for i, c := range row {
		r.cells[s.columns[i].name], r.units[s.columns[i].name] = c, s.columns[i].unit
	}
	return r, true
}

// value reads a number of the row; an empty cell is fine and not stated.
func (r tableRow) value(name string) (x float64, stated, ok bool) {
	c := r.cells[name]
	if c.text == "" {
		return 0, false, true
	}
	x, ok = c.number(r.sheet.comma != ',', r.sheet.found)
	return r.units[name].apply(x), true, ok
}

func (r tableRow) fault(column, hint, format string, args ...any) {
	at := r.start
	if c := r.cells[column]; c.text != "" {
		at = c.pos
	}
	r.sheet.found.Faultf(at, hint, format, args...)
}

// reading reads a row of the table.
func (s *sheet) reading(row []cell) {
	r, ok := s.tableRow(row)
	if !ok {
		return
	}
	phase := strings.ToLower(r.cells["phase"].text)
	if phase == "step" {
		s.steps++
	}
	d, known := parseDirection(r.cells["direction"].text)
	if !known {
		r.fault("direction", "write under or over", "%q is no direction", r.cells["direction"].text)
	}
	p, hasPressure, ok := r.value("pressure")
	switch {
	case !hasPressure:
		r.fault("pressure", "write the pressure as the gauge shows it", "the row has no pressure")
	case ok && !within(p, -1000, 1000):
		r.fault("pressure", "check the figure and the unit in the header", "a pressure of %v Pa cannot be", p)
	}
	if !known || !hasPressure || !ok || !within(p, -1000, 1000) {
		return
	}
	switch phase {
	case "before", "after":
		r.zero(d, phase, q.Pressure(p))
	case "step":
		r.step(d, q.Pressure(p))
	default:
		r.fault("phase", "write before, step or after", "%q is no phase", r.cells["phase"].text)
	}
}

// zero keeps a zero-flow pressure.
func (r tableRow) zero(d Direction, phase string, p q.Pressure) {
	if f, _, ok := r.value("flow"); !ok || f != 0 {
		r.fault("flow", "leave the flow empty: the fan is sealed", "a zero-flow pressure has a flow")
		return
	}
	key := given{name: phase, dir: d}
	r.sheet.samples[key] = append(r.sheet.samples[key], p)
}

// step keeps a reading. A flow of zero or below is kept: the analysis names it.
func (r tableRow) step(d Direction, p q.Pressure) {
	f, hasFlow, okFlow := r.value("flow")
	w, hasWeight, okWeight := r.value("weight")
	if !okFlow || !okWeight {
		return
	}
	switch {
	case !hasFlow:
		r.fault("flow", "write the flow of the step", "the step has no flow")
	case !within(f, -1e5, 1e5):
		r.fault("flow", "check the figure and the unit in the header", "a flow of %v m³/s cannot be", f)
	case hasWeight && !within(w, 1e-9, 1e9):
		r.fault("weight", "leave the cell empty, or write a number above zero", "a weight of %v cannot be", w)
	default:
		r.sheet.readings[d] = append(r.sheet.readings[d], Reading{Pressure: p, Flow: q.AirFlow(f), Weight: w, Pos: r.cells["pressure"].pos})
	}
}

// number gives a setting of a direction: its own, or the one for both.
func (s *sheet) number(name string, d Direction) (float64, bool) {
	if e, ok := s.given[given{name: name, dir: d}]; ok {
		return e.value, true
	}
	e, ok := s.given[given{name: name, both: true}]
	return e.value, ok
}

// input puts the sheet together and reports what is missing.
func (s *sheet) input() Input {
	get := func(name string) float64 { x, _ := s.number(name, Depressurise); return x }
	in := Input{
		Setup: s.setup,
		Building: Building{Volume: q.Volume(get("volume")), Envelope: q.Area(get("envelope area")), Floor: q.Area(get("floor area")),
			Loss: q.Area(get("loss area")), Height: q.Length(get("height"))},
		Weather: Weather{Wind: Speed(get("wind")), Ground: Speed(get("ground wind")), Beaufort: int(get("beaufort"))},
		Parts: Parts{Device: q.Ratio(get("device uncertainty")), Gauge: q.Pressure(get("gauge uncertainty")),
			Denominator: q.Ratio(get("size uncertainty"))},
	}
	if s.columns == nil {
		s.found.Faultf(s.start, "start the table with a line: direction, phase, pressure [Pa], flow [m3/h]", "there is no table of readings")
		return in
	}
	if s.steps == 0 {
		s.found.Faultf(s.start, "add the steps: under, step, -50.0, 540", "there is no step with the fan running")
	}
	for _, d := range []Direction{Depressurise, Pressurise} {
		if len(s.readings[d]) > 0 {
			in.Series = append(in.Series, s.series(d))
		}
	}
	return in
}

func (s *sheet) series(d Direction) Series {
	need := func(name string) float64 {
		x, ok := s.number(name, d)
		if !ok {
			s.found.Faultf(s.start, "add a line: "+name+", value, unit", "%s of the %v is missing: the densities need it", name, d)
		}
		return x
	}
	assume := func(name string, value float64, words string) float64 {
		if x, ok := s.number(name, d); ok {
			return x
		}
		s.found.Notef(s.start, "", "%s of the %v is not stated: %s taken", name, d, words)
		return value
	}
	return Series{Direction: d,
		Inside:    Air{q.Temperature(need("inside temperature")), q.Ratio(assume("inside humidity", 0.5, "50 %"))},
		Outside:   Air{q.Temperature(need("outside temperature")), q.Ratio(assume("outside humidity", 0.8, "80 %"))},
		Barometer: q.Pressure(assume("air pressure", float64(ReferencePressure), "101 325 Pa, that of sea level,")),
		Before:    s.zero("before", d), After: s.zero("after", d), Readings: s.readings[d]}
}

// zero takes the zero-flow averages from the samples, or from the settings.
func (s *sheet) zero(phase string, d Direction) Averages {
	if samples := s.samples[given{name: phase, dir: d}]; len(samples) > 0 {
		return AveragesOf(samples)
	}
	mean, ok := s.number("zero "+phase, d)
	if !ok {
		s.found.Faultf(s.start, "add rows of phase "+phase+", or a line: zero "+phase+", value, Pa", "the zero-flow pressure %s the %v is missing", phase, d)
	}
	above, _ := s.number("zero "+phase+" positive", d)
	below, _ := s.number("zero "+phase+" negative", d)
	return Averages{All: q.Pressure(mean), Positive: q.Pressure(above), Negative: q.Pressure(below)}
}
