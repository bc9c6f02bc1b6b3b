package main

import (
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"lapwork/content"
	"lapwork/generator/diag"
	"lapwork/generator/lang"
)

// From any page of either build the same page in each other language is one tap away without a network, the tablet keeps
// recording there, and each step shows the second language of the site beneath it.
func TestLanguagesOffline(t *testing.T) {
	ctx := browsed(t)
	root := t.TempDir()
	job, pack := filepath.Join(root, "job"), filepath.Join(root, "pack")
	say(t, "start", job)
	edit(t, job, "language: en", "language: en\nalso-in: [de, fr, es, pl]\nbeneath: pl")
	say(t, "pack", job, "--out", pack)
	if err := chromedp.Do(ctx, chromedp.Navigate("about:blank")); err != nil {
		t.Fatal(err)
	}
	for build, first := range map[string]string{"folder": "rooms/A1.html", "single": "NEW-1.html#rooms/A1"} {
		t.Run(build, func(t *testing.T) {
			s := another(t, ctx, pack)
			at, anchor, _ := strings.Cut(first, "#")
			u := url.URL{Scheme: "file", Path: filepath.Join(pack, at), Fragment: anchor}
			if err := chromedp.Do(s.ctx, chromedp.Navigate(u.String())); err != nil {
				t.Fatal(err)
			}
			for i, tag := range []string{"en", "de", "fr", "es", "pl"} {
				if i > 0 {
					s.script(`here.querySelector('.tongues a[hreflang=` + tag + `]').click()`)
				}
				var found diag.List
				says := lang.Load(tag, []lang.Layer{{Dir: "content", FS: content.FS}}, &found)
				s.until(`document.documentElement.lang === '` + tag + `' && document.documentElement.classList.contains('recording')`)
				s.until(`document.querySelector('.strip a').textContent === '` + says.Text("All pages") + `'`)
				s.until(`document.querySelector('section.page.on .tongues b, .tongues b').textContent === '` + lang.Name(tag) + `' && document.querySelectorAll('.tongues a').length % 4 === 0`)
				s.until(`document.querySelector('[data-look=sun]').textContent === '` + says.Text("Bright sun") + `'`)
				s.script(`window.here = document.querySelector('section.page.on') || document.querySelector('section.page')`)
				s.until(`here.querySelector('h1').getBoundingClientRect().height > 0 && here.querySelector('h1').textContent.includes('A1')`)
				s.until(`performance.getEntriesByType('resource').every(e => /^(file|data|blob):/.test(e.name))`)
				if tag == "pl" { // nothing stands beneath its own
					s.until(`!document.querySelector('details.other')`)
					continue
				}
				s.script(`window.other = here.querySelector('li details.other'); other.open = true`)
				s.until(`other.lang === 'pl' && other.querySelector('summary').textContent === 'Polski' && other.getBoundingClientRect().height > 40 && other.textContent.length > 20`)
			}
		})
	}
	if _, err := os.Stat(filepath.Join(pack, "NEW-1-pl.html")); err != nil {
		t.Error(err)
	}
}
