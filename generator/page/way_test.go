package page_test

import (
	"encoding/json"
	"path/filepath"
	"slices"
	"strconv"
	"testing"
	"time"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/chromedp"
)

// TestDefectKnowsItsPlace: a defect reported from a room's page opens with that room as its place, in both builds, and only
// that one: whoever comes there later by another way finds no place filled in.
func TestDefectKnowsItsPlace(t *testing.T) {
	for _, p := range builds(t) {
		t.Run(p.name, func(t *testing.T) {
			b := newTablet(t)
			const place = `document.querySelector('section.page.defects .defect [name=place]')`
			b.visit(p.room)
			b.tap(`section.page:not([hidden]) .book a[data-defect="A1"]`)
			b.until(place + ` && ` + place + `.value === 'A1'`)
			b.visit(p.overview)
			b.do(chromedp.Navigate("about:blank"))
			b.visit(p.defects)
			b.until(`lapwork.there.has('shown')`)
			if got := eval[string](b, place+`.value`); got != "" {
				t.Errorf("later the place is %q", got)
			}
		})
	}
}

// named tells the tablet who holds it, so that no question for the name comes between.
func named(b *tablet) {
	b.t.Helper()
	b.tap(`[data-do=who]`)
	b.answer("A. Example")
	b.until(`document.querySelector('[data-do=who]').textContent.includes('A. Example')`)
}

// TestDefectOfManyPlaces: what is not right at a check of several places is a defect of their room, which a person can walk to,
// and the list of defects leads there.
func TestDefectOfManyPlaces(t *testing.T) {
	for _, p := range builds(t) {
		b := newTablet(t)
		b.visit(p.room)
		named(b)
		b.tap(on(sheet, `[data-do=no]`))
		b.answer("marked face to the wall")
		b.until(`lapwork.records().some(r => r.kind === 'defect')`)
		if got := eval[string](b, `lapwork.records().find(r => r.kind === 'defect').place`); got != "A1" {
			t.Errorf("%s: the defect is at %q", p.name, got)
		}
		b.visit(p.defects)
		b.until(`document.querySelector('ul.defects li a.b')`)
		b.tap(`ul.defects li a.b`)
		b.until(`location.href.includes('rooms/A1') && document.documentElement.classList.contains('recording')`)
	}
}

// TestHeadingKeepsItsWordsApart: how far an activity is and what it stands behind are two words, to the eye and read aloud.
func TestHeadingKeepsItsWordsApart(t *testing.T) {
	dir := t.TempDir()
	written(t, dir, render(t, inPhases()))
	b := newTablet(t)
	b.visit(filepath.Join(dir, "rooms/A1-close.html"))
	if got := b.text(".act h3"); got != "Close the wall 0 of 1 behind H4" {
		t.Errorf("the heading says %q", got)
	}
}

// TestAllDoneLeadsToSignOff: where a room's work stands on one page and all of it is done, what comes next is its sign-off.
func TestAllDoneLeadsToSignOff(t *testing.T) {
	for _, p := range builds(t) {
		b := newTablet(t)
		b.visit(p.room)
		named(b)
		for i, check := range []string{sheet, bead, tape} {
			b.tap(on(check, `[data-do=na]`))
			b.answer("no such work here")
			b.until(`lapwork.records().length === ` + strconv.Itoa(i+1))
		}
		b.until(`document.querySelector('.nextup').textContent === 'sign off'`)
		b.tap(`section.page:not([hidden]) .nextup`)
		b.until(`location.href.includes('signoff/A1')`)
	}
}

// TestSavedHasAName: the link in the top line that says what is not exported says so to a screen reader too.
func TestSavedHasAName(t *testing.T) {
	b := newTablet(t)
	b.visit(filepath.Join(pages(t), "rooms/A1.html"))
	tree, err := chromedp.Call(b.ctx, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{})
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range tree.Nodes {
		if n.Ignored || n.Role == nil || string(n.Role.Value) != `"link"` {
			continue
		}
		var name string
		if n.Name != nil {
			_ = json.Unmarshal(n.Name.Value, &name) // a name that is no text is none
		}
		if name == "" {
			t.Errorf("a link without a name: %+v", n)
		}
	}
}

// TestControlsOfTheTabletStayPut: what the script that a finger fetches says of the storage does not move the buttons beside it
// away from under that finger, which would lose the tap.
func TestControlsOfTheTabletStayPut(t *testing.T) {
	b := newTablet(t)
	b.visit(filepath.Join(pages(t), "rooms/A1.html"))
	const tops = `JSON.stringify([...document.querySelectorAll('#tablet button, #tablet .file')].map(e => Math.round(e.getBoundingClientRect().top + scrollY)))`
	before := eval[string](b, tops)
	eval[bool](b, `lapwork.more()`)
	b.until(`document.querySelector('.tally').textContent.includes('MB of storage used')`)
	if after := eval[string](b, tops); after != before {
		t.Errorf("controls stood at %s, now at %s", before, after)
	}
}

// TestRefusalGoesOnceKept: a line that says why something was not kept does not stand beside what is kept after it.
func TestRefusalGoesOnceKept(t *testing.T) {
	b := newTablet(t)
	b.visit(filepath.Join(pages(t), "rooms/A1.html"))
	named(b)
	b.tap(on(bead, `[data-do=num]`))
	b.until(`document.querySelector('#said.on').textContent.includes('Enter a number')`)
	b.do(chromedp.SendKeys(chromedp.CSS(on(bead, "input")), "8"))
	b.tap(on(bead, `[data-do=num]`))
	b.until(`lapwork.records().length === 1`)
	b.until(`!document.querySelector('#said.on')`)
}

// TestNewsBesideATap: what another tab kept may come in while this one keeps something; each record then stands here once.
func TestNewsBesideATap(t *testing.T) {
	a := newTablet(t)
	a.visit(filepath.Join(pages(t), "rooms/A1.html"))
	named(a)
	b := a.secondTab()
	b.visit(filepath.Join(pages(t), "rooms/A1.html"))
	eval[bool](a, `(() => { const {store} = lapwork.tablet, read = store.read;
		store.read = async (name, key) => { if (name === 'recs' && key === undefined) { window.reading = true; await new Promise(yes => setTimeout(yes, 600)); } return read(name, key); };
		return true; })()`)
	eval[bool](b, `document.querySelector('[data-check="`+sheet+`"] [data-do=yes]').click() || true`)
	a.until(`window.reading`)
	eval[bool](a, `document.querySelector('[data-check="`+tape+`"] [data-do=yes]').click() || true`)
	a.until(`lapwork.records().length > 1`)
	a.do(chromedp.Sleep(time.Second))
	if got := eval[[]int](a, `lapwork.records().map(r => r.seq).sort()`); !slices.Equal(got, []int{1, 2}) {
		t.Errorf("records %v, want each once", got)
	}
}
