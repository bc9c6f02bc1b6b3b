package page_test

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"lapwork/generator/pack"
)

// media shows pages as a screen or paper does.
func (b *tablet) media(name string) {
	b.t.Helper()
	if _, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: name}); err != nil {
		b.t.Fatal(err)
	}
}

// TestPaperKeepsTheWork: on paper a room's page has what is done, step by step, and what is checked; it leaves out what only
// a tablet can do.
func TestPaperKeepsTheWork(t *testing.T) {
	b := newTablet(t)
	b.visit(filepath.Join(pages(t), "rooms/A1.html"))
	b.media("print")
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
	details > summary, form.maywe button, form:is(.goods, .work, .day, .defect), [data-do], .file, template, script, .kept, .mark,
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
			b.media(media)
			lost := eval[[]string](b, `[...document.querySelectorAll('main *')].filter(e => [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim()) && !e.closest(`+quoted(paperless)+`)).
				filter(e => { const shown = e.getClientRects().length > 0; if (`+quoted(media)+` === 'screen') { e.onScreen = shown; return false; } return e.onScreen && !shown; }).map(e => e.tagName + '.' + e.className + ' ' + e.textContent.trim().slice(0, 40))`)
			if len(lost) > 0 {
				t.Errorf("%s: not on paper: %q", pg.Path, lost)
			}
		}
	}
}

// TestPaperIsRead: on the paper of every page no heading is the last on its sheet, nothing that is read is smaller than
// 8.5 pt, and no text runs out of a cell that it stands in.
func TestPaperIsRead(t *testing.T) {
	b := newTablet(t)
	dir := pages(t)
	for _, pg := range job().Pages {
		b.visit(filepath.Join(dir, pg.Path))
		b.media("print")
		b.do(chromedp.EmulateViewport(688, 1000)) // 182 mm, what A4 leaves between its margins
		wrong := eval[[]string](b, `(() => {
			const shown = e => e.getClientRects().length > 0, said = e => e.tagName + '.' + e.className + ' ' + e.textContent.trim().slice(0, 40), out = [];
			for (const h of document.querySelectorAll('main :is(h1, h2, h3, h4, h5)'))
				if (shown(h) && !h.closest('.card') && getComputedStyle(h).breakAfter !== 'avoid') out.push('may end a sheet: ' + said(h));
			for (const e of document.querySelectorAll('main *')) {
				if (e.closest('svg, sub, .prog, script, template') || !shown(e) || ![...e.childNodes].some(n => n.nodeType === 3 && n.data.trim())) continue;
				if (parseFloat(getComputedStyle(e).fontSize) < 8.5 * 96 / 72 - .01) out.push('small: ' + said(e));
			}
			for (const e of document.querySelectorAll('main :is(td, th)')) if (shown(e) && e.scrollWidth > e.clientWidth + 1) out.push('runs out: ' + said(e));
			return out;
		})()`)
		for _, w := range wrong {
			t.Errorf("%s: %s", pg.Path, w)
		}
	}
}

// TestPaperIsWrittenOn: where something is recorded, paper has what a pen needs: boxes of 5 mm, a line for a reading, and
// one each for name, role, signature and date.
func TestPaperIsWrittenOn(t *testing.T) {
	b := newTablet(t)
	dir := pages(t)
	for _, path := range []string{"rooms/A1.html", "signoff/A1.html", "start.html", "air.html"} {
		b.visit(filepath.Join(dir, path))
		b.media("print")
		wrong := eval[[]string](b, `(() => {
			const mm = 96 / 25.4, out = [], width = (e, at) => parseFloat(getComputedStyle(e, at).width) / mm, shown = e => e && e.getClientRects().length > 0;
			for (const e of document.querySelectorAll('main [data-check]')) {
				if (!shown(e)) continue;
				for (const r of e.dataset.rec.split(' ')) {
					const want = {tick: ['[data-do=yes]', '[data-do=no]'], meas: ['.num input'], photo: ['.file'], sign: ['.sign .name', '.sign .role', '.sign .fill']}[r];
					for (const css of want) {
						const x = e.querySelector(css);
						if (!shown(x)) out.push(e.dataset.check + ' has no ' + css);
						else if (r === 'tick' || r === 'photo' ? width(x, '::before') < 4.9 : x.getBoundingClientRect().width < 18 * mm) out.push(e.dataset.check + ' has little room: ' + css);
					}
				}
			}
			return out;
		})()`)
		for _, w := range wrong {
			t.Errorf("%s: %s", path, w)
		}
	}
}

// TestPaperWithoutScripts: where no script has run, boxes and lines stand for each thing that a check records.
func TestPaperWithoutScripts(t *testing.T) {
	b := newTablet(t)
	if _, err := chromedp.Call(b.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true}); err != nil {
		t.Fatal(err)
	}
	b.media("print")
	dir, seen := pages(t), map[string]bool{}
	for _, path := range []string{"rooms/A1.html", "signoff/A1.html", "start.html", "air.html"} {
		b.do(chromedp.Navigate("file://" + filepath.Join(dir, path)))
		for _, row := range eval[[][2]string](b, `[...document.querySelectorAll('main [data-check]')].map(e => [e.dataset.rec, getComputedStyle(e, '::after').content])`) {
			for _, r := range strings.Fields(row[0]) {
				seen[r] = true
				want := map[string]string{"tick": "□", "meas": "____", "photo": "photo", "sign": "signature"}[r]
				if !strings.Contains(row[1], want) {
					t.Errorf("%s: what records %q shows %s", path, row[0], row[1])
				}
			}
		}
	}
	if len(seen) != 4 {
		t.Errorf("records of these kinds were seen: %v", seen)
	}
}
