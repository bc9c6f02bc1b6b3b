package generator_test

import (
	"context"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"lapwork/content"
	"lapwork/generator"
	"lapwork/generator/markdown"
	"lapwork/generator/output"
	"lapwork/templates"
	"lapwork/themes"
)

// perStorey is how many rooms a storey of the generated job has.
const perStorey = 20

// terrace is a generated job of n equal rooms, twenty to a storey: a corner room with two outer walls, a flat ceiling
// under a cold loft, a window, a pipe and two cables.
func terrace(n int) fs.FS {
	var b strings.Builder
	b.WriteString(`reference: BENCH
name: Terrace
lengths: mm
scenario: A generated job.
place: {address: nowhere, country: DE}
target: {kind: n50, value: 1.5, source: none}
building: {work: new, built: 2026}
issue: {number: 1, date: 2026-01-05, by: bench, reason: bench}
safety: {emergency: "112", first-aider: a, assembly-point: b, isolation: c, safety-sheets: d, briefed: [a], heater: electric}
choices: {sheet-main: sheet-variable}
stock:
  - {component: sheet-variable, width: 1.5 m, length: 50 m}
faces:
  outer: {behind: outside, layer: sheet, substrate: timber-planed, framing: {spacing: 600}, cavity: 40, lining: 15}
  inside: {behind: heated, layer: none, substrate: plasterboard, framing: {spacing: 600}}
  loft: {behind: unheated, layer: sheet, substrate: timber-planed, framing: {spacing: 600, along: y}, cavity: 40, lining: 15}
  slab: {behind: ground, layer: none, substrate: screed}
storeys:
`)
	for st := range (n + perStorey - 1) / perStorey {
		fmt.Fprintf(&b, "  - {id: \"%d\", name: Storey %d, level: %d, height: 2400, usual: {floor: slab, ceiling: loft, walls: inside}}\n", st, st, st*2800)
	}
	b.WriteString("rooms:\n")
	for i := range n {
		fmt.Fprintf(&b, `  - id: R%[1]d
    name: Room %[1]d
    storey: "%[4]d"
    plan: {from: [%[2]d, %[3]d], size: [4000, 3000]}
    walls: {1: outer, 2: outer}
    openings:
      - {id: O1, kind: window, in: wall 1, at: [1200, 900], size: [1200, 1200], reveal: 120}
    penetrations:
      - {id: P01, item: cable, in: wall 1, at: [600, 300], diameter: 10, serves: sockets}
      - {id: P02, item: cable, in: wall 2, at: [600, 300], diameter: 10, serves: lamp}
      - {id: P03, item: pipe, in: wall 2, at: [1700, 300], diameter: 22, serves: heating}
`, i+1, i%10*4200, i/10%2*3200, i/perStorey)
	}
	return fstest.MapFS{"job.yaml": {Data: []byte(b.String())}}
}

func bench(n int) generator.Sources {
	return generator.Sources{Job: terrace(n), Content: content.FS, Templates: templates.FS, Theme: themes.FS, JobName: "bench"}
}

// BenchmarkPack is the whole pipeline on generated jobs, with the garbage collector set as the program sets it.
func BenchmarkPack(b *testing.B) {
	generator.TuneMemory(true, true)
	for _, n := range []int{10, 100, 1000} {
		b.Run(fmt.Sprintf("rooms=%d", n), func(b *testing.B) {
			src := bench(n)
			dir := filepath.Join(b.TempDir(), "pack")
			b.ReportAllocs()
			for b.Loop() {
				report, err := generator.Generate(context.Background(), generator.Options{Sources: src, Out: dir})
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(float64(report.Bytes)/1e6, "MB/pack")
			}
		})
	}
	b.Run("demo", func(b *testing.B) {
		dir := filepath.Join(b.TempDir(), "pack")
		for b.Loop() {
			if _, err := generator.Generate(context.Background(), generator.Options{Sources: demo(b), Out: dir}); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// BenchmarkFloor only renders as many statements as a pack of the job shows and writes the same bytes.
func BenchmarkFloor(b *testing.B) {
	for _, n := range []int{10, 100, 1000} {
		b.Run(fmt.Sprintf("rooms=%d", n), func(b *testing.B) {
			dir := filepath.Join(b.TempDir(), "pack")
			report, err := generator.Generate(context.Background(), generator.Options{Sources: bench(n), Out: dir})
			if err != nil {
				b.Fatal(err)
			}
			results, _, err := generator.Compute(context.Background(), generator.Options{Sources: bench(n)})
			if err != nil {
				b.Fatal(err)
			}
			var texts []string
			for _, p := range results.Places {
				for _, s := range p.Chosen.Statement.Steps {
					texts = append(texts, s.Text)
				}
			}
			files := make([]output.File, report.Files)
			for i := range files {
				files[i] = output.File{Path: fmt.Sprintf("f/%d.html", i), Data: make([]byte, report.Bytes/report.Files)}
			}
			md := markdown.New()
			floor := filepath.Join(b.TempDir(), "floor")
			b.ResetTimer()
			for b.Loop() {
				for _, t := range texts {
					if _, err := md.Line(t, func(string) (string, error) { return "100", nil }); err != nil {
						b.Fatal(err)
					}
				}
				if err := output.Write(floor, output.Pack{Job: "floor", Files: files}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
