package table_test

import (
	"strings"
	"testing"

	"lapwork/generator/calc/table"
	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

var columns = []string{"id", "size", "status"}

func TestCells(t *testing.T) {
	var found diag.List
	rows := table.Read("t.csv", []byte("\ufeff# note\nstatus,id,size\nsecondary, a ,2.5\n"), columns, &found)
	if len(rows) != 1 || found.Err() != nil {
		t.Fatalf("%d rows, %v", len(rows), found.Err())
	}
	r := rows[0]
	if r.Need("id") != "a" || r.Number("size", 0, 10) != 2.5 || r.Status("status") != q.Secondary || !r.OK() {
		t.Errorf("read %q, ok %v", r.Text("id"), r.OK())
	}
	if r.Pos != (diag.Pos{File: "t.csv", Line: 3, Col: 1}) {
		t.Errorf("at %v", r.Pos)
	}
}

func TestFaults(t *testing.T) {
	for text, want := range map[string]string{
		"":                                   "the table is empty",
		"id,size\n":                          `column "status" is missing`,
		"id,size,status,id\n":                `t.csv:1:16: column "id" stands twice`,
		"id,size,status,x\na,1,computed,1\n": `unknown column "x"`,
		"id,size,status\na,1\n":              "t.csv:2:1: this row has 2 cells, the header has 3",
		"id,size,status\n\"a,1\n":            "breaks the quoting",
		"id,size,status\n,1,computed\n":      `t.csv:2:1: column "id": empty`,
		"id,size,status\na,NaN,computed\n":   `t.csv:2:3: column "size": not a number from 0 to 10`,
		"id,size,status\na,1,sure\n":         "unknown status",
	} {
		var found diag.List
		for _, r := range table.Read("t.csv", []byte(text), columns, &found) {
			r.Need("id")
			r.Number("size", 0, 10)
			r.Status("status")
		}
		if err := found.Err(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

// No input makes the reader panic, and every finding lies inside the file.
func FuzzRead(f *testing.F) {
	f.Add([]byte("id,size,status\na,1,computed\n"))
	f.Add([]byte("\ufeff# c\nid,size,status\n\"a,b\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		var found diag.List
		for _, r := range table.Read("t.csv", text, columns, &found) {
			if x := r.Number("size", 0, 10); !(x >= 0 && x <= 10) {
				t.Fatalf("size %v", x)
			}
		}
		lines := 1 + strings.Count(string(text), "\n")
		for _, x := range found.Sorted() {
			if x.Pos.Line > lines {
				t.Fatalf("%v is past line %d", x, lines)
			}
		}
	})
}
