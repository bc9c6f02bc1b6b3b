// Package table reads the CSV tables of the calculations: comment lines, a header of known columns, cells with their
// place, and the checks every table shares. One run reports every fault.
package table

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

// Row is a row of a table, its cells by column.
type Row struct {
	Pos   diag.Pos
	cells map[string]cell
	found *diag.List
	bad   bool
}

type cell struct {
	text string
	pos  diag.Pos
}

// Read reads the rows of a table whose columns, in any order, are exactly these. Rows that break the quoting or have
// too few or many cells are reported and left out; so is the whole table without its columns.
func Read(file string, text []byte, columns []string, found *diag.List) []*Row {
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(text, []byte("\ufeff"))))
	r.Comment, r.FieldsPerRecord = '#', -1
	var header []cell
	var out []*Row
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
			if header = cells; !checkHeader(header, columns, found) {
				return nil
			}
			continue
		}
		if row, ok := newRow(header, cells, found); ok {
			out = append(out, row)
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

func checkHeader(header []cell, columns []string, found *diag.List) (complete bool) {
	complete = true
	seen := map[string]bool{}
	for _, c := range header {
		if !slices.Contains(columns, c.text) {
			found.Faultf(c.pos, "known: "+strings.Join(columns, ", "), "unknown column %q", c.text)
		} else if seen[c.text] {
			found.Faultf(c.pos, "remove one", "column %q stands twice", c.text)
			complete = false
		}
		seen[c.text] = true
	}
	for _, want := range columns {
		if !seen[want] {
			found.Faultf(header[0].pos, "add the column, it may be empty", "column %q is missing", want)
			complete = false
		}
	}
	return complete
}

func newRow(header, cells []cell, found *diag.List) (*Row, bool) {
	if len(cells) != len(header) {
		found.Faultf(cells[0].pos, "count the commas, or quote a cell that holds one", "this row has %d cells, the header has %d", len(cells), len(header))
		return nil, false
	}
	row := &Row{Pos: cells[0].pos, cells: map[string]cell{}, found: found}
	for i, c := range cells {
		row.cells[header[i].text] = c
	}
	return row, true
}

// OK says that nothing was wrong with the row so far.
func (r *Row) OK() bool { return !r.bad }

// Text gives a cell without outer blanks.
func (r *Row) Text(column string) string { return r.cells[column].text }

// Need gives a cell that must not be empty.
func (r *Row) Need(column string) string {
	c := r.cells[column]
	if c.text == "" {
		r.Fault(column, "every row has it", "empty")
	}
	return c.text
}

// Fault reports a cell.
func (r *Row) Fault(column, hint, what string) {
	c := r.cells[column]
	r.found.Faultf(c.pos, hint, "column %q: %s: %q", column, what, c.text)
	r.bad = true
}

// Twice reports that the row's key stood before.
func (r *Row) Twice(key string, first diag.Pos) {
	r.found.Add(diag.Finding{Pos: r.Pos, Msg: strconv.Quote(key) + " stands twice in this table", Hint: "remove one of the rows", See: []diag.Pos{first}})
	r.bad = true
}

// Number gives a cell that must be a number within low and high.
func (r *Row) Number(column string, low, high float64) float64 {
	x, ok := Number(r.cells[column].text, low, high)
	if !ok {
		r.Fault(column, "write digits with a decimal point, no unit", "not a number from "+show(low)+" to "+show(high))
		return 0
	}
	return x
}

// Status gives a cell that must be a status word.
func (r *Row) Status(column string) q.Status {
	status, ok := q.ParseStatus(r.cells[column].text)
	if !ok {
		r.Fault(column, "known: confirmed, secondary, computed, from memory, common practice, placeholder", "unknown status")
	}
	return status
}

// Number reads a number within low and high; ok is false for anything else, NaN included.
func Number(text string, low, high float64) (x float64, ok bool) {
	x, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil || !(x >= low && x <= high) {
		return 0, false
	}
	return x, true
}

func show(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
