package record_test

import (
	"testing"

	"lapwork/generator/record"
)

// A record stands when its seal is that of the check in any language of the pack; otherwise it is held against the words of
// the language it was made in.
func TestStandingsInLanguages(t *testing.T) {
	words := func(text string) []record.Line { return []record.Line{{Key: "A1/QA-17#accept", Text: text}} }
	stated := map[string][]record.Stated{
		"de": {{Check: "A1/QA-17", Lines: words("Schlaufe 15 bis 30 mm")}},
		"pl": {{Check: "A1/QA-17", Lines: words("pętla 15 do 30 mm")}},
	}
	for _, c := range []struct {
		lang, said string
		want       record.State
	}{
		{"pl", "pętla 15 do 30 mm", record.Valid},
		{"de", "Schlaufe 15 bis 30 mm", record.Valid},
		{"pl", "pętla 20 mm", record.Superseded},
		{"fr", "boucle de 15 à 30 mm", record.Other},
		{"fr", "pętla 15 do 30 mm", record.Valid}, // a tablet that says another language than its words: the seal decides
	} {
		r := record.Record{V: 1, ID: "1", Kind: record.Tick, Check: "A1/QA-17", Lang: c.lang, Seal: record.Seal(words(c.said)), At: "2026-03-16T08:00:00+01:00", Dev: "d", Seq: 1}
		known := map[string][]record.Line{r.Seal: words(c.said)}
		got := record.Against{Lang: "de", Checks: stated, Known: known}.Standings([]record.Record{r})
		if len(got) != 1 || got[0].State != c.want {
			t.Errorf("%s %q: %v, want %v", c.lang, c.said, got, c.want)
			continue
		}
		if c.want == record.Superseded && (len(got[0].Changes) != 1 || got[0].Changes[0].Is != "pętla 15 do 30 mm") {
			t.Errorf("the change is not told in the record's own language: %+v", got[0].Changes)
		}
	}
}
