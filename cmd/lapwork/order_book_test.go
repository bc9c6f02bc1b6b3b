package main

import (
	"math"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/xuri/excelize/v2"

	"lapwork/generator"
)

// The workbook holds the rows of the lists, numbers as numbers, and no formula: text from a job cannot become one.
func TestBookHoldsTheLists(t *testing.T) {
	order := generator.Order{
		Lines: []generator.OrderLine{{Delivery: "storey-0", Component: "tape", Name: "=HYPERLINK(\"x\")", Need: 30.4776, Unit: "m", Packs: 2, PackSize: 25}},
		Works: []generator.WorkingLine{{Delivery: "storey-0", Component: "tape", Place: "A6-W2+C1", Amount: 3.996, Unit: "m", Formula: "(length_m+2*tape_end_mm/1000)"}},
	}
	path := filepath.Join(t.TempDir(), "order.xlsx")
	if err := writeBook(path, order, nil); err != nil {
		t.Fatal(err)
	}
	book, err := excelize.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := book.Close(); err != nil {
			t.Error(err)
		}
	}()
	rows, err := book.GetRows("Order")
	if err != nil || len(rows) != 2 || rows[1][2] != "=HYPERLINK(\"x\")" {
		t.Fatalf("rows %v, %v", rows, err)
	}
	if f, err := book.GetCellFormula("Order", "C2"); f != "" || err != nil {
		t.Errorf("job text became the formula %q, %v", f, err)
	}
	if need, err := strconv.ParseFloat(rows[1][4], 64); err != nil || math.Abs(need-30.48) > 0.005 {
		t.Errorf("need is %q", rows[1][4])
	}
	if kind, err := book.GetCellType("Order", "G2"); err != nil || kind == excelize.CellTypeSharedString || kind == excelize.CellTypeInlineString {
		t.Errorf("packs are no number: %v, %v", kind, err)
	}
}
