package record_test

import (
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"lapwork/generator/diag"
	_ "lapwork/generator/lawtest"
	"lapwork/generator/lawtest/tablet"
	"lapwork/generator/record"

	"pgregory.net/rapid"
)

func TestAdmit(t *testing.T) {
	terms := record.Terms{Pack: "ml-12", Now: time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)}
	for _, c := range []struct {
		name   string
		make   func(d *tablet.Tablet)
		level  diag.Level
		want   string
		photos int
	}{
		{"another job", func(d *tablet.Tablet) { d.Pack = "ml-13"; d.Tick("a", "yes") }, diag.Fault, `belongs to pack "ml-13"`, 0},
		{"a record of another job", func(d *tablet.Tablet) { d.Pack = "ml-13"; d.Tick("a", "yes"); d.Pack = "ml-12" }, diag.Fault, `"ml-13"`, 0},
		{"a photo too large", func(d *tablet.Tablet) { d.Snap("a", 1); d.Attach("a", make([]byte, record.MaxPhoto+1)) }, diag.Open, "larger than 8 MB", 1},
		{"a photo that is none", func(d *tablet.Tablet) { d.Snap("a", 1); d.Attach("a", []byte("<script>")) }, diag.Open, "not a JPEG", 1},
		{"a clock two days ahead", func(d *tablet.Tablet) { d.Clock = terms.Now.Add(48 * time.Hour); d.Snap("a", 1) }, diag.Note, "clock of tablet", 1},
	} {
		d := tablet.New(t, "ml-12", 0)
		c.make(d)
		got, found := terms.Admit("x", record.Export{Pack: d.Pack, Records: d.Records, Photos: d.Photos})
		list := found.Sorted()
		if len(list) != 1 || list[0].Level != c.level || !strings.Contains(list[0].Msg, c.want) {
			t.Errorf("%s: %v, want one %v with %q", c.name, list, c.level, c.want)
		}
		if want := len(d.Records); len(got.Photos) != c.photos || c.level != diag.Fault && len(got.Records) != want || c.level == diag.Fault && len(got.Records) != 0 {
			t.Errorf("%s: %d records and %d photos admitted", c.name, len(got.Records), len(got.Photos))
		}
	}
	// A clock within a day is a time zone, or a tablet that is a little wrong.
	d := tablet.New(t, "ml-12", 0)
	d.Clock = terms.Now.Add(23 * time.Hour)
	d.Tick("a", "yes")
	if _, found := terms.Admit("x", record.Export{Pack: "ml-12", Records: d.Records}); len(found.Sorted()) != 0 {
		t.Errorf("23 hours ahead: %v", found.Sorted())
	}
}

func TestPackID(t *testing.T) {
	for in, want := range map[string]string{"26-014": "26-014", "ML 12/3": "ML-12-3", "  ": "job", "Straße 5": "Stra-e-5", "-x-": "x"} {
		if got := record.PackID(in); got != want {
			t.Errorf("PackID(%q) = %q, want %q", in, got, want)
		}
	}
}

// tree is a folder's files as one text.
func tree(t testing.TB, dir string) string {
	var out []string
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		out = append(out, strings.TrimPrefix(path, dir)+" "+string(data))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return strings.Join(out, "\n")
}

// TestStoreLaws: whatever exports come, in whatever order, how often and by way of whatever other folder, the same files stand.
func TestStoreLaws(t *testing.T) {
	top := t.TempDir()
	runs := 0
	rapid.Check(t, func(rt *rapid.T) {
		if runs++; runs > 30 { // each writes some hundred files
			return
		}
		exports := drawExports(t, rt)
		add := func(name string, order []int) string {
			dir := filepath.Join(top, fmt.Sprint(runs), name)
			for _, i := range order {
				if _, err := record.Unforced(dir).Add(exports[i]); err != nil {
					t.Fatal(err)
				}
			}
			return dir
		}
		order := slices.Collect(maps.Keys(exports))
		slices.Sort(order)
		straight := tree(t, add("straight", order))
		other := rapid.Permutation(order).Draw(rt, "order")
		if got := tree(t, add("other", other)); got != straight {
			rt.Fatalf("order %v gives other files", other)
		}
		twice := append(slices.Clone(other), rapid.Permutation(order).Draw(rt, "again")...)
		if got := tree(t, add("twice", twice)); got != straight {
			rt.Fatalf("adding twice gives other files")
		}
		// Grouping: two computers gather a part each, then one folder is copied into the other.
		cut := rapid.IntRange(1, len(order)).Draw(rt, "cut")
		left, right := add("left", other[:cut]), add("right", other[cut:])
		if _, err := os.Stat(right); err == nil {
			copyInto(t, right, left)
		}
		if got := tree(t, left); got != straight {
			rt.Fatalf("two folders copied together give other files")
		}
	})
}

// drawExports gives overlapping exports of up to three tablets, some of which have forked chains.
func drawExports(t *testing.T, rt *rapid.T) map[int]record.Export {
	out := map[int]record.Export{}
	for n := range rapid.IntRange(1, 3).Draw(rt, "tablets") {
		d := tablet.New(t, "ml-12", n)
		d.Who = rapid.SampledFrom([]string{"A. Example", "B. Example"}).Draw(rt, "who")
		for i := range rapid.IntRange(1, 5).Draw(rt, "records") {
			if rapid.Bool().Draw(rt, "photo") {
				d.Snap("A1/QA-17/A1-W1", i%2)
			} else {
				d.Tick("A1/QA-17/A1-W1", rapid.SampledFrom([]string{"yes", "no"}).Draw(rt, "value"))
			}
		}
		for range 2 {
			from := rapid.IntRange(1, len(d.Records)).Draw(rt, "from")
			e, found := record.Parse("x", d.Export(from))
			if found.Err() != nil {
				t.Fatal(found.Err())
			}
			out[len(out)] = e
		}
	}
	return out
}

func copyInto(t *testing.T, from, to string) {
	t.Helper()
	err := filepath.WalkDir(from, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		at := filepath.Join(to, strings.TrimPrefix(path, from))
		if d.IsDir() {
			return os.MkdirAll(at, 0o755)
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		return os.WriteFile(at, data, 0o644)
	})
	if err != nil {
		t.Fatal(err)
	}
}
