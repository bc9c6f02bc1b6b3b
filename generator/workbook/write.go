package workbook

import (
	"archive/zip"
	"bufio"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"time"
)

// written is the time that every part carries, so that the same sheets give the same bytes: the first a zip can name.
var written = time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)

const (
	head      = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n"
	mainNames = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
	relNames  = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	packNames = "http://schemas.openxmlformats.org/package/2006/"
	typeNames = "application/vnd.openxmlformats-officedocument.spreadsheetml."
)

// Cell formats of styles, by number.
const (
	usual = iota
	bold
)

const styles = head + `<styleSheet xmlns="` + mainNames + `">` +
	`<fonts count="2"><font><sz val="11"/><name val="Calibri"/><family val="2"/></font><font><b/><sz val="11"/><name val="Calibri"/><family val="2"/></font></fonts>` +
	`<fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills>` +
	`<borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders>` +
	`<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>` +
	`<cellXfs count="2"><xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/><xf numFmtId="0" fontId="1" fillId="0" borderId="0" xfId="0" applyFont="1"/></cellXfs>` +
	`<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>`

// writer writes one part; its first error is kept by the buffer and told by Flush.
type writer struct{ *bufio.Writer }

func (w writer) put(parts ...string) {
	for _, p := range parts {
		_, _ = w.WriteString(p)
	}
}

// text writes text for people, escaped.
func (w writer) text(s string) { _ = xml.EscapeText(w, []byte(escaped(s))) }

// Write writes sheets as a workbook. The same sheets give the same bytes.
func Write(out io.Writer, sheets []Sheet) error {
	if len(sheets) == 0 {
		return errors.New("a workbook needs a sheet")
	}
	taken := map[string]bool{}
	for _, s := range sheets {
		if err := checkName(s.Name, taken); err != nil {
			return err
		}
	}
	z := zip.NewWriter(out)
	part := func(name string, fill func(w writer) error) error {
		file, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate, Modified: written})
		if err != nil {
			return err
		}
		w := writer{bufio.NewWriter(file)}
		if err := fill(w); err != nil {
			return err
		}
		return w.Flush()
	}
	for _, p := range []struct {
		name string
		fill func(w writer, sheets []Sheet)
	}{{"[Content_Types].xml", writeTypes}, {"_rels/.rels", writeRoot}, {"xl/workbook.xml", writeBook}, {"xl/_rels/workbook.xml.rels", writeBookRels},
		{"xl/styles.xml", func(w writer, _ []Sheet) { w.put(styles) }}} {
		if err := part(p.name, func(w writer) error { p.fill(w, sheets); return nil }); err != nil {
			return err
		}
	}
	for i, s := range sheets {
		if err := part(fmt.Sprintf("xl/worksheets/sheet%d.xml", i+1), func(w writer) error { return writeSheet(w, s, i == 0) }); err != nil {
			return fmt.Errorf("sheet %s: %w", s.Name, err)
		}
	}
	return z.Close()
}

func writeTypes(w writer, sheets []Sheet) {
	w.put(head, `<Types xmlns="`, packNames, `content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>`,
		`<Default Extension="xml" ContentType="application/xml"/>`,
		`<Override PartName="/xl/workbook.xml" ContentType="`, typeNames, `sheet.main+xml"/><Override PartName="/xl/styles.xml" ContentType="`, typeNames, `styles+xml"/>`)
	for i := range sheets {
		w.put(`<Override PartName="/xl/worksheets/sheet`, strconv.Itoa(i+1), `.xml" ContentType="`, typeNames, `worksheet+xml"/>`)
	}
	w.put(`</Types>`)
}

func writeRoot(w writer, _ []Sheet) {
	w.put(head, `<Relationships xmlns="`, packNames, `relationships"><Relationship Id="rId1" Type="`, relNames, `/officeDocument" Target="xl/workbook.xml"/></Relationships>`)
}

func writeBook(w writer, sheets []Sheet) {
	w.put(head, `<workbook xmlns="`, mainNames, `" xmlns:r="`, relNames, `"><sheets>`)
	for i, s := range sheets {
		n := strconv.Itoa(i + 1)
		w.put(`<sheet name="`)
		_ = xml.EscapeText(w, []byte(s.Name)) // its characters are checked
		w.put(`" sheetId="`, n, `" r:id="rId`, n, `"/>`)
	}
	w.put(`</sheets></workbook>`)
}

func writeBookRels(w writer, sheets []Sheet) {
	w.put(head, `<Relationships xmlns="`, packNames, `relationships">`)
	for i := range sheets {
		n := strconv.Itoa(i + 1)
		w.put(`<Relationship Id="rId`, n, `" Type="`, relNames, `/worksheet" Target="worksheets/sheet`, n, `.xml"/>`)
	}
	w.put(`<Relationship Id="rId`, strconv.Itoa(len(sheets)+1), `" Type="`, relNames, `/styles" Target="styles.xml"/></Relationships>`)
}

// writeSheet writes the elements in the order that the schema demands (18.3.1.99).
func writeSheet(w writer, s Sheet, shown bool) error {
	if len(s.Rows) > mostRows {
		return fmt.Errorf("more than %d rows", mostRows)
	}
	w.put(head, `<worksheet xmlns="`, mainNames, `"><sheetViews><sheetView workbookViewId="0"`)
	if shown {
		w.put(` tabSelected="1"`)
	}
	w.put(`>`)
	if s.Header {
		w.put(`<pane ySplit="1" topLeftCell="A2" activePane="bottomLeft" state="frozen"/><selection pane="bottomLeft"/>`)
	}
	w.put(`</sheetView></sheetViews>`)
	writeWidths(w, s.Widths)
	w.put(`<sheetData>`)
	for i, row := range s.Rows {
		format := usual
		if i == 0 && s.Header {
			format = bold
		}
		if err := writeRow(w, strconv.Itoa(i+1), row, format); err != nil {
			return err
		}
	}
	w.put(`</sheetData></worksheet>`)
	return nil
}

func writeWidths(w writer, widths []float64) {
	open := false
	for i, x := range widths {
		if !(x > 0) || i >= mostColumns {
			continue
		}
		if !open {
			w.put(`<cols>`)
			open = true
		}
		n := strconv.Itoa(i + 1)
		w.put(`<col min="`, n, `" max="`, n, `" width="`, strconv.FormatFloat(min(x, 255), 'f', -1, 64), `" customWidth="1"/>`)
	}
	if open {
		w.put(`</cols>`)
	}
}

// writeRow writes the cells that hold something, each with its own format: programs ask the cell, and the row only where
// there is none.
func writeRow(w writer, n string, row []Cell, format int) error {
	if len(row) > mostColumns {
		return fmt.Errorf("row %s has more than %d cells", n, mostColumns)
	}
	w.put(`<row r="`, n)
	style := ""
	if format != usual {
		style = `" s="` + strconv.Itoa(format)
		w.put(style, `" customFormat="1`)
	}
	w.put(`">`)
	for k, c := range row {
		at := columnName(k) + n
		switch {
		case c.Text == "":
		case c.Number:
			x, err := strconv.ParseFloat(c.Text, 64)
			if err != nil || math.IsInf(x, 0) || math.IsNaN(x) {
				return fmt.Errorf("cell %s is no figure: %q", at, c.Text)
			}
			w.put(`<c r="`, at, style, `"><v>`, Number(x).Text, `</v></c>`)
		case units(c.Text) > mostText:
			return fmt.Errorf("cell %s holds more than %d characters", at, mostText)
		default:
			w.put(`<c r="`, at, style, `" t="inlineStr"><is><t xml:space="preserve">`)
			w.text(c.Text)
			w.put(`</t></is></c>`)
		}
	}
	w.put(`</row>`)
	return nil
}
