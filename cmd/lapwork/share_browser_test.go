package main

import (
	"context"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"lapwork/generator/record"
)

// browsed is a browser with a fresh profile; it fails the test on any exception or blocked script.
func browsed(t *testing.T) context.Context {
	t.Helper()
	program, err := exec.LookPath("chromium")
	if err != nil && os.Getenv("CI") != "" {
		t.Fatal("no Chromium found, and CI is set")
	}
	if err != nil || testing.Short() {
		t.Skip("no browser: what a tablet does with share is not tested")
	}
	alloc, stopAlloc := chromedp.NewExecAllocator(context.Background(), chromedp.ExecPath(program), chromedp.Headless, chromedp.NoSandbox,
		chromedp.DisableGPU, chromedp.NoFirstRun, chromedp.UserDataDir(t.TempDir()), chromedp.Flag("disable-background-networking", true))
	var mu sync.Mutex
	var bad []string
	ctx, stop := chromedp.NewContext(alloc, chromedp.WithListener(func(ev any) {
		if e, ok := ev.(*runtime.EventExceptionThrown); ok {
			mu.Lock()
			defer mu.Unlock()
			bad = append(bad, e.ExceptionDetails.Text)
		}
	}))
	t.Cleanup(func() {
		stop()
		stopAlloc()
		mu.Lock()
		defer mu.Unlock()
		for _, text := range bad {
			t.Error("exception: " + text)
		}
	})
	return ctx
}

// until waits for an expression to hold, across pages.
func until(t *testing.T, ctx context.Context, expression string) {
	t.Helper()
	for end := time.Now().Add(20 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if ok, err := chromedp.Run(ctx, chromedp.Evaluate[bool]("!!("+expression+")")); ok && err == nil {
			return
		}
	}
	page, err := chromedp.Run(ctx, chromedp.Evaluate[string](`location.href + ' ' + document.body.innerText.slice(0, 300)`))
	t.Fatalf("waited in vain for %s on %s, %v", expression, page, err)
}

func script(t *testing.T, ctx context.Context, text string) {
	t.Helper()
	if _, err := chromedp.Run(ctx, chromedp.Evaluate[bool](text+";true")); err != nil {
		t.Fatal(err)
	}
}

// TestTabletAtTheShare opens the scanned address, ticks, ticks on while the server is down, and is sent on when it is back;
// the words that were ticked against are kept with the records.
func TestTabletAtTheShare(t *testing.T) {
	ctx := browsed(t)
	top := t.TempDir()
	job, pack := filepath.Join(top, "job"), filepath.Join(top, "pack")
	say(t, "start", job)
	say(t, "pack", job, "--out", pack)
	s := startShare(t, pack, "--job", job)
	if err := chromedp.Do(ctx, chromedp.Navigate(s.url+"/pair#"+s.now())); err != nil {
		t.Fatal(err)
	}
	until(t, ctx, `document.documentElement.classList.contains('recording')`)
	until(t, ctx, `location.pathname === '/' && !location.hash.includes('code')`)
	script(t, ctx, `location.hash = '#rooms/A1-layer'`)
	until(t, ctx, `document.querySelector('section.page.on [data-do=yes]')`)
	script(t, ctx, `window.sealed = [...document.querySelectorAll('[data-check][data-seal]')].filter(e => e.querySelector('[data-do=yes]'));
		sealed[0].querySelector('[data-do=yes]').click()`)
	until(t, ctx, `document.querySelector('#ask').open`)
	script(t, ctx, `document.querySelector('#ask input').value = 'A. Example'; document.querySelector('#ask button[value=ok]').click()`)
	until(t, ctx, `document.querySelector('.saved').textContent.includes('all exported')`)
	if j, _ := record.Load(os.DirFS(job)); len(j.Records) != 1 || j.Records[0].Who != "A. Example" {
		t.Errorf("records %+v", j.Records)
	}

	at, err := url.Parse(s.url)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.end(t, os.Kill); err == nil {
		t.Error("it was not killed")
	}
	script(t, ctx, `sealed[1].querySelector('[data-do=yes]').click()`)
	until(t, ctx, `document.querySelector('.saved').textContent.includes('1 not exported')`)
	startShare(t, pack, "--job", job, "--port", at.Port())
	until(t, ctx, `(dispatchEvent(new Event('online')), document.querySelector('.saved').textContent.includes('all exported'))`)

	j, found := record.Load(os.DirFS(job))
	if len(j.Records) != 2 || len(found.Sorted()) != 0 {
		t.Fatalf("%d records: %v", len(j.Records), found.Sorted())
	}
	for _, r := range j.Records {
		lines := j.Statements[r.Seal]
		if len(lines) == 0 || lines[0].Key != r.Check+"#title" {
			t.Errorf("the words of %s are %v", r.Check, lines)
		}
	}
}
