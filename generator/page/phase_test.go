package page_test

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"lapwork/generator/pack"
	"lapwork/generator/record"
)

const beadKey = "A1/QA-19/A1-W3+F1"

// inPhases is the job with the last activity of room A1 on a page of its own, behind the hold and the wait of its first page.
func inPhases() pack.Pack {
	p := job()
	closing := check(pack.Check{Key: "A1/QA-37/A1", QA: "QA-37", Title: "Nothing is in the cavity", Accept: "no chips, no wire ends", Who: "fitter", Record: "tick"})
	p.Checks = append(p.Checks, closing)
	slices.SortFunc(p.Checks, func(a, b pack.Check) int { return strings.Compare(a.Key, b.Key) })
	const path = "rooms/A1-close.html"
	row := func(here int, keys ...[]string) []pack.PhaseLink {
		links := []pack.PhaseLink{{Text: "Preparation", Path: "rooms/A1.html"}, {Text: "Close up", Path: path}, {Text: "Sign-off", Path: "signoff/A1.html"}}
		links[here].Here = true
		for i, k := range keys {
			links[i].CheckKeys = k
		}
		return links
	}
	for i := range p.Pages {
		pg := &p.Pages[i]
		switch pg.Path {
		case "rooms/A1.html":
			edges := &pg.Room.Activities[1]
			for _, c := range p.Checks {
				if c.Key == hold {
					edges.Stop.Key, edges.Stop.Seal = hold, c.Seal
				}
			}
			end := pg.Room.Activities[2]
			end.Checks = []pack.Check{closing}
			clock := edges.Clocks[0]
			later := &pack.Phase{ID: "A1-close", Name: "Back bedroom", Storey: "Ground floor", Title: "Close up", Room: "A1", RoomPath: "rooms/A1.html", Key: small("Plan"),
				Earlier: []pack.Stop{*edges.Stop}, Running: []pack.RunningWait{{Key: clock.Key, What: clock.What, Use: clock.Use, Holds: clock.Holds, Minutes: clock.Minutes, From: beadKey}},
				Activities: []pack.Activity{end}, Phases: row(1)}
			pg.Room.Phases = row(0, []string{"A1/QA-15/A1", "A1/QA-17/A1-W3/1+2", beadKey, hold}, []string{closing.Key})
			pg.Room.Activities = pg.Room.Activities[:2]
			p.Pages = append(p.Pages, pack.Page{Path: path, Kind: pack.KindPhase, Title: "A1 Back bedroom: Close up", Where: "A1 Close up", Phase: later})
		case "signoff/A1.html":
			pg.SignOff.Groups = append(pg.SignOff.Groups, pack.SignGroup{Title: "Close the wall", Checks: []pack.Check{closing}})
			pg.SignOff.Seal = record.Seal(pg.SignOff.Statement())
		}
	}
	return p
}

// TestLaterPhase: on the page of a later phase the hold and the wait of the page before count as if they stood there; when
// nothing is left to do on the room's page, it leads over, and it counts what is done on the other.
func TestLaterPhase(t *testing.T) {
	dir := t.TempDir()
	written(t, dir, render(t, inPhases()))
	b := newTablet(t)
	room, later, signoff := filepath.Join(dir, "rooms/A1.html"), filepath.Join(dir, "rooms/A1-close.html"), filepath.Join(dir, "signoff/A1.html")
	b.visit(later)
	if got := b.text("h3 .behind"); !strings.Contains(got, "H4") {
		t.Errorf("work behind a hold of the page before says %q", got)
	}
	if got := b.text(".running summary"); got != "No wait runs." {
		t.Errorf("before anything is placed: %q", got)
	}
	b.visit(room)
	if got := b.text(".nextup"); got != "Hang wall sheet" {
		t.Errorf("next is %q", got)
	}
	b.tap(on("A1/QA-15/A1", "[data-do=yes]"))
	b.answer("A. Example")
	b.until(`document.querySelector('` + on("A1/QA-15/A1", ".st.is-done") + `')`)
	b.do(chromedp.SendKeys(chromedp.CSS(on(beadKey, "input")), "8"))
	b.tap(on(beadKey, "[data-do=num]"))
	b.until(`document.querySelector('` + on(beadKey, ".st.is-done") + `')`)

	b.visit(later)
	b.until(`document.querySelector('.running summary').textContent.includes('Waits running: 1.')`)
	if got := b.text(".until"); !strings.Contains(got, "what lies under it still cures") {
		t.Errorf("work on a bead that cures says %q", got)
	}
	b.tap(on("A1/QA-37/A1", "[data-do=yes]"))
	b.until(`document.querySelector('` + on("A1/QA-37/A1", ".st.is-done") + `')`)

	b.visit(signoff)
	b.do(chromedp.SendKeys(chromedp.CSS(on(hold, ".name")), "A. Example"))
	b.tap(on(hold, "[data-do=sign]"))
	b.answer("the tape is checked tomorrow")
	b.until(`document.querySelector('` + on(hold, ".st.is-done") + `')`)
	b.visit(later)
	if eval[bool](b, `!!document.querySelector('h3 .behind')`) {
		t.Error("still behind a hold that was released")
	}
	if got := b.text(".before .stop"); !strings.Contains(got, "Released by A. Example") {
		t.Errorf("the hold says %q", got)
	}

	b.visit(room)
	b.until(`lapwork.there.has('shown')`)
	if got := eval[[]string](b, `[...document.querySelectorAll('.phases .prog')].map(e => e.textContent)`); !slices.Equal(got, []string{"3 of 4", "1 of 1"}) {
		t.Errorf("the row counts %q", got)
	}
	eval[bool](b, `(document.querySelectorAll('.act').forEach(a => a.querySelectorAll('[data-check]').forEach(e => e.remove())), lapwork.paint(), true)`) // as if all were done
	if got := eval[string](b, `document.querySelector('.nextup').textContent + ' ' + document.querySelector('.nextup').href.split('/').pop()`); !strings.HasPrefix(got, "Close up A1-close.html") {
		t.Errorf("with nothing left to do next is %q", got)
	}
}
