package generator_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"lapwork/content"
	"lapwork/generator/diag"
	"lapwork/generator/library"
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

// mostRoomPage is how heavy a page of a room may be, in bytes: own choice, what a tablet shows at once after a tap.
const mostRoomPage = 60_000

// TestRoomPagesAreLight: no page of a room is heavier than that, and every activity of a room stands on one of its pages, in
// working order.
func TestRoomPagesAreLight(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "pack")
	generate(t, demo(t), dir)
	files, err := filepath.Glob(filepath.Join(dir, "rooms", "*.html"))
	if err != nil || len(files) < 12 {
		t.Fatalf("%d pages of rooms, %v", len(files), err)
	}
	acts := regexp.MustCompile(`data-act="([^"]+)"`)
	order := map[string][]string{}
	for _, phase := range []string{"", "-layer", "-close"} {
		for _, file := range files {
			room := strings.TrimSuffix(filepath.Base(file), ".html")
			if (phase == "") == strings.Contains(room, "-") || !strings.HasSuffix(room, phase) {
				continue
			}
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if len(data) > mostRoomPage {
				t.Errorf("%s has %d bytes, at most %d", filepath.Base(file), len(data), mostRoomPage)
			}
			room, _, _ = strings.Cut(room, "-")
			for _, m := range acts.FindAllStringSubmatch(string(data), -1) {
				order[room] = append(order[room], m[1])
			}
		}
	}
	var found diag.List
	lib := library.Load(content.FS, nil, nil, &found)
	for room, ids := range order {
		at := 0
		for _, id := range ids {
			act := lib.Activities.Find(id)
			if act == nil || act.Position <= at {
				t.Errorf("%s: %q stands out of order in %q", room, id, ids)
				break
			}
			at = act.Position
		}
		if at < lib.Activities.Find("close-release").Position {
			t.Errorf("%s ends with %q", room, ids)
		}
	}
}
