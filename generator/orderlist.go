package generator

import (
	"slices"

	"lapwork/generator/lang"
)

// lists are the lists of an order, and those of lessons, that have nothing in them: their headers.
func lists() [][][]string {
	var none Order
	return [][][]string{none.OrderTable(), none.DeliveryTable(), none.LoadTable(), none.PickTable(), none.CutTable(), none.WorkingTable(), {jobHead}, {kindHead}}
}

// ListWords are what stands over the columns of the lists, and the words that name a list in a workbook.
func ListWords() []string {
	out := []string{"Order", "Deliveries", "Loads", "Pick lists", "Cut list", "Workings", "yes"}
	for _, table := range lists() {
		out = append(out, table[0]...)
	}
	out = slices.DeleteFunc(out, func(head string) bool { return head == "kg" }) // the same in every language
	slices.Sort(out)
	return slices.Compact(out)
}

// ListIn is a list with its header in a language, without marks of what is missing there; figures keep their point. A
// spreadsheet of any country reads figures as numbers from the workbook.
func ListIn(table [][]string, texts *lang.Catalogue) [][]string {
	out := make([][]string, len(table))
	for i, row := range table {
		out[i] = make([]string, len(row))
		for k, cell := range row {
			switch {
			case i == 0 && cell != "kg":
				cell = texts.Text(cell)
			case table[0][k] == "unit" && cell == "each" && !texts.English():
				cell = texts.Text("piece")
			}
			out[i][k] = lang.Plain(cell)
		}
	}
	return out
}
