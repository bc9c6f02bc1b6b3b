package generator_test

import (
	"context"
	"path/filepath"
	"strings"
	"testing"

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
