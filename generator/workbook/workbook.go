// Package workbook writes and reads workbooks of spreadsheets (XLSX): tables of text and figures, and nothing else of what
// the format can hold.
//
// The format is ECMA-376 (ISO/IEC 29500): its parts stand in a zip container with relationships between them (part 2, Open
// Packaging Conventions), cells in worksheets (part 1, SpreadsheetML; clause numbers from memory: 18.3.1.4 cell, 18.3.1.73
// row, 18.4 shared strings, 18.18.11 types of cells, 22.9.2.19 escaped characters). Both sets of names are read, the
// transitional one of part 4, which programs write, and the strict one of part 1.
//
// It is the program's own so that the program stays small: a library for all of the format brings the character sets and
// number formats of every country along, 3 MB, to write six tables and to read one. That library is what the tests hold
// this package against.
package workbook

import "strconv"

// A Sheet is one table of a workbook.
type Sheet struct {
	Name string
	Rows [][]Cell
	// What only a written sheet says.
	Header bool      // the first row is bold and stays in view
	Widths []float64 // of the columns from the first on, in characters; 0 leaves a column as wide as usual
}

// A Cell is text or a figure as it is stored: a day is the number of it, the result of a formula stands for the formula.
type Cell struct {
	Text   string
	Number bool // Text is a decimal number, and stored as one
}

// Text is a cell of text. It never becomes a formula or a figure, whatever it looks like.
func Text(s string) Cell { return Cell{Text: s} }

// Number is a cell with a figure. Write refuses one that is infinite or none.
func Number(x float64) Cell { return Cell{Text: strconv.FormatFloat(x, 'g', -1, 64), Number: true} }

// What a sheet can hold (from memory: the limits that spreadsheet programs state).
const (
	mostRows    = 1 << 20
	mostColumns = 1 << 14
	mostText    = 32_767 // UTF-16 units
	mostName    = 31     // UTF-16 units
)

// columnName is the letters of a column, counted from 0: A to Z, AA to XFD.
func columnName(i int) string {
	name := ""
	for i++; i > 0; i = (i - 1) / 26 {
		name = string(rune('A'+(i-1)%26)) + name
	}
	return name
}

// columnOf gives the column, counted from 0, that a reference such as BC12 names. Its row is that of the row it stands in.
func columnOf(reference string) (int, bool) {
	n, at := 0, 0
	for ; at < len(reference); at++ {
		c := reference[at] &^ 0x20 // small letters are letters
		if c < 'A' || c > 'Z' {
			break
		}
		if n = n*26 + int(c-'A') + 1; n > mostColumns {
			return 0, false
		}
	}
	row, err := strconv.Atoi(reference[at:])
	return n - 1, n > 0 && err == nil && row > 0 && row <= mostRows
}
