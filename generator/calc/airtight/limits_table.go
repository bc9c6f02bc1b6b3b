package airtight

import (
	"slices"
	"strconv"
	"strings"

	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

// LimitColumns are the columns of the table of limits, in any order.
func LimitColumns() []string {
	return []string{"id", "authority", "case", "metric", "comparison", "value", "unit", "published", "digits", "force", "directions",
		"edition", "note", "source", "status"}
}

// ParseLimits reads the table of limits. A value stands in the unit of its document (1/h, m3/(h.m2), L/(s.m2), cfm/ft2)
// and is kept in the metric's. Rows with faults are left out.
func ParseLimits(file string, text []byte, found *diag.List) []Limit {
	rows := readRows(file, text, ',', found)
	if len(rows) == 0 {
		found.Faultf(diag.Pos{File: file}, "the first line names the columns", "the table is empty")
		return nil
	}
	index := map[string]int{}
	for i, c := range rows[0] {
		index[c.text] = i
		if !slices.Contains(LimitColumns(), c.text) {
			found.Faultf(c.pos, "known: "+strings.Join(LimitColumns(), ", "), "unknown column %q", c.text)
		}
	}
	for _, c := range LimitColumns() {
		if _, ok := index[c]; !ok {
			found.Faultf(rows[0][0].pos, "add the column, it may be empty", "column %q is missing", c)
			return nil
		}
	}
	var out []Limit
	seen := map[string]diag.Pos{}
	for _, row := range rows[1:] {
		if len(row) != len(rows[0]) {
			found.Faultf(row[0].pos, "count the commas, or quote a cell that holds one", "this row has %d cells, the header has %d", len(row), len(rows[0]))
			continue
		}
		l, ok := limitRow{func(name string) cell { return row[index[name]] }, found}.read()
		if first, twice := seen[l.ID]; twice {
			found.Add(diag.Finding{Pos: row[0].pos, Msg: "id " + strconv.Quote(l.ID) + " stands twice in this table", Hint: "remove one of the rows", See: []diag.Pos{first}})
			continue
		}
		seen[l.ID] = row[0].pos
		if ok {
			out = append(out, l)
		}
	}
	return out
}

type limitRow struct {
	at    func(string) cell
	found *diag.List
}

// word finds which of the words the cell holds.
func (r limitRow) word(column string, words ...string) (int, bool) {
	c := r.at(column)
	i := slices.Index(words, c.text)
	if i < 0 {
		r.found.Faultf(c.pos, "known: "+strings.Join(words, ", "), "column %q: unknown word %q", column, c.text)
		return 0, false
	}
	return i, true
}

func (r limitRow) read() (Limit, bool) {
	text := func(name string) string { return r.at(name).text }
	l := Limit{ID: text("id"), Authority: text("authority"), Case: text("case"), Published: text("published"),
		Edition: text("edition"), Note: text("note"), Digits: -1, Source: q.Source{Text: text("source")}}
	ok := true
	for _, name := range []string{"id", "authority", "case", "published", "edition", "source"} {
		if c := r.at(name); c.text == "" {
			r.found.Faultf(c.pos, "", "column %q is empty", name)
			ok = false
		}
	}
	status, known := q.ParseStatus(text("status"))
	if !known {
		r.found.Faultf(r.at("status").pos, "known: confirmed, secondary, computed, from memory, common practice, placeholder", "unknown status %q", text("status"))
	}
	l.Source.Status = status
	force, okForce := r.word("force", "required", "recommended", "voluntary", "target")
	both, okBoth := r.word("directions", "any", "both")
	side, okSide := r.word("comparison", "none", "at most", "below")
	l.Force, l.BothDirections, l.Comparison = Force(force), both == 1, Comparison(side)
	if c := r.at("digits"); c.text != "" {
		digits, err := strconv.Atoi(c.text)
		if err != nil || digits < 0 || digits > 6 {
			r.found.Faultf(c.pos, "write 0 to 6, or leave the cell empty: not rounded", "column \"digits\": %q", c.text)
			ok = false
		}
		l.Digits = digits
	}
	if okSide && l.Comparison != NotCompared {
		ok = r.value(&l) && ok
	}
	return l, ok && known && okForce && okBoth && okSide
}

// value reads the metric, the value and its unit.
func (r limitRow) value(l *Limit) bool {
	m, err := ParseMetric(r.at("metric").text)
	if err != nil {
		r.found.Faultf(r.at("metric").pos, "write the figure as ISO 9972:2015 names it", "%v", err)
		return false
	}
	x, ok := r.at("value").number(false, r.found)
	if !ok {
		return false
	}
	factor := map[string]float64{"m3/(h.m2)": 1, "L/(s.m2)": 3.6, "cfm/ft2": foot * 60}
	if m.Per == PerVolume {
		factor = map[string]float64{"1/h": 1}
	}
	scale, ok := factor[r.at("unit").text]
	if !ok {
		r.found.Faultf(r.at("unit").pos, "a rate per area is in m3/(h.m2), L/(s.m2) or cfm/ft2, an air change rate in 1/h", "%q is no unit of %v", r.at("unit").text, m)
		return false
	}
	l.Metric, l.Value = m, Figure(x*scale)
	if !within(float64(l.Value), 1e-6, 1e6) {
		r.found.Faultf(r.at("value").pos, "check the figure and its unit", "a limit of %v cannot be", x)
		return false
	}
	return true
}
