package generator_test

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
	"testing/fstest"
)

// In a language with hardly any translation every page marks what is English; the marks themselves stand in no file: not in a
// page, not in a script's data, not in the calendar, where nobody could show them.
func TestMarksStayInside(t *testing.T) {
	src := demoIn(t, "language: it\n")
	src.Job.(fstest.MapFS)["lang/it/common.yaml"] = &fstest.MapFile{Data: []byte("language: it\nreviewed: no\ntexts: {\"none\": \"nessuno\"}\n")}
	dir := filepath.Join(t.TempDir(), "pack")
	generate(t, src, dir)
	pages, calendars := 0, 0
	err := filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(p)
		for _, mark := range []string{"\uE0F0", "\uE0F1", "\uFFFD", `\ue0f0`, `\ue0f1`, "&#57584;", "%EE%83%B0"} {
			if i := bytes.Index(data, []byte(mark)); i >= 0 {
				t.Errorf("%s holds a mark: %.120q", p, data[max(0, i-60):])
			}
		}
		if bytes.Contains(data, []byte(`<span lang="en" class="en">`)) {
			pages++
		}
		if filepath.Ext(p) == ".ics" {
			calendars++
		}
		return err
	})
	if err != nil || pages < 100 || calendars != 1 {
		t.Errorf("%d pages mark what is English, %d calendars: %v", pages, calendars, err)
	}
}
