package climate

import (
	"fmt"
	"slices"

	"lapwork/generator/calc/table"
	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

// Columns are the columns of the table of climates, in any order.
func Columns() []string {
	return []string{"id", "name", "country", "month", "hours", "te", "rh", "pressure", "pe", "pe_over_ice", "source", "status"}
}

// Parse reads the table of climates, twelve rows a place, in the order of their first rows. A place with faults or
// missing months is reported and left out.
func Parse(file string, text []byte, found *diag.List) []Climate {
	type place struct {
		Climate
		first diag.Pos
		rows  [12]diag.Pos
		bad   bool
	}
	var order []string
	places := map[string]*place{}
	for _, r := range table.Read(file, text, Columns(), found) {
		id := r.Need("id")
		p := places[id]
		if p == nil {
			p = &place{first: r.Pos, Climate: Climate{ID: id, Name: r.Need("name"), Country: r.Text("country"), Source: q.Source{Text: r.Need("source")}}}
			places[id], order = p, append(order, id)
		}
		m := readMonth(r)
		p.Source.Status = p.Source.Status.Weaker(r.Status("status"))
		if r.Text("source") != p.Source.Text || r.Text("name") != p.Name {
			r.Fault("source", "a place has one name and one source", "differs from the first row of this place")
		}
		if m.Month > 0 && p.rows[m.Month-1] != (diag.Pos{}) {
			r.Twice(fmt.Sprintf("%s, month %d", id, m.Month), p.rows[m.Month-1])
		}
		if p.bad = p.bad || !r.OK(); r.OK() {
			p.Months[m.Month-1], p.rows[m.Month-1] = m, r.Pos
		}
	}
	var out []Climate
	for _, id := range order {
		p := places[id]
		if i := slices.Index(p.rows[:], diag.Pos{}); i >= 0 && !p.bad {
			found.Faultf(p.first, "add the row", "climate %q has no month %d", id, i+1)
		} else if !p.bad {
			out = append(out, p.Climate)
		}
	}
	return out
}

func readMonth(r *table.Row) Month {
	m := Month{Month: int(r.Number("month", 1, 12)), Hours: int(r.Number("hours", 0, 800)), Te: q.Temperature(r.Number("te", -60, 60)),
		RH: q.Ratio(r.Number("rh", 0, 100) / 100), Pe: q.Pressure(r.Number("pe", 1, 10000)), PeOverIce: q.Pressure(r.Number("pe_over_ice", 1, 10000))}
	if r.Text("pressure") != "" {
		m.Pressure = q.Pressure(r.Number("pressure", 30000, 120000))
	}
	if r.OK() && m.PeOverIce > m.Pe {
		r.Fault("pe_over_ice", "over ice saturation is lower, so the pressure is", "above pe")
	}
	return m
}
