package generator_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// ranks is the order of the packages: one imports lower ranks only. A package without a rank fails the test, so that
// a new one is placed on purpose.
var ranks = map[string]int{
	"quantity": 0, "diag": 0, "parallel": 0, "workbook": 0, "sorting": 0,
	"geometry": 1, "lang": 1, "job": 1, "markdown": 1, "output": 1, "revision": 1, "record": 1, "picture": 1,
	"surface": 2, "jobfile": 2, "drawing": 2, "theme": 2,
	"calc/vapour": 2, "calc/thermal": 2, "calc/airtight": 2, "calc/leakage": 2, "calc/movement": 2,
	"calc/table": 1, "calc/sun": 2, "calc/climate": 3, "calc/material": 2, "survey": 2,
	"calc/strips": 2, "calc/rolls": 2, "calc/bill": 2, "calc/programme": 2,
	"junction": 3, "drawing/svg": 3, "calc/condensation": 3, "calc/transient": 3,
	"survey/gbxml": 3, "survey/ifc": 3, "survey/roomlist": 3,
	"library": 4, "assess": 5, "pack": 6, "page": 7, "share": 7, "": 8, "cmd/lapwork": 9,
}

// data are the folders of content: anybody may be handed one, only cmd and tests import them.
var data = []string{"content", "templates", "themes"}

const module = "lapwork/"

// goFiles calls visit for every Go file of the module below dir, with its package's name in ranks.
func goFiles(t *testing.T, visit func(path, pkg string, imports []string, test bool)) {
	t.Helper()
	root := ".."
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err == nil && d.IsDir() && d.Name() == ".ci" { // tools, a module of their own
			return filepath.SkipDir
		}
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		var imports []string
		for _, im := range file.Imports {
			p, err := strconv.Unquote(im.Path.Value)
			if err != nil {
				return err
			}
			imports = append(imports, p)
		}
		rel, err := filepath.Rel(root, filepath.Dir(path))
		if err != nil {
			return err
		}
		visit(path, packageName(filepath.ToSlash(rel)), imports, strings.HasSuffix(path, "_test.go"))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func packageName(rel string) string {
	if rel == "generator" {
		return ""
	}
	return strings.TrimPrefix(rel, "generator/")
}

func TestPackagesImportLowerRanksOnly(t *testing.T) {
	seen := 0
	goFiles(t, func(path, pkg string, imports []string, test bool) {
		if slices.Contains(data, pkg) || test || strings.HasPrefix(pkg, "lawtest") {
			return
		}
		rank, ok := ranks[pkg]
		if !ok {
			t.Errorf("%s: package %q has no rank", path, pkg)
			return
		}
		for _, im := range imports {
			own, inside := strings.CutPrefix(im, module)
			if !inside {
				continue
			}
			seen++
			name := packageName(own)
			if slices.Contains(data, name) {
				if pkg != "cmd/lapwork" {
					t.Errorf("%s imports %s: content is handed in", path, im)
				}
				continue
			}
			if r, ok := ranks[name]; !ok || r >= rank {
				t.Errorf("%s (rank %d) imports %s (rank %d)", path, rank, im, r)
			}
		}
	})
	if seen < 20 {
		t.Errorf("only %d imports seen: the walk misses the module", seen)
	}
}

// Calculations are arithmetic: no file, clock, log, environment, chance or template reaches them, and no settings
// library stands below cmd.
func TestCalculationsArePure(t *testing.T) {
	impure := []string{"os", "time", "log", "log/slog", "io/fs", "path/filepath", "net/http", "math/rand", "math/rand/v2",
		"html/template", "text/template", "embed"}
	goFiles(t, func(path, pkg string, imports []string, test bool) {
		for _, im := range imports {
			if strings.HasPrefix(pkg, "calc/") && !test && slices.Contains(impure, im) {
				t.Errorf("%s imports %s", path, im)
			}
			if strings.Contains(im, "spf13/") && pkg != "cmd/lapwork" {
				t.Errorf("%s imports %s: settings are read in cmd only", path, im)
			}
			if strings.Contains(im, "hashstructure") && pkg != "revision" {
				t.Errorf("%s imports %s: it lives in revision only", path, im)
			}
		}
	})
}
