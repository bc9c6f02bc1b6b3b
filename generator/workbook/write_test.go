package workbook

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"

	_ "lapwork/generator/lawtest"
)

// roomy are limits that no test but those of the limits reaches.
var roomy = Limits{Bytes: 64 << 20, Part: 32 << 20, Sheets: 50, Rows: 2_000, Columns: 100, Cells: 200_000, Text: 200_000}

func bytesOf(t rapid.TB, sheets []Sheet) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := Write(&out, sheets); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func readAll(t rapid.TB, data []byte) []Sheet {
	t.Helper()
	sheets, err := Read(bytes.NewReader(data), int64(len(data)), roomy)
	if err != nil {
		t.Fatal(err)
	}
	return sheets
}

// reference opens a workbook with the library that the tests hold this package against.
func reference(t rapid.TB, data []byte) *excelize.File {
	t.Helper()
	book, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	return book
}

// texts are the cells of rows without blank ones at the end, and rows without those.
func texts(rows [][]Cell) [][]string {
	var out [][]string
	for _, row := range rows {
		var one []string
		for _, c := range row {
			one = append(one, c.Text)
		}
		out = append(out, one)
	}
	return trimmed(out)
}

func trimmed(rows [][]string) [][]string {
	out := make([][]string, len(rows))
	for i, row := range rows {
		for len(row) > 0 && row[len(row)-1] == "" {
			row = row[:len(row)-1]
		}
		out[i] = append([]string{}, row...)
	}
	for len(out) > 0 && len(out[len(out)-1]) == 0 {
		out = out[:len(out)-1]
	}
	return out
}

// words are texts that a workbook might spoil. One more, two escapes that make a pair, stands where this package writes: the
// library writes it as it is and reads nothing.
func words() *rapid.Generator[string] {
	return rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{"=1+1", "+1", "-1", "@x", "00417", "1e5", "true", " a ", "a\nb", "a\r\nb", "\t", "<b>&amp;\"'", "]]>", "_x0041_", "_x005F_", "_x005F_x0041_", "_x_x0001__",
		"\x00", "\x01\x1f\x7f", "\ufffe\uffff", "\u0085\u2028", "\xff\xc3", "\U0001F9F1", "é", strings.Repeat("long ", 60)}))
}

func cell() *rapid.Generator[Cell] {
	return rapid.OneOf(rapid.Map(words(), Text), rapid.Just(Text("_xD83E__xDDF1_")), rapid.Map(rapid.Float64Range(-1e300, 1e300), Number), rapid.Map(rapid.IntRange(-1000, 100_000), func(n int) Cell { return Number(float64(n)) }))
}

func sheetsOf(t *rapid.T) []Sheet {
	names := rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"Order", "Pick lists", "Größe & <b>", "it's", "=A1", strings.Repeat("é", 31), "1", "_x0041_"}), 1, 4, rapid.ID[string]).Draw(t, "names")
	out := make([]Sheet, len(names))
	for i, name := range names {
		out[i] = Sheet{Name: name, Header: rapid.Bool().Draw(t, "header"), Widths: rapid.SliceOfN(rapid.SampledFrom([]float64{0, 8, 18.5}), 0, 4).Draw(t, "widths"),
			Rows: rapid.SliceOfN(rapid.SliceOfN(cell(), 0, 5), 0, 6).Draw(t, "rows")}
	}
	return out
}

// What is written is read alike by the library and by this package: text as text, figures as figures, nothing as a formula.
func TestReferenceReadsWhatIsWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sheets := sheetsOf(t)
		data := bytesOf(t, sheets)
		if !bytes.Equal(data, bytesOf(t, sheets)) {
			t.Fatal("the same sheets gave other bytes")
		}
		book, own := reference(t, data), readAll(t, data)
		for i, s := range sheets {
			want := make([][]Cell, len(s.Rows))
			for k, row := range s.Rows {
				for _, c := range row {
					want[k] = append(want[k], Cell{strings.ToValidUTF8(c.Text, "\uFFFD"), c.Number})
				}
			}
			rows, err := book.GetRows(s.Name)
			if err != nil || own[i].Name != s.Name {
				t.Fatalf("sheet %q, %q: %v", s.Name, own[i].Name, err)
			}
			if diff := cmp.Diff(texts(want), trimmed(rows)); diff != "" {
				t.Fatalf("the library reads otherwise, - want + got\n%s", diff)
			}
			if diff := cmp.Diff(texts(want), texts(own[i].Rows)); diff != "" {
				t.Fatalf("this package reads otherwise, - want + got\n%s", diff)
			}
			checkCells(t, book, s, own[i].Rows)
		}
	})
}

func checkCells(t *rapid.T, book *excelize.File, s Sheet, read [][]Cell) {
	for i, row := range s.Rows {
		for k, c := range row {
			at, err := excelize.CoordinatesToCellName(k+1, i+1)
			if err != nil {
				t.Fatal(err)
			}
			if c.Text == "" {
				continue
			}
			if f, err := book.GetCellFormula(s.Name, at); f != "" || err != nil {
				t.Fatalf("%s is the formula %q, %v", at, f, err)
			}
			kind, err := book.GetCellType(s.Name, at)
			if number := kind == excelize.CellTypeNumber || kind == excelize.CellTypeUnset; err != nil || number != c.Number || read[i][k].Number != c.Number {
				t.Fatalf("%s %q is of type %v, %v", at, c.Text, kind, err)
			}
		}
	}
}

// The first row is bold and stays, columns are as wide as said: as the library sees it.
func TestHeaderAndWidths(t *testing.T) {
	data := bytesOf(t, []Sheet{{Name: "Order", Header: true, Widths: []float64{18, 0, 300}, Rows: [][]Cell{{Text("name"), Text("kg")}, {Text("tape"), Number(2.5)}}}, {Name: "Plain", Rows: [][]Cell{{Text("a")}}}})
	book := reference(t, data)
	for _, c := range []struct {
		sheet, cell string
		bold        bool
	}{{"Order", "A1", true}, {"Order", "B1", true}, {"Order", "A2", false}, {"Order", "B2", false}, {"Plain", "A1", false}} {
		id, err := book.GetCellStyle(c.sheet, c.cell)
		if err != nil {
			t.Fatal(err)
		}
		style, err := book.GetStyle(id)
		if err != nil || (style.Font != nil && style.Font.Bold) != c.bold {
			t.Errorf("%s!%s: %+v, %v", c.sheet, c.cell, style.Font, err)
		}
	}
	if p, err := book.GetPanes("Order"); err != nil || !p.Freeze || p.YSplit != 1 || p.TopLeftCell != "A2" {
		t.Errorf("panes %+v, %v", p, err)
	}
	if p, err := book.GetPanes("Plain"); err != nil || p.Freeze {
		t.Errorf("panes %+v, %v", p, err)
	}
	// 9.14 is what the library says of a column without a width; 255 is the widest there is.
	for col, want := range map[string]float64{"A": 18, "B": 9.140625, "C": 255, "D": 9.140625} {
		if got, err := book.GetColWidth("Order", col); err != nil || math.Abs(got-want) > 0.01 {
			t.Errorf("column %s is %v wide, %v", col, got, err)
		}
	}
	if book.GetActiveSheetIndex() != 0 {
		t.Error("the first sheet is not the one shown")
	}
}

// Names and cells that the format cannot hold are refused with the reason.
func TestWriteRefuses(t *testing.T) {
	for _, c := range []struct {
		sheets []Sheet
		want   string
	}{
		{nil, "needs a sheet"},
		{[]Sheet{{}}, "has no name"},
		{[]Sheet{{Name: strings.Repeat("é", 32)}}, "longer than 31"},
		{[]Sheet{{Name: strings.Repeat("\U0001F9F1", 16)}}, "longer than 31"},
		{[]Sheet{{Name: "a/b"}}, `'/'`}, {[]Sheet{{Name: `a\b`}}, `'\\'`}, {[]Sheet{{Name: "[a"}}, `'['`}, {[]Sheet{{Name: "a]"}}, `']'`}, {[]Sheet{{Name: "a:b"}}, `':'`},
		{[]Sheet{{Name: "a*"}}, `'*'`}, {[]Sheet{{Name: "a?"}}, `'?'`}, {[]Sheet{{Name: "a\x01"}}, `'\x01'`},
		{[]Sheet{{Name: "'a"}}, "apostrophe"},
		{[]Sheet{{Name: "Ärger"}, {Name: "ärger"}}, "two sheets"},
		{[]Sheet{{Name: "a", Rows: [][]Cell{{}, {{}, Number(math.Inf(1))}}}}, "sheet a: cell B2 is no figure"},
		{[]Sheet{{Name: "a", Rows: [][]Cell{{Number(math.NaN())}}}}, "cell A1 is no figure"},
		{[]Sheet{{Name: "a", Rows: [][]Cell{{{"1<2", true}}}}}, "cell A1 is no figure"},
		{[]Sheet{{Name: "a", Rows: [][]Cell{{Text(strings.Repeat("é", mostText+1))}}}}, "cell A1 holds more than 32767"},
		{[]Sheet{{Name: "a", Rows: [][]Cell{make([]Cell, mostColumns+1)}}}, "row 1 has more than"},
		{[]Sheet{{Name: "a", Rows: make([][]Cell, mostRows+1)}}, "more than 1048576 rows"},
	} {
		if err := Write(&bytes.Buffer{}, c.sheets); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%.60v: %v, want %q", c.sheets, err, c.want)
		}
	}
	// The longest text that is allowed is written and read.
	long := strings.Repeat("é", mostText)
	if got := readAll(t, bytesOf(t, []Sheet{{Name: "a", Rows: [][]Cell{{Text(long)}}}})); got[0].Rows[0][0].Text != long {
		t.Error("the longest text is not kept")
	}
}

// Columns: want by the library.
func TestColumns(t *testing.T) {
	for i := range mostColumns {
		want, err := excelize.ColumnNumberToName(i + 1)
		if got := columnName(i); err != nil || got != want {
			t.Fatalf("column %d is %s, %v", i, got, err)
		}
		if back, ok := columnOf(want + "7"); !ok || back != i {
			t.Fatalf("%s7 is column %d", want, back)
		}
	}
	for _, bad := range []string{"", "7", "A", "A0", "XFE1", "A1048577", "A-1", "$A$1", "A1B", strings.Repeat("A", 99) + "1"} {
		if _, ok := columnOf(bad); ok {
			t.Errorf("%q was taken for a cell", bad)
		}
	}
	if names := []string{columnName(0), columnName(25), columnName(26), columnName(701), columnName(702)}; !slices.Equal(names, []string{"A", "Z", "AA", "ZZ", "AAA"}) {
		t.Error(names)
	}
}
