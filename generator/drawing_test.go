package generator_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

var (
	hatchUsed   = regexp.MustCompile(`url\(#(hatch-[a-z-]+)\)`)
	hatchDrawn  = regexp.MustCompile(`<pattern id="(hatch-[a-z-]+)"`)
	drawingText = regexp.MustCompile(`(?s)<svg class="drawing".*?</svg>`)
)

// A drawing of a room or a surface may weigh this much: the rest of the 60 kB of a page belongs to its words. A room with a
// dormer has three times the junctions of a plain one.
const (
	plainDrawing = 5 << 10
	largeDrawing = 8 << 10
)

// TestPagesCarryTheHatchesTheyUse: each page of the demo draws the hatches its own drawings name, each once, and no other;
// and its drawings are light.
func TestPagesCarryTheHatchesTheyUse(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "pack")
	generate(t, demo(t), dir)
	hatched, plain := 0, 0
	err := fs.WalkDir(os.DirFS(dir), ".", func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || !strings.HasSuffix(path, ".html") {
			return err
		}
		text, err := os.ReadFile(filepath.Join(dir, path))
		if err != nil {
			return err
		}
		used, drawn := names(hatchUsed, text), names(hatchDrawn, text)
		slices.Sort(used)
		slices.Sort(drawn)
		if used = slices.Compact(used); !slices.Equal(used, drawn) {
			t.Errorf("%s uses %q and carries %q", path, used, drawn)
		}
		if len(used) > 0 {
			hatched++
		} else {
			plain++
		}
		checkDrawings(t, path, text)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if hatched < 10 || plain < 10 {
		t.Errorf("%d pages with hatches and %d without: the demo should have both", hatched, plain)
	}
}

func names(pattern *regexp.Regexp, text []byte) []string {
	var out []string
	for _, m := range pattern.FindAllSubmatch(text, -1) {
		out = append(out, string(m[1]))
	}
	return out
}

func checkDrawings(t *testing.T, path string, text []byte) {
	if folder := filepath.Dir(path); folder != "rooms" && folder != "surfaces" {
		return
	}
	sum, most := 0, 0
	for _, d := range drawingText.FindAll(text, -1) {
		sum++
		most = max(most, len(d))
	}
	limit := plainDrawing
	if strings.HasPrefix(filepath.Base(path), "C") { // the attic
		limit = largeDrawing
	}
	if sum == 0 || most > limit {
		t.Errorf("%s: %d drawings, the largest of %d bytes, want at most %d", path, sum, most, limit)
	}
}
