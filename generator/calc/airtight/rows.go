package airtight

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"strconv"
	"strings"

	"lapwork/generator/diag"
)

// cell is the text of a cell with its place.
type cell struct {
	text string
	pos  diag.Pos
}

// readRows reads every row of a CSV text that is not a remark (# at its start). A row that breaks the quoting is a fault
// and is left out; the rows after it are still read.
func readRows(file string, text []byte, comma rune, found *diag.List) [][]cell {
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(text, []byte("\ufeff"))))
	r.Comma, r.Comment, r.FieldsPerRecord, r.TrimLeadingSpace = comma, '#', -1, true
	var rows [][]cell
	for {
		record, err := r.Read()
		if err == io.EOF {
			return rows
		}
		if err != nil {
			pos := diag.Pos{File: file}
			var e *csv.ParseError
			if errors.As(err, &e) {
				pos.Line, pos.Col = e.Line, e.Column
			}
			found.Faultf(pos, "put a cell that holds a comma or a quote mark in quotes, and double the quote mark", "the row breaks the quoting")
			continue
		}
		row := make([]cell, len(record))
		for i, t := range record {
			line, col := r.FieldPos(i)
			row[i] = cell{strings.TrimSpace(t), diag.Pos{File: file, Line: line, Col: col}}
		}
		rows = append(rows, row)
	}
}

// number reads a finite decimal number. The true minus sign is taken; a decimal comma only where commas do not part cells.
func (c cell) number(commaDecimal bool, found *diag.List) (x float64, ok bool) {
	t := strings.ReplaceAll(c.text, "−", "-")
	if commaDecimal && strings.Count(t, ",") == 1 && !strings.Contains(t, ".") {
		t = strings.Replace(t, ",", ".", 1)
	}
	x, err := strconv.ParseFloat(t, 64)
	if err != nil || !finite(x) || strings.ContainsAny(t, "xXpP_") {
		found.Faultf(c.pos, "write digits with a decimal point; the unit stands in the header or in its own cell", "%q is no number", c.text)
		return 0, false
	}
	return x, true
}
