package main

import (
	"fmt"
	"math"
	"strconv"

	"github.com/xuri/excelize/v2"

	"lapwork/generator"
	"lapwork/generator/lang"
)

// writeBook writes the lists of an order as one workbook: a sheet each for the order, the deliveries, the pick lists,
// the cut list and the workings. Formulas of the workings stand as text, for reading; figures are numbers, for summing.
func writeBook(path string, order generator.Order, texts *lang.Catalogue) error {
	book := excelize.NewFile()
	sheets := []struct {
		name  string
		table [][]any
	}{{texts.Say("Order"), cells(order.OrderTable(), texts)}, {texts.Say("Deliveries"), cells(order.DeliveryTable(), texts)}, {texts.Say("Loads"), cells(order.LoadTable(), texts)}, {texts.Say("Pick lists"), cells(order.PickTable(), texts)}, {texts.Say("Cut list"), cells(order.CutTable(), texts)}, {texts.Say("Workings"), cells(order.WorkingTable(), texts)}}
	for i, s := range sheets {
		if i == 0 {
			if err := book.SetSheetName("Sheet1", s.name); err != nil {
				return err
			}
		} else if _, err := book.NewSheet(s.name); err != nil {
			return err
		}
		if err := fillSheet(book, s.name, s.table); err != nil {
			return fmt.Errorf("sheet %s: %w", s.name, err)
		}
	}
	if err := book.SaveAs(path); err != nil {
		return err
	}
	return book.Close()
}

// fillSheet writes a table with a bold header that stays in view.
func fillSheet(book *excelize.File, name string, table [][]any) error {
	for i, row := range table {
		if err := book.SetSheetRow(name, fmt.Sprintf("A%d", i+1), &row); err != nil {
			return err
		}
	}
	bold, err := book.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}})
	if err != nil {
		return err
	}
	if err := book.SetRowStyle(name, 1, 1, bold); err != nil {
		return err
	}
	if err := book.SetColWidth(name, "A", "M", 18); err != nil {
		return err
	}
	return book.SetPanes(name, &excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"})
}

// figureColumns are the columns that hold figures; every other column is text, whatever it looks like: an article 00417 keeps
// its noughts, a delivery 1e5 its name.
var figureColumns = map[string]bool{
	"need with waste": true, "amount with waste": true, "packs": true, "pack size": true, "left over": true, "kg": true, "price": true, "amount": true,
	"order lines": true, "loads": true, "load": true, "material": true, "fitting": true,
	"roll": true, "roll length mm": true, "width mm": true, "cut number": true, "cut length mm": true, "left on roll mm": true, "ripped to mm": true,
}

// cells turns the figures of a table under its header into numbers. Text that a spreadsheet would take for a formula stays
// text, since it is written as a string.
func cells(table [][]string, texts *lang.Catalogue) [][]any {
	out := make([][]any, len(table))
	for i, row := range generator.ListIn(table, texts) {
		for k, text := range row {
			if i > 0 && figureColumns[table[0][k]] {
				out[i] = append(out[i], cell(text))
			} else {
				out[i] = append(out[i], text)
			}
		}
	}
	return out
}

// cell is a number where the text is a plain decimal, else the text.
func cell(text string) any {
	x, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(x, 0) || math.IsNaN(x) {
		return text
	}
	return x
}
