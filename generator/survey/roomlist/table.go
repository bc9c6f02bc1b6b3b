package roomlist

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"

	"lapwork/generator/survey"
	"lapwork/generator/workbook"
)

// What a list may hold at most; larger ones are no room lists.
const (
	maxRows    = 20_000
	maxColumns = 400
	maxCell    = 2_000
)

// sheet is a table of cells as they stand in a file.
type sheet struct {
	name     string // of the workbook's sheet; empty for a text
	rows     [][]string
	comma    bool // decimal comma
	encoding string
	repaired int
}

// errLong is given for more rows or columns than a room list has.
var errLong = fmt.Errorf("more than %d rows or %d columns: this is no room list", maxRows, maxColumns)

// readText reads a text with commas, semicolons or tabs between cells.
func readText(in io.Reader) (sheet, error) {
	text := survey.NewText(survey.Bounded(in))
	data, err := io.ReadAll(text)
	if err != nil {
		return sheet{}, err
	}
	s := sheet{encoding: text.Encoding, repaired: text.Repaired}
	r := csv.NewReader(strings.NewReader(string(data)))
	r.Comma = separator(string(data))
	r.FieldsPerRecord, r.LazyQuotes = -1, true
	line := 0
	for {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return s, err
		}
		at, _ := r.FieldPos(0)
		for line++; line < at && len(s.rows) < maxRows; line++ { // blank lines count as rows, so that findings name the line
			s.rows = append(s.rows, nil)
		}
		if s.rows = append(s.rows, clipped(row)); len(s.rows) > maxRows || len(row) > maxColumns {
			return s, errLong
		}
		if extra := linesIn(row); extra > 0 { // a cell over several lines
			line += extra
			for range extra {
				s.rows = append(s.rows, nil)
			}
		}
	}
	s.comma = r.Comma != ',' && commas(s.rows)
	return s, nil
}

func linesIn(row []string) int {
	n := 0
	for _, c := range row {
		n += strings.Count(c, "\n")
	}
	return min(n, maxRows)
}

func clipped(row []string) []string {
	out := make([]string, len(row))
	for i, c := range row {
		c = strings.TrimSpace(c)
		if len(c) > maxCell {
			c = strings.ToValidUTF8(c[:maxCell], "")
		}
		out[i] = c
	}
	return out
}

// separator is the mark that stands most often in the first lines, outside quotes.
func separator(text string) rune {
	count := map[rune]int{}
	lines, quoted := 0, false
	for _, r := range text {
		switch {
		case r == '"':
			quoted = !quoted
		case quoted:
		case r == '\n':
			if lines++; lines > 20 {
				return most(count)
			}
		case r == ',' || r == ';' || r == '\t':
			count[r]++
		}
	}
	return most(count)
}

func most(count map[rune]int) rune {
	best := ','
	for _, r := range []rune{';', '\t'} { // a text with decimal commas has as many commas as semicolons
		if count[r] > 0 && 2*count[r] >= count[best] {
			best = r
		}
	}
	return best
}

// commas says whether figures have a decimal comma: more of them than with a decimal point. A mark with three digits
// behind it may part thousands and does not count, unless the other mark stands in the same figure.
func commas(rows [][]string) bool {
	comma, point := 0, 0
	for _, row := range rows {
		for _, c := range row {
			m := figure.FindStringSubmatch(c)
			if m == nil {
				continue
			}
			k, p := strings.LastIndexByte(m[1], ','), strings.LastIndexByte(m[1], '.')
			last := max(k, p)
			if last < 0 || len(m[1])-last-1 == 3 && min(k, p) < 0 {
				continue
			}
			if k > p {
				comma++
			} else {
				point++
			}
		}
	}
	return comma > point
}

// bookLimits are what is read of a workbook. Its cells are bounded as a whole, since a few bytes place one far from the others.
var bookLimits = workbook.Limits{Bytes: survey.MaxText, Part: survey.MaxText / 2, Sheets: 500, Rows: maxRows, Columns: maxColumns, Cells: 2_000_000, Text: 1 << 18}

// readBook reads the sheets of a workbook, figures as stored and not as shown.
func readBook(data io.ReaderAt, size int64) ([]sheet, error) {
	book, err := workbook.Read(data, size, bookLimits)
	if err != nil {
		return nil, err
	}
	out := make([]sheet, len(book))
	for i, s := range book {
		out[i] = sheet{name: s.Name, encoding: "XLSX", rows: make([][]string, len(s.Rows))}
		for k, row := range s.Rows {
			texts := make([]string, len(row))
			for n, c := range row {
				texts[n] = c.Text
			}
			out[i].rows[k] = clipped(texts)
		}
	}
	return out, nil
}

// across turns a sheet whose titles stand in its first column.
func (s sheet) across() sheet {
	wide := 0
	for _, row := range s.rows {
		wide = max(wide, len(row))
	}
	out := s
	out.rows = make([][]string, wide)
	for i := range out.rows {
		out.rows[i] = make([]string, len(s.rows))
		for k, row := range s.rows {
			if i < len(row) {
				out.rows[i][k] = row[i]
			}
		}
	}
	return out
}
