// Package values walks files of check values, so that a failing test names its row and how well the row is supported.
package values

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// Folders are the check values of moisture in this tree, as a calculation's tests see them, and others of the same layout
// where the environment names a folder of them.
func Folders() []string { return In("moisture", "moisture") }

// In is the folder here of this tree's check values, and the folder there of those that the environment names.
func In(here, there string) []string {
	out := []string{filepath.Join("../../../testdata", here)}
	if other := os.Getenv("LAPWORK_REFERENCE"); other != "" {
		out = append(out, filepath.Join(other, there))
	}
	return out
}

// Record is one row by column name; "first" is its first column, the row's name.
type Record map[string]string

// Number gives a column's number; the test ends where it is none.
func (r Record) Number(t *testing.T, column string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(r[column], 64)
	if err != nil {
		t.Fatalf("column %s: %v", column, err)
	}
	return x
}

// Optional is zero for an empty cell.
func (r Record) Optional(t *testing.T, column string) float64 {
	if r[column] == "" {
		return 0
	}
	return r.Number(t, column)
}

// Rows reads a file of check values.
func Rows(t *testing.T, folder, name string) []Record {
	t.Helper()
	f, err := os.Open(filepath.Join(folder, name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []Record
	for _, line := range lines[1:] {
		r := Record{"first": line[0]}
		for c, column := range lines[0] {
			r[column] = line[c]
		}
		out = append(out, r)
	}
	return out
}

// Walk calls check for every row of a file, as a subtest named after the row and its status.
func Walk(t *testing.T, name string, check func(t *testing.T, r Record)) {
	for i, folder := range Folders() {
		for _, r := range Rows(t, folder, name) {
			t.Run(fmt.Sprintf("%d/%s (%s)", i, r["first"], r["status"]), func(t *testing.T) { check(t, r) })
		}
	}
}

// Within compares with an absolute tolerance.
func Within(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.8g, want %.8g ± %.2g", what, got, want, tol)
	}
}

// Must ends the test on an error and passes the value on.
func Must[T any](t *testing.T) func(T, error) T {
	return func(x T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
}
