package page_test

import (
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"lapwork/generator/diag"
	"lapwork/generator/page"
	"lapwork/generator/record"

	"github.com/chromedp/chromedp"
)

const (
	strip1 = `[data-cut="A1-W3/1"] `
	strip2 = `[data-cut="A1-W3/2"] `
	spot1  = `[data-spot="A1-W3+C1"] `
)

// measures types a clear length for a strip and waits for what is said beside it.
func (b *tablet) measures(strip, value, want string) {
	b.t.Helper()
	b.do(chromedp.SendKeys(chromedp.CSS(strip+"input"), value))
	b.tap(strip + "[data-do=cut]")
	if !eval[bool](b, `document.querySelector('#ask').open || lapwork.records().length > 0`) {
		b.until(`document.querySelector('#ask').open || lapwork.records().length > 0`)
	}
	if eval[bool](b, `document.querySelector('#ask').open`) {
		b.answer("A. Example")
	}
	b.until("document.querySelector(" + quoted(strip+"output") + ").textContent.includes('" + want + "')")
}

// answers answers questions that come one after the other.
func (b *tablet) answers(texts ...string) {
	b.t.Helper()
	asked := ""
	for _, text := range texts {
		b.until(`document.querySelector('#ask').open && document.querySelector('#ask-t').textContent !== ` + quoted(asked))
		asked = b.text("#ask-t")
		eval[bool](b, `(document.querySelector('#ask input').value = `+quoted(text)+`, document.querySelector('#ask button[value=ok]').click(), true)`)
	}
	b.until(`!document.querySelector('#ask').open`)
}

// TestAsMeasured: the cut is the measured length and what the drawing adds, the next whole millimetre up; it survives a
// reload; what the roll does not have and what no roll has is said.
func TestAsMeasured(t *testing.T) {
	b := newTablet(t)
	b.visit(filepath.Join(pages(t), "surfaces/A1-W3.html"))
	b.measures(strip1, "2412,3", "Cut 2573 mm: measured 2413 + 160")
	b.measures(strip2, "2490", "Cut 2650 mm")
	b.until("document.querySelector(" + quoted(strip2+"output") + ").textContent.includes('Roll R1 has 100 mm left and 103 mm more are wanted')")
	b.do(chromedp.Reload())
	b.until("document.querySelector(" + quoted(strip1+"output") + ")")
	if got := b.text(strip1 + "output"); !strings.Contains(got, "Cut 2573 mm") || !strings.Contains(got, "A. Example") {
		t.Errorf("after a reload: %q", got)
	}
	b.measures(strip1, "3900", "Longer than any roll")
	for _, bad := range []string{"-5", "abc", "0"} {
		b.do(chromedp.SendKeys(chromedp.CSS(strip2+"input"), bad))
		b.tap(strip2 + "[data-do=cut]")
		b.until(`document.querySelector('#said').textContent.includes('clear length')`)
		eval[bool](b, `(document.querySelector(`+quoted(strip2+"input")+`).value = '', document.querySelector('#said').textContent = '', true)`)
	}
	if n := eval[int](b, `lapwork.records().length`); n != 3 {
		t.Errorf("%d records, want 3", n)
	}
}

// TestCureClock: the wait begins when something is placed, holds up what would cover it, and is there after a reload; on a
// clock of two days later it is over.
func TestCureClock(t *testing.T) {
	b := newTablet(t)
	b.visit(filepath.Join(pages(t), "rooms/A1.html"))
	if got := b.text(".clock span"); !strings.Contains(got, "then wait 48 h") {
		t.Errorf("before anything is placed: %q", got)
	}
	b.tap(on(tape, `[data-do=yes]`))
	b.answer("A. Example")
	b.until(`document.querySelector('.clock').classList.contains('runs')`)
	b.do(chromedp.Reload())
	b.until(`document.documentElement.classList.contains('recording') && document.querySelector('.waits li')`)
	if got := b.text(".waits"); !strings.Contains(got, "Bead, placed") || !strings.Contains(got, "load or a fan test from") {
		t.Errorf("what waits: %q", got)
	}
	if got := b.text(`[data-act=close] .until`); !strings.HasPrefix(got, "Not before ") {
		t.Errorf("the activity that must wait says %q", got)
	}
	eval[bool](b, `(() => { const now = Date.now; Date.now = () => now() + 49 * 3600000; lapwork.paint(); return true; })()`)
	if eval[bool](b, `!!document.querySelector('.waits li,.until') || document.querySelector('.clock').classList.contains('runs')`) {
		t.Error("49 h later it still waits")
	}
}

// TestSpotSettledOnSite: the spot says that it blocks itself; once settled it shows who and what, with a photo.
func TestSpotSettledOnSite(t *testing.T) {
	b := newTablet(t)
	b.visit(filepath.Join(pages(t), "rooms/A1.html"))
	b.until("document.querySelector(" + quoted(spot1+"output") + ").textContent.includes('this spot only')")
	b.tap(spot1 + "[data-do=settle]")
	b.answers("Fold round the purlin, tape both sides.", "D. Designer", "designer", "A. Example")
	b.until("document.querySelector(" + quoted(spot1+"output") + ").textContent.includes('Settled by D. Designer, designer')")
	b.do(chromedp.SetUploadFiles(chromedp.CSS(spot1+"input[type=file]"), []string{picture(t)}))
	b.until("document.querySelector(" + quoted(spot1+"output img") + ")")
	r := eval[string](b, `JSON.stringify(lapwork.records().map(r => [r.v, r.kind, r.check, r.seal.length]))`)
	if r != `[[2,"settle","A1/spot/A1-W3+C1",64],[1,"photo","A1/spot/A1-W3+C1",64]]` {
		t.Errorf("records %s", r)
	}
}

// TestStillTrueAsBuiltOnTheTablet: after a new issue a superseded answer stands again only by reason and name, and shows both;
// taken back, it is superseded again.
func TestStillTrueAsBuiltOnTheTablet(t *testing.T) {
	b := newTablet(t)
	b.visit(filepath.Join(pages(t), "rooms/A1.html"))
	b.tap(on(sheet, `[data-do=yes]`))
	b.answer("A. Example")
	b.until(`document.querySelector('[data-check="` + sheet + `"] .st.is-done')`)
	next := t.TempDir()
	written(t, next, render(t, reissued()))
	b.visit(filepath.Join(next, "rooms/A1.html"))
	wantState(b, sheet, "is-old", "superseded")
	b.tap(on(sheet, `[data-do=stand]`))
	b.answers("hung with 15 mm from the first day", "S. Lead")
	b.until(`document.querySelector('[data-check="` + sheet + `"] .st.is-done')`)
	wantState(b, sheet, "is-done", "still true as built: hung with 15 mm from the first day, S. Lead")
	b.do(chromedp.Reload())
	b.until(`document.documentElement.classList.contains('recording')`)
	wantState(b, sheet, "is-done", "still true as built")
	b.tap(on(sheet, `[data-do=undo]`))
	b.answer("not so at the window")
	b.until(`document.querySelector('[data-check="` + sheet + `"] .st.is-old')`)
}

// TestSiteBook keeps goods, a day and readings with an instrument past its date, and exports what Go reads without a fault.
func TestSiteBook(t *testing.T) {
	b := newTablet(t)
	b.visit(filepath.Join(pages(t), "site.html"))
	b.do(chromedp.SendKeys(chromedp.CSS(".goods [name=place]"), "tape-60"), chromedp.SendKeys(chromedp.CSS(".goods [name=batch]"), "L 4711"))
	eval[bool](b, `(document.querySelector('.goods [name=useby]').value = '2020-01-31', true)`)
	b.tap(".goods button")
	b.answer("A. Example")
	b.until(`document.querySelector('[data-list=goods] li')`)
	if got := b.text("[data-list=goods]"); !strings.Contains(got, "batch L 4711") || !strings.Contains(got, "past its date") {
		t.Errorf("goods: %q", got)
	}
	b.do(chromedp.SendKeys(chromedp.CSS(".day [name=crew]"), "2 fitters"), chromedp.SendKeys(chromedp.CSS(".day [name=hours]"), "15,5"), chromedp.SendKeys(chromedp.CSS(".day [name=done]"), "A1 walls"), chromedp.SendKeys(chromedp.CSS(".day [name=name]"), "A. Example"))
	b.tap(".day button")
	b.until(`document.querySelector('[data-list=day] li')`)
	eval[bool](b, `(document.querySelector('.work [name=room]').value = 'A1', document.querySelector('.work [name=kind]').value = 'field-lap', true)`)
	b.do(chromedp.SendKeys(chromedp.CSS(".work [name=places]"), "3"), chromedp.SendKeys(chromedp.CSS(".work [name=minutes]"), "42,5"))
	b.tap(".work button")
	b.until(`document.querySelector('[data-list=work] li')`)
	if got := b.text("[data-list=work]"); !strings.Contains(got, "A1, Lap of two sheets, places: 3, 42.5 min") {
		t.Errorf("time taken: %q", got)
	}
	b.visit(filepath.Join(pages(t), "start.html"))
	for name, value := range map[string]string{"air": "15", "rh": "60", "surface": "12", "timber": "17"} {
		b.do(chromedp.SendKeys(chromedp.CSS(".maywe [name="+name+"]"), value))
	}
	b.tap(".maywe button")
	b.until(`document.querySelector('[data-list=start] li')`)
	eval[bool](b, `(document.querySelector('[data-tools] select').value = 'TH1', true)`)
	b.do(chromedp.SendKeys(chromedp.CSS("[data-tools] .num input"), "4"))
	b.tap("[data-tools] [data-do=num]")
	b.until(`document.querySelector('#said').textContent.includes('past its calibration date 2020-02-20')`)
	b.until(`lapwork.records().length === 5`)
	b.visit(filepath.Join(pages(t), "site.html"))
	b.until(`document.querySelectorAll('[data-own] li').length === 5`)
	if got := b.text("[data-own]"); strings.Count(got, "not exported") != 5 || !strings.Contains(got, "work · A1 · 42.5") {
		t.Errorf("records of this tablet: %q", got)
	}
	dir := t.TempDir()
	b.download(dir)
	b.tap(`[data-do=export]`)
	b.until(`document.querySelector('[data-own]').innerText.split('✓ exported').length === 6`)
	if got := b.text(".tally"); !strings.Contains(got, "MB of storage used") {
		t.Errorf("the foot says %q", got)
	}
	data, err := os.ReadFile(b.saved(dir))
	if err != nil {
		t.Fatal(err)
	}
	got, found := record.Parse("export.json", data)
	if found.Count(diag.Fault) != 0 || len(got.Records) != 5 {
		t.Fatalf("%d records: %v", len(got.Records), found.Sorted())
	}
	for i, want := range []record.Kind{record.Goods, record.Day, record.Work, record.Start, record.Reading} {
		if r := got.Records[i]; r.Kind != want || r.V != 2 {
			t.Errorf("record %d is a %s of version %d, want %s of 2", i+1, r.Kind, r.V, want)
		}
	}
	if r := got.Records[1]; r.Fields["hours"] != "15.5" || r.Name != "A. Example" {
		t.Errorf("the day's sheet is %+v", r)
	}
	if r := got.Records[2]; r.Place != "A1" || r.Value != "42.5" || r.Fields["kind"] != "field-lap" || r.Fields["places"] != "3" {
		t.Errorf("time taken is %+v", r)
	}
	if got.Records[4].Tool != "TH1" {
		t.Errorf("the reading names %q", got.Records[4].Tool)
	}
}

// TestRefusalInWords: what a server refuses is said in words, and the record stays on the tablet as not exported.
func TestRefusalInWords(t *testing.T) {
	file := page.Served(find(t, render(t, job()), "ml-12.html"), "/records")
	for _, c := range []struct {
		status int
		body   string
		want   []string
	}{
		{http.StatusUnauthorized, "not let in", []string{"not let in", "Scan the code"}},
		{http.StatusUnprocessableEntity, `{"says":["the pack is of another job"]}`, []string{"refused the records", "It says: the pack is of another job"}},
		{http.StatusInsufficientStorage, `{"says":[]}`, []string{"could not write them"}},
		{http.StatusTeapot, "", []string{"answered 418"}},
	} {
		server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if r.Method == http.MethodPost {
				http.Error(w, c.body, c.status)
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
		b.until(`document.querySelector('#said').textContent.startsWith('Not sent; kept on this tablet.')`)
		for _, want := range c.want {
			if got := b.text("#said"); !strings.Contains(got, want) {
				t.Errorf("%d is said as %q, want %q", c.status, got, want)
			}
		}
		if got := b.text(".saved"); got != "1 not exported" {
			t.Errorf("%d: the top line says %q", c.status, got)
		}
	}
}

// TestVerifyOnThePage: what nobody touched verifies; a changed word and a changed record are named.
func TestVerifyOnThePage(t *testing.T) {
	b := newTablet(t)
	b.visit(filepath.Join(pages(t), "ml-12.html"))
	eval[bool](b, `(location.hash = 'rooms/A1', true)`)
	b.until(`document.documentElement.classList.contains('recording')`)
	b.tap(on(sheet, `[data-do=yes]`))
	b.answer("A. Example")
	b.until(`lapwork.records().length === 1`)
	says := func() string {
		eval[bool](b, `(location.hash = 'handover', true)`)
		b.until(`document.querySelector('section.page.on .verify [data-do=verify]') && !document.querySelector('section.page.on .verify [data-do=verify]').disabled`)
		b.tap(`section.page.on .verify [data-do=verify]`)
		b.until(`document.querySelector('section.page.on .verify output').textContent`)
		return b.text(`section.page.on .verify output`)
	}
	if got := says(); !strings.Contains(got, "1 records are as they were sealed") || strings.HasPrefix(got, "0 ") {
		t.Errorf("untouched: %q", got)
	}
	eval[bool](b, `(document.querySelector('[data-check="`+sheet+`"] [data-s=accept]').textContent = 'looks good', lapwork.records()[0].value = 'no', true)`)
	if got := says(); !strings.Contains(got, sheet) || !strings.Contains(got, "record 1 of tablet") {
		t.Errorf("changed: %q", got)
	}
}
