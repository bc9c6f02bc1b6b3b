package main

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"lapwork/generator/diag"
	"lapwork/generator/lawtest/tablet"
	"lapwork/generator/record"
)

// jobAt makes a job's folder of which only the reference is read here.
func jobAt(t testing.TB, dir string) string {
	t.Helper()
	err := errors.Join(os.MkdirAll(dir, 0o755), os.WriteFile(filepath.Join(dir, "job.yaml"), []byte("reference: ml-12\n"), 0o644))
	if err != nil {
		t.Fatal(err)
	}
	return dir
}

// contents reads a folder of records as one text.
func contents(t testing.TB, dir string) string {
	t.Helper()
	var out []string
	err := filepath.WalkDir(filepath.Join(dir, record.Folder), func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		out = append(out, strings.TrimPrefix(path, dir)+" "+string(data))
		return err
	})
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		t.Fatal(err)
	}
	return strings.Join(out, "\n")
}

// siteDay is a day with three tablets. The site lead looks at what a fitter did and answers otherwise; a reading is taken
// back; the second fitter's tablet sends twice, the first time before it was done; the lead's clock is an hour slow.
func siteDay(t *testing.T) map[string][]byte {
	t.Helper()
	one, two, lead := tablet.New(t, "ml-12", 0), tablet.New(t, "ml-12", 1), tablet.New(t, "ml-12", 2)
	one.Who, two.Who, lead.Who = "A. Example", "B. Example", "C. Example"
	lead.Clock = lead.Clock.Add(-time.Hour)
	for _, wall := range []string{"W1", "W2", "W3"} {
		one.Tick("A1/QA-17/A1-"+wall, "yes")
		one.Snap("A1/QA-17/A1-"+wall, len(wall))
	}
	wrong := two.Keep(record.Record{Kind: record.Reading, Check: "A2/QA-19/A2-W1+F1", Value: "40", Unit: "mm"})
	out := map[string][]byte{"noon.json": two.Export(1)}
	two.Keep(record.Record{Kind: record.Void, Of: wrong.ID, Check: wrong.Check, Reason: "misread"})
	two.Keep(record.Record{Kind: record.Reading, Check: "A2/QA-19/A2-W1+F1", Value: "4", Unit: "mm"})
	lead.Tick("A1/QA-17/A1-W2", "no")
	defect := lead.Keep(record.Record{Kind: record.Defect, Value: "bridge", Place: "A1-W2", Severity: "minor", Text: "40 mm"})
	lead.Keep(record.Record{Kind: record.Defect, Of: defect.ID, Value: "closed", Place: "A1-W2", Text: "taped again"})
	lead.Keep(record.Record{Kind: record.Sign, Check: "A1/QA-28/H4", Name: "C. Example", Role: "site lead", Covers: []string{one.Records[0].Hash}})
	out["one.json"], out["two.json"], out["lead.txt"] = one.Export(1), two.Export(1), lead.Export(1)
	return out
}

// TestSiteDayInAllOrders gathers the day's four files in each of the 24 orders: the same files stand, the same is said.
func TestSiteDayInAllOrders(t *testing.T) {
	top := t.TempDir()
	day := siteDay(t)
	var names []string
	for name, data := range day {
		path := filepath.Join(top, name)
		if err := os.WriteFile(path, data, 0o644); err != nil {
			t.Fatal(err)
		}
		names = append(names, path)
	}
	slices.Sort(names)
	var want, wantSaid string
	orders := permutations(names)
	if os.Getenv("LAPWORK_LONG") == "" {
		orders = [][]string{orders[0], orders[5], orders[10], orders[23]}
	}
	for i, order := range orders {
		dir := jobAt(t, filepath.Join(top, "job", string(rune('a'+i))))
		said := say(t, append([]string{"gather", dir}, order...)...)
		_, said, _ = strings.Cut(said, "tablets differ\n") // before that stands what each file brought
		got := contents(t, dir)
		if i == 0 {
			want, wantSaid = got, said
		}
		if got != want || said != wantSaid {
			t.Fatalf("order %v: %s", order, said)
		}
	}
	dir := filepath.Join(top, "job", "a")
	j, found := record.Load(os.DirFS(dir))
	if len(j.Records) != 13 || found.Count(diag.Open) != 0 {
		t.Errorf("%d records, want 6 + 3 + 4: %v", len(j.Records), found.Sorted())
	}
	conflicts := record.Conflicts(j.Records)
	if len(conflicts) != 1 || conflicts[0].Check != "A1/QA-17/A1-W2" || len(conflicts[0].Records) != 2 {
		t.Errorf("conflicts %+v, want the wall on which fitter and lead differ", conflicts)
	}
	for _, r := range record.Latest(j.Records) {
		if r.Kind == record.Reading && r.Value != "4" {
			t.Errorf("the reading stands at %s, want the second", r.Value)
		}
	}
}

func permutations(list []string) [][]string {
	if len(list) == 0 {
		return [][]string{nil}
	}
	var out [][]string
	for i := range list {
		rest := slices.Delete(slices.Clone(list), i, i+1)
		for _, p := range permutations(rest) {
			out = append(out, append([]string{list[i]}, p...))
		}
	}
	return out
}

// say runs a command line in this process and gives what it prints.
func say(t *testing.T, args ...string) string {
	t.Helper()
	root := newRoot()
	var b bytes.Buffer
	root.SetOut(&b)
	root.SetArgs(args)
	if err := root.Execute(); err != nil {
		t.Fatalf("%v: %v", args, err)
	}
	return b.String()
}

// FuzzGather holds these laws for any file: no panic and no error; a good file beside it is kept whole; what is refused
// leaves nothing; what is kept is there without a fault, and keeping it again changes nothing.
func FuzzGather(f *testing.F) {
	d := tablet.New(f, "ml-12", 0)
	d.Tick("A1/QA-17/A1-W1", "yes")
	d.Snap("A1/QA-17/A1-W1", 1)
	good := d.Export(1)
	other := tablet.New(f, "ml-12", 1)
	other.Tick("A1/QA-17/A1-W1", "no")
	f.Add(other.Export(1))
	f.Add(good[:len(good)/2])
	f.Add(bytes.Replace(good, []byte(`"pack":"ml-12"`), []byte(`"pack":"../x"`), 1))
	f.Add([]byte(`{"v":1,"form":"lapwork-records","pack":"ml-12","records":[],"photos":{}}`))
	now := time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)
	f.Fuzz(func(t *testing.T, data []byte) {
		top := t.TempDir()
		dir := jobAt(t, filepath.Join(top, "job"))
		file, sound := filepath.Join(top, "any.json"), filepath.Join(top, "good.json")
		if err := errors.Join(os.WriteFile(file, data, 0o644), os.WriteFile(sound, good, 0o644)); err != nil {
			t.Fatal(err)
		}
		g, err := gather(dir, []string{file, sound}, now)
		if err != nil || g.files[1].Refused || g.files[1].New+g.files[1].Known != 2 {
			t.Fatalf("the good file: %+v, %v", g.files, err)
		}
		if _, found := record.Load(os.DirFS(dir)); found.Err() != nil {
			t.Fatal(found.Err())
		}
		before := contents(t, dir)
		if again, err := gather(dir, []string{sound, file}, now); err != nil || again.files[0].New+again.files[1].New != 0 || contents(t, dir) != before {
			t.Fatalf("again: %+v, %v", again.files, err)
		}
		if !g.files[0].Refused {
			return
		}
		alone := jobAt(t, filepath.Join(top, "alone"))
		if _, err := gather(alone, []string{file}, now); err != nil || contents(t, alone) != "" {
			t.Fatalf("a refused file left something: %v", err)
		}
	})
}
