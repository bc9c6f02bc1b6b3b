package drawing_test

import (
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	d "lapwork/generator/drawing"
	"lapwork/generator/drawing/svg"
)

func figures() map[string]d.Figure {
	all := map[string]d.Figure{}
	for name, s := range sections() {
		all["section-"+name] = s
	}
	for name, l := range layouts() {
		all["strips-"+name] = l
	}
	for name, r := range rooms() {
		all["room-"+name] = r
	}
	maps.Copy(all, planFigures())
	for name, c := range charts() {
		all["chart-"+name] = c
	}
	return all
}

// TestGallery writes every fixture into one page when LAPWORK_GALLERY names a file, for looking at them.
func TestGallery(t *testing.T) {
	name := os.Getenv("LAPWORK_GALLERY")
	if name == "" {
		t.Skip("LAPWORK_GALLERY is not set")
	}
	var b strings.Builder
	b.WriteString(`<!doctype html><html class="` + os.Getenv("LAPWORK_SCHEME") + `"><meta charset="utf-8"><style>body{background:` + d.Light()[d.Ground] + `}` + svg.Base() + svg.Colours(d.Inks()) + svg.Paper() + `</style>` + svg.Defs(svg.HatchIDs()))
	all := figures()
	for _, id := range slices.Sorted(maps.Keys(all)) {
		if only := os.Getenv("LAPWORK_ONLY"); only == "" || strings.HasPrefix(id, only) {
			b.WriteString("<p>" + id + "</p>" + svg.Render(id, all[id]))
		}
	}
	if err := os.WriteFile(name, []byte(b.String()), 0o600); err != nil {
		t.Fatal(err)
	}
}
