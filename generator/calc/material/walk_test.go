package material_test

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// folders are the check values of this tree, and others of the same layout if the environment names a folder of them.
func folders() []string {
	out := []string{"../../../testdata/moisture"}
	if other := os.Getenv("LAPWORK_REFERENCE"); other != "" {
		out = append(out, filepath.Join(other, "moisture"))
	}
	return out
}

// record is one row by column name.
type record map[string]string

func (r record) number(t *testing.T, column string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(r[column], 64)
	if err != nil {
		t.Fatalf("column %s: %v", column, err)
	}
	return x
}

// walk calls check for every row of a file, as a subtest named after the row and its status.
func walk(t *testing.T, name string, check func(t *testing.T, r record)) {
	for i, folder := range folders() {
		f, err := os.Open(filepath.Join(folder, name))
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		rows, err := csv.NewReader(f).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range rows[1:] {
			r := record{}
			for c, column := range rows[0] {
				r[column] = row[c]
			}
			t.Run(fmt.Sprintf("%d/%s (%s)", i, row[0], r["status"]), func(t *testing.T) { check(t, r) })
		}
	}
}

// within compares with an absolute tolerance.
func within(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.8g, want %.8g ± %.2g", what, got, want, tol)
	}
}
