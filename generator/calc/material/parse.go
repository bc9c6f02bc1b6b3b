package material

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"slices"
	"strconv"
	"strings"

	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

// Columns are the columns of the table, in any order.
func Columns() []string {
	return []string{"id", "name", "density", "lambda", "heat_capacity", "mu_dry", "mu_wet", "sd", "note", "source", "status", "status_of"}
}

// cell is the text of a cell with its place.
type cell struct {
	text string
	pos  diag.Pos
}

// Parse reads the table of materials. Rows with faults are left out and reported with their position.
func Parse(file string, text []byte, found *diag.List) []Material {
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(text, []byte("\ufeff"))))
	r.Comment, r.FieldsPerRecord = '#', -1
	var header []cell
	var out []Material
	seen := map[string]diag.Pos{}
	for {
		record, err := r.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			found.Faultf(errorPos(file, err), "put a cell that holds a comma or a quote mark in quotes, and double the quote mark", "the row breaks the quoting")
			continue
		}
		cells := make([]cell, len(record))
		for i, t := range record {
			line, col := r.FieldPos(i)
			cells[i] = cell{strings.TrimSpace(t), diag.Pos{File: file, Line: line, Col: col}}
		}
		if header == nil {
			if header = cells; !checkHeader(header, found) {
				return nil
			}
			continue
		}
		if m, ok := readRow(header, cells, seen, found); ok {
			out = append(out, m)
		}
	}
	if header == nil {
		found.Faultf(diag.Pos{File: file}, "the first line names the columns", "the table is empty")
	}
	return out
}

func errorPos(file string, err error) diag.Pos {
	pos := diag.Pos{File: file}
	var e *csv.ParseError
	if errors.As(err, &e) {
		pos.Line, pos.Col = e.Line, e.Column
	}
	return pos
}

func checkHeader(header []cell, found *diag.List) (complete bool) {
	complete = true
	seen := map[string]bool{}
	for _, c := range header {
		if !slices.Contains(Columns(), c.text) {
			found.Faultf(c.pos, "known: "+strings.Join(Columns(), ", "), "unknown column %q", c.text)
		} else if seen[c.text] {
			found.Faultf(c.pos, "remove one", "column %q stands twice", c.text)
			complete = false
		}
		seen[c.text] = true
	}
	for _, want := range Columns() {
		if !seen[want] {
			found.Faultf(header[0].pos, "add the column, it may be empty", "column %q is missing", want)
			complete = false
		}
	}
	return complete
}

// row reads the cells of one material and remembers whether one was wrong.
type row struct {
	cells  map[string]cell
	status q.Status
	better map[string]q.Status
	found  *diag.List
	bad    bool
}

func readRow(header, cells []cell, seen map[string]diag.Pos, found *diag.List) (Material, bool) {
	if len(cells) != len(header) {
		found.Faultf(cells[0].pos, "count the commas, or quote a cell that holds one", "this row has %d cells, the header has %d", len(cells), len(header))
		return Material{}, false
	}
	r := &row{cells: map[string]cell{}, found: found}
	for i, c := range cells {
		r.cells[header[i].text] = c
	}
	m := Material{ID: r.need("id"), Name: r.need("name"), Note: r.cells["note"].text, Source: q.Source{Text: r.need("source")}}
	if first, twice := seen[m.ID]; twice {
		found.Add(diag.Finding{Pos: cells[0].pos, Msg: "id " + strconv.Quote(m.ID) + " stands twice in this table", Hint: "remove one of the rows", See: []diag.Pos{first}})
		return m, false
	}
	seen[m.ID] = cells[0].pos
	r.readStatus()
	m.Source.Status = r.status
	m.Density = r.span("density", 0.1, 25000)
	m.Lambda = r.value("lambda", "lambda", 0.001, 500, false)
	m.HeatCapacity = r.value("heat_capacity", "heat_capacity", 100, 5000, false)
	m.MuDry, m.MuWet = r.value("mu_dry", "mu", 1, 1e8, true), r.value("mu_wet", "mu", 1, 1e8, true)
	m.Sd = r.value("sd", "sd", 0, 1e6, false)
	if m.Sd.Known == (m.MuDry.Known || m.MuWet.Known) {
		r.fault("sd", "a thin layer has sd, a material has mu", "give either sd or mu")
	}
	if !m.Sd.Known && !m.Lambda.Known {
		r.fault("lambda", "write W/(mK)", "a material needs its conductivity")
	}
	return m, !r.bad
}

// readStatus reads the row's status and the better ones of single values: "density: secondary; mu: computed".
func (r *row) readStatus() {
	status, ok := q.ParseStatus(r.cells["status"].text)
	if !ok {
		r.fault("status", "known: confirmed, secondary, computed, from memory, common practice, placeholder", "unknown status")
	}
	r.status, r.better = status, map[string]q.Status{}
	if r.cells["status_of"].text == "" {
		return
	}
	for item := range strings.SplitSeq(r.cells["status_of"].text, ";") {
		name, word, _ := strings.Cut(item, ":")
		name = strings.TrimSpace(name)
		s, ok := q.ParseStatus(strings.TrimSpace(word))
		switch {
		case !ok || !slices.Contains([]string{"density", "lambda", "heat_capacity", "mu", "sd"}, name):
			r.fault("status_of", "write density, lambda, heat_capacity, mu or sd, a colon and a status; semicolons between", "not understood")
		case s >= status:
			r.fault("status_of", "the status of the row is the weakest of its values", "not better than the row's status")
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

func (r *row) fault(column, hint, what string) {
	c := r.cells[column]
	r.found.Faultf(c.pos, hint, "column %q: %s: %q", column, what, c.text)
	r.bad = true
}

func (r *row) need(column string) string {
	c := r.cells[column]
	if c.text == "" {
		r.fault(column, "every row has it", "empty")
	}
	return c.text
}
