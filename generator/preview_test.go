package generator_test

import (
	"bytes"
	"context"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"lapwork/generator"
)

// A preview speaks the job's language alone, counts in its plurals and keeps no records: its pages promise none.
func TestPreviewInTheJobsLanguage(t *testing.T) {
	for tag, want := range map[string][]string{
		"en": {", at 1 place of the job", " places of the job", "Details of the library"},
		"de": {", an 1 Stelle des Projekts", " Stellen des Projekts", "Details der Bibliothek"},
	} {
		o := generator.Options{Version: "test", Sources: demoIn(t, "language: "+tag+"\nalso-in: [pl]\n"), Out: filepath.Join(t.TempDir(), "details")}
		if report, err := generator.Preview(context.Background(), o); err != nil {
			t.Fatal(err, report.Findings)
		}
		text := readFile(t, filepath.Join(o.Out, "index.html"))
		for _, w := range append(want, `<html lang="`+tag+`"`) {
			if !strings.Contains(text, w) {
				t.Errorf("%s: no %q", tag, w)
			}
		}
		for _, w := range []string{`id="warn"`, `class="saved`, "at 1 places", `class="tongues"`} {
			if strings.Contains(text, w) {
				t.Errorf("%s: %q in a preview", tag, w)
			}
		}
		if tag == "en" {
			continue
		}
		shown := visible(readFile(t, filepath.Join(o.Out, "coverage.html")))
		for w, stands := range map[string]bool{"Innenkante, Wand / Decke": true, "inside edge": false, "knee wall": false} {
			if strings.Contains(shown, w) != stands {
				t.Errorf("coverage: %q: %v, want %v", w, !stands, stands)
			}
		}
	}
}

// TestNoFigureIsLeftOut: the page of a detail that a job uses shows values where its texts name settings, the tolerance too.
func TestNoFigureIsLeftOut(t *testing.T) {
	o := generator.Options{Version: "test", Sources: demoIn(t, "language: en\n"), Out: filepath.Join(t.TempDir(), "pack")}
	if report, err := generator.Generate(context.Background(), o); err != nil {
		t.Fatal(err, report.Findings)
	}
	pages, err := filepath.Glob(filepath.Join(o.Out, "methods", "*.html"))
	if err != nil || len(pages) < 30 {
		t.Fatalf("%d pages of details: %v", len(pages), err)
	}
	for _, page := range pages {
		if _, after, found := strings.Cut(readFile(t, page), "{="); found {
			t.Errorf("%s shows {=%.20s", filepath.Base(page), after)
		}
	}
	if text := readFile(t, filepath.Join(o.Out, "methods", "roof-window.html")); !strings.Contains(text, "lap 100 mm, −20 mm") {
		t.Error("the roof window's tolerance names no lap")
	}
}

const unusedDetail = `---
id: ours
title: Our socket
revision: 1
group: penetration
applies:
  when: edge == "penetration" and item == "odd"
  priority: 60
measure: each
drives: count
activity: penetrations
labour: {low: 1, likely: 2, high: 3, per: min each}
conditions: cond-tape
components:
  - use: tape-single-60
    amount: count
    unit: m
checks:
  - qa: QA-22
    accept: "tape {=lap_mm} mm, collar {=diameter_mm+20} mm; {=100/movement_mm} mm free"
tolerance: "hole {=diameter_mm} mm, {=2*tape_end_mm} mm round it, {=100/movement_mm} mm free"
examples:
  - note: "one"
    given: {edge: penetration, item: odd, sub: osb, width_m: 0.2}
    expect: {tape-single-60: 1}
section:
  title: Socket. Cut upright
  size: [400, 200]
  parts:
    - {solid: panel, box: [0, 100, 400, 20], name: board}
    - {label: "{=lap_mm} mm, {=100/movement_mm}", at: [100, 50]}
    - {label: room, at: [300, 50]}
    - {number: 1, at: [200, 50], to: [200, 100]}
source: common practice, no source
figures: common practice, no source
---

1. Tape {=lap_mm} mm, {=diameter_mm + 20} mm of it and {=width_m*1000} mm wide.
`

// TestUnusedDetailWithoutMeasures: a detail that no place of the job uses shows the job's settings and the measures of its example.
// What needs a measure that nobody stated is its expression, in italics in a step: never nought, and never in braces.
func TestUnusedDetailWithoutMeasures(t *testing.T) {
	src := demoIn(t, "language: en\n")
	src.Job = demoWith(t, func(job []byte) []byte { return bytes.Replace(job, []byte("lap_mm: 100"), []byte("lap_mm: 120"), 1) })
	src.Firm = fstest.MapFS{"firm.yaml": {Data: []byte("name: A firm\n")}, "library/ours.md": {Data: []byte(unusedDetail)}}
	o := generator.Options{Version: "test", Sources: src, Out: filepath.Join(t.TempDir(), "details")}
	if report, err := generator.Preview(context.Background(), o); err != nil {
		t.Fatal(err, report.Findings)
	}
	text, _, _ := strings.Cut(readFile(t, filepath.Join(o.Out, "methods", "ours.html")), "<h2>Source</h2>")
	for _, want := range []string{`Tape <b class="fig">120</b> mm, <i>diameter_mm + 20</i> mm of it and <b class="fig">200</b> mm wide`,
		"tape 120 mm, collar diameter_mm+20 mm; 100/movement_mm mm free", "hole diameter_mm mm, 100 mm round it, 100/movement_mm mm free",
		"120 mm, 100/movement_mm"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q", want)
		}
	}
	if _, after, found := strings.Cut(text, "{="); found {
		t.Errorf("shows {=%.20s", after)
	}
}
