package library

import (
	"encoding/csv"
	"errors"
	"io"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strconv"
	"strings"

	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

// Table holds the rows of one data table in file order; a later layer's row replaces the row of the same id in place. A
// row is a pointer, so that all tables share their code.
type Table[P any] struct {
	rows []P
	at   map[string]int // id: index of its row
}

// All gives every row.
func (t *Table[P]) All() []P { return t.rows }

// Find gives the row with this id, or nil. Inlined in its 165 places it would take 20 kB.
//
//go:noinline
func (t *Table[P]) Find(id string) (row P) {
	if i, ok := t.at[id]; ok {
		row = t.rows[i]
	}
	return row
}

// IDs gives the ids of all rows, sorted.
func (t *Table[P]) IDs() []string { return slices.Sorted(maps.Keys(t.at)) }

func (t *Table[P]) put(id string, row P) {
	if i, ok := t.at[id]; ok {
		t.rows[i] = row
		return
	}
	if t.at == nil {
		t.at = map[string]int{}
	}
	t.at[id] = len(t.rows)
	t.rows = append(t.rows, row)
}

// line is one row of a table file: cells by column name, each with its place.
type line struct {
	found *diag.List
	cells map[string]cell
	pos   diag.Pos
}

type cell struct {
	text string
	pos  diag.Pos
}

func (l line) text(col string) string { return l.cells[col].text }

// need gives the text of a cell that may not be empty.
func (l line) need(col string) string {
	c := l.cells[col]
	if c.text == "" {
		l.found.Faultf(c.pos, "", "column %q is empty", col)
	}
	return c.text
}

// number reads a cell; empty is 0 and ok is false.
func (l line) number(col string) (x float64, ok bool) {
	c := l.cells[col]
	if c.text == "" {
		return 0, false
	}
	x, err := strconv.ParseFloat(c.text, 64)
	if err != nil {
		l.found.Faultf(c.pos, "write digits with a decimal point, no unit", "column %q: %q is no number", col, c.text)
		return 0, false
	}
	return x, true
}

// list reads a cell whose entries are set apart by spaces.
func (l line) list(col string) []string { return strings.Fields(l.cells[col].text) }

// word reads a cell that holds one of a few words.
func (l line) word(col string, known []string) string {
	c := l.cells[col]
	if !oneOf(c.text, known) {
		l.found.Faultf(c.pos, suggest(c.text, known), "column %q: unknown word %q", col, c.text)
	}
	return c.text
}

// source reads the columns source and status.
func (l line) source() q.Source {
	status, ok := q.ParseStatus(l.text("status"))
	if !ok {
		l.word("status", statusWords())
	}
	return q.Source{Text: l.need("source"), Status: status}
}

func statusWords() []string {
	var out []string
	for s := q.Confirmed; s <= q.Placeholder; s++ {
		out = append(out, s.String())
	}
	return out
}

// spec says how a table file is laid out and how a line becomes a row. The first column is the id.
type spec[P any] struct {
	name    string
	columns []string
	read    func(line) P
}

// load reads the table from one layer; a layer without the file changes nothing.
func (s spec[P]) load(t *Table[P], from Layer, found *diag.List) {
	eachRow(s.name, s.columns, from, found, func(id string, l line) { t.put(id, s.read(l)) })
}

// eachRow visits the rows of a table's file in one layer, each id once.
func eachRow(table string, columns []string, from Layer, found *diag.List, visit func(id string, l line)) {
	name := path.Join("tables", table+".csv")
	text, err := readBounded(from.FS, name, maxFile)
	if errors.Is(err, fs.ErrNotExist) {
		return
	}
	at := diag.Pos{File: from.path(name)}
	if err != nil {
		found.Faultf(at, "a table is a plain text file of its own", "cannot read the table: %v", err)
		return
	}
	seen := map[string]diag.Pos{}
	for _, l := range readLines(plainStart(string(text)), at, columns, found) {
		id := l.need(columns[0])
		if first, twice := seen[id]; twice {
			found.Add(diag.Finding{Pos: l.pos, Msg: "id " + strconv.Quote(id) + " stands twice in this table",
				Hint: "remove one of the rows", See: []diag.Pos{first}})
			continue
		}
		seen[id] = l.pos
		visit(id, l)
	}
}

// readLines reads a CSV file with a header line; lines that start with # are comments. The order of columns is free.
func readLines(text string, at diag.Pos, columns []string, found *diag.List) []line {
	r := csv.NewReader(strings.NewReader(text))
	r.Comment = '#'
	r.FieldsPerRecord = -1
	header, err := r.Read()
	if err != nil {
		found.Faultf(at, "the first line names the columns", "the table has no header: %v", err)
		return nil
	}
	checkHeader(r, header, at, columns, found)
	var out []line
	for {
		record, err := r.Read()
		if err == io.EOF {
			return out
		}
		if err != nil {
			found.Faultf(csvPos(at, err), "quote a cell that holds a comma or a quote mark", "%v", errors.Unwrap(err))
			return out
		}
		l := line{found: found, cells: map[string]cell{}, pos: fieldPos(r, at, 0)}
		if len(record) != len(header) {
			found.Faultf(l.pos, "count the commas, or quote a cell that holds one",
				"this row has %d cells, the header has %d", len(record), len(header))
			continue
		}
		for i, v := range record {
			l.cells[header[i]] = cell{strings.TrimSpace(v), fieldPos(r, at, i)}
		}
		out = append(out, l)
	}
}

func checkHeader(r *csv.Reader, header []string, at diag.Pos, columns []string, found *diag.List) {
	for i, h := range header {
		if !oneOf(h, columns) {
			found.Faultf(fieldPos(r, at, i), suggest(h, columns), "unknown column %q", h)
		}
	}
	for _, c := range columns {
		if !oneOf(c, header) {
			found.Faultf(fieldPos(r, at, 0), "add the column, it may be empty", "column %q is missing", c)
		}
	}
}

func fieldPos(r *csv.Reader, at diag.Pos, i int) diag.Pos {
	at.Line, at.Col = r.FieldPos(i)
	return at
}

func csvPos(at diag.Pos, err error) diag.Pos {
	var e *csv.ParseError
	if errors.As(err, &e) {
		at.Line, at.Col = e.Line, e.Column
	}
	return at
}
