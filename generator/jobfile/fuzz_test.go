package jobfile

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"lapwork/generator/diag"
	"lapwork/generator/job"
)

// FuzzRead holds the reader to its laws on any text: no panic, an answer in bounded time, every finding with a hint and a
// place inside the file, and a job without dangling references when there is no fault.
func FuzzRead(f *testing.F) {
	f.Add([]byte(oneRoom))
	seeds, err := filepath.Glob(jobs + "/bad-*/job.yaml")
	if err != nil {
		f.Fatal(err)
	}
	for _, name := range append(seeds, "../../content/demo/job.yaml", "../../content/demo/faces.yaml", "../../content/demo/rooms/attic.yaml") {
		text, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	for _, text := range []string{"", "\xef\xbb\xbfa: b", "a: \xff", "a:\r\n  b\rc: d", "--- \n...\n--- x", "{[: ]", "a: &b [*b]", "? [a]\n: b", "\tname: x",
		strings.Repeat("[", 200), "name: é\u2028x", "!!map {a: b}", "rooms: [{plan: [[0,0],[1,1],[2,2]]}]", "<<: {a: b}",
		"assumed: [outside behind A1-W1, \"é\u2028\"]\nname: x", "assumed:\nname: x", "assumed: {a: b}", "assumed: [[x]]", "assumed:\n  - \n  - " + strings.Repeat("x", 401)} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		start := time.Now()
		var found diag.List
		j := Read(fstest.MapFS{"job.yaml": {Data: text}}, ".", someTables, &found)
		// 64 KiB are read in some milliseconds; a hundred times that leaves room for a loaded machine.
		if took := time.Since(start); len(text) < 1<<16 && took > 5*time.Second {
			t.Errorf("took %v for %d bytes", took, len(text))
		}
		lines := strings.Split(string(text), "\n")
		for _, x := range found.Sorted() {
			if x.Hint == "" && x.Level == diag.Fault {
				t.Errorf("no hint: %v", x)
			}
			for _, p := range append(x.See, x.Pos) {
				if p.File != "job.yaml" || p.Line < 1 || p.Line > len(lines) || p.Col < 1 || p.Col > len(lines[p.Line-1])+1 {
					t.Errorf("%+v is outside the file: %v", p, x)
				}
			}
		}
		if found.Err() == nil {
			whole(t, j)
		}
	})
}

// whole checks that a job without faults can be followed everywhere.
func whole(t *testing.T, j *job.Job) {
	t.Helper()
	if j == nil || len(j.Rooms) == 0 || len(j.Storeys) == 0 || j.Target.Value <= 0 {
		t.Fatalf("no fault, but the job is %+v", j)
	}
	ids := map[job.RoomID]bool{}
	for _, r := range j.Rooms {
		if r.Storey == nil || ids[r.ID] || r.ID == "" || len(r.Walls) != len(r.Footprint) || len(r.Walls) < 3 || len(r.Slopes) != len(r.Ceiling.Slopes) {
			t.Errorf("room %+v", r)
		}
		ids[r.ID] = true
		for i, w := range r.Walls {
			if w.Behind == "" || w.Layer == "" || w.Edge != i+1 {
				t.Errorf("wall %+v", w)
			}
		}
		for _, o := range r.Openings {
			if o.Room != r || o.Width <= 0 || o.Height <= 0 || !strings.HasPrefix(string(o.ID), string(r.ID)+"-O") {
				t.Errorf("opening %+v", o)
			}
		}
		for _, p := range r.Penetrations {
			if p.Room != r || p.Count < 1 || p.Diameter <= 0 && p.Width <= 0 {
				t.Errorf("penetration %+v", p)
			}
		}
	}
}

// The limits hold: a file too large, nesting too deep, findings without end.
func TestLimits(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"large":    {"name: " + strings.Repeat("x", maxFileBytes), "is larger than 4 MiB"},
		"deep":     {"name: " + strings.Repeat("[", 30) + strings.Repeat("]", 30), "nested deeper than 24 levels"},
		"findings": {strings.Repeat("x: y\n", 5000), "too many findings"},
		"rooms":    {houseHead + "rooms:\n" + strings.Repeat("- {id: A, name: A, storey: E, height: 2 m, plan: {from: [0, 0], size: [2 m, 2 m]}}\n", maxRooms+1), "20001 rooms are more than 20000"},
	} {
		_, found := read(c.text)
		if err := found.Err(); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: no finding %q", name, c.want)
		}
		if n := found.Count(diag.Fault); n > maxFindings {
			t.Errorf("%s: %d findings", name, n)
		}
	}
}

// The demo has no fault, its ids and counts are what the demo promises.
func TestDemo(t *testing.T) {
	var found diag.List
	j := Read(os.DirFS("../../content"), "demo", Known{}, &found)
	if err := found.Err(); err != nil {
		t.Fatal(err)
	}
	whole(t, j)
	n := map[string]int{}
	for _, r := range j.Rooms {
		for _, o := range r.Openings {
			n[o.Kind]++
		}
		for _, p := range r.Penetrations {
			n[p.Item] += p.Count
		}
	}
	for kind, want := range map[string]int{"window": 10, "roof-window": 2, "door": 1, "hatch": 1, "soil-pipe": 1, "duct": 2, "flue": 1} {
		if n[kind] != want {
			t.Errorf("%d × %s, want %d", n[kind], kind, want)
		}
	}
	if len(j.Rooms) != 12 || len(j.Storeys) != 3 || n["cable"]+n["back-box"] < 12 || found.Count(diag.Open) != 0 {
		t.Errorf("%d rooms, %d storeys, %v, %d open", len(j.Rooms), len(j.Storeys), n, found.Count(diag.Open))
	}
	for _, s := range j.Stock {
		if s.Price != nil {
			t.Errorf("a price nobody stated: %+v", s)
		}
	}
}
