package generator_test

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"lapwork/generator"
	"lapwork/generator/assess"
	"lapwork/generator/diag"
	"lapwork/generator/lang"
	"lapwork/generator/record"
)

// Lessons and the report of a survey are said in each language that the program has: with texts that mark what is missing, no
// mark is left.
func TestSheetsInEveryLanguage(t *testing.T) {
	src := demo(t)
	for tag, want := range map[string][4]string{
		"de": {"Arten von Anschlüssen", "Minuten geplant", "Bestandsaufnahme von two_rooms.gbxml", "language: de\n"},
		"fr": {"Types de jonction", "minutes prévues", "Relevé de two_rooms.gbxml", "language: fr\n"},
		"es": {"Tipos de unión", "minutos previstos", "Levantamiento de two_rooms.gbxml", "language: es\n"},
		"pl": {"Rodzaje połączeń", "minuty planowane", "Odczyt pliku two_rooms.gbxml", "language: pl\n"},
	} {
		var found diag.List
		texts := generator.Catalogue(src, tag, &found)
		r, _, err := generator.ComputeIn(context.Background(), generator.Options{Sources: src}, tag)
		if err != nil {
			t.Fatal(err)
		}
		l := generator.Learn([]*assess.Results{r}, []record.Journal{{}})
		csv, err := l.CSV(texts)
		if err != nil {
			t.Fatal(err)
		}
		page, err := l.Page(src, texts)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Contains(csv, []byte(want[0])) || !bytes.Contains(csv, []byte(want[1])) {
			t.Errorf("%s: the list of lessons does not say %q and %q", tag, want[0], want[1])
		}
		saidIn(t, tag, page, want[0])
		report := surveyIn(t, texts)
		saidIn(t, tag, report.Page, want[2])
		if !strings.Contains(string(report.Files[0].Data), want[3]) {
			t.Errorf("the new job is not in %s", tag)
		}
	}
	if _, err := generator.TextsIn(src, "xx"); err == nil || !strings.Contains(err.Error(), "hint:") {
		t.Errorf("a language that nothing is translated into: %v", err)
	}
}

// surveyIn surveys a small model in a language.
func surveyIn(t *testing.T, texts *lang.Catalogue) generator.SurveyReport {
	t.Helper()
	data, err := os.ReadFile(filepath.FromSlash("../testdata/survey/two_rooms.gbxml"))
	if err != nil {
		t.Fatal(err)
	}
	src := demo(t)
	src.Job, src.Firm = nil, nil
	r, err := generator.Survey(context.Background(), generator.SurveyOptions{Sources: src, Name: "two_rooms.gbxml", Data: bytes.NewReader(data), Size: int64(len(data)), Texts: texts})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// saidIn holds a page against its language: it names it, it has a text of it, and no text is marked as missing.
func saidIn(t *testing.T, tag string, page []byte, want string) {
	t.Helper()
	if !bytes.Contains(page, []byte(`<html lang="`+tag+`"`)) || !bytes.Contains(page, []byte(want)) {
		t.Errorf("a page of %s does not name it, or does not say %q", tag, want)
	}
	if i := bytes.Index(page, []byte(`lang="en"`)); i >= 0 {
		t.Errorf("%s: stays English: %s", tag, page[i:min(len(page), i+160)])
	}
}

// What the readers and the survey itself say of a file is in the language of the report: findings with their hints, what was
// assumed and put right, numbers of things with their plural. The job's own list of assumptions is in it too. No sentence of
// any sample stays English.
func TestSurveySpeaksTheLanguage(t *testing.T) {
	src := demo(t)
	src.Job, src.Firm = nil, nil
	said := map[string][]string{
		"rooms_de.csv":   {"Zelle D10 enthält &#34;zwei&#34;; erwartet: eine Zahl", "die Zelle berichtigen", "die Liste sagt nicht, wo die Räume liegen"},
		"untidy.gbxml":   {"doppelte Fläche"},
		"two_rooms.ifc":  {},
		"unpaired.gbxml": {"innere Fläche"},
	}
	files, err := filepath.Glob("../testdata/survey/*.*")
	if err != nil {
		t.Fatal(err)
	}
	models, err := filepath.Glob("../testdata/survey/ifc/*.ifc")
	if err != nil || len(files)+len(models) < 15 {
		t.Fatalf("%d lists, %d models: %v", len(files), len(models), err)
	}
	for _, tag := range []string{"de", "fr", "es", "pl"} {
		var found diag.List
		texts := generator.Catalogue(demo(t), tag, &found)
		for _, file := range append(files, models...) {
			if strings.Contains(file, "bad-") || tag != "de" && said[filepath.Base(file)] == nil { // the catalogues are held complete elsewhere
				continue
			}
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			r, err := generator.Survey(context.Background(), generator.SurveyOptions{Sources: src, Name: filepath.Base(file), Data: bytes.NewReader(data), Size: int64(len(data)), Texts: texts})
			if err != nil {
				t.Fatal(file, err)
			}
			saidIn(t, tag, r.Page, `lang="`+tag+`"`)
			for _, x := range r.Findings {
				if x.Pattern == "" || !lang.Wordless(x.Pattern) && !texts.Has(x.Pattern) || x.Hint != "" && !texts.Has(x.Hint) {
					t.Errorf("%s: %s: only in English: %v", tag, filepath.Base(file), x)
				}
			}
			for _, want := range said[filepath.Base(file)] {
				if tag == "de" && !bytes.Contains(r.Page, []byte(want)) {
					t.Errorf("%s does not say %q", filepath.Base(file), want)
				}
			}
			if job := string(r.Files[0].Data); tag == "de" && !strings.Contains(job, "was das Gebäude erreichen muss") || strings.Contains(job, "what the building has to reach, and") {
				t.Errorf("%s: the job's assumptions are not in %s", filepath.Base(file), tag)
			}
		}
	}
}
