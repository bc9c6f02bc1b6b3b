package leakage

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

// ElementColumns are the columns of the table of elements, in any order.
func ElementColumns() []string {
	return []string{"id", "element", "per", "unit", "low", "expected", "high", "reference_pa", "cd", "exponent", "published", "note",
		"source", "status"}
}

// cell is the text of a cell with its place.
type cell struct {
	text string
	pos  diag.Pos
}

// ParseElements reads the table of elements. Low and high may be empty: then the one figure stands for all three. Units
// are cm2 (a leakage area, with cd), m3/h and L/s; each is per the element's unit. Rows with faults are left out.
func ParseElements(file string, text []byte, found *diag.List) []Element {
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(text, []byte("\ufeff"))))
	r.Comment, r.FieldsPerRecord = '#', -1
	var header []cell
	var out []Element
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
		row := make([]cell, len(record))
		for i, t := range record {
			line, col := r.FieldPos(i)
			row[i] = cell{strings.TrimSpace(t), diag.Pos{File: file, Line: line, Col: col}}
		}
		if header == nil {
			header = row
			if !checkHeader(header, found) {
				return nil
			}
			continue
		}
		if e, ok := readElement(header, row, seen, found); ok {
			out = append(out, e)
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
	for _, c := range header {
		if !slices.Contains(ElementColumns(), c.text) {
			found.Faultf(c.pos, "known: "+strings.Join(ElementColumns(), ", "), "unknown column %q", c.text)
		}
	}
	for _, want := range ElementColumns() {
		if !slices.ContainsFunc(header, func(c cell) bool { return c.text == want }) {
			found.Faultf(header[0].pos, "add the column, it may be empty", "column %q is missing", want)
			complete = false
		}
	}
	return complete
}

// row reads the cells of one element and remembers whether one was wrong.
type row struct {
	cells map[string]cell
	found *diag.List
	bad   bool
}

func readElement(header, cells []cell, seen map[string]diag.Pos, found *diag.List) (Element, bool) {
	if len(cells) != len(header) {
		found.Faultf(cells[0].pos, "count the commas, or quote a cell that holds one", "this row has %d cells, the header has %d", len(cells), len(header))
		return Element{}, false
	}
	r := &row{cells: map[string]cell{}, found: found}
	for i, c := range cells {
		r.cells[header[i].text] = c
	}
	e := Element{ID: r.need("id"), Name: r.need("element"), Per: r.need("per"), Published: r.need("published"), Note: r.cells["note"].text,
		Reference: q.Pressure(r.number("reference_pa", 0.1, 1000)), Exponent: r.number("exponent", 0.5, 1),
		Source: q.Source{Text: r.need("source")}}
	if first, twice := seen[e.ID]; twice {
		found.Add(diag.Finding{Pos: cells[0].pos, Msg: "id " + strconv.Quote(e.ID) + " stands twice in this table", Hint: "remove one of the rows", See: []diag.Pos{first}})
		return e, false
	}
	seen[e.ID] = cells[0].pos
	status, ok := q.ParseStatus(r.cells["status"].text)
	if !ok {
		r.fault("status", "known: confirmed, secondary, computed, from memory, common practice, placeholder", "unknown status")
	}
	e.Source.Status = status
	if !slices.Contains([]string{"m", "m2", "item", "cm2"}, e.Per) {
		r.fault("per", "write m, m2, item or cm2", "unknown unit of quantity")
	}
	r.figures(&e)
	return e, !r.bad
}

// figures reads the three figures in their unit.
func (r *row) figures(e *Element) {
	expected := r.number("expected", 0, 1e6)
	low, high := expected, expected
	if r.cells["low"].text != "" {
		low, e.Ranged = r.number("low", 0, 1e6), true
	}
	if r.cells["high"].text != "" {
		high, e.Ranged = r.number("high", 0, 1e6), true
	}
	if !r.bad && (low > expected || expected > high) {
		r.fault("expected", "low ≤ expected ≤ high", "the figures are out of order")
	}
	scale, ok := map[string]float64{"cm2": 1e-4, "m3/h": 1.0 / 3600, "L/s": 1e-3}[r.cells["unit"].text]
	if !ok {
		r.fault("unit", "write cm2, m3/h or L/s", "unknown unit")
	}
	leakage := func(x float64) Leakage { return Leakage{Flow: q.AirFlow(x * scale)} }
	if r.cells["unit"].text == "cm2" {
		e.Basis, e.Cd = ByArea, r.number("cd", 0.01, 1)
		leakage = func(x float64) Leakage { return Leakage{Area: q.Area(x * scale)} }
	}
	e.Low, e.Expected, e.High = leakage(low), leakage(expected), leakage(high)
}

func (r *row) fault(column, hint, what string) {
	c := r.cells[column]
	r.found.Faultf(c.pos, hint, "column %q: %s %q", column, what, c.text)
	r.bad = true
}

func (r *row) need(column string) string {
	c := r.cells[column]
	if c.text == "" {
		r.fault(column, "", "empty")
	}
	return c.text
}

func (r *row) number(column string, low, high float64) float64 {
	x, err := strconv.ParseFloat(r.cells[column].text, 64)
	if err != nil || !within(x, low, high) {
		r.fault(column, "write digits with a decimal point, no unit", "not a number within its range")
		return 0
	}
	return x
}
