package page_test

import (
	"io"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"testing"
	"time"

	"lapwork/generator/diag"
	"lapwork/generator/page"
	"lapwork/generator/record"

	"github.com/chromedp/chromedp"
)

// TestNewIssue: what was ticked before a statement changed shows as superseded on the page of the new issue, in words; what did
// not change stays done.
func TestNewIssue(t *testing.T) {
	b := newTablet(t)
	b.visit(filepath.Join(pages(t), "rooms/A1.html"))
	b.tap(on(sheet, `[data-do=yes]`))
	b.answer("A. Example")
	b.until(`document.querySelector('[data-check="` + sheet + `"] .st.is-done')`)
	b.do(chromedp.SendKeys(chromedp.CSS(on(bead, `input`)), "8"))
	b.tap(on(bead, `[data-do=num]`))
	b.until(`document.querySelector('[data-check="` + bead + `"] .st.is-done')`)
	next := t.TempDir()
	written(t, next, render(t, reissued()))
	b.visit(filepath.Join(next, "rooms/A1.html"))
	wantState(b, sheet, "is-old", "superseded")
	wantState(b, bead, "is-done", "8 mm")
	if got := b.text(on(sheet, ".changed")); got != "Changed since the last issue: sag was 20 mm" {
		t.Errorf("what changed: %q", got)
	}
	b.visit(filepath.Join(next, "index.html"))
	if got := b.text(".prog"); got != "1 of 4, 1 superseded" {
		t.Errorf("progress %q", got)
	}
	b.visit(filepath.Join(next, "rooms/A1.html"))
	b.tap(on(sheet, `[data-do=yes]`))
	b.until(`document.querySelector('[data-check="` + sheet + `"] .st.is-done')`)
}

// TestUndo takes a tick back with a reason; both records stay.
func TestUndo(t *testing.T) {
	b := newTablet(t)
	b.visit(filepath.Join(pages(t), "ml-12.html#rooms/A1"))
	b.tap(on(sheet, `[data-do=yes]`))
	b.answer("A. Example")
	b.until(`document.querySelector('[data-check="` + sheet + `"] .st.is-done')`)
	b.tap(on(sheet, `[data-do=undo]`))
	b.answer("wrong room")
	b.until(`document.querySelector('[data-check="` + sheet + `"] .st.is-none')`)
	if got := eval[string](b, `lapwork.records().map(r => r.kind + ' ' + (r.reason || '')).join()`); got != "tick ,void wrong room" {
		t.Errorf("records %q", got)
	}
}

// TestServedPagePosts: a page from a server in reach sends each record there and counts it as exported.
func TestServedPagePosts(t *testing.T) {
	file := page.Served(find(t, render(t, job()), "ml-12.html"), "/records")
	posted := make(chan []byte, 9)
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method == http.MethodPost && r.URL.Path == "/records" {
			data, err := io.ReadAll(r.Body)
			if err != nil {
				t.Error(err)
			}
			posted <- data
			return
		}
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		if _, err := w.Write(file); err != nil {
			t.Error(err)
		}
	}))
	defer server.Close()
	b := newTablet(t)
	b.may = server.URL
	b.do(chromedp.Navigate(server.URL + "/#rooms/A1"))
	b.until(`document.documentElement.classList.contains('recording')`)
	b.tap(on(sheet, `[data-do=yes]`))
	b.answer("A. Example")
	select {
	case data := <-posted:
		got, found := record.Parse("posted", data)
		if found.Count(diag.Fault) != 0 || len(got.Records) != 1 || got.Records[0].Check != sheet {
			t.Errorf("posted %+v, findings %v", got.Records, found.Sorted())
		}
	case <-time.After(10 * time.Second):
		t.Fatalf("nothing was posted; said: %s", b.text("#said"))
	}
	b.until(`document.querySelector('.saved').textContent.includes('all exported')`)
}
