package page_test

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"lapwork/generator/output"
	"lapwork/generator/pack"
	"lapwork/generator/page"
	"lapwork/generator/record"
)

// large is a job whose schedule is too heavy for one page, with rows of both storeys and one of no room.
func large() pack.Pack {
	p := jobOf(34)
	for _, pg := range p.Pages {
		if pg.Schedule == nil {
			continue
		}
		row := pg.Schedule.Rows[0]
		row.ID, row.Room, row.Path = "everywhere", "", ""
		rows := []pack.JunctionRow{row}
		for i := range 4000 {
			room := fmt.Sprintf("%c%d", 'A'+rune(i%2), i%17+1)
			row.ID, row.Room, row.Path = room+"-row", room, "rooms/"+room+".html"
			rows = append(rows, row)
		}
		pg.Schedule.Rows = rows
	}
	return p
}

// TestDividedPage: a page above a megabyte has one file for what is common and one for each storey; each row stands in the
// file of its storey and in the single file of its storey, and nowhere else.
func TestDividedPage(t *testing.T) {
	files := render(t, large())
	for name, want := range map[string][3]bool{ // common, ground (A), upper (B)
		"junctions.html": {true, false, false}, "junctions-ground-floor.html": {true, true, false}, "junctions-upper-floor.html": {true, false, true},
		"ml-12-ground-floor.html": {true, true, false}, "ml-12-upper-floor.html": {true, false, true}} {
		text := string(find(t, files, name))
		for i, id := range []string{"everywhere", "A1-row", "B2-row"} {
			if got := strings.Contains(text, id); got != want[i] {
				t.Errorf("%s: row %s %v, want %v", name, id, got, want[i])
			}
		}
		if strings.Contains(text, "<!--") {
			t.Errorf("%s: a mark of the renderer was written", name)
		}
	}
	for name, href := range map[string]string{"rooms/A1.html": "../junctions-ground-floor.html", "surfaces/B1-W3.html": "../junctions-upper-floor.html", "start.html": "junctions.html",
		"junctions.html": "junctions-upper-floor.html", "junctions-upper-floor.html": "junctions.html"} {
		if !strings.Contains(string(find(t, files, name)), `<a href="`+href+`"`) {
			t.Errorf("%s has no link to %s", name, href)
		}
	}
}

// TestPagesDoNotGrowWithTheJob: a room's page of a job with more rooms in other storeys grows by a link or two for each such
// storey and no more (own choice: 120 bytes), since the frame lists only the rooms of its own.
func TestPagesDoNotGrowWithTheJob(t *testing.T) {
	grown := func(storeys int) int {
		p := jobOf(34)
		for i := range storeys - 2 {
			p.Head.Storeys = append(p.Head.Storeys, pack.StoreyLink{Name: fmt.Sprint("Storey ", i)})
		}
		ground := &p.Head.Storeys[0]
		upper := &p.Head.Storeys[1]
		for range storeys { // more rooms in the other storey only
			upper.Rooms = append(upper.Rooms, upper.Rooms[:17]...)
		}
		if len(ground.Rooms) != 17 {
			t.Fatal("the ground floor has changed")
		}
		return len(find(t, render(t, p), "rooms/A1.html"))
	}
	small, big := grown(2), grown(8)
	if perStorey := (big - small) / 6; perStorey > 120 {
		t.Errorf("a page grows by %d bytes for each other storey", perStorey)
	}
}

// TestUnreadableMarkup: what the renderer cannot read for certain it refuses, since a browser might read a program there.
func TestUnreadableMarkup(t *testing.T) {
	for _, c := range []struct{ html, want string }{
		{`<b class=x>1</b>`, "double quotes"}, {`<b class='x'>1</b>`, "double quotes"}, {`<b "x">1</b>`, "no attribute can be read"},
		{`<b ONCLICK="x">1</b>`, "the policy refuses"}, {`<a href="javascript:1">1</a>`, "goes to no page"}, {`<SCRIPT src="x"></SCRIPT>`, "the policy refuses"},
		{`<b/onclick="x">1</b>`, "the policy refuses"},
	} {
		p := job()
		roomOf(&p).Activities[0].Work[0].Steps[0].HTML = c.html
		if _, err := page.Render(p, look); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: want an error with %q, got %v", c.html, c.want, err)
		}
	}
}

// TestBytesAgain: a file made twice has the same bytes.
func TestBytesAgain(t *testing.T) {
	files, err := page.Render(job(), look)
	if err != nil {
		t.Fatal(err)
	}
	again := func(f output.File) string {
		data, err := f.Bytes()
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	}
	for _, f := range files {
		first, second := again(f), again(f)
		if first != second {
			t.Errorf("%s differs when it is made again", f.Path)
		}
	}
}

// TestStripOfManyStoreys: the frame of a storey's page leads to the storeys next to it and to the list of all; that of a
// page common to all lists every one.
func TestStripOfManyStoreys(t *testing.T) {
	p := jobOf(36)
	p.Head.Storeys = nil
	for i := range 9 {
		p.Head.Storeys = append(p.Head.Storeys, pack.StoreyLink{Name: fmt.Sprint("Storey ", i)})
	}
	n := 0
	for _, pg := range p.Pages {
		switch {
		case pg.Room != nil:
			st := &p.Head.Storeys[n/4]
			pg.Room.Storey = st.Name
			st.Rooms = append(st.Rooms, pack.Link{Text: pg.Room.ID, Path: pg.Path})
			n++
		case pg.Overview != nil:
			pg.Overview.Storeys = nil
		}
	}
	files := render(t, p)
	for name, want := range map[string][]string{"rooms/A9.html": {"All pages", "All storeys", "Storey 3", "Storey 4", "A9", "B9", "A10", "B10", "Storey 5"},
		"rooms/A1.html": {"All pages", "All storeys", "Storey 0", "A1", "B1", "A2", "B2", "Storey 1"},
		"start.html":    {"All pages", "Storey 0", "Storey 1", "Storey 2", "Storey 3", "Storey 4", "Storey 5", "Storey 6", "Storey 7", "Storey 8"}} {
		if got := stripOf(string(find(t, files, name))); !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
}

// stripOf is what stands in the strip of a page, in order.
func stripOf(text string) []string {
	_, text, _ = strings.Cut(text, `<nav class="strip"`)
	text, _, _ = strings.Cut(text, "</nav>")
	var out []string
	for _, m := range regexp.MustCompile(`>([^<]+)</(?:a|span)>`).FindAllStringSubmatch(text, -1) {
		out = append(out, m[1])
	}
	return out
}

// TestOverviewOfManyChecks: an overview is divided for the checks it counts as well as for what it shows, so that a storey's
// has its own to read.
func TestOverviewOfManyChecks(t *testing.T) {
	p := jobOf(34)
	for i := range 30000 {
		c := pack.Check{Key: fmt.Sprintf("%c%d/QA-15/more-%d", 'A'+rune(i%2), i%17+1, i), QA: "QA-15", Title: "Face and slack", Record: "tick"}
		c.Seal = record.Seal(c.Statement())
		p.Checks = append(p.Checks, c)
	}
	for _, pg := range p.Pages {
		if o := pg.Overview; o != nil {
			upper := o.Storeys[0]
			o.Storeys[0].Name, upper.Name = "Ground floor", "Upper floor"
			o.Storeys = append(o.Storeys[:1:1], upper)
		}
	}
	files := render(t, p)
	all, ground := len(find(t, files, "index.html")), len(find(t, files, "index-ground-floor.html"))
	if ground*3 > all*2 {
		t.Errorf("the ground floor's overview has %d bytes, that of the whole job %d", ground, all)
	}
}
