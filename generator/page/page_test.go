package page_test

import (
	"os"
	"path/filepath"
	"testing"

	"lapwork/generator/output"
	"lapwork/generator/pack"
	"lapwork/generator/page"
	"lapwork/templates"
	"lapwork/themes"
)

var look = page.Look{Templates: templates.FS, Theme: themes.FS}

func render(t testing.TB, p pack.Pack) []output.File {
	t.Helper()
	files, err := page.Render(p, look)
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// written puts a pack into a folder as it would be unpacked on a tablet.
func written(t testing.TB, dir string, files []output.File) {
	t.Helper()
	for _, f := range files {
		path := filepath.Join(dir, filepath.FromSlash(f.Path))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, f.Data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
