package markdown_test

import (
	"errors"
	"strings"
	"testing"

	"lapwork/generator/markdown"
)

func fill(expression string) (string, error) {
	if expression == "lap_mm" {
		return "100 mm", nil
	}
	return "", errors.New("unknown name")
}

func TestFigures(t *testing.T) {
	r := markdown.New()
	cases := map[string]string{
		"Lap {=lap_mm}. Tape **centred**.": `Lap <b class="fig">100 mm</b>. Tape <strong>centred</strong>.`,
		"`{=lap_mm}` stays code":           `<code>{=lap_mm}</code> stays code`,
		"{lap} and {= open":                `{lap} and {= open`,
	}
	for source, want := range cases {
		if got, err := r.Line(source, fill); err != nil || got != want {
			t.Errorf("%q: got %q, %v; want %q", source, got, err, want)
		}
	}
	if _, err := r.Line("Turn {=turn}.", fill); err == nil || !strings.Contains(err.Error(), "{=turn}") {
		t.Errorf("an unknown figure gave %v", err)
	}
}

// Job text is hostile: no element and no script link of its own reaches the page.
func TestHostileText(t *testing.T) {
	r := markdown.New()
	for _, source := range []string{"<script>alert(1)</script>", "a <img src=x onerror=alert(1)> b",
		"[x](javascript:alert(1))", "![x](data:text/html;base64,AAAA)", "<div onclick=x>\n\nhi"} {
		got, err := r.Render(source, markdown.NoFigures)
		if err != nil {
			t.Fatal(err)
		}
		for _, bad := range []string{"<script", "onerror", "javascript:", "data:text", "onclick"} {
			if strings.Contains(got, bad) {
				t.Errorf("%q gave %q", source, got)
			}
		}
	}
}

func TestFiguresAreListedWithTheirPlace(t *testing.T) {
	source := "Lap {=lap_mm}, end {=tape_end_mm}."
	for _, f := range markdown.New().Figures(source) {
		if !strings.HasPrefix(source[f.Offset:], f.Expression) {
			t.Errorf("%s is not at %d", f.Expression, f.Offset)
		}
	}
}

func TestListing(t *testing.T) {
	got, err := markdown.Listing("id: wall-ceiling # <b>\n", "yaml")
	if err != nil || !strings.Contains(got, "src-") || !strings.Contains(got, "&lt;b&gt;") || strings.Contains(got, "style=") {
		t.Errorf("got %q, %v", got, err)
	}
}

func FuzzRender(f *testing.F) {
	for _, seed := range []string{"1. Lap {=lap_mm}\n2. Tape", "{=", "{=}", "| a |\n|---|\n| b |", "<a href='x'>", "\x00"} {
		f.Add(seed)
	}
	r := markdown.New()
	f.Fuzz(func(t *testing.T, source string) {
		got, err := r.Render(source, func(string) (string, error) { return "<i>", nil })
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(got, "<script") || strings.Contains(got, "<i>") {
			t.Errorf("%q gave markup of its own: %q", source, got)
		}
	})
}
