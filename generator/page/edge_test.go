package page_test

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// TestStorageForEachFile: where a browser gives every local file a storage of its own, a page reached by a link knows it from the
// id that the link carried, says so and stops.
func TestStorageForEachFile(t *testing.T) {
	dir := pages(t)
	b := newTablet(t)
	b.visit(filepath.Join(dir, "index.html"))
	link := eval[string](b, `document.querySelector('.strip a[href*="A1"]').href`)
	own := eval[string](b, `document.querySelector('.tally').textContent`)
	_, id, _ := strings.Cut(link, "?s=")
	if len(id) != 24 || !strings.Contains(own, "Tablet "+id[:6]) {
		t.Fatalf("link %q carries no id of this storage (%s)", link, own)
	}
	b.do(chromedp.Navigate(link))
	b.until(`document.documentElement.classList.contains('recording')`)
	b.do(chromedp.Navigate(strings.Replace(link, id, strings.Repeat("0", 24), 1)))
	b.until(`document.querySelector('#warn').textContent.includes('Use the single file')`)
	if !eval[bool](b, `!document.querySelector('#warn').hidden && document.querySelector('[data-do=yes]').disabled`) {
		t.Error("the page records into a storage of its own")
	}
}

func TestStorageAlmostFull(t *testing.T) {
	b := newTablet(t)
	b.broken(`Object.defineProperty(navigator, 'storage', {value: {estimate: async () => ({quota: 1e8, usage: 9e7})}});`)
	b.visit(filepath.Join(pages(t), "ml-12.html"))
	b.until(`document.querySelector('#said').textContent.includes('almost full')`)
}

// TestShareSheet: on a touch device with a share sheet the export goes there as plain text, the only kind on the list of
// shareable files that it fits; where the person cancels, nothing counts as exported.
func TestShareSheet(t *testing.T) {
	b := newTablet(t)
	b.broken(`navigator.canShare = x => x.files.length > 0; navigator.share = async x => { if (!window.willing) throw new Error('cancelled'); window.shared = x.files[0]; };`)
	b.visit(filepath.Join(pages(t), "ml-12.html#rooms/A1"))
	if !eval[bool](b, `matchMedia('(pointer: coarse)').matches`) {
		t.Skip("this browser emulates no coarse pointer")
	}
	b.tap(on(sheet, `[data-do=yes]`))
	b.answer("A. Example")
	b.until(`lapwork.records().length === 1`)
	b.tap(`[data-do=export]`)
	b.until(`document.querySelector('#said').textContent.includes('cancelled')`)
	if got := b.text(".saved"); got != "1 not exported" {
		t.Errorf("after a cancelled share %q", got)
	}
	b.do(chromedp.Evaluate[chromedp.Void](`window.willing = true`))
	b.tap(`[data-do=export]`)
	b.until(`window.shared`)
	if got := eval[string](b, `shared.type + ' ' + shared.name`); !strings.HasPrefix(got, "text/plain ml-12-") || !strings.HasSuffix(got, "-1.json.txt") {
		t.Errorf("shared as %q", got)
	}
	b.until(`document.querySelector('.saved').textContent.includes('all exported')`)
}

// TestNotesAndDefects: a note stays with its room; a defect reported from a room has its place filled in, and is put right with
// what was done.
func TestNotesAndDefects(t *testing.T) {
	b := newTablet(t)
	b.visit(filepath.Join(pages(t), "rooms/A1.html"))
	b.do(chromedp.SendKeys(chromedp.CSS(".book textarea"), "stud 3 is 40 mm to the left"))
	b.tap(".book button")
	b.answer("A. Example")
	b.until(`document.querySelector('.book .kept li') && document.querySelector('.book .kept li').textContent.includes('stud 3')`)
	b.tap(".book a[data-defect]")
	b.until(`location.pathname.endsWith('defects.html') && document.documentElement.classList.contains('recording')`)
	b.until(`document.querySelector('[name=place]').value === 'A1'`)
	b.do(chromedp.SendKeys(chromedp.CSS(".defect textarea"), "hole by the <door>"))
	b.tap(".defect button")
	b.until(`document.querySelector('.defects .kept li').textContent.includes('■ open: A1, hole, stops work, our work, hole by the <door>')`)
	b.tap(".defects [data-do=close]")
	b.answer("patched, 100 mm all round")
	b.until(`document.querySelector('.defects .kept li').textContent.includes('✓ put right')`)
}
