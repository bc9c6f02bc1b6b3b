package page_test

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"lapwork/generator/record"

	"github.com/chromedp/chromedp"
)

const (
	tape  = "A1/QA-17/A1-W3/1+2"
	bead  = "A1/QA-19/A1-W3+F1"
	sheet = "A1/QA-15/A1"
	hold  = "A1/QA-40/H4"
)

// places are the pages of one build as a tablet opens them.
type places struct{ name, room, signoff, overview, defects string }

func builds(t *testing.T) []places {
	dir := pages(t)
	single := filepath.Join(dir, "ml-12.html")
	return []places{
		{"folder", filepath.Join(dir, "rooms/A1.html"), filepath.Join(dir, "signoff/A1.html"), filepath.Join(dir, "index.html"), filepath.Join(dir, "defects.html")},
		{"single", single + "#rooms/A1", single + "#signoff/A1", single + "#index", single + "#defects"},
	}
}

// TestTabletDay does a room's work on a tablet, in both builds: tick, reading out of range, all but one, photo, reload, sign,
// export; then another tablet takes the export in, and a changed one is refused.
func TestTabletDay(t *testing.T) {
	for _, p := range builds(t) {
		t.Run(p.name, func(t *testing.T) {
			b := newTablet(t)
			b.visit(p.room)
			if eval[bool](b, `!document.querySelector('#warn').hidden`) {
				t.Error("the warning still shows although the pack records")
			}
			fillRoom(b)
			b.do(chromedp.Reload())
			b.until(`document.documentElement.classList.contains('recording')`)
			wantState(b, tape, "is-done", "yes, photo · A. Example")
			wantState(b, bead, "is-stop", "2.5 mm, out of range")
			wantState(b, sheet, "is-stop", "all but A1-W1")
			b.visit(p.overview)
			if got := b.text(`.prog`); got != "1 of 4, 2 stopped" {
				t.Errorf("progress on the overview %q", got)
			}
			b.visit(p.defects)
			if got := eval[int](b, `document.querySelectorAll('section.defects .kept li').length`); got != 2 {
				t.Errorf("%d defects listed, want 2: %s", got, b.text(".kept"))
			}
			sign(b, p)
			file, data := export(b)
			checkExport(t, data)
			takeIn(t, p, file, data)
		})
	}
}

func fillRoom(b *tablet) {
	b.t.Helper()
	b.tap(on(tape, `[data-do=yes]`))
	b.answer("A. Example")
	b.until(`document.querySelector('[data-check="` + tape + `"] .st').classList.contains('is-part')`)
	b.do(chromedp.SetUploadFiles(chromedp.CSS(on(tape, `input[type=file]`)), []string{picture(b.t)}))
	b.until(`document.querySelector('[data-check="` + tape + `"] .st.is-done img')`)
	b.do(chromedp.SendKeys(chromedp.CSS(on(bead, `input`)), "2,5"))
	b.tap(on(bead, `[data-do=num]`))
	b.until(`document.querySelector('[data-check="` + bead + `"] .st.is-stop')`)
	b.until(`document.querySelector('#said').textContent.includes('defect was opened')`)
	b.tap(on(sheet, `summary`))
	b.tap(on(sheet, `.but label:has([value="A1-W1"])`))
	b.tap(on(sheet, `[data-do=but]`))
	b.answer("sag 40 mm")
	b.until(`lapwork.records().filter(r => r.kind === 'defect').length === 2`)
}

func wantState(b *tablet, check, class, text string) {
	b.t.Helper()
	css := on(check, ".st")
	if got := b.text(css); !strings.Contains(got, text) || !eval[bool](b, `document.querySelector(`+quoted(css)+`).classList.contains('`+class+`')`) {
		b.t.Errorf("%s shows %q, want %s with %q", check, got, class, text)
	}
}

// sign signs the hold with two checks not done, which asks why, and by finger too.
func sign(b *tablet, p places) {
	b.t.Helper()
	b.visit(p.signoff)
	b.do(chromedp.SendKeys(chromedp.CSS(on(hold, ".name")), "A. Example"), chromedp.ScrollIntoView(chromedp.CSS(on(hold, ".pad"))))
	eval[bool](b, `(() => { const p = document.querySelector(`+quoted(on(hold, ".pad"))+`), r = p.getBoundingClientRect();
		p.setPointerCapture = () => 0;
		const ev = (kind, x, y) => p.dispatchEvent(new PointerEvent(kind, {bubbles: true, pointerId: 1, clientX: r.left + r.width * x, clientY: r.top + r.height * y}));
		ev('pointerdown', .1, .5); ev('pointermove', .5, .1); ev('pointermove', .9, .5); ev('pointerup', .9, .5); return true; })()`)
	b.tap(on(hold, `[data-do=sign]`))
	b.answer("repairs booked for tomorrow")
	b.until(`document.querySelector('[data-check="` + hold + `"] .st.is-done')`)
}

func export(b *tablet) (file string, data []byte) {
	b.t.Helper()
	dir := b.t.TempDir()
	b.download(dir)
	if got := b.text(".saved"); got != "7 not exported" {
		b.t.Errorf("before the export the top line says %q", got)
	}
	b.tap(`[data-do=export]`)
	file = b.saved(dir)
	b.until(`document.querySelector('.saved').textContent.includes('all exported')`)
	data, err := os.ReadFile(file)
	if err != nil {
		b.t.Fatal(err)
	}
	return file, data
}

// checkExport reads the tablet's file with the Go side: chain, seals and photo must hold there too.
func checkExport(t *testing.T, data []byte) {
	t.Helper()
	got, found := record.Parse("export.json", data)
	if f := found.Sorted(); len(f) != 0 {
		t.Fatalf("findings in a tablet's own export: %v", f)
	}
	var kinds []string
	seals := map[string]string{}
	for _, c := range job().Checks {
		seals[c.Key] = c.Seal
	}
	for _, r := range got.Records {
		kinds = append(kinds, string(r.Kind))
		if r.Check != "" && r.Seal != seals[r.Check] {
			t.Errorf("record %d carries seal %s, the pack has %s", r.Seq, r.Seal, seals[r.Check])
		}
		if r.Kind == record.Sign {
			pack := job()
			if r.Seals["signoff/A1.html"] != signOffOf(&pack).Seal || len(r.Covers) != 4 || len(r.Strokes) != 1 || len(r.Strokes[0]) != 6 || r.Reason == "" {
				t.Errorf("signature %+v", r)
			}
		}
	}
	if want := []string{"tick", "photo", "meas", "defect", "tick", "defect", "sign"}; !slices.Equal(kinds, want) {
		t.Errorf("kinds %v, want %v", kinds, want)
	}
	for _, p := range got.Photos {
		img, err := jpeg.DecodeConfig(bytes.NewReader(p))
		if err != nil || img.Width != 1600 || img.Height != 1200 {
			t.Errorf("photo %dx%d, %v; want 1600x1200", img.Width, img.Height, err)
		}
	}
	if len(got.Photos) != 1 {
		t.Errorf("%d photos", len(got.Photos))
	}
}

// takeIn gives the export to a tablet that has nothing yet, first with one value changed.
func takeIn(t *testing.T, p places, file string, data []byte) {
	t.Helper()
	b := newTablet(t)
	b.visit(p.room)
	changed := filepath.Join(t.TempDir(), "changed.json")
	if err := os.WriteFile(changed, bytes.Replace(data, []byte(`"value":"2.5"`), []byte(`"value":"8.5"`), 1), 0o644); err != nil {
		t.Fatal(err)
	}
	b.do(chromedp.SetUploadFiles(chromedp.CSS("#import"), []string{changed}))
	b.until(`document.querySelector('#said').textContent.includes('Refused')`)
	if n := eval[int](b, `lapwork.records().length`); n != 0 {
		t.Errorf("%d records taken from a changed file", n)
	}
	b.do(chromedp.SetUploadFiles(chromedp.CSS("#import"), []string{file}))
	b.until(`document.querySelector('#said').textContent.includes('7 new records')`)
	wantState(b, tape, "is-done", "yes, photo · A. Example")
	b.until(`document.querySelector('[data-check="` + tape + `"] .st img')`)
}

func picture(t testing.TB) string {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, 2000, 1500))
	for y := range 1500 {
		for x := range 2000 {
			img.Set(x, y, color.RGBA{uint8(x / 8), uint8(y / 6), 90, 255})
		}
	}
	path := filepath.Join(t.TempDir(), "photo.jpg")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := jpeg.Encode(f, img, nil); err != nil {
		t.Fatal(err)
	}
	return path
}
