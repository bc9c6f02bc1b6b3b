package page_test

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"lapwork/generator/pack"
	"lapwork/generator/record"
)

// The other role that releases the hold of the invented job.
const second = "A1/QA-40/tester"

// signedByTwo is the job with a hold that two roles release.
func signedByTwo() pack.Pack {
	p := job()
	for i, c := range p.Checks {
		if c.Key != hold {
			continue
		}
		c.Key, c.Title, c.Who = second, "Release H4: tester", "tester"
		c.Seal = record.Seal(c.Statement())
		p.Checks = append(p.Checks[:i+1], append([]pack.Check{c}, p.Checks[i+1:]...)...)
		for _, pg := range p.Pages {
			if so := pg.SignOff; so != nil && pg.Path == "signoff/A1.html" {
				so.Groups[0].Signs = append(so.Groups[0].Signs, c)
				so.Seal = record.Seal(so.Statement())
			}
			if pg.Path == "rooms/A1.html" {
				a := &pg.Room.Activities[1]
				a.Stop.Key, a.Stop.Seal = hold+" "+second, p.Checks[i].Seal+" "+c.Seal
			}
		}
		break
	}
	return p
}

// TestReleasedByBoth: a hold that two roles sign is released when both have; a signature does not ask why the other one is
// missing, and what the other signs is no later addition to what it covers.
func TestReleasedByBoth(t *testing.T) {
	dir := t.TempDir()
	written(t, dir, render(t, signedByTwo()))
	b := newTablet(t)
	room, signoff := filepath.Join(dir, "rooms/A1.html"), filepath.Join(dir, "signoff/A1.html")
	b.visit(room)
	if eval[bool](b, `!!document.querySelector('[data-hold].is-done')`) {
		t.Error("released before anybody signed")
	}
	b.visit(signoff)
	sign := func(check, name string) {
		b.do(chromedp.SendKeys(chromedp.CSS(on(check, ".name")), name))
		b.tap(on(check, `[data-do=sign]`))
		if eval[bool](b, `document.querySelector('#ask').open`) {
			if got := b.text("#ask-t"); strings.Contains(got, "4 checks") {
				t.Errorf("the other signature counts as a check that is not done: %q", got)
			}
			b.answer("to see the release")
		}
		b.until(`document.querySelector('[data-check="` + check + `"] .st.is-done')`)
	}
	sign(hold, "A. Example")
	b.visit(room)
	b.until(`document.querySelector('[data-hold] span').textContent.includes('A. Example')`)
	if eval[bool](b, `!!document.querySelector('[data-hold].is-done')`) || !strings.Contains(b.text("h3 .behind"), "H4") {
		t.Error("one of two signatures released the hold")
	}
	b.visit(signoff)
	sign(second, "B. Other")
	if got := b.text(on(hold, ".st")); strings.Contains(got, "added after signing") {
		t.Errorf("the first signature says %q", got)
	}
	b.visit(room)
	b.until(`document.querySelector('[data-hold].is-done')`)
	if got := b.text("[data-hold] span"); !strings.Contains(got, "A. Example, B. Other") {
		t.Errorf("released says %q", got)
	}
	if eval[bool](b, `!!document.querySelector('h3 .behind')`) {
		t.Error("work still stands behind the hold")
	}
}
