package roomlist

import (
	"errors"
	"fmt"
	"io"

	"lapwork/generator/diag"
	"lapwork/generator/survey"
	"lapwork/generator/workbook"
)

// list is a sheet with its header found.
type list struct {
	sheet
	header int // row
	cols   []column
	turned bool // rooms stand in columns
}

// Read reads a room list. What is wrong in it goes into the building's findings; an error means that it cannot be read
// at all, or that no header was found.
func Read(name string, data io.ReaderAt, size int64) (*survey.Building, error) {
	in := io.NewSectionReader(data, 0, size)
	head := make([]byte, 8)
	n, err := data.ReadAt(head, 0)
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, err
	}
	var sheets []sheet
	format := "room list (CSV)"
	if survey.IsZip(head[:n]) || workbook.IsCompound(head[:n]) {
		if size > survey.MaxText {
			return nil, survey.ErrTooLong
		}
		format = "room list (XLSX)"
		if sheets, err = readBook(data, size); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
	} else {
		s, err := readText(in)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		sheets = []sheet{s}
	}
	l, ok := find(sheets)
	if !ok {
		return nil, fmt.Errorf("%s: no header of a room list was found: a row (or the first column) with titles such as name, length, width, height, area", name)
	}
	r := &reader{list: l, b: &survey.Building{Source: survey.Source{Name: name, Format: format, Encoding: l.encoding}}, file: name}
	if l.name != "" {
		r.file = name + "!" + l.name
	}
	if l.repaired > 0 {
		r.b.Found.Notef(diag.Pos{File: r.file}, "", "%d bytes are not valid UTF-8 and were read as Windows-1252", l.repaired)
	}
	r.read()
	return r.b, nil
}

// find picks the sheet and row that look most like the header of a room list. Headers stand among the first rows.
func find(sheets []sheet) (list, bool) {
	const deep = 25
	var best list
	top := 0
	for _, s := range sheets {
		for _, turned := range []bool{false, true} {
			t := s
			if turned {
				if len(s.rows) > maxColumns { // a list this long runs down
					continue
				}
				t = s.across()
			}
			for i, row := range t.rows {
				if i >= deep {
					break
				}
				cols := recognise(row)
				if n := score(cols); n > top {
					top, best = n, list{t, i, cols, turned}
				}
			}
		}
	}
	return best, top > 0
}
