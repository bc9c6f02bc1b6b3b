package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"

	"lapwork/content"
	"lapwork/generator"
	"lapwork/generator/pack"
	"lapwork/generator/workbook"
	"lapwork/templates"
	"lapwork/themes"
)

// listed is the order of a job as `order --out` writes it, and the materials page of its pack.
type listed struct {
	*testing.T
	dir  string
	book *excelize.File
	page *pack.Materials
}

func listJob(t *testing.T, name string) listed {
	t.Helper()
	jobFS, args := fs.FS(os.DirFS(filepath.Join("..", "..", "testdata", "jobs", name))), []string{"order", "../../testdata/jobs/" + name}
	firm := fs.FS(nil)
	if name == "" {
		var err error
		if jobFS, err = fs.Sub(content.FS, "demo"); err != nil {
			t.Fatal(err)
		}
		firm, args = jobFS, []string{"order"}
	}
	out := listed{T: t, dir: filepath.Join(t.TempDir(), "lists")}
	if code := run(append(args, "--out", out.dir)); code != 0 {
		t.Fatalf("exit code %d", code)
	}
	r, _, err := generator.Compute(context.Background(), generator.Options{Sources: generator.Sources{Job: jobFS, Firm: firm,
		Content: content.FS, Templates: templates.FS, Theme: themes.FS, JobName: name}})
	if err != nil {
		t.Fatal(err)
	}
	pk, err := pack.Assemble(r, pack.Build{})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range pk.Pages {
		if p.Materials != nil {
			out.page = p.Materials
		}
	}
	if out.book, err = excelize.OpenFile(filepath.Join(out.dir, "order.xlsx")); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := out.book.Close(); err != nil {
			t.Error(err)
		}
	})
	return out
}

// sheet reads a sheet of the workbook as rows by header.
func (l listed) sheet(name string) []map[string]string {
	l.Helper()
	rows, err := l.book.GetRows(name, excelize.Options{RawCellValue: true})
	if err != nil || len(rows) < 1 || len(rows) < 2 && name != "Loads" {
		l.Fatalf("sheet %s: %d rows, %v", name, len(rows), err)
	}
	var out []map[string]string
	for _, row := range rows[1:] {
		one := map[string]string{}
		for i, head := range rows[0] {
			if i < len(row) {
				one[head] = row[i]
			}
		}
		out = append(out, one)
	}
	return out
}

// figure reads a cell that holds a number or nothing.
func (l listed) figure(text string) float64 {
	l.Helper()
	if text == "" {
		return 0
	}
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		l.Errorf("%q is no figure", text)
	}
	return x
}

// The workbook says what the files beside it say, and adds up to what the materials page says.
func TestBookEqualsFilesAndPage(t *testing.T) {
	for _, name := range []string{"", "terrace", "bungalow"} {
		l := listJob(t, name)
		l.files()
		l.materials()
	}
}

// files holds each cell of the workbook against its CSV file: figures as numbers, everything else as text, letter by letter.
func (l listed) files() {
	l.Helper()
	for sheet, file := range map[string]string{"Order": "order", "Deliveries": "deliveries", "Loads": "loads", "Pick lists": "picks", "Cut list": "cuts", "Workings": "workings"} {
		data, err := os.ReadFile(filepath.Join(l.dir, file+".csv"))
		if err != nil {
			l.Fatal(err)
		}
		want, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
		if err != nil {
			l.Fatal(err)
		}
		got := l.sheet(sheet)
		if len(got) != len(want)-1 {
			l.Errorf("%s: %d rows in the workbook, %d in the file", sheet, len(got), len(want)-1)
			continue
		}
		for i, row := range want[1:] {
			for k, text := range row {
				head, cell := want[0][k], got[i][want[0][k]]
				if same := cell == text || figureColumns[head] && text != "" && l.figure(cell) == l.figure(text); !same {
					l.Errorf("%s, row %d, %s: %q in the workbook, %q in the file", sheet, i+2, head, cell, text)
				}
			}
		}
	}
}

// materials holds the sums of the workbook against the text of the materials page: need, packs and money of each component
// and delivery, the money and weight of each delivery, the whole job's, and each room's share.
func (l listed) materials() {
	l.Helper()
	order, deliveries := l.sheet("Order"), l.sheet("Deliveries")
	if len(deliveries) != len(l.page.Deliveries)+1 {
		l.Fatalf("%d deliveries in the workbook, %d on the page", len(deliveries)-1, len(l.page.Deliveries))
	}
	lines := 0
	for i, d := range l.page.Deliveries {
		mine := only(order, "delivery", d.ID)
		lines += len(mine)
		l.rows(d.ID, mine, d.Rows)
		l.sums(deliveries[i], mine, d.Cost, d.ID)
		l.loads(deliveries[i], mine, d.Loads)
		if kg := l.figure(deliveries[i]["kg"]); !strings.HasPrefix(d.Mass, fmt.Sprintf("About %.1f kg", kg)) {
			l.Errorf("%s: %.1f kg in the workbook, %q on the page", d.ID, kg, d.Mass)
		}
	}
	if lines != len(order) {
		l.Errorf("%d lines of %d belong to a delivery of the page", lines, len(order))
	}
	l.rows("all", order, l.page.Total)
	l.sums(deliveries[len(deliveries)-1], order, l.page.Cost, "all")
	picks := l.sheet("Pick lists")
	for _, room := range l.page.ByRoom {
		id, _, _ := strings.Cut(room.Room.Text, " ")
		mine := only(picks, "room", id)
		lines += len(mine)
		l.needs(id, mine, room.Rows)
	}
	if lines != len(order)+len(picks) {
		l.Error("the workbook picks for rooms that are not on the page")
	}
}

// loads holds what goes up at once against the delivery: every pack once, as many loads as its line says, and the page's.
func (l listed) loads(delivery map[string]string, order []map[string]string, page []pack.LoadView) {
	l.Helper()
	rows := only(l.sheet("Loads"), "delivery", delivery["delivery"])
	packs, loads := map[string]float64{}, map[string]bool{}
	kg := 0.0
	for _, row := range rows {
		packs[key(row["component"], row["name"])] += l.figure(row["packs"])
		loads[row["load"]] = true
		kg += l.figure(row["kg"])
	}
	if len(rows) == 0 {
		if n := delivery["loads"]; n != "" && n != "1" || len(page) > 0 {
			l.Errorf("%s: %s loads, %d on the page, and none listed", delivery["delivery"], n, len(page))
		}
		return
	}
	for _, row := range order {
		packs[key(row["component"], row["name"])] -= l.figure(row["packs"])
	}
	for k, n := range packs {
		if n != 0 {
			l.Errorf("%s: the loads hold %+g packs of %s more than the order", delivery["delivery"], n, k)
		}
	}
	terms := 0
	for _, v := range page {
		terms += len(v.Packs)
	}
	if l.figure(delivery["loads"]) != float64(len(loads)) || len(page) != len(loads) || terms != len(rows) || math.Abs(kg-l.figure(delivery["kg"])) > 0.05*float64(len(rows)+1) {
		l.Errorf("%s: %s loads of %s kg, %d with %d rows of %.1f kg listed, %d with %d on the page", delivery["delivery"], delivery["loads"], delivery["kg"], len(loads), len(rows), kg, len(page), terms)
	}
}

// only gives the rows with a text in a column.
func only(rows []map[string]string, column, text string) []map[string]string {
	return slices.DeleteFunc(slices.Clone(rows), func(row map[string]string) bool { return row[column] != text })
}

// key tells components apart, and widths of sheet.
func key(component, name string) string {
	if strings.Contains(name, " mm wide") {
		fields := strings.Split(name, ", ")
		return component + ", " + ungrouped(fields[len(fields)-1])
	}
	return component
}

// needs compares what each component needs. Needs stand with two digits in the lists, so a line may differ by half a
// hundredth from the page's two digits; what is counted whole (pieces, millilitres) is rounded up in each line and again in
// the page's sum, so that lines added up may be as many more as there are lines but one.
func (l listed) needs(where string, rows []map[string]string, page []pack.MaterialRow) {
	l.Helper()
	need, count, shown, whole := map[string]float64{}, map[string]float64{}, map[string]float64{}, map[string]bool{}
	for _, row := range rows {
		k := key(row["component"], row["name"])
		need[k] += l.figure(row["need with waste"])
		count[k]++
	}
	for _, row := range page {
		k := key(row.ID, row.Name)
		shown[k] += l.figure(ungrouped(row.Net))
		whole[k] = !strings.Contains(row.Net, ".")
		if count[k] == 0 {
			l.Errorf("%s: %s is on the page only", where, k)
		}
	}
	for k, x := range need {
		least, most := -0.005*(count[k]+1)-1e-9, 0.005*(count[k]+1)+1e-9
		if whole[k] {
			least, most = 1-count[k], 0
		}
		if more := shown[k] - x; more < least || more > most {
			l.Errorf("%s: %s is %.2f in the workbook, %.2f on the page", where, k, x, shown[k])
		}
	}
}

// rows compares need, packs and money of each component.
func (l listed) rows(where string, rows []map[string]string, page []pack.MaterialRow) {
	l.Helper()
	l.needs(where, rows, page)
	packs, amount, shown, used := map[string]float64{}, map[string]float64{}, map[string]float64{}, map[string]float64{}
	for _, row := range rows {
		k := key(row["component"], row["name"])
		if row["remark"] == "from leftovers and offcuts" {
			used[k] -= l.figure(row["need with waste"])
		}
		packs[k] += l.figure(row["packs"])
		amount[k] += l.figure(row["amount"])
	}
	for _, row := range page {
		k := key(row.ID, row.Name)
		for part := range strings.SplitSeq(row.Packs, " + ") { // 2 × 50 m + 1 × 25 m
			n, _, rolls := strings.Cut(part, " × ")
			if area, _, left := strings.Cut(part, " m² from leftovers and offcuts"); left {
				used[k] += l.figure(ungrouped(area))
			} else if rolls || part == row.Packs {
				shown[k] += l.figure(n)
			}
		}
		if _, sum, priced := strings.Cut(row.Price, " = "); priced {
			sum, _, _ = strings.Cut(ungrouped(sum), " ")
			if got := fmt.Sprintf("%.2f", amount[k]); got != sum {
				l.Errorf("%s: %s costs %s in the workbook, %s on the page", where, k, got, sum)
			}
		} else if amount[k] != 0 {
			l.Errorf("%s: %s costs %.2f in the workbook and nothing on the page", where, k, amount[k])
		}
	}
	for k, x := range used {
		if math.Abs(x) > 0.02 {
			l.Errorf("%s: of %s, %+.2f m² from leftovers on the page beside the workbook", where, k, x)
		}
	}
	for k, n := range packs {
		if n != shown[k] {
			l.Errorf("%s: %g packs of %s in the workbook, %g on the page", where, n, k, shown[k])
		}
	}
}

// sums compares a line of the deliveries with the lines of the order and with the page's text.
func (l listed) sums(row map[string]string, lines []map[string]string, cost []pack.Term, where string) {
	l.Helper()
	sum, count, kg := 0.0, 0, 0.0
	for _, line := range lines {
		sum += l.figure(line["amount"])
		kg += l.figure(line["kg"])
		if line["packs"] != "0" {
			count++
		}
	}
	if l.figure(row["order lines"]) != float64(count) {
		l.Errorf("%s: %s lines listed, %d counted", where, row["order lines"], count)
	}
	if math.Abs(l.figure(row["kg"])-kg) > 0.05*float64(len(lines)+1) {
		l.Errorf("%s: %s kg listed, the lines add up to %.1f", where, row["kg"], kg)
	}
	if len(cost) == 0 {
		if row["material"] != "" || sum != 0 {
			l.Errorf("%s: %q and %g where the page has no money", where, row["material"], sum)
		}
		return
	}
	if text := fmt.Sprintf("%.2f %s", l.figure(row["material"]), row["currency"]); text != ungrouped(cost[0].Text) || math.Abs(sum-l.figure(row["material"])) > 1e-6 {
		l.Errorf("%s: material %s, the lines add up to %.2f, the page says %s", where, text, sum, cost[0].Text)
	}
	fitting := fmt.Sprintf("%.2f %s", l.figure(row["fitting"]), row["currency"])
	if row["fitting"] != "" && !slices.ContainsFunc(cost, func(t pack.Term) bool { return strings.Contains(ungrouped(t.Text), ": "+fitting+" (") }) {
		l.Errorf("%s: fitting %s is not on the page: %v", where, fitting, cost)
	}
}

// ungrouped takes the thin spaces between thousands out of a figure of the page.
func ungrouped(text string) string { return strings.ReplaceAll(text, "\u202f", "") }

// Only figures are numbers: what merely looks like one stays as it is written.
func TestBookKeepsText(t *testing.T) {
	got := cells([][]string{{"delivery", "article", "packs", "price"}, {"1e5", "00417", "2", ""}, {"0x10", "4006381333931000000", "x", "NaN"}}, nil)
	text := workbook.Text
	want := [][]workbook.Cell{{text("delivery"), text("article"), text("packs"), text("price")}, {text("1e5"), text("00417"), workbook.Number(2), text("")},
		{text("0x10"), text("4006381333931000000"), text("x"), text("NaN")}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("- want + got\n%s", diff)
	}
}
