package record_test

import (
	"bytes"
	"encoding/base64"
	"encoding/json"
	"strings"
	"testing"
	"time"

	"lapwork/generator/diag"
	"lapwork/generator/record"
)

// exported writes a file as a tablet does: one record a line.
func exported(t testing.TB, records []record.Record, photos map[string][]byte) []byte {
	t.Helper()
	var lines []string
	for _, r := range records {
		line, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		lines = append(lines, string(line))
	}
	pictures, err := json.Marshal(photos)
	if err != nil {
		t.Fatal(err)
	}
	if photos == nil {
		pictures = []byte("{}")
	}
	return []byte(`{"v":1,"form":"lapwork-records","pack":"ml-12","rev":"2-1a2b3c4d5e6f","dev":"` + hexID(1, 24) + `","at":"2026-11-25T06:00:00+01:00","records":[` +
		"\n" + strings.Join(lines, ",\n") + "\n]," + `"photos":` + string(pictures) + "}\n")
}

// The SHA-256 of "abc" is the first example of FIPS 180-4 (from its example file, as quoted in many places).
const abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"

func sample() []record.Record {
	return chained(1, tick("A1/QA-15/A1", "yes"), record.Record{Kind: record.Reading, Check: "A1/QA-19/A1-W3+F1", Value: "8.5", Unit: "mm"},
		record.Record{Kind: record.Photo, Check: "A1/QA-17/A1-W3", Value: abc},
		record.Record{Kind: record.Sign, Check: "A1/QA-40/H4", Name: "A. Example", Role: "site lead", Strokes: [][]int{{10, 20, 30, 40}}, Seals: map[string]string{"signoff/A1.html": abc}, Covers: []string{abc}},
		record.Record{Kind: record.Note, Text: "<b>line one</b>\nline two \u2028 & more"})
}

func TestParseExport(t *testing.T) {
	got, found := record.Parse("a.json", exported(t, sample(), map[string][]byte{abc: []byte("abc")}))
	if n := found.Sorted(); len(n) != 0 {
		t.Fatalf("findings: %v", n)
	}
	if !same(got.Records, sample()) || string(got.Photos[abc]) != "abc" || got.Pack != "ml-12" {
		t.Errorf("read %+v", got)
	}
}

func TestParseRefusesWhatWasChanged(t *testing.T) {
	file := string(exported(t, sample(), map[string][]byte{abc: []byte("abc")}))
	for _, c := range []struct{ name, old, new, want string }{
		{"a reading", `"value":"8.5"`, `"value":"9.5"`, "was changed"},
		{"a name", `"name":"A. Example"`, `"name":"B. Example"`, "was changed"},
		{"an added name", `"kind":"note"`, `"kind":"note","approved":"yes"`, "unknown field"},
		{"a photo", base64.StdEncoding.EncodeToString([]byte("abc")), base64.StdEncoding.EncodeToString([]byte("abd")), "photo"},
		{"a kind", `"kind":"note"`, `"kind":"order"`, "is unknown"},
		{"a tick", `"kind":"tick","value":"yes"`, `"kind":"tick","value":"maybe"`, "a tick is"},
		{"a reading in words", `"value":"8.5"`, `"value":"eight"`, "not a decimal"},
		{"the form", `lapwork-records`, `other-records`, "not a lapwork-records"},
		{"a new name", `"pack":"ml-12","rev"`, `"pakc":"ml-12","rev"`, "unknown name"},
		{"the end, cut off", file[len(file)-4:], "", "cut off"},
		{"more after the end", file, file + "{}", "more after the end"},
	} {
		changed := strings.Replace(file, c.old, c.new, 1)
		if changed == file {
			t.Fatalf("%s: nothing was changed", c.name)
		}
		_, found := record.Parse("a.json", []byte(changed))
		if found.Count(diag.Fault) == 0 || !strings.Contains(found.Err().Error(), c.want) {
			t.Errorf("%s: want a fault with %q, got %v", c.name, c.want, found.Err())
		}
	}
}

func TestParseNotesPhotosElsewhere(t *testing.T) {
	_, found := record.Parse("part1.json", exported(t, sample(), nil))
	if found.Count(diag.Fault) != 0 || found.Count(diag.Note) != 1 {
		t.Errorf("want one note, got %v", found.Sorted())
	}
}

// told are words, and a record made against them with the export that carries both.
func told(t testing.TB) ([]record.Line, []record.Record, []byte) {
	t.Helper()
	words := []record.Line{{Key: "A1/QA-15/sheet#title", Text: "Sheet"}, {Key: "A1/QA-15/sheet#accept", Text: "sag at most 20", Unit: "mm"}}
	r := tick("A1/QA-15/sheet", "yes")
	r.Seal = record.Seal(words)
	records := chained(1, r)
	text, err := json.Marshal(map[string][]record.Line{r.Seal: words, record.Seal(words[:1]): words[:1]})
	if err != nil {
		t.Fatal(err)
	}
	file := bytes.Replace(exported(t, records, nil), []byte(`"photos"`), append(append([]byte(`"words":`), text...), []byte(`,"photos"`)...), 1)
	return words, records, file
}

// An export carries the words that its records were made against. Changed ones are refused, and what no record was made
// against is left out.
func TestParseWords(t *testing.T) {
	words, records, file := told(t)
	got, found := record.Parse("a.json", file)
	if n := found.Sorted(); len(n) != 0 || len(got.Words) != 2 {
		t.Fatalf("%d statements, findings: %v", len(got.Words), n)
	}
	kept, found := record.Terms{Pack: records[0].Pack, Now: time.Now()}.Admit("a.json", record.Export{Pack: records[0].Pack, Records: records, Words: got.Words})
	if found.Err() != nil || len(kept.Words) != 1 || record.Seal(kept.Words[records[0].Seal]) != record.Seal(words) {
		t.Errorf("kept %v, %v", kept.Words, found.Err())
	}
	for name, changed := range map[string][]byte{
		"a word": bytes.Replace(file, []byte("sag at most 20"), []byte("sag at most 30"), 1),
		"a long": bytes.Replace(file, []byte("sag at most 20"), bytes.Repeat([]byte("x"), record.MaxText+1), 1),
	} {
		if _, found := record.Parse("a.json", changed); found.Count(diag.Fault) == 0 || !strings.Contains(found.Err().Error(), "the words of seal") {
			t.Errorf("%s: %v", name, found.Err())
		}
	}
}

// FuzzParse holds these laws for any bytes: no panic; every position lies inside the file; what is read without a fault is
// read again from its own export, record for record.
func FuzzParse(f *testing.F) {
	f.Add(exported(f, sample(), map[string][]byte{abc: []byte("abc")}))
	f.Add(exported(f, later(), nil))
	_, _, withWords := told(f)
	f.Add(withWords)
	f.Add([]byte(`{"v":1,"form":"lapwork-records","records":[{}],"photos":{"x":1}}`))
	f.Add([]byte("[\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		got, found := record.Parse("x", data)
		lines := bytes.Count(data, []byte("\n")) + 1
		for _, d := range found.Sorted() {
			if d.Pos.Line > lines || d.Pos.Col > len(data)+1 {
				t.Fatalf("position %v is outside the file", d.Pos)
			}
		}
		if found.Count(diag.Fault) != 0 {
			return
		}
		again, found := record.Parse("y", exported(t, got.Records, got.Photos))
		if found.Count(diag.Fault) != 0 || !same(again.Records, got.Records) {
			t.Fatalf("its own export reads differently: %v", found.Sorted())
		}
	})
}
