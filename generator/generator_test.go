package generator_test

import (
	"bytes"
	"context"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"lapwork/content"
	"lapwork/generator"
	"lapwork/templates"
	"lapwork/themes"
)

// demo is the embedded demo job.
func demo(t testing.TB) generator.Sources {
	t.Helper()
	job, err := fs.Sub(content.FS, "demo")
	if err != nil {
		t.Fatal(err)
	}
	return generator.Sources{Job: job, Firm: job, Content: content.FS, Templates: templates.FS, Theme: themes.FS, JobName: "demo"}
}

// demoWith gives the files of the demo with its job.yaml changed.
func demoWith(t testing.TB, change func(job []byte) []byte) fstest.MapFS {
	t.Helper()
	src, files := demo(t).Job, fstest.MapFS{}
	err := fs.WalkDir(src, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(src, p)
		if p == "job.yaml" {
			data = change(data)
		}
		files[p] = &fstest.MapFile{Data: data}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func generate(t testing.TB, src generator.Sources, dir string) generator.Report {
	t.Helper()
	report, err := generator.Generate(context.Background(), generator.Options{Sources: src, Out: dir, Version: "test"})
	if err != nil {
		t.Fatal(err)
	}
	return report
}

// Two runs into two folders give the same bytes.
func TestSameInputSameBytes(t *testing.T) {
	a, b := filepath.Join(t.TempDir(), "a"), filepath.Join(t.TempDir(), "b")
	ra, rb := generate(t, demo(t), a), generate(t, demo(t), b)
	if ra.Revision != rb.Revision || ra.Files != rb.Files || ra.Bytes != rb.Bytes {
		t.Errorf("reports differ: %+v and %+v", ra, rb)
	}
	files := 0
	err := filepath.WalkDir(a, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		rel, err := filepath.Rel(a, path)
		if err != nil {
			return err
		}
		x, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		y, err := os.ReadFile(filepath.Join(b, rel))
		if err != nil {
			return err
		}
		files++
		if !bytes.Equal(x, y) {
			t.Errorf("%s differs between two runs", rel)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if files < 100 {
		t.Errorf("only %d files compared", files)
	}
}

// Every kind of junction and hole of the demo has a statement; what stays open is open on purpose.
func TestDemoHasNoGap(t *testing.T) {
	results, report, err := generator.Compute(context.Background(), generator.Options{Sources: demo(t)})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range results.Places {
		if !p.Answered() {
			t.Errorf("%s (%s %s) has no statement", p.Record.ID, p.Record.Edge, p.Record.Item)
		}
	}
	for _, f := range report.Findings {
		if strings.Contains(f.Msg, "cannot be laid") {
			t.Error(f)
		}
	}
}

// What the rooms need is what the deliveries hold, and the rolls hold every strip once.
func TestTotalsAgree(t *testing.T) {
	results, _, err := generator.Compute(context.Background(), generator.Options{Sources: demo(t)})
	if err != nil {
		t.Fatal(err)
	}
	order := generator.OrderOf(results)
	type key struct{ delivery, component string }
	rooms := map[key]float64{}
	for _, p := range order.Picks {
		rooms[key{p.Delivery, p.Component}] += p.Need
	}
	held := map[key]float64{} // in packs and rolls of each size, in leftovers and rips
	for _, l := range order.Lines {
		held[key{l.Delivery, l.Component}] += l.Need
	}
	seen := map[key]bool{}
	for _, l := range order.Lines {
		k := key{l.Delivery, l.Component}
		if got := rooms[k]; math.Abs(got-held[k]) > 1e-6 { // sums of a few hundred decimals
			t.Errorf("%s of %s: rooms need %v, the delivery holds %v", l.Component, l.Delivery, got, held[k])
		}
		if l.Unit != "m2" && float64(l.Packs)*l.PackSize < l.Need-1e-6 {
			t.Errorf("%s of %s: %d packs of %v are less than %v", l.Component, l.Delivery, l.Packs, l.PackSize, l.Need)
		}
		seen[k] = true
	}
	for k := range rooms {
		if !seen[k] {
			t.Errorf("%s is picked from %s but not ordered", k.component, k.delivery)
		}
	}
	cut := map[string]int{}
	for _, c := range order.Cuts {
		cut[c.Strip]++
	}
	for _, l := range results.Layouts {
		for _, p := range l.Cuts {
			if cut[p.ID] != 1 {
				t.Errorf("strip %s is cut %d times", p.ID, cut[p.ID])
			}
		}
	}
}

// A fault in the job writes nothing and touches nothing.
func TestFaultWritesNothing(t *testing.T) {
	src := demo(t)
	src.Job, src.JobName = os.DirFS("../testdata/jobs/bad-dangling"), "bad-dangling"
	dir := filepath.Join(t.TempDir(), "out")
	if _, err := generator.Generate(context.Background(), generator.Options{Sources: src, Out: dir}); err == nil {
		t.Error("a job with faults was packed")
	}
	if _, err := os.Stat(dir); !os.IsNotExist(err) {
		t.Error("something was written:", err)
	}
}
