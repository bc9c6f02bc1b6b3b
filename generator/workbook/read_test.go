package workbook

import (
	"archive/zip"
	"bytes"
	"fmt"
	"math/rand/v2"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"
)

// What the library writes is read as the library itself reads it, values as stored: text in one piece and in runs, figures,
// days, formulas, true and false, cells here and there, several sheets, one of them hidden.
func TestReadsWhatReferenceWrites(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		book := excelize.NewFile()
		names := []string{"Sheet1"}
		for i := range rapid.IntRange(0, 2).Draw(t, "more sheets") {
			names = append(names, fmt.Sprintf("Größe & %d", i))
			if _, err := book.NewSheet(names[len(names)-1]); err != nil {
				t.Fatal(err)
			}
		}
		for _, name := range names {
			for range rapid.IntRange(0, 12).Draw(t, "cells") {
				at, err := excelize.CoordinatesToCellName(rapid.IntRange(1, 30).Draw(t, "column"), rapid.IntRange(1, 40).Draw(t, "row"))
				if err == nil {
					err = setCell(t, book, name, at)
				}
				if err != nil {
					t.Fatal(err)
				}
			}
		}
		if len(names) > 1 {
			if err := book.SetSheetVisible(names[1], false); err != nil {
				t.Fatal(err)
			}
		}
		compare(t, book, names)
	})
}

func setCell(t *rapid.T, book *excelize.File, sheet, at string) error {
	switch rapid.IntRange(0, 7).Draw(t, "kind") {
	case 0:
		return book.SetCellValue(sheet, at, rapid.Float64().Draw(t, "figure"))
	case 1:
		return book.SetCellValue(sheet, at, rapid.Int().Draw(t, "figure"))
	case 2:
		return book.SetCellValue(sheet, at, rapid.Bool().Draw(t, "truth"))
	case 3:
		return book.SetCellValue(sheet, at, time.Date(2026, 3, 1, rapid.IntRange(0, 23).Draw(t, "hour"), 30, 0, 0, time.UTC))
	case 4:
		return book.SetCellFormula(sheet, at, "SUM(A1:B2)")
	case 5:
		return book.SetCellRichText(sheet, at, []excelize.RichTextRun{{Text: words().Draw(t, "run")}, {Text: words().Draw(t, "run"), Font: &excelize.Font{Bold: true}}})
	case 6:
		bold, err := book.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}})
		if err != nil {
			return err
		}
		return book.SetCellStyle(sheet, at, at, bold) // a cell that holds nothing
	}
	return book.SetCellValue(sheet, at, words().Draw(t, "text"))
}

func compare(t rapid.TB, book *excelize.File, names []string) {
	t.Helper()
	var out bytes.Buffer
	if err := book.Write(&out); err != nil {
		t.Fatal(err)
	}
	want, got := reference(t, out.Bytes()), readAll(t, out.Bytes())
	if len(got) != len(names) {
		t.Fatalf("%d sheets, want %v", len(got), names)
	}
	for i, name := range names {
		rows, err := want.GetRows(name)
		if err != nil || got[i].Name != name {
			t.Fatalf("sheet %q, want %q: %v", got[i].Name, name, err)
		}
		if diff := cmp.Diff(trimmed(rows), texts(got[i].Rows)); diff != "" {
			t.Fatalf("sheet %s: - library + ours\n%s", name, diff)
		}
	}
}

// The library's way to write long sheets puts texts into the cells themselves.
func TestReadsInlineTexts(t *testing.T) {
	book := excelize.NewFile()
	stream, err := book.NewStreamWriter("Sheet1")
	if err != nil {
		t.Fatal(err)
	}
	for i, row := range [][]any{{"Name", "Länge & <m>"}, {"Hall", 4.25, nil, true}, {[]excelize.RichTextRun{{Text: "two "}, {Text: "runs"}}, excelize.Cell{Formula: "A1", Value: "shown"}}} {
		if err := stream.SetRow(fmt.Sprintf("B%d", 2*i+1), row); err != nil {
			t.Fatal(err)
		}
	}
	if err := stream.Flush(); err != nil {
		t.Fatal(err)
	}
	compare(t, book, []string{"Sheet1"})
}

// parts packs parts as a container.
func parts(t rapid.TB, list ...string) []byte {
	t.Helper()
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for i := 0; i+1 < len(list); i += 2 {
		w, err := z.Create(list[i])
		if err == nil {
			_, err = w.Write([]byte(list[i+1]))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

const (
	oneSheet = `<workbook xmlns="` + mainNames + `" xmlns:r="` + relNames + `"><sheets><sheet name="Rooms" sheetId="1" r:id="a"/></sheets></workbook>`
	oneRel   = `<Relationships xmlns="` + packNames + `relationships"><Relationship Id="a" Type="` + relNames + `/worksheet" Target="worksheets/sheet1.xml"/>` +
		`<Relationship Id="b" Type="` + relNames + `/sharedStrings" Target="sharedStrings.xml"/></Relationships>`
)

// oneOf is a workbook of one sheet with these rows and shared texts.
func oneOf(t rapid.TB, rows, shared string) []byte {
	return parts(t, "xl/workbook.xml", oneSheet, "xl/_rels/workbook.xml.rels", oneRel,
		"xl/worksheets/sheet1.xml", `<worksheet xmlns="`+mainNames+`"><sheetData>`+rows+`</sheetData></worksheet>`,
		"xl/sharedStrings.xml", `<sst xmlns="`+mainNames+`">`+shared+`</sst>`)
}

// Want: by hand, from the clauses named at each reader.
func TestForms(t *testing.T) {
	for _, c := range []struct {
		name, rows, shared string
		want               [][]Cell
	}{
		{"figures as stored", `<row r="1"><c r="A1"><v>4.20</v></c><c r="B1" s="3" t="n"><v>46082.5</v></c><c r="C1"><v>1E-3</v></c></row>`, "", [][]Cell{{{"4.20", true}, {"46082.5", true}, {"1E-3", true}}}},
		{"results of formulas", `<row r="1"><c r="A1"><f>1+1</f><v>2</v></c><c r="B1" t="str"><f>"a"&amp;"b"</f><v>a_x000A_b</v></c><c r="C1" t="e"><f>1/0</f><v>#DIV/0!</v></c><c r="D1" t="b"><v>1</v></c><c r="E1"><f>C1</f></c></row>`, "",
			[][]Cell{{{"2", true}, {"a\nb", false}, {"#DIV/0!", false}, {"1", false}}}},
		{"a day by its name", `<row><c t="d"><v>2026-03-01</v></c></row>`, "", [][]Cell{{{"2026-03-01", false}}}},
		{"shared texts", `<row r="1"><c r="A1" t="s"><v>1</v></c><c r="B1" t="s"><v> 0 </v></c><c r="C1" t="s"/></row>`,
			`<si><t xml:space="preserve"> a </t></si><si><r><rPr><b/></rPr><t>Kü</t></r><r><t>che</t></r><rPh sb="0" eb="1"><t>spoken</t></rPh><phoneticPr fontId="1"/></si>`, [][]Cell{{{"Küche", false}, {" a ", false}}}},
		{"inline texts", `<row r="1"><c r="A1" t="inlineStr"><is><t>one</t></is></c><c r="B1" t="inlineStr"><is><r><t>t</t></r><r><t>wo</t></r><rPh sb="0" eb="1"><t>x</t></rPh></is></c></row>`, "", [][]Cell{{{"one", false}, {"two", false}}}},
		{"escapes", `<row><c t="inlineStr"><is><t>a_x000D__x005F_x0041__xD83E__xDDF1__xD83E_&#65;<![CDATA[<&]]></t></is></c></row>`, "", [][]Cell{{{"a\r_x0041_\U0001F9F1\uFFFDA<&", false}}}},
		{"sparse", `<row r="2"><c r="C2"><v>1</v></c><c><v>2</v></c></row><row><c r="B3"><v>3</v></c></row><row r="6" ht="15"/>`, "",
			[][]Cell{nil, {{}, {}, {"1", true}, {"2", true}}, {{}, {"3", true}}}},
		{"rows out of order", `<row r="2"><c r="A2"><v>2</v></c></row><row r="1"><c r="B1"><v>1b</v></c><c r="A1"><v>1a</v></c></row>`, "", [][]Cell{{{"1a", true}, {"1b", true}}, {{"2", true}}}},
		{"blank to the end of the sheet", `<row r="1"><c r="A1"><v>1</v></c><c r="XFD1" s="1"/></row><row r="1048576"><c r="A1048576" s="1"/></row>`, "", [][]Cell{{{"1", true}}}},
		{"other elements", `<row r="1"><c r="a1"><extLst><ext><v>9</v><row r="7"/></ext></extLst><v>1</v></c><x/></row>`, "", [][]Cell{{{"1", true}}}},
	} {
		got := readAll(t, oneOf(t, c.rows, c.shared))
		if diff := cmp.Diff([]Sheet{{Name: "Rooms", Rows: c.want}}, got); diff != "" {
			t.Errorf("%s: - want + got\n%s", c.name, diff)
		}
	}
}

// Parts are found by what the relationships say, in both sets of names, and by names with capitals or backslashes.
func TestPartsAreFound(t *testing.T) {
	const strict = "http://purl.oclc.org/ooxml/"
	sheet := `<x:worksheet xmlns:x="` + strict + `spreadsheetml/main"><x:sheetData><x:row r="1"><x:c r="A1" t="s"><x:v>0</x:v></x:c></x:row></x:sheetData></x:worksheet>`
	rel := func(target, shared string) string {
		return `<Relationships><Relationship Id="q" Type="` + strict + `officeDocument/relationships/worksheet" Target="` + target + `"/><Relationship Id="c" Type="` + strict + `officeDocument/relationships/chartsheet" Target="chart.xml"/>` +
			`<Relationship Id="h" Type="` + strict + `officeDocument/relationships/hyperlink" Target="file:///x" TargetMode="External"/>` +
			`<Relationship Id="s" Type="` + strict + `officeDocument/relationships/sharedStrings" Target="` + shared + `"/></Relationships>`
	}
	main := `<workbook xmlns:r="` + strict + `officeDocument/relationships"><sheets><sheet name="Chart" r:id="c"/><sheet name="Rooms" state="veryHidden" r:id="q"/></sheets></workbook>`
	texts := "\uFEFF<?xml version=\"1.0\" encoding=\"UTF-8\"?><!-- it's \"here --><sst><si><t>Küche</t></si></sst>"
	root := `<Relationships><Relationship Id="1" Type="` + strict + `officeDocument/relationships/officeDocument" Target="/book/main.xml"/></Relationships>`
	for name, data := range map[string][]byte{
		"relative": parts(t, "_rels/.rels", root, "book/main.xml", main, "book/_rels/main.xml.rels", rel("../sheets/./one.xml", "texts.xml"), "sheets/one.xml", sheet, "book/texts.xml", texts),
		"absolute": parts(t, "_rels/.rels", root, "book/main.xml", main, "book/_rels/main.xml.rels", rel("/sheets/one.xml", "/texts.xml"), "sheets/one.xml", sheet, "texts.xml", texts),
		"capitals": parts(t, `XL\Workbook.xml`, main, `xl\_RELS\workbook.xml.rels`, rel("Sheets/ONE.xml", "SharedStrings.xml"), `xl\sheets\one.xml`, sheet, "xl/sharedstrings.XML", texts),
	} {
		if diff := cmp.Diff([]Sheet{{Name: "Chart"}, {Name: "Rooms", Rows: [][]Cell{{{"Küche", false}}}}}, readAll(t, data)); diff != "" {
			t.Errorf("%s: - want + got\n%s", name, diff)
		}
	}
}

// What cannot be read is refused with the reason.
func TestReadRefuses(t *testing.T) {
	whole := oneOf(t, `<row><c><v>1</v></c></row>`, "")
	for _, c := range []struct {
		name string
		data []byte
		want string
	}{
		{"nothing", nil, "no workbook"},
		{"text", []byte("Name,Area\n"), "no workbook"},
		{"locked or old", []byte(compound + "rest"), ".xls"},
		{"torn", whole[:len(whole)/2], "no workbook"},
		{"another container", parts(t, "mimetype", "text"), "xl/workbook.xml is missing"},
		{"no sheet", parts(t, "xl/workbook.xml", "<workbook><sheets/></workbook>"), "no sheet"},
		{"empty part", parts(t, "xl/workbook.xml", ""), "no sheet"},
		{"sheet without a place", parts(t, "xl/workbook.xml", oneSheet), "sheet Rooms: the workbook does not say"},
		{"sheet missing", parts(t, "xl/workbook.xml", oneSheet, "xl/_rels/workbook.xml.rels", strings.Replace(oneRel, "sharedStrings\"", "x\"", 1)), "sheet Rooms: the part xl/worksheets/sheet1.xml is missing"},
		{"texts missing", parts(t, "xl/workbook.xml", oneSheet, "xl/_rels/workbook.xml.rels", oneRel), "xl/sharedstrings.xml is missing"},
		{"outside", parts(t, "xl/workbook.xml", oneSheet, "xl/_rels/workbook.xml.rels", `<Relationships><Relationship Id="a" Type="x/worksheet" Target="../../../etc/passwd"/></Relationships>`), "the part etc/passwd is missing"},
		{"twice", parts(t, "xl/workbook.xml", oneSheet, "XL/workbook.xml", oneSheet), "two parts"},
		{"text that is not there", oneOf(t, `<row><c t="s"><v>0</v></c></row>`, ""), "cell A1: there is no shared text \"0\""},
		{"text below nought", oneOf(t, `<row><c t="s"><v>-1</v></c></row>`, "<si/>"), "no shared text"},
		{"no reference", oneOf(t, `<row><c r="ZZZZ1"><v>0</v></c></row>`, ""), "there is no cell"},
		{"no row", oneOf(t, `<row r="0"/>`, ""), "there is no row"},
		{"not closed", oneOf(t, `<row><c>`, ""), "syntax"},
		{"an entity of its own", parts(t, "xl/workbook.xml", `<!DOCTYPE a [<!ENTITY b "c">]><workbook>&b;</workbook>`), "entity"},
		{"another encoding", parts(t, "xl/workbook.xml", `<?xml version="1.0" encoding="utf-16"?><workbook/>`), "utf-16"},
	} {
		if _, err := Read(bytes.NewReader(c.data), int64(len(c.data)), roomy); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
}

// Each limit holds, and what lies just below it is read.
func TestReadLimits(t *testing.T) {
	cells := `<row r="3"><c r="A3"><v>1</v></c><c r="D3"><v>1</v></c></row>`
	tight := Limits{Bytes: 4096, Part: 2048, Sheets: 1, Rows: 3, Columns: 4, Cells: 4, Text: 10}
	for _, c := range []struct {
		name string
		data []byte
		want string
	}{
		{"all within", oneOf(t, cells, `<si><t>0123456789</t></si>`), ""},
		{"rows", oneOf(t, cells+`<row><c><v>1</v></c></row>`, ""), "more than 3 rows: cell A4"},
		{"columns", oneOf(t, `<row><c r="E1"><v>1</v></c></row>`, ""), "more than 4 columns: cell E1"},
		{"cells", oneOf(t, cells+`<row r="1"><c><v>1</v></c></row>`, ""), "more than 4 cells"},
		{"texts", oneOf(t, "", strings.Repeat("<si/>", 5)), "more than 4 texts"},
		{"text", oneOf(t, `<row><c><v>01234567890</v></c></row>`, ""), "more than 10 bytes"},
		{"text in runs", oneOf(t, "", `<si><r><t>012345</t></r><r><t>67890</t></r></si>`), "more than 10 bytes"},
		{"sheets", parts(t, "xl/workbook.xml", `<workbook><sheets><sheet name="a"/><sheet name="b"/></sheets></workbook>`), "more than 1 sheets"},
		{"part", oneOf(t, strings.Repeat(" ", 3000), ""), "larger than"},
		{"all parts", oneOf(t, strings.Repeat(" ", 1700), strings.Repeat(" ", 1700)), "larger than"},
		{"depth", parts(t, "xl/workbook.xml", strings.Repeat("<a>", 80)), "deep"},
	} {
		_, err := Read(bytes.NewReader(c.data), int64(len(c.data)), tight)
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
}

// A small file cannot take much memory: what unpacks to a gigabyte, opens elements without end, or gives one element
// attributes without end is given up. Want: within 64 MB for limits of 16 MB.
func TestBombs(t *testing.T) {
	limits := roomy
	limits.Bytes, limits.Part = 16<<20, 16<<20
	for name, content := range map[string]string{
		"blanks":     strings.Repeat(" ", 100<<20),
		"elements":   strings.Repeat("<a>", 20<<20),
		"attributes": "<workbook " + strings.Repeat(`a="" `, 10<<20),
		"ends":       "<workbook " + strings.Repeat(`a=">" `, 10<<20),
		"a name":     "<" + strings.Repeat("a", 50<<20),
		"a remark":   "<!--" + strings.Repeat("a", 50<<20),
		"sheets":     "<workbook><sheets>" + strings.Repeat(`<sheet name="a"/>`, 5<<20),
	} {
		data := parts(t, "xl/workbook.xml", content)
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, err := Read(bytes.NewReader(data), int64(len(data)), limits)
		runtime.ReadMemStats(&after)
		if err == nil || after.TotalAlloc-before.TotalAlloc > 64<<20 {
			t.Errorf("%s, %d bytes: %d MB, %v", name, len(data), (after.TotalAlloc-before.TotalAlloc)>>20, err)
		}
	}
}

// A file that is torn or has a byte changed anywhere is read or refused, never more.
func TestDamage(t *testing.T) {
	whole := bytesOf(t, []Sheet{{Name: "Rooms", Header: true, Rows: [][]Cell{{Text("Name"), Text("Area")}, {Text("Hall"), Number(12.5)}}}, {Name: "Notes"}})
	for i := range whole {
		if _, err := Read(bytes.NewReader(whole[:i]), int64(i), roomy); err == nil {
			t.Fatalf("%d of %d bytes are a workbook", i, len(whole))
		}
	}
	chance := rand.New(rand.NewPCG(1, 2))
	for i := range whole {
		bad := bytes.Clone(whole)
		bad[i] ^= byte(1 + chance.IntN(255))
		_, _ = Read(bytes.NewReader(bad), int64(len(bad)), roomy)
	}
}

// FuzzParts: no panic; what is read stays within the limits, is read again alike, and can be written and read back.
func FuzzParts(f *testing.F) {
	f.Add(oneSheet, oneRel, `<worksheet><sheetData><row r="2"><c r="B2" t="s"><v>0</v></c><c><v>1</v></c></row></sheetData></worksheet>`, `<sst><si><r><t>a</t></r><rPh><t>b</t></rPh></si></sst>`)
	f.Add(oneSheet, oneRel, `<worksheet><sheetData><row><c t="inlineStr"><is><t>_x0001_</t></is></c><c t="b"><v>1</v></c><c t="str"><f/><v>x</v></c></row></sheetData></worksheet>`, `<sst/>`)
	limits := Limits{Bytes: 1 << 20, Part: 1 << 20, Sheets: 4, Rows: 50, Columns: 20, Cells: 300, Text: 500}
	f.Fuzz(func(t *testing.T, main, rels, sheet, shared string) {
		data := parts(t, "xl/workbook.xml", main, "xl/_rels/workbook.xml.rels", rels, "xl/worksheets/sheet1.xml", sheet, "xl/sharedStrings.xml", shared)
		got, err := Read(bytes.NewReader(data), int64(len(data)), limits)
		if err != nil {
			return
		}
		cells := 0
		for i, s := range got {
			if len(s.Rows) > limits.Rows {
				t.Fatalf("%d rows", len(s.Rows))
			}
			for k, row := range s.Rows {
				cells += len(row)
				for n, c := range row {
					if len(c.Text) > limits.Text || n >= limits.Columns {
						t.Fatalf("cell %d of %d bytes", n, len(c.Text))
					}
					got[i].Rows[k][n].Number = false
				}
			}
			got[i].Name = fmt.Sprint(i)
		}
		if cells > limits.Cells {
			t.Fatalf("%d cells", cells)
		}
		if diff := cmp.Diff(got, readAll(t, bytesOf(t, got))); diff != "" {
			t.Fatal(diff)
		}
	})
}

func FuzzRead(f *testing.F) {
	f.Add(oneOf(f, `<row><c><v>1</v></c></row>`, `<si><t>a</t></si>`))
	f.Add([]byte(compound))
	f.Fuzz(func(t *testing.T, data []byte) { _, _ = Read(bytes.NewReader(data), int64(len(data)), roomy) })
}

// What the library's whole format costs to read is measured beside ours, on a list of 2,000 rooms.
func BenchmarkRead(b *testing.B) {
	rows := [][]Cell{{Text("Name"), Text("Length"), Text("Width"), Text("Height")}}
	for i := range 1_999 {
		rows = append(rows, []Cell{Text(fmt.Sprintf("Room %d", i)), Number(4 + float64(i%7)/10), Number(3), Number(2.5)})
	}
	data := bytesOf(b, []Sheet{{Name: "Rooms", Header: true, Rows: rows}})
	b.Run("ours", func(b *testing.B) {
		for b.Loop() {
			readAll(b, data)
		}
	})
	b.Run("library", func(b *testing.B) {
		for b.Loop() {
			if _, err := reference(b, data).GetRows("Rooms"); err != nil {
				b.Fatal(err)
			}
		}
	})
}
