package page_test

import (
	"path/filepath"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// paper is print media on a page as wide as A4 between the theme's margins (182 mm at 96 px an inch).
func (b *tablet) paper() {
	b.t.Helper()
	media := emulation.SetEmulatedMediaParams{Media: "print"}
	if _, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, media); err != nil {
		b.t.Fatal(err)
	}
	b.do(chromedp.EmulateViewport(688, 1000))
}

// shownCards are the cards that paper would carry, with their height in mm, and anything else that would be printed.
const shownCards = `[...document.querySelectorAll('section.page > *')].filter(e => e.getBoundingClientRect().height > 0)
	.map(e => e.matches('.card') ? e.querySelector('h1 .id').textContent + ' ' + Math.round(e.getBoundingClientRect().height / 96 * 25.4) : 'also ' + e.tagName)`

// TestWallCards: the button of a room prints the cards of its surfaces and nothing else, each less than half of what an A4
// sheet holds between its margins (297 − 34 mm); afterwards the room is there again.
func TestWallCards(t *testing.T) {
	b := newTablet(t)
	b.visit(filepath.Join(pages(t), "ml-12.html#rooms/A1"))
	eval[bool](b, `(() => { window.print = () => { window.printed = true; }; return true; })()`)
	b.tap(`section.on [data-do=cards]`)
	b.until(`window.printed`)
	b.paper()
	got := eval[[]string](b, shownCards)
	if len(got) != 1 || got[0] != "A1-W3 128" {
		t.Errorf("printed: %v", got)
	}
	if inside := eval[bool](b, `(() => { const c = document.querySelector('.held .card').getBoundingClientRect(); return [...document.querySelectorAll('.held .card .draw svg, .held .card .cuts, .held .card h1')].every(e => { const r = e.getBoundingClientRect(); return r.height > 10 && r.bottom <= c.bottom + 1 && r.right <= c.right + 1; }); })()`); !inside {
		t.Error("something of the card is cut off")
	}
	eval[bool](b, `window.dispatchEvent(new Event('afterprint'))`)
	if got := eval[string](b, `[...document.querySelectorAll('section.page')].filter(s => s.getBoundingClientRect().height > 0).map(s => s.id).join()`); got != "rooms/A1" {
		t.Errorf("after printing these show: %s", got)
	}
}
