package generator_test

import (
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// TestRowsLeadToTheirWork: in a room and on a surface the row of every junction that has a method leads to the activity whose
// work names that place, on whichever page of the room it stands; and a stop leads to the signature that releases it.
func TestRowsLeadToTheirWork(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "pack")
	generate(t, demo(t), dir)
	text := map[string]string{}
	for _, kind := range []string{"rooms", "surfaces", "signoff"} {
		files, err := filepath.Glob(filepath.Join(dir, kind, "*.html"))
		if err != nil || len(files) < 12 {
			t.Fatalf("%d pages in %s, %v", len(files), kind, err)
		}
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			text[kind+"/"+filepath.Base(file)] = string(data)
		}
	}
	row := regexp.MustCompile(`<td class="id">([^<]+)</td><td><a href="\.\./methods/[^\n]*<td><a href="([^"#]*)#(a\d+)">[^<]+</a></td></tr>`)
	stop := regexp.MustCompile(`<p class="stop" data-hold="([^" ]+)[^\n]*?href="([^"#]*)#(H\d)">`)
	rows, later, stops := 0, 0, 0
	for name, page := range text {
		withMethod := strings.Count(page, `<td><a href="../methods/`)
		found := row.FindAllStringSubmatch(page, -1)
		if len(found) != withMethod {
			t.Errorf("%s: %d of %d rows lead to their work", name, len(found), withMethod)
		}
		for _, m := range found {
			to := name
			if m[2] != "" {
				to = path.Join(path.Dir(name), m[2])
			}
			_, act, ok := strings.Cut(text[to], ` id="`+m[3]+`">`)
			act, _, _ = strings.Cut(act, "</section>")
			if !ok || !slices.ContainsFunc(regexp.MustCompile(`at <span class="id">([^<]*)</span>`).FindAllStringSubmatch(act, -1), func(at []string) bool {
				return slices.Contains(strings.Split(at[1], ", "), m[1])
			}) {
				t.Errorf("%s: the row of %s leads to %s#%s, where no work is at it", name, m[1], to, m[3])
			}
			rows++
			if strings.Contains(to, "-layer") {
				later++
			}
		}
		for _, m := range stop.FindAllStringSubmatch(page, -1) {
			_, group, ok := strings.Cut(text[path.Join(path.Dir(name), m[2])], `<ul class="checks" id="`+m[3]+`">`)
			group, _, _ = strings.Cut(group, "</ul>")
			if !ok || !strings.Contains(group, `data-check="`+m[1]+`"`) {
				t.Errorf("%s: the stop %s leads to %s#%s, where it is not signed", name, m[1], m[2], m[3])
			}
			stops++
		}
	}
	if rows < 400 || later < 100 || stops < 60 {
		t.Errorf("%d rows, %d of them to a later page, %d stops: the pages are not read", rows, later, stops)
	}
}

// TestOpenPointsLead: on the overview and among the open points, what is open at a place leads to its row, what is open for a
// build-up to its moisture, and a question to each place where it matters.
func TestOpenPointsLead(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "pack")
	generate(t, demo(t), dir)
	for page, links := range map[string][]string{
		"index.html": {"rooms/C1.html#C1-M3", "rooms/A4.html#A4-P06", "moisture/knee.html"},
		"open.html":  {"rooms/C1.html#C1-M3", "rooms/A4.html#A4-P06", "moisture/knee.html", "rooms/C1.html\">C1-P03", "rooms/B4.html#B4-M2"},
	} {
		data, err := os.ReadFile(filepath.Join(dir, page))
		if err != nil {
			t.Fatal(err)
		}
		for _, link := range links {
			if !strings.Contains(string(data), `href="`+link) {
				t.Errorf("%s does not lead to %s", page, link)
			}
		}
	}
}
