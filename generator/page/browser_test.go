package page_test

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// chrome is one browser for all tests; each tablet is a profile of its own in it.
var chrome = struct {
	sync.Once
	ctx  context.Context
	stop []func()
}{}

func TestMain(m *testing.M) {
	code := m.Run()
	for i := len(chrome.stop) - 1; i >= 0; i-- {
		chrome.stop[i]()
	}
	os.Exit(code)
}

// started gives the browser, or skips where there is none; a run that sets CI must have one.
func started(t testing.TB) context.Context {
	t.Helper()
	if testing.Short() {
		t.Skip("short run: no browser")
	}
	var program string
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome", "chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			program = path
			break
		}
	}
	if program == "" && os.Getenv("CI") != "" {
		t.Fatal("no Chromium found, and CI is set")
	}
	if program == "" {
		t.Skip("no Chromium found: what a tablet does is not tested")
	}
	chrome.Do(func() {
		profile, err := os.MkdirTemp("", "lapwork-profile-")
		if err != nil {
			t.Fatal(err)
		}
		alloc, stopAlloc := chromedp.NewExecAllocator(context.Background(), chromedp.ExecPath(program), chromedp.Headless, chromedp.NoSandbox, chromedp.DisableGPU,
			chromedp.NoFirstRun, chromedp.UserDataDir(profile), chromedp.Flag("disable-background-networking", true))
		ctx, stop := chromedp.NewContext(alloc)
		chrome.ctx = ctx
		chrome.stop = append(chrome.stop, func() { os.RemoveAll(profile) }, stopAlloc, stop)
	})
	if err := chromedp.Do(chrome.ctx, chromedp.Navigate("about:blank")); err != nil {
		t.Fatal(err)
	}
	return chrome.ctx
}

// tablet is one profile with one tab. It fails the test on any exception, and on any request that is not a local file.
type tablet struct {
	t   testing.TB
	ctx context.Context
	mu  sync.Mutex
	bad []string
	may string // a server this test asks on purpose
}

func newTablet(t testing.TB) *tablet {
	t.Helper()
	b := &tablet{t: t}
	ctx, stop := chromedp.NewContext(started(t), chromedp.WithNewBrowserContext(), chromedp.WithListener(b.heard))
	b.open(ctx, stop)
	return b
}

// secondTab is another tab of the same tablet.
func (b *tablet) secondTab() *tablet {
	b.t.Helper()
	other := &tablet{t: b.t}
	ctx, stop := chromedp.NewContext(b.ctx, chromedp.WithListener(other.heard))
	other.open(ctx, stop)
	return other
}

func (b *tablet) open(ctx context.Context, stop func()) {
	b.t.Helper()
	b.ctx = ctx
	b.t.Cleanup(func() {
		stop()
		b.mu.Lock()
		defer b.mu.Unlock()
		for _, text := range b.bad {
			b.t.Error(text)
		}
	})
	b.do(chromedp.EmulateViewport(820, 1180, chromedp.EmulateTouch))
}

func (b *tablet) heard(ev any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch ev := ev.(type) {
	case *runtime.EventExceptionThrown:
		b.bad = append(b.bad, "exception: "+exception(ev))
	case *network.EventRequestWillBeSent:
		if u := ev.Request.URL; (b.may == "" || !strings.HasPrefix(u, b.may)) && !strings.HasPrefix(u, "file:") && !strings.HasPrefix(u, "blob:") && !strings.HasPrefix(u, "data:") && u != "about:blank" {
			b.bad = append(b.bad, "request: "+u)
		}
	}
}

// do runs steps with a limit, so that a wait for something that never comes says so.
func (b *tablet) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	if err := chromedp.Do(b.ctx, steps...); err != nil {
		b.t.Fatal(err)
	}
}

// visit opens a file and waits until the pack records.
func (b *tablet) visit(path string) {
	b.t.Helper()
	b.do(chromedp.Navigate("file://" + path))
	b.until(`document.documentElement.classList.contains('recording')`)
}

// until waits for an expression to hold, across pages.
func (b *tablet) until(expression string) {
	b.t.Helper()
	var last error
	for end := time.Now().Add(10 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		ok, err := chromedp.Run(b.ctx, chromedp.Evaluate[bool]("!!("+expression+")"))
		if ok && err == nil {
			return
		}
		last = err
	}
	b.t.Fatalf("waited in vain for %s (%v); said: %s", expression, last, b.text(`#said`))
}

func eval[T any](b *tablet, expression string) T {
	b.t.Helper()
	v, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		b.t.Fatalf("%s: %v", expression, err)
	}
	return v
}

func (b *tablet) text(css string) string {
	b.t.Helper()
	return strings.TrimSpace(eval[string](b, `(document.querySelector(`+quoted(css)+`)||{textContent:'(none)'}).textContent`))
}

func quoted(s string) string { return "`" + strings.ReplaceAll(s, "`", "") + "`" }

func (b *tablet) tap(css string) {
	b.t.Helper()
	b.do(chromedp.ScrollIntoView(chromedp.CSS(css)), chromedp.Tap(chromedp.CSS(css)))
}

// answer types into the pack's own question and says OK.
func (b *tablet) answer(text string) {
	b.t.Helper()
	b.until(`document.querySelector('#ask').open`)
	b.do(chromedp.SendKeys(chromedp.CSS("#ask input"), text), chromedp.Tap(chromedp.CSS("#ask button[value=ok]")))
	b.until(`!document.querySelector('#ask').open`)
}

// on is the selector of a check on the page that shows.
func on(check, rest string) string {
	return `section.page:not([hidden]) [data-check="` + check + `"] ` + rest
}

// packDir writes the invented job once for all tests that only read it.
var packDir = sync.OnceValues(func() (string, error) { return os.MkdirTemp("", "lapwork-pack-") })

func pages(t testing.TB) string {
	t.Helper()
	dir, err := packDir()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(dir, "index.html")); err != nil {
		written(t, dir, render(t, job()))
		chrome.stop = append(chrome.stop, func() { os.RemoveAll(dir) })
	}
	return dir
}

// download lets a tab save files into dir.
func (b *tablet) download(dir string) {
	b.t.Helper()
	_, err := chromedp.CallBrowser(b.ctx, browser.SetDownloadBehavior, browser.SetDownloadBehaviorParams{Behavior: browser.SetDownloadBehaviorBehaviorAllow,
		BrowserContextID: chromedp.FromContext(b.ctx).BrowserContextID, DownloadPath: dir})
	if err != nil {
		b.t.Fatal(err)
	}
}

// saved waits for the one file that was saved into dir.
func (b *tablet) saved(dir string) string {
	b.t.Helper()
	for range 200 {
		files, err := filepath.Glob(filepath.Join(dir, "*.json"))
		if err != nil {
			b.t.Fatal(err)
		}
		if len(files) == 1 {
			return files[0]
		}
		time.Sleep(25 * time.Millisecond)
	}
	b.t.Fatalf("no export was saved; said: %s", b.text("#said"))
	return ""
}

func exception(ev *runtime.EventExceptionThrown) string {
	d := ev.ExceptionDetails
	if d.Exception != nil {
		return d.Text + " " + d.Exception.Description
	}
	return d.Text
}
