package page_test

import (
	"net/http"
	"net/http/httptest"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// scriptBudget is what the scripts that a page names may weigh: own choice, half of the 25 kB that a room page may fetch beside
// itself.
const scriptBudget = 13_000

var scriptNamed = regexp.MustCompile(`<script src="([^"]+)"></script>`)

// TestScriptsNamed: whatever the page, its scripts stay within the budget; what records is none of them, and lies beside.
func TestScriptsNamed(t *testing.T) {
	sizes := map[string]int{}
	files := render(t, job())
	for _, f := range files {
		sizes[f.Path] = len(f.Data)
	}
	seen := 0
	for _, f := range files {
		if path.Ext(f.Path) != ".html" || f.Path == "ml-12.html" {
			continue
		}
		total, names := 0, scriptNamed.FindAllStringSubmatch(string(f.Data), -1)
		for _, g := range names {
			size := sizes[path.Join(path.Dir(f.Path), g[1])]
			if size == 0 {
				t.Errorf("%s names %s, which is not there", f.Path, g[1])
			}
			total += size
		}
		if total > scriptBudget || len(names) != 2 {
			t.Errorf("%s names %d scripts of %d bytes together, more than 2 of %d", f.Path, len(names), total, scriptBudget)
		}
		seen++
	}
	if seen < 20 || sizes["assets/record.js"] == 0 || sizes["assets/shown.js"] == 0 {
		t.Errorf("%d pages, scripts %v", seen, sizes)
	}
}

// fresh opens a page of the folder on a tablet that has nothing yet, and holds that nothing was fetched which is not wanted.
func fresh(t *testing.T, file string) *tablet {
	t.Helper()
	b := newTablet(t)
	b.visit(file)
	if n := eval[int](b, `lapwork.there.size`); n != 0 {
		t.Errorf("%d scripts were fetched before anything was wanted of them", n)
	}
	return b
}

// TestFirstTap: the tap that has the script fetched which records is kept.
func TestFirstTap(t *testing.T) {
	b := fresh(t, filepath.Join(pages(t), "rooms/A1.html"))
	b.tap(on(sheet, `[data-do=yes]`))
	b.answer("A. Example")
	b.until(`lapwork.records().length === 1`)
	wantState(b, sheet, "is-done", "yes · A. Example")
	if !eval[bool](b, `lapwork.there.has('record')`) {
		t.Error("a record without the script that records")
	}
}

// TestFirstTouchOfFinger: a signature may begin by finger, before anything else had the script fetched.
func TestFirstTouchOfFinger(t *testing.T) {
	b := fresh(t, filepath.Join(pages(t), "signoff/A1.html"))
	b.do(chromedp.ScrollIntoView(chromedp.CSS(on(hold, ".pad"))))
	eval[bool](b, `(async () => {
		const p = document.querySelector(`+quoted(on(hold, ".pad"))+`), r = p.getBoundingClientRect();
		p.setPointerCapture = () => 0;
		const ev = (kind, x, y) => p.dispatchEvent(new PointerEvent(kind, {bubbles: true, pointerId: 1, clientX: r.left + r.width * x, clientY: r.top + r.height * y}));
		ev('pointerdown', .1, .5); ev('pointermove', .3, .5);
		await lapwork.more();
		ev('pointermove', .5, .1); ev('pointerup', .5, .1); ev('pointermove', .9, .9);
		return true;
	})()`)
	if got := eval[string](b, `document.querySelector(`+quoted(on(hold, ".ink"))+`).getAttribute('d')`); got != "M100 150 300 150 500 30" {
		t.Errorf("ink %q", got)
	}
}

// slow serves a pack whose recording script takes a while; what is tapped meanwhile waits for it.
func slow(t *testing.T, delay time.Duration) string {
	t.Helper()
	files := http.FileServer(http.Dir(pages(t)))
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if strings.HasSuffix(r.URL.Path, "/record.js") {
			time.Sleep(delay)
		}
		files.ServeHTTP(w, r)
	}))
	t.Cleanup(server.Close)
	return server.URL
}

// TestDoubleTapWhileItLoads: two taps on one control are one record, and taps on two controls two, asked for the name once.
func TestDoubleTapWhileItLoads(t *testing.T) {
	url := slow(t, time.Second)
	b := newTablet(t)
	b.may = url
	b.do(chromedp.Navigate(url + "/rooms/A1.html"))
	b.until(`document.documentElement.classList.contains('recording')`)
	for _, css := range []string{on(sheet, `[data-do=yes]`), on(sheet, `[data-do=yes]`), on(tape, `[data-do=yes]`)} {
		b.tap(css)
	}
	if eval[bool](b, `lapwork.there.has('record')`) {
		t.Skip("this machine was too slow to tap while the script was on its way")
	}
	b.answer("A. Example")
	b.until(`lapwork.records().length === 2`)
	b.do(chromedp.Sleep(100e6))
	if got := eval[string](b, `lapwork.records().map(r => r.check).sort().join()`); got != sheet+","+tape && got != tape+","+sheet {
		t.Errorf("records of %s", got)
	}
}

// TestServerGone: over a network what records comes by itself behind the page, so that the tablet may leave the server's reach.
func TestServerGone(t *testing.T) {
	files := http.FileServer(http.Dir(pages(t)))
	server := httptest.NewServer(files)
	b := newTablet(t)
	b.may = server.URL
	b.do(chromedp.Navigate(server.URL + "/rooms/A1.html"))
	b.until(`document.documentElement.classList.contains('recording') && lapwork.there.size === 2`)
	server.Close()
	b.tap(on(sheet, `[data-do=yes]`))
	b.answer("A. Example")
	b.until(`lapwork.records().length === 1`)
}

// torn is the pack without some of its files.
func torn(t *testing.T, missing ...string) string {
	t.Helper()
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS(pages(t))); err != nil {
		t.Fatal(err)
	}
	for _, name := range missing {
		if err := os.Remove(filepath.Join(dir, name)); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// TestScriptMissing: in a folder without the script that records, a tap says so, nothing is kept or lost of what was typed, the
// page goes on, and records once the file is there.
func TestScriptMissing(t *testing.T) {
	dir := torn(t, "assets/record.js")
	b := fresh(t, filepath.Join(dir, "rooms/A1.html"))
	const missing = `document.querySelector('#said').textContent.includes('Not kept: a file of the pack is missing.')`
	b.tap(on(sheet, `[data-do=yes]`))
	b.until(missing)
	eval[bool](b, `(document.querySelector('#said').textContent = '', true)`)
	b.do(chromedp.SendKeys(chromedp.CSS(".book textarea"), "stud 3 is 40 mm to the left"))
	b.tap(".book button")
	b.until(missing)
	if got := eval[string](b, `[lapwork.records().length, document.querySelector('.book textarea').value, document.querySelector('#ask').open, document.querySelector('[data-check="`+sheet+`"] .st').className].join()`); got != "0,stud 3 is 40 mm to the left,false,st is-none" {
		t.Errorf("after a tap without the script: %s", got)
	}
	data, err := os.ReadFile(filepath.Join(pages(t), "assets/record.js"))
	if err != nil {
		t.Fatal(err)
	}
	// That of another issue is as good as none: the two would not fit.
	for i, text := range []string{strings.Replace(string(data), eval[string](b, `lapwork.build`), "000000000000", 1), string(data)} {
		if err := os.WriteFile(filepath.Join(dir, "assets/record.js"), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		eval[bool](b, `(document.querySelector('#said').textContent = '', true)`)
		b.tap(".book button")
		if i == 0 {
			b.until(missing)
			b.mu.Lock()
			if len(b.bad) == 0 || !strings.Contains(b.bad[0], "another issue") {
				t.Errorf("a script of another issue ran: %v", b.bad)
			}
			b.bad = nil
			b.mu.Unlock()
		}
	}
	b.answer("A. Example")
	b.until(`lapwork.records().length === 1`)
}

// TestShownMissing: where what shows photos, notes and waits is missing, the page says that it does not show all.
func TestShownMissing(t *testing.T) {
	b := fresh(t, filepath.Join(torn(t, "assets/shown.js"), "rooms/A1.html"))
	b.tap(on(sheet, `[data-do=yes]`))
	b.answer("A. Example")
	b.until(`lapwork.records().length === 1 && document.querySelector('#said').textContent.includes('not all that is recorded shows')`)
	wantState(b, sheet, "is-done", "yes · A. Example")
}

// TestKeyboardOnly: a check is ticked, a number kept and a signature given without a finger, from a fresh page.
func TestKeyboardOnly(t *testing.T) {
	b := fresh(t, filepath.Join(pages(t), "signoff/A1.html"))
	press := func(css, keys string) {
		t.Helper()
		b.do(chromedp.Focus(chromedp.CSS(css)), chromedp.KeyEvent(keys))
	}
	press(on(bead, `input`), "8\t\r") // the number, to its button, and that
	b.until(`document.querySelector('#ask').open`)
	b.do(chromedp.KeyEvent("A. Example\r"))
	b.until(`lapwork.records().length === 1`)
	wantState(b, bead, "is-done", "8 mm")
	press(on(sheet, `[data-do=yes]`), " ")
	b.until(`lapwork.records().length === 2`)
	press(on(hold, `.name`), "A. Example")
	press(on(hold, `[data-do=sign]`), "\r")
	b.until(`document.querySelector('#ask').open`)
	b.do(chromedp.KeyEvent("the rest tomorrow\r"))
	b.until(`lapwork.records().length === 3`)
	wantState(b, hold, "is-done", "signed A. Example")
}
