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
