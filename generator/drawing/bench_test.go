package drawing_test

import (
	"fmt"
	"maps"
	"slices"
	"testing"

	d "lapwork/generator/drawing"
	"lapwork/generator/drawing/svg"
)

// BenchmarkRender lays out and writes each kind of drawing.
func BenchmarkRender(b *testing.B) {
	all := figures()
	for _, id := range slices.Sorted(maps.Keys(all)) {
		b.Run(id, func(b *testing.B) {
			b.ReportAllocs()
			n := 0
			for b.Loop() {
				n = len(svg.Render("x", all[id]))
			}
			b.ReportMetric(float64(n), "bytes")
		})
	}
}

// BenchmarkRenderLarge is a storey of as many rooms as the largest survey may have.
func BenchmarkRenderLarge(b *testing.B) {
	p := d.StoreyPlan{Title: "Storey"}
	for i := range 400 {
		x, y := float64(i%20)*4200, float64(i/20)*3200
		p.Rooms = append(p.Rooms, d.PlanRoom{ID: fmt.Sprintf("B%d", i), Name: "Room", Outline: rect(x, y, x+4100, y+3100)})
		p.Edges = append(p.Edges, d.PlanEdge{From: d.XY{X: x, Y: y}, To: d.XY{X: x + 4100, Y: y}, ID: fmt.Sprintf("B%d-W1", i), Carries: true})
	}
	for b.Loop() {
		svg.Render("x", p)
	}
}
