package main

import (
	"bytes"
	"context"
	"image"
	"image/jpeg"
	"net/url"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"lapwork/generator/record"
)

// siteTablet is one profile with the single file of a pack open from its folder.
type siteTablet struct {
	t    *testing.T
	ctx  context.Context
	pack string
}

// another gives a tablet with storage of its own.
func another(t *testing.T, in context.Context, pack string) *siteTablet {
	t.Helper()
	ctx, stop := chromedp.NewContext(in, chromedp.WithNewBrowserContext())
	t.Cleanup(stop)
	return &siteTablet{t, ctx, pack}
}

func (s *siteTablet) open(page string) {
	s.t.Helper()
	u := url.URL{Scheme: "file", Path: filepath.Join(s.pack, "NEW-1.html"), Fragment: page}
	if err := chromedp.Do(s.ctx, chromedp.Navigate("about:blank"), chromedp.Navigate(u.String())); err != nil {
		s.t.Fatal(err)
	}
	s.until(`document.documentElement.classList.contains('recording') && document.querySelector('section.page.on')`)
}

func (s *siteTablet) until(expression string)  { s.t.Helper(); until(s.t, s.ctx, expression) }
func (s *siteTablet) script(expression string) { s.t.Helper(); script(s.t, s.ctx, expression) }

func (s *siteTablet) answer(text string) {
	s.t.Helper()
	s.until(`document.querySelector('#ask').open`)
	s.script(`document.querySelector('#ask input').value = ` + "`" + text + "`" + `; document.querySelector('#ask button[value=ok]').click()`)
}

// tickAll answers yes to every tick of the page that shows, one after the other, and gives how many.
func (s *siteTablet) tickAll() int {
	s.t.Helper()
	n, err := chromedp.Run(s.ctx, chromedp.Evaluate[int](`(window.ticks = [...document.querySelectorAll('section.page.on [data-check] [data-do=yes]')], ticks.length)`))
	if err != nil {
		s.t.Fatal(err)
	}
	before, err := chromedp.Run(s.ctx, chromedp.Evaluate[int](`lapwork.records().length`))
	if err != nil {
		s.t.Fatal(err)
	}
	for i := range n {
		s.script(`ticks[` + strconv.Itoa(i) + `].click()`)
		s.until(`lapwork.records().length > ` + strconv.Itoa(before+i))
	}
	return n
}

// export gives the file that the tablet hands out.
func (s *siteTablet) export() string {
	s.t.Helper()
	dir := s.t.TempDir()
	if _, err := chromedp.CallBrowser(s.ctx, browser.SetDownloadBehavior, browser.SetDownloadBehaviorParams{Behavior: browser.SetDownloadBehaviorBehaviorAllow,
		BrowserContextID: chromedp.FromContext(s.ctx).BrowserContextID, DownloadPath: dir}); err != nil {
		s.t.Fatal(err)
	}
	s.script(`document.querySelector('[data-do=export]').click()`)
	s.until(`document.querySelector('.saved').textContent.includes('all exported')`)
	for end := time.Now().Add(15 * time.Second); time.Now().Before(end); time.Sleep(30 * time.Millisecond) {
		if files, _ := filepath.Glob(filepath.Join(dir, "*.json")); len(files) == 1 {
			if data, err := os.ReadFile(files[0]); err == nil && bytes.HasSuffix(data, []byte("}}\n")) {
				return files[0]
			}
		}
	}
	s.t.Fatal("no export arrived")
	return ""
}

// camera writes a picture as a tablet's camera would.
func camera(t *testing.T) string {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 900, 600)), nil); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "photo.jpg")
	if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

// fitters fills a room on one tablet, with a photo and a reload, and measures a strip and reports a defect on another.
func fitters(t *testing.T, one, two *siteTablet) {
	t.Helper()
	one.open("rooms/A1")
	one.until(`(window.behind = [...document.querySelectorAll('section.page.on .act .behind')].map(b => b.textContent)).length > 3 && behind[0] === 'behind H1' && behind[behind.length - 1].startsWith('behind H1, H2')`)
	one.script(`window.damp = document.querySelector('section.page.on [data-check*="/QA-06/"]'); damp.querySelector('.num input').value = '24'; damp.querySelector('[data-do=num]').click()`)
	one.answer("F. Fitter")
	one.until(`lapwork.records().some(r => r.kind === 'defect' && r.text.includes('24 % is out of range'))`)
	one.open("rooms/A1-layer")
	one.until(`document.querySelector('section.page.on .act .behind').textContent === 'behind H1, H2, H3'`)
	if n := one.tickAll(); n < 3 {
		t.Fatalf("only %d checks of the room are ticked", n)
	}
	shot := `section.page.on [data-check*="/QA-17/"] input[type=file]`
	if err := chromedp.Do(one.ctx, chromedp.SetUploadFiles(chromedp.CSS(shot), []string{camera(t)})); err != nil {
		t.Fatal(err)
	}
	one.until(`lapwork.records().some(r => r.kind === 'photo')`)
	if err := chromedp.Do(one.ctx, chromedp.Reload()); err != nil {
		t.Fatal(err)
	}
	one.until(`document.documentElement.classList.contains('recording') && lapwork.records().some(r => r.kind === 'photo')`)

	two.open("surfaces/A1-W1")
	two.script(`window.cut = document.querySelector('section.page.on [data-cut]'); cut.querySelector('input').value = '2431'; cut.querySelector('[data-do=cut]').click()`)
	two.answer("G. Fitter")
	two.until(`cut.querySelector('output').textContent.includes('measured 2431')`)
	two.open("defects")
	two.script(`window.f = document.querySelector('.defect'); f.elements.place.value = 'A1-W1'; f.elements.text.value = 'tear beside the window'; f.querySelector('button').click()`)
	two.until(`lapwork.records().some(r => r.kind === 'defect')`)
}

// Lines of the job that a start makes, and what they are changed to.
const (
	firstIssue = "issue: {number: 1, date: 2026-01-05, by: Name, reason: first issue}"
	pipe       = "      - {id: P02, item: pipe, in: wall 2, at: [1700, 300], diameter: 22, serves: heating}\n"
	pipes      = pipe + "      - {id: P03, item: pipe, in: wall 2, at: [2150, 300], diameter: 22, serves: heating}\n"
)

// edit replaces a text of the job that stands in it once.
func edit(t *testing.T, job, old, now string) {
	t.Helper()
	file := filepath.Join(job, "job.yaml")
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if strings.Count(string(text), old) != 1 {
		t.Fatalf("the job does not hold %q once", old)
	}
	if err := os.WriteFile(file, []byte(strings.Replace(string(text), old, now, 1)), 0o644); err != nil {
		t.Fatal(err)
	}
}

// TestDayOnSite is a day with three tablets, end to end: two fitters, a lead who takes their files in and signs; the files
// gathered; the job changed and packed again; what is superseded shown on every side, one answer said to be still true; the
// handover of the end printed.
func TestDayOnSite(t *testing.T) {
	ctx := browsed(t)
	top := t.TempDir()
	job, pack := filepath.Join(top, "job"), filepath.Join(top, "pack")
	say(t, "start", job)
	edit(t, job, pipe, pipes)
	say(t, "pack", job, "--out", pack)
	if err := chromedp.Do(ctx, chromedp.Navigate("about:blank")); err != nil {
		t.Fatal(err)
	}
	one, two, lead := another(t, ctx, pack), another(t, ctx, pack), another(t, ctx, pack)
	fitters(t, one, two)
	first, second := one.export(), two.export()

	lead.open("signoff/A1")
	for _, file := range []string{first, second} {
		if err := chromedp.Do(lead.ctx, chromedp.SetUploadFiles(chromedp.CSS("#import"), []string{file})); err != nil {
			t.Fatal(err)
		}
		lead.until(`document.querySelector('#said').textContent.includes('new records taken in')`)
		lead.script(`document.querySelector('#said').textContent = ''`)
	}
	lead.script(`window.h4 = document.querySelector('section.page.on [data-check="A1/H4/A1"]'); h4.querySelector('.name').value = 'L. Lead'; h4.querySelector('[data-do=sign]').click()`)
	lead.answer("two readings follow tomorrow")
	lead.until(`lapwork.records().some(r => r.kind === 'sign' && r.name === 'L. Lead')`)
	lead.open("rooms/A1-layer")
	lead.until(`document.querySelector('section.page.on [data-hold="A1/H4/A1"] span').textContent.startsWith('Released by L. Lead')`)
	lead.until(`(b => b.includes('H3') && !b.includes('H4'))([...document.querySelectorAll('section.page.on .act .behind')].pop().textContent)`)
	third := lead.export()
	if text := say(t, "gather", job, third, first, second); strings.Contains(text, "refused") {
		t.Fatal(text)
	}

	edit(t, job, firstIssue, "issue: {number: 2, date: 2026-01-09, by: Name, reason: one pipe more}")
	edit(t, job, pipes, pipes+"      - {id: P04, item: pipe, in: wall 2, at: [2600, 300], diameter: 22, serves: heating}\n")
	say(t, "pack", job, "--out", pack, "--handover")
	after(t, one, job)
	printed(t, ctx, pack)
}

// after opens the new issue on a tablet: what changed is superseded there and on the change list, and stands again only
// once somebody says so; gathered, the next pack says who.
func after(t *testing.T, one *siteTablet, job string) {
	t.Helper()
	one.open("changes")
	one.until(`document.querySelector('section.page.on .st.is-old') && document.querySelector('section.page.on [data-do=stand]')`)
	if text, err := chromedp.Run(one.ctx, chromedp.Evaluate[string](`document.querySelector('section.page.on').innerText`)); err != nil || !strings.Contains(text, "one pipe more") || !strings.Contains(text, "superseded") ||
		!strings.Contains(text, `places was "A1-P02, A1-P03", is "A1-P02, A1-P03, A1-P04"`) { // the words then came home with the export
		t.Errorf("the change list says, %v: %.600s", err, text)
	}
	one.script(`window.at = document.querySelector('section.page.on [data-do=stand]').closest('[data-check]'); at.querySelector('[data-do=stand]').click()`)
	one.until(`document.querySelector('#ask').open`)
	one.script(`document.querySelector('#ask input').value = 'the new pipe has its collar'; document.querySelector('#ask button[value=ok]').click()`)
	one.until(`document.querySelector('#ask').open && document.querySelector('#ask-t').textContent.includes('Who')`)
	one.script(`document.querySelector('#ask input').value = 'L. Lead'; document.querySelector('#ask button[value=ok]').click()`)
	one.until(`lapwork.records().some(r => r.kind === 'stand') && at.querySelector('.st').textContent.includes('still true as built')`)
	say(t, "gather", job, one.export())
	say(t, "pack", job, "--out", one.pack, "--handover")
	if j, found := record.Load(os.DirFS(job)); len(found.Sorted()) != 0 || len(j.Photos) != 1 {
		t.Errorf("%d photos, %v", len(j.Photos), found.Sorted())
	}
}

// printed looks at the handover as a client does: on the first page, with what the day left, and on paper.
func printed(t *testing.T, ctx context.Context, pack string) {
	t.Helper()
	u := url.URL{Scheme: "file", Path: filepath.Join(pack, "handover.html")}
	if err := chromedp.Do(ctx, chromedp.Navigate(u.String())); err != nil {
		t.Fatal(err)
	}
	until(t, ctx, `document.querySelector('.shot img') && document.querySelector('.shot img').naturalWidth > 0`)
	text, err := chromedp.Run(ctx, chromedp.Evaluate[string](`document.body.innerText`))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"F. Fitter", "L. Lead", "H4", "still true as built, says L. Lead", "the new pipe has its collar", "tear beside the window", "24 % is out of range", "2431 mm", "G. Fitter"} {
		if !strings.Contains(strings.ReplaceAll(text, ",431", "431"), want) {
			t.Errorf("the handover does not say %q", want)
		}
	}
	// On paper nothing is cut off: a table wider than its page would lose who and when.
	if _, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"}); err != nil {
		t.Fatal(err)
	}
	if err := chromedp.Do(ctx, chromedp.EmulateViewport(690, 980)); err != nil { // A4 less its margins, at 96 to the inch
		t.Fatal(err)
	}
	wide, err := chromedp.Run(ctx, chromedp.Evaluate[[]string](`[...document.querySelectorAll('.wide table, .shots, figure, dl, h1')].filter(e => e.offsetParent && e.getBoundingClientRect().right > document.documentElement.clientWidth + 1).map(e => e.innerText.slice(0, 60))`))
	if err != nil || len(wide) != 0 {
		t.Errorf("cut off on paper: %q, %v", wide, err)
	}
	pdf, err := chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPaper(chromedp.PaperA4)))
	if err != nil || !bytes.HasPrefix(pdf, []byte("%PDF-")) {
		t.Fatalf("no PDF: %v", err)
	}
	if n := bytes.Count(pdf, []byte("/Type /Page\n")); n < 2 || n > 60 || !bytes.Contains(pdf, []byte("/Subtype /Image")) {
		t.Errorf("%d pages on paper, a picture among them: %v", n, bytes.Contains(pdf, []byte("/Subtype /Image")))
	}
	if dir := os.Getenv("LAPWORK_KEEP"); dir != "" {
		if err := os.WriteFile(filepath.Join(dir, "handover.pdf"), pdf, 0o644); err != nil {
			t.Error(err)
		}
	}
}
