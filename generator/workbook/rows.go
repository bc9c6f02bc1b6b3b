package workbook

import (
	"encoding/xml"
	"fmt"
	"strconv"
	"strings"
)

// readShared reads the texts that cells share (18.4.9).
func (b *book) readShared(name string) error {
	return b.each(name, func(x *tokens, e xml.StartElement) error {
		if e.Name.Local != "si" || x.depth != 2 {
			return nil
		}
		text, err := b.richText(x)
		if err != nil {
			return fmt.Errorf("shared text %d: %w", len(b.shared), err)
		}
		if b.shared = append(b.shared, text); len(b.shared) > b.limits.Cells {
			return fmt.Errorf("more than %d texts", b.limits.Cells)
		}
		return nil
	})
}

// richText joins the runs of a text. How a word is pronounced (18.4.6) is no part of it.
func (b *book) richText(x *tokens) (string, error) {
	var out strings.Builder
	take := func() error {
		text, err := x.text(b.limits.Text)
		if err == nil && out.Len()+len(text) > b.limits.Text {
			err = fmt.Errorf("a text of more than %d bytes", b.limits.Text)
		}
		out.WriteString(text)
		return err
	}
	err := x.inside(func(e xml.StartElement) error {
		switch e.Name.Local {
		case "t":
			return take()
		case "r":
			return x.inside(func(e xml.StartElement) error {
				if e.Name.Local == "t" {
					return take()
				}
				return nil
			})
		}
		return nil
	})
	return unescaped(out.String()), err
}

// rows are the rows of a sheet while they are read.
type rows struct {
	*book
	x    *tokens
	rows [][]Cell
	row  int // the one that is read, counted from 0
	col  int
}

// readRows reads the cells of a sheet (18.3.1.80). Rows and cells say where they stand; one that does not follows the one
// before.
func (b *book) readRows(name string) ([][]Cell, error) {
	r := &rows{book: b, row: -1}
	err := b.each(name, func(x *tokens, e xml.StartElement) error {
		if e.Name.Local != "row" || x.depth != 3 { // worksheet, sheetData, row
			return nil
		}
		r.x = x
		return r.readRow(e)
	})
	return r.rows, err
}

func (r *rows) readRow(e xml.StartElement) error {
	r.row, r.col = r.row+1, -1
	if at := attr(e, "r"); at != "" {
		n, err := strconv.Atoi(at)
		if err != nil || n < 1 || n > mostRows {
			return fmt.Errorf("there is no row %q", clip(at))
		}
		r.row = n - 1
	}
	return r.x.inside(func(e xml.StartElement) error {
		if e.Name.Local != "c" {
			return nil
		}
		r.col++
		if at := attr(e, "r"); at != "" {
			col, ok := columnOf(at)
			if !ok {
				return fmt.Errorf("there is no cell %q", clip(at))
			}
			r.col = col
		}
		c, err := r.readCell(attr(e, "t"))
		if err != nil {
			return fmt.Errorf("cell %s%d: %w", columnName(r.col), r.row+1, err)
		}
		return r.keep(c)
	})
}

// clip keeps a message from being as long as the file.
func clip(s string) string {
	const most = 40
	if len(s) > most {
		return strings.ToValidUTF8(s[:most], "") + "…"
	}
	return s
}

// readCell reads the value of a cell by its type (18.18.11).
func (r *rows) readCell(kind string) (c Cell, err error) {
	value, rich := "", ""
	err = r.x.inside(func(e xml.StartElement) (err error) {
		switch e.Name.Local {
		case "v":
			value, err = r.x.text(r.limits.Text)
		case "is":
			rich, err = r.richText(r.x)
		}
		return err
	})
	if err != nil {
		return c, err
	}
	switch kind {
	case "inlineStr":
		if rich != "" {
			value = rich
		}
		return Text(value), nil
	case "s":
		if value == "" {
			return c, nil
		}
		i, err := strconv.Atoi(strings.TrimSpace(value))
		if err != nil || i < 0 || i >= len(r.shared) {
			return c, fmt.Errorf("there is no shared text %q among %d", clip(value), len(r.shared))
		}
		return Text(r.shared[i]), nil
	case "str": // of a formula
		return Text(unescaped(value)), nil
	case "b", "e", "d": // true or false as 1 or 0, an error by its name, a day by its name
		return Text(value), nil
	}
	return Cell{value, true}, nil
}

// keep puts a cell that holds something where it stands.
func (r *rows) keep(c Cell) error {
	switch {
	case c.Text == "":
		return nil
	case r.row >= r.limits.Rows:
		return fmt.Errorf("more than %d rows: cell %s%d holds something", r.limits.Rows, columnName(r.col), r.row+1)
	case r.col >= r.limits.Columns:
		return fmt.Errorf("more than %d columns: cell %s%d holds something", r.limits.Columns, columnName(r.col), r.row+1)
	}
	if more := r.row + 1 - len(r.rows); more > 0 {
		r.rows = append(r.rows, make([][]Cell, more)...)
	}
	row := &r.rows[r.row]
	if more := r.col + 1 - len(*row); more > 0 {
		if r.cells -= more; r.cells < 0 {
			return fmt.Errorf("more than %d cells", r.limits.Cells)
		}
		*row = append(*row, make([]Cell, more)...)
	}
	(*row)[r.col] = c
	return nil
}
