package page_test

import (
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
)

// A pack in which nothing is recorded, as a preview of details, promises no record and asks for none: it can be read, found
// in and set to another look, in the folder and in the single file.
func TestStill(t *testing.T) {
	p := job()
	p.Head.Still = true
	dir := t.TempDir()
	written(t, dir, render(t, p))
	for _, file := range []string{"search.html", "ml-12.html#search"} {
		b := newTablet(t)
		b.do(chromedp.Navigate("file://" + filepath.Join(dir, file)))
		b.until(`document.documentElement.classList.contains('ready') && !document.querySelector('.find input').disabled`)
		if n := eval[int](b, `document.querySelectorAll('.saved,#warn,#ask,#import,[data-do=who],[data-do=export],.tally').length`); n != 0 {
			t.Errorf("%s: %d elements that only a pack with records has", file, n)
		}
		if eval[bool](b, `document.documentElement.classList.contains('recording')`) {
			t.Errorf("%s records", file)
		}
		b.do(chromedp.SendKeys(chromedp.CSS(".find input"), "lap tape"))
		b.until(`document.querySelectorAll('.hits a').length === 1`)
		b.tap(`[data-look=dark]`)
		b.until(`document.documentElement.classList.contains('dark')`)
	}
}
