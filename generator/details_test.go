package generator

import (
	"archive/zip"
	"bytes"
	"context"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"lapwork/content"
	"lapwork/generator/assess"
	"lapwork/generator/diag"
	"lapwork/generator/junction"
	"lapwork/generator/library"
	"lapwork/templates"
	"lapwork/themes"
)

const libraries = "../testdata/libraries"

// stones is a library as an archive, with one detail for rubble walls, and its hash.
func stones(t *testing.T) (data []byte, hash string) {
	t.Helper()
	folder := os.DirFS(filepath.Join(libraries, "firm", "libraries"))
	var found diag.List
	b, err := library.OpenBundle(folder, "masonry", &found)
	if err != nil || found.Err() != nil {
		t.Fatal(err, found.Err())
	}
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	if err := w.AddFS(b.Files); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes(), b.Hash
}

// A pinned archive is a layer between the built-in one and the firm's own; with another hash, or gone, it is a fault at
// its line of firm.yaml and no layer.
func TestPinnedLibraries(t *testing.T) {
	data, hash := stones(t)
	wrong := strings.Repeat("0", 64)
	for name, c := range map[string]struct {
		firm   fstest.MapFS
		layers []string
		fault  string
	}{
		"pinned": {fstest.MapFS{"old.zip": {Data: data}, "firm.yaml": {Data: []byte("name: A firm\nlibraries:\n  - {from: old.zip, hash: " + hash + "}\n")}},
			[]string{"built-in", "old-walls", "firm"}, ""},
		"another hash": {fstest.MapFS{"old.zip": {Data: data}, "firm.yaml": {Data: []byte("name: A firm\nlibraries:\n  - {from: old.zip, hash: sha256-" + wrong + "}\n")}},
			[]string{"built-in", "firm"}, "firm/firm.yaml:3:5: the library old.zip is not the one that was pinned\n\thint: see what changed in it, then pin " + hash},
		"gone": {fstest.MapFS{"firm.yaml": {Data: []byte("name: A firm\nlibraries:\n  - {from: old.zip, hash: " + hash + "}\n")}},
			[]string{"built-in", "firm"}, "firm/firm.yaml:3:5: there is no old.zip in the firm's folder"},
		"broken": {fstest.MapFS{"old.zip": {Data: data[:len(data)/2]}, "firm.yaml": {Data: []byte("name: A firm\nlibraries:\n  - {from: old.zip, hash: " + hash + "}\n")}},
			[]string{"built-in", "firm"}, "is no zip"},
	} {
		var found diag.List
		var names []string
		for _, l := range Layers(Sources{Content: content.FS, Firm: c.firm}, &found) {
			names = append(names, l.Name)
		}
		if !slices.Equal(names, c.layers) {
			t.Errorf("%s: layers %q, want %q", name, names, c.layers)
		}
		err := found.Err()
		if (err == nil) != (c.fault == "") || err != nil && !strings.Contains(err.Error(), c.fault) {
			t.Errorf("%s: %v, want %q", name, err, c.fault)
		}
	}
}

// A firm whose files lie in the job's own folder has one library, not the same one twice.
func TestAFirmInsideItsJob(t *testing.T) {
	src := Sources{Content: content.FS, Firm: os.DirFS(filepath.Join(libraries, "firm")), Job: os.DirFS(filepath.Join(libraries, "firm")), FirmInJob: true}
	var found diag.List
	library.LoadLayers(Layers(src, &found), &found)
	if err := found.Err(); err != nil {
		t.Error(err)
	}
}

func demoWith(t *testing.T, firm fs.FS) Options {
	t.Helper()
	demo, err := fs.Sub(content.FS, "demo")
	if err != nil {
		t.Fatal(err)
	}
	return Options{Version: "test", Sources: Sources{Content: content.FS, Templates: templates.FS, Theme: themes.FS, Job: demo, JobName: "demo", Firm: firm}}
}

// Every place of the demo has a detail; those of the firm stand in the place of the built-in ones they replace, and no
// place is lost or told twice on the way.
func TestCoverageOfTheDemo(t *testing.T) {
	var places [2]int
	var from [2]map[string]int
	for i, firm := range []fs.FS{nil, os.DirFS(filepath.Join(libraries, "firm"))} {
		results, report, err := Compute(context.Background(), demoWith(t, firm))
		if err != nil {
			t.Fatal(err, report.Findings)
		}
		from[i] = map[string]int{}
		for _, c := range Coverage(results) {
			places[i] += c.Places
			from[i][c.Statement] += c.Places
			if !slices.Contains(junction.Edges, c.Edge) || len(c.Example) == 0 || len(c.Example) > c.Places {
				t.Errorf("a line without the basics: %+v", c)
			}
		}
		if gaps := Gaps(Coverage(results)); gaps != 0 || places[i] != len(results.Places) {
			t.Errorf("%d gaps, %d places of %d", gaps, places[i], len(results.Places))
		}
	}
	for ours, theirs := range map[string][]string{"our-ceiling": {"wall-ceiling"}, "our-cable": {"cable-single"}} {
		if n := from[1][ours]; n == 0 || n != from[0][theirs[0]] || from[1][theirs[0]] != 0 {
			t.Errorf("%s answers %d places, %s answered %d", ours, n, theirs[0], from[0][theirs[0]])
		}
	}
	if n := from[1]["our-dormer-cheek"]; n == 0 || n+from[1]["outside-corner"] != from[0]["outside-corner"] {
		t.Errorf("our-dormer-cheek answers %d places: %v", n, slices.Sorted(maps.Keys(from[1])))
	}
}

// A preview has a page for every detail, used or not, and each names the library, version and hash it came from.
func TestPreviewNamesTheLibrary(t *testing.T) {
	o := demoWith(t, os.DirFS(filepath.Join(libraries, "firm")))
	o.Out = filepath.Join(t.TempDir(), "details")
	report, err := Preview(context.Background(), o)
	if err != nil {
		t.Fatal(err, report.Findings)
	}
	if report.Pages < 68 { // the built-in details and the firm's
		t.Errorf("the report says %d pages", report.Pages)
	}
	for name, want := range map[string][]string{
		"rubble-abutment": {"old-walls 1.2, sha256-1b045e3ed941", "<svg", "<h2>Source</h2>", "stone-rubble"},
		"our-ceiling":     {"revision 1, firm", "Void over 3 mm", "Where in this job"},
		"repair-rip":      {"built-in, Lapwork test", "<h2>Source</h2>"},
	} {
		text, err := os.ReadFile(filepath.Join(o.Out, "methods", name+".html"))
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range want {
			if !strings.Contains(string(text), w) {
				t.Errorf("%s: no %q", name, w)
			}
		}
	}
	if _, err := os.Stat(filepath.Join(o.Out, "methods", "wall-ceiling.html")); err == nil {
		t.Error("a replaced detail has a page")
	}
}

// Readings without a job are held against the limits of a pinned library too.
func TestReadingsKnowPinnedLimits(t *testing.T) {
	lines := strings.SplitN(readContent(t, "tables/air-limits.csv"), "\n", 4) // a comment, the columns, a row
	head, row := lines[1], strings.TrimPrefix(lines[2], "ph-new,")
	firm := fstest.MapFS{"guild/tables/air-limits.csv": {Data: []byte(head + "\nguild-limit," + row + "\n")}}
	var found diag.List
	b, err := library.OpenBundle(firm, "guild", &found)
	if err != nil {
		t.Fatal(err)
	}
	firm["firm.yaml"] = &fstest.MapFile{Data: []byte("name: A firm\nlibraries:\n  - {from: guild, hash: " + b.Hash + "}\n")}
	for id, want := range map[string]bool{"guild-limit": true, "gild-limit": false} {
		o := ReadingsOptions{Sources: Sources{Content: content.FS, Firm: firm}, Limit: id}
		with, report := assess.TestSetting{}, ReadingsReport{}
		if err := o.setting(&with, &report, &found); (err == nil) != want {
			t.Errorf("%s: %v", id, err)
		}
	}
}

func readContent(t *testing.T, name string) string {
	t.Helper()
	text, err := fs.ReadFile(content.FS, name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}
