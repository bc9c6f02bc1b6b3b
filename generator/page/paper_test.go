package page_test

import (
	"path/filepath"
	"slices"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"lapwork/generator/pack"
)

// TestPaperKeepsTheWork: on paper a room's page has what is done, step by step, and what is checked; it leaves out what only
// a tablet can do.
func TestPaperKeepsTheWork(t *testing.T) {
	b := newTablet(t)
	b.visit(filepath.Join(pages(t), "rooms/A1.html"))
	if _, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"}); err != nil {
		t.Fatal(err)
	}
	count := func(css string) int {
		return eval[int](b, `[...document.querySelectorAll(`+quoted(css)+`)].filter(e => e.getClientRects().length).length`)
	}
	for _, css := range []string{".act .work h4", ".act .steps > li", ".act [data-check] .good", ".act .stop", ".fig svg", "main table td"} {
		if all := eval[int](b, `document.querySelectorAll(`+quoted(css)+`).length`); all == 0 || count(css) != all {
			t.Errorf("%d of %d %s are printed", count(css), all, css)
		}
	}
	for _, css := range []string{".strip", ".foot", ".running", ".todo", ".phases", ".book .do", "#said"} {
		if n := count(css); n != 0 {
			t.Errorf("%d %s are printed", n, css)
		}
	}
	texts := eval[[]string](b, `[...document.querySelectorAll('.steps > li')].map(e => e.innerText)`)
	if !slices.ContainsFunc(texts, func(s string) bool { return len(s) > 20 }) {
		t.Errorf("the steps say %q", texts)
	}
}

// paperless is what only a tablet or a screen can use; all else that a page says must stand on paper too.
const paperless = `.strip, .foot, .warn, .said, .saved, dialog, .next, .go, .do, .find, .hits, .paperless, .finger, .running, .todo, .q.count, .st, .but,
	details > summary, form.maywe button, form:is(.goods, .work, .day), [data-do], .file, template, script, .kept, .mark,
	.bench .aside, .card figcaption, .card h2` // a roll's sheet leaves out what the cut list has; half a sheet for the wall has one heading

// TestPaperLosesNothing: every text that a page of any kind shows on a screen stands on its print too.
func TestPaperLosesNothing(t *testing.T) {
	b := newTablet(t)
	dir := pages(t)
	for _, pg := range job().Pages {
		if pg.Kind == pack.KindSearch {
			continue // what it finds is asked on a screen
		}
		b.visit(filepath.Join(dir, pg.Path))
		for _, media := range []string{"screen", "print"} {
			if _, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: media}); err != nil {
				t.Fatal(err)
			}
			lost := eval[[]string](b, `[...document.querySelectorAll('main *')].filter(e => [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim()) && !e.closest(`+quoted(paperless)+`)).
				filter(e => { const shown = e.getClientRects().length > 0; if (`+quoted(media)+` === 'screen') { e.onScreen = shown; return false; } return e.onScreen && !shown; }).map(e => e.tagName + '.' + e.className + ' ' + e.textContent.trim().slice(0, 40))`)
			if len(lost) > 0 {
				t.Errorf("%s: not on paper: %q", pg.Path, lost)
			}
		}
	}
}
