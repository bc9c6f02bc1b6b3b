package material

import (
	"math"
	"slices"
	"strings"

	"lapwork/generator/calc/table"
	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

// Columns are the columns of the table, in any order.
func Columns() []string {
	return []string{"id", "name", "density", "lambda", "heat_capacity", "mu_dry", "mu_wet", "sd", "note", "source", "status", "status_of"}
}

// Parse reads the table of materials. Rows with faults are left out and reported with their position.
func Parse(file string, text []byte, found *diag.List) []Material {
	var out []Material
	seen := map[string]diag.Pos{}
	for _, cells := range table.Read(file, text, Columns(), found) {
		r := row{Row: cells}
		id := r.Need("id")
		if first, twice := seen[id]; twice {
			r.Twice(id, first)
			continue
		}
		seen[id] = r.Pos
		if m := r.material(id); r.OK() {
			out = append(out, m)
		}
	}
	return out
}

// row is a row with the statuses of its values.
type row struct {
	*table.Row
	status q.Status
	better map[string]q.Status
}

func (r *row) material(id string) Material {
	r.readStatus()
	m := Material{ID: id, Name: r.Need("name"), Note: r.Text("note"), Source: q.Source{Text: r.Need("source"), Status: r.status}}
	m.Density = r.span("density", 0.1, 25000)
	m.Lambda = r.value("lambda", "lambda", 0.001, 500)
	m.HeatCapacity = r.value("heat_capacity", "heat_capacity", 100, 5000)
	m.MuDry, m.MuWet = r.factor("mu_dry"), r.factor("mu_wet")
	m.Sd = r.value("sd", "sd", 0.001, 1e6)
	if m.Sd.Known == (m.MuDry.Known || m.MuWet.Known) {
		r.Fault("sd", "a thin layer has sd, a material has mu", "give either sd or mu")
	}
	if !m.Sd.Known && !m.Lambda.Known {
		r.Fault("lambda", "write W/(mK)", "a material needs its conductivity")
	}
	return m
}

// readStatus reads the row's status and the better ones of single values: "density: secondary; mu: computed".
func (r *row) readStatus() {
	r.status, r.better = r.Status("status"), map[string]q.Status{}
	if r.Text("status_of") == "" {
		return
	}
	for item := range strings.SplitSeq(r.Text("status_of"), ";") {
		name, word, _ := strings.Cut(item, ":")
		name = strings.TrimSpace(name)
		s, ok := q.ParseStatus(strings.TrimSpace(word))
		switch {
		case !ok || !slices.Contains([]string{"density", "lambda", "heat_capacity", "mu", "sd"}, name):
			r.Fault("status_of", "write density, lambda, heat_capacity, mu or sd, a colon and a status; semicolons between", "not understood")
		case s >= r.status:
			r.Fault("status_of", "the status of the row is the weakest of its values", "not better than the row's status")
		}
		r.better[name] = s
	}
}

func (r *row) statusOf(value string) q.Status {
	if s, ok := r.better[value]; ok {
		return s
	}
	return r.status
}

// value reads a figure that may be missing.
func (r *row) value(column, named string, low, high float64) Value {
	if r.Text(column) == "" {
		return Value{}
	}
	return Value{X: r.Number(column, low, high), Known: true, Status: r.statusOf(named)}
}

// factor reads a vapour resistance factor, "infinite" where nothing passes.
func (r *row) factor(column string) Value {
	if r.Text(column) == "infinite" {
		return Value{X: math.Inf(1), Known: true, Status: r.statusOf("mu")}
	}
	return r.value(column, "mu", 1, 1e8)
}

// span reads a figure or a range "10-200".
func (r *row) span(column string, low, high float64) Range {
	if r.Text(column) == "" {
		return Range{}
	}
	first, second, two := strings.Cut(r.Text(column), "-")
	if !two {
		second = first
	}
	a, okA := table.Number(first, low, high)
	b, okB := table.Number(second, low, high)
	if !okA || !okB || a > b {
		r.Fault(column, "write digits with a decimal point, no unit; a range as 10-200", "not a number or range")
		return Range{}
	}
	return Range{Low: a, High: b, Known: true, Status: r.statusOf(column)}
}
