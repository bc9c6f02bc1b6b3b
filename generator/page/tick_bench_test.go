package page_test

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// BenchmarkTick is the time from a tap on "Yes" until the record is kept, read back and shown, on a processor slowed to a
// sixth, on the room page that stands in LAPWORK_ROOM or else on the example's.
func BenchmarkTick(b *testing.B) {
	page := os.Getenv("LAPWORK_ROOM")
	if page == "" {
		page = filepath.Join(pages(b), "rooms/A1.html")
	}
	t := newTablet(b)
	t.visit(page)
	t.until(`document.documentElement.classList.contains('recording')`)
	t.tap(`[data-check] [data-do=yes]`)
	t.answer("A. Example")
	t.until(`lapwork.records().length === 1`)
	if _, err := chromedp.Call(t.ctx, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: 6}); err != nil {
		b.Fatal(err)
	}
	var all []float64
	for b.Loop() {
		ms := eval[float64](t, `new Promise(done => {
			const ticks = [...lapwork.section.querySelectorAll('[data-do=yes]')], b = ticks[lapwork.records().length % ticks.length], had = lapwork.records().length, from = performance.now();
			b.click();
			const look = () => lapwork.records().length > had ? requestAnimationFrame(() => done(performance.now() - from)) : setTimeout(look, 1);
			look();
		})`)
		all = append(all, ms)
	}
	slices.Sort(all)
	b.ReportMetric(all[len(all)/2], "ms/tick")
	b.ReportMetric(all[len(all)*9/10], "ms/tick-p90")
}

// BenchmarkReady is the time from the start of a page until it shows how its checks stand, and until it records, on a processor
// slowed to a sixth, on the page that stands in LAPWORK_ROOM or else on the example's.
func BenchmarkReady(b *testing.B) {
	page := os.Getenv("LAPWORK_ROOM")
	if page == "" {
		page = filepath.Join(pages(b), "rooms/A1.html")
	}
	t := newTablet(b)
	t.visit(page)
	t.broken(`new MutationObserver(() => { for (const c of document.documentElement.classList) window['at-' + c] ||= performance.now(); }).observe(document, {attributes: true, subtree: true, attributeFilter: ['class']});`)
	if _, err := chromedp.Call(t.ctx, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: 6}); err != nil {
		b.Fatal(err)
	}
	var ready, recording []float64
	for b.Loop() {
		t.do(chromedp.Reload())
		t.until(`window['at-recording']`)
		at := eval[[]float64](t, `[window['at-ready'], window['at-recording']]`)
		ready, recording = append(ready, at[0]), append(recording, at[1])
	}
	slices.Sort(ready)
	slices.Sort(recording)
	b.ReportMetric(ready[len(ready)/2], "ms/ready")
	b.ReportMetric(recording[len(recording)/2], "ms/recording")
}
