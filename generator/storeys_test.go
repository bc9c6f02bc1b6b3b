package generator_test

import (
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"lapwork/generator"
)

// TestProgrammeOfAStorey: the file of one storey has that storey's chart and the lines of its rooms in the days of the
// crews, also of work that is begun on one day and ended on another.
func TestProgrammeOfAStorey(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "pack")
	src := bench(2 * perStorey)
	if _, err := generator.Generate(context.Background(), generator.Options{Sources: src, Out: dir}); err != nil {
		t.Fatal(err)
	}
	room := regexp.MustCompile(`, R(\d+) Room`)
	for storey, other := range []string{"Storey 1", "Storey 0"} {
		data, err := os.ReadFile(filepath.Join(dir, "BENCH-storey-"+strconv.Itoa(storey)+".html"))
		if err != nil {
			t.Fatal(err)
		}
		_, text, _ := strings.Cut(string(data), `id="programme"`)
		text, _, _ = strings.Cut(text, `<section class="page `)
		if own := "Storey " + strconv.Itoa(storey); !strings.Contains(text, own+", step by step") || strings.Contains(text, other+", step by step") ||
			!strings.Contains(text, own+", room by room") || strings.Contains(text, other+", room by room") {
			t.Errorf("storey %d: not the charts of its own storey alone", storey)
		}
		lines, partly := 0, 0
		for line := range strings.Lines(text) {
			if !strings.HasPrefix(strings.TrimPrefix(line, `</dl><h5>`), `<div><dt>`) && !strings.Contains(line, `<dl class="terms"><div><dt>`) {
				continue
			}
			for _, m := range room.FindAllStringSubmatch(line, -1) {
				n, _ := strconv.Atoi(m[1])
				lines++
				if strings.Contains(line, ", begun") {
					partly++
				}
				if (n-1)/perStorey != storey {
					t.Errorf("storey %d: %s", storey, strings.TrimSpace(line))
				}
			}
		}
		if lines < 100 || partly == 0 {
			t.Errorf("storey %d: %d lines of the crews' days, %d of them of a begun work: the page has changed", storey, lines, partly)
		}
	}
}
