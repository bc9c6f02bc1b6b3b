package main

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"strconv"
	"unicode/utf8"

	"lapwork/generator"
	"lapwork/generator/lang"
	"lapwork/generator/workbook"
)

// writeBook writes the lists of an order as one workbook: a sheet each for the order, the deliveries, the pick lists,
// the cut list and the workings. Formulas of the workings stand as text, for reading; figures are numbers, for summing.
func writeBook(path string, order generator.Order, texts *lang.Catalogue) error {
	var sheets []workbook.Sheet
	for _, s := range []struct {
		name  string
		table [][]string
	}{{texts.Say("Order"), order.OrderTable()}, {texts.Say("Deliveries"), order.DeliveryTable()}, {texts.Say("Loads"), order.LoadTable()},
		{texts.Say("Pick lists"), order.PickTable()}, {texts.Say("Cut list"), order.CutTable()}, {texts.Say("Workings"), order.WorkingTable()}} {
		rows := cells(s.table, texts)
		sheets = append(sheets, workbook.Sheet{Name: s.name, Rows: rows, Header: true, Widths: widths(rows)})
	}
	var out bytes.Buffer
	if err := workbook.Write(&out, sheets); err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	return os.WriteFile(path, out.Bytes(), 0o666)
}

// widths are wide enough for what stands in each column, within what can be looked at.
func widths(rows [][]workbook.Cell) []float64 {
	const least, most, beside = 8, 48, 2
	var out []float64
	for _, row := range rows {
		for i, c := range row {
			if i == len(out) {
				out = append(out, least)
			}
			out[i] = max(out[i], min(most, float64(utf8.RuneCountInString(c.Text)+beside)))
		}
	}
	return out
}

// figureColumns are the columns that hold figures; every other column is text, whatever it looks like: an article 00417 keeps
// its noughts, a delivery 1e5 its name.
var figureColumns = map[string]bool{
	"need with waste": true, "amount with waste": true, "packs": true, "pack size": true, "left over": true, "kg": true, "price": true, "amount": true,
	"order lines": true, "loads": true, "load": true, "material": true, "fitting": true,
	"roll": true, "roll length mm": true, "width mm": true, "cut number": true, "cut length mm": true, "left on roll mm": true, "ripped to mm": true,
}

// cells turns the figures of a table under its header into numbers. Text that a spreadsheet would take for a formula stays
// text, since it is written as such.
func cells(table [][]string, texts *lang.Catalogue) [][]workbook.Cell {
	out := make([][]workbook.Cell, len(table))
	for i, row := range generator.ListIn(table, texts) {
		for k, text := range row {
			if i > 0 && figureColumns[table[0][k]] {
				out[i] = append(out[i], cell(text))
			} else {
				out[i] = append(out[i], workbook.Text(text))
			}
		}
	}
	return out
}

// cell is a number where the text is a plain decimal, else the text.
func cell(text string) workbook.Cell {
	x, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(x, 0) || math.IsNaN(x) {
		return workbook.Text(text)
	}
	return workbook.Number(x)
}
