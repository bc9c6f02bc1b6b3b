package generator_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"lapwork/content"
	"lapwork/generator/diag"
	"lapwork/generator/library"
)

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

// What a room's page asks for beside itself, and what the whole pack may weigh as one file, in bytes: own choice. A firm's own
// mark and colours come on top, and paper.css, which no screen waits for.
const (
	mostShared = 25_000
	mostSingle = 3_000_000
)

// TestSharedFilesAreLight: a room's page of the folder asks for at most that much, and the pack in one file stays within what a
// tablet opens at once.
func TestSharedFilesAreLight(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "pack")
	generate(t, demo(t), dir)
	files, err := filepath.Glob(filepath.Join(dir, "rooms", "*.html"))
	if err != nil || len(files) == 0 {
		t.Fatal("no room", err)
	}
	asked := regexp.MustCompile(`<(?:link rel="stylesheet" href|script src)="\.\./(assets/[^"]+)"( media="print")?`)
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var sum int64
		for _, m := range asked.FindAllSubmatch(data, -1) {
			if len(m[2]) > 0 || string(m[1]) == "assets/added.css" {
				continue
			}
			info, err := os.Stat(filepath.Join(dir, string(m[1])))
			if err != nil {
				t.Fatal(err)
			}
			sum += info.Size()
		}
		if sum == 0 || sum > mostShared {
			t.Errorf("%s asks for %d bytes of scripts and styles, at most %d", filepath.Base(file), sum, mostShared)
		}
	}
	if info, err := os.Stat(filepath.Join(dir, "26-014.html")); err != nil || info.Size() > mostSingle {
		t.Errorf("the pack as one file: %v, %v; at most %d bytes", info.Size(), err, mostSingle)
	}
}
