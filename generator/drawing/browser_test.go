package drawing_test

import (
	"context"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"lapwork/generator/drawing"
	"lapwork/generator/drawing/svg"
)

// measure reads the box of every text as the browser sets it and lists what overlaps or leaves its drawing.
const measure = `<script>
const bad = [];
for (const s of document.querySelectorAll('svg.drawing')) {
  const view = s.getBoundingClientRect(), boxes = [];
  for (const t of s.querySelectorAll('text')) {
    const b = t.getBoundingClientRect(), cut = 0.12 * b.height; // the box has room over and under the letters
    const box = {l: b.left, r: b.right, t: b.top + cut, b: b.bottom - cut, text: t.textContent};
    if (box.l < view.left || box.r > view.right || box.t < view.top || box.b > view.bottom) bad.push('leaves: ' + box.text);
    for (const o of boxes) if (box.l < o.r && o.l < box.r && box.t < o.b && o.t < box.b) bad.push('overlap: ' + box.text + ' / ' + o.text);
    boxes.push(box);
  }
}
document.body.innerHTML = '<pre>measured\n' + bad.join('\n') + '</pre>';
</script>`

// TestBrowserTextBoxes lays every fixture out in a browser with this machine's sans font. It needs a Chromium and
// LAPWORK_LONG.
func TestBrowserTextBoxes(t *testing.T) {
	browser, err := exec.LookPath("chromium")
	if err != nil || os.Getenv("LAPWORK_LONG") == "" {
		t.Skip("needs chromium on the path and LAPWORK_LONG")
	}
	var page strings.Builder
	page.WriteString("<!doctype html><meta charset=utf-8><style>" + svg.Base() + svg.Colours(drawing.Inks()) + svg.Paper() + "</style><body>" + svg.Defs(svg.HatchIDs()))
	all := figures()
	for _, id := range slices.Sorted(maps.Keys(all)) {
		page.WriteString(svg.Render(id, all[id]))
	}
	page.WriteString(measure)
	dir := t.TempDir()
	file := filepath.Join(dir, "page.html")
	if err := os.WriteFile(file, []byte(page.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	out, err := exec.CommandContext(ctx, browser, "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
		"--user-data-dir="+filepath.Join(dir, "profile"), "--dump-dom", "file://"+file).Output()
	if err != nil {
		t.Fatal(err)
	}
	_, result, ok := strings.Cut(string(out), "measured\n")
	if !ok {
		t.Fatalf("the page did not measure: %.300s", out)
	}
	result, _, _ = strings.Cut(result, "</pre>")
	if result = strings.TrimSpace(result); result != "" {
		t.Errorf("%s", result)
	}
}
