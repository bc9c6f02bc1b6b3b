package generator_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// TestRoomCountsWhatTheOverviewCounts: the two figures that a site lead reads for one room are of the same things: the checks
// and the holds on the room's page.
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
	counted := regexp.MustCompile(`data-(?:check|hold)="([^"]+)"`)
	for _, row := range rows {
		keys := map[string]bool{}
		for _, m := range counted.FindAllStringSubmatch(read(row[1]), -1) {
			for key := range strings.FieldsSeq(m[1]) { // a hold that two roles sign has two
				keys[key] = true
			}
		}
		if want, err := strconv.Atoi(row[2]); err != nil || len(keys) != want {
			t.Errorf("%s has %d checks and holds, the overview says %s", row[1], len(keys), row[2])
		}
	}
}
