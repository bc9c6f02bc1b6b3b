package generator_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// TestRoomCountsWhatTheOverviewCounts: the figures that a site lead reads for one room are of the same things: the overview
// counts the checks and holds on the pages of the room, and the room's page counts each of these pages.
func TestRoomCountsWhatTheOverviewCounts(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "pack")
	generate(t, demo(t), dir)
	read := func(name string) string {
		data, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	}
	rows := regexp.MustCompile(`href="(rooms/[^"]+)">.*?class="prog"[^>]*>0 of (\d+)<`).FindAllStringSubmatch(read("index.html"), -1)
	if len(rows) == 0 {
		t.Fatal("the overview counts no room")
	}
	links := regexp.MustCompile(`<a href="([^"]+)"(?: aria-current="page")?>[^<]+ <span class="prog"[^>]*>0 of (\d+)<`)
	divided := 0
	counted := regexp.MustCompile(`data-(?:check|hold)="([^"]+)"`)
	for _, row := range rows {
		sum := 0
		phases := links.FindAllStringSubmatch(read(row[1]), -1)
		if len(phases) == 0 { // a room with little work has one page
			phases = [][]string{{"", row[1], row[2]}}
		} else {
			divided++
		}
		for _, phase := range phases {
			text := read("rooms/" + filepath.Base(phase[1]))
			text = text[strings.Index(text, "The work, in order"):] // above it stand the holds of earlier pages
			keys := map[string]bool{}
			for _, m := range counted.FindAllStringSubmatch(text, -1) {
				for key := range strings.FieldsSeq(m[1]) { // a hold that two roles sign has two
					keys[key] = true
				}
			}
			if want, err := strconv.Atoi(phase[2]); err != nil || len(keys) != want {
				t.Errorf("%s has %d checks and holds, the room's page says %s", phase[1], len(keys), phase[2])
			}
			sum += len(keys)
		}
		if want, err := strconv.Atoi(row[2]); err != nil || sum != want {
			t.Errorf("the pages of %s have %d checks and holds, the overview says %s", row[1], sum, row[2])
		}
	}
	if divided < 2 || divided == len(rows) {
		t.Errorf("the work of %d of %d rooms stands on several pages: the demo shows both kinds", divided, len(rows))
	}
}
