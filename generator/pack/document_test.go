package pack

import (
	"testing"

	"lapwork/generator/assess"
	"lapwork/generator/job"
	"lapwork/generator/library"
	"lapwork/generator/record"
)

// A paper of the handover is there when every check whose record it holds is done, when it is attached, or when the
// pack itself is it; a check that the job does not have asks for no paper.
func TestDocumentsOfTheHandover(t *testing.T) {
	check := func(key, qa string) assess.Check {
		return assess.Check{Key: key, QA: &library.QACheck{ID: qa}}
	}
	yes := []record.Standing{{Record: record.Record{Kind: record.Tick, Value: "yes"}}}
	old := []record.Standing{{Record: yes[0].Record, State: record.Superseded}}
	a := &assembler{standing: map[string][]record.Standing{"A1/QA-06/A1": yes, "A2/QA-06/A2": yes, "A1/QA-25/A1": yes, "A2/QA-25/A2": old}, checks: map[string]Check{}}
	for key := range a.standing {
		a.checks[key] = Check{Key: key, Record: "tick"}
	}
	a.Results = &assess.Results{Context: assess.Context{Job: &job.Job{Attachments: []job.Attachment{
		{Title: "Sheets", Kind: "safety-sheet"}, {Title: "Commissioning", Kind: "report", Is: "D-14"}, {Title: "Soil survey", Kind: "report"}}}},
		Checks: []assess.Check{check("A1/QA-06/A1", "QA-06"), check("A2/QA-06/A2", "QA-06"), check("A1/QA-25/A1", "QA-25"), check("A2/QA-25/A2", "QA-25"),
			check("whole-job/QA-42/whole-job", "QA-42"), {Key: "A1/H4/A1"}}}
	for _, c := range []struct {
		of   library.Document
		want string
		open bool
	}{
		{library.Document{ID: "D-05", Checks: []string{"QA-06"}}, "2 of 2 recorded", false},
		{library.Document{ID: "D-12", Checks: []string{"QA-25"}}, "1 of 2 recorded", true},
		{library.Document{ID: "D-13", Checks: []string{"QA-24"}}, "not called for in this job", false},
		{library.Document{ID: "D-14", Checks: []string{"QA-42"}}, "0 of 1 recorded; attached: Commissioning", true},
		{library.Document{ID: "D-11"}, "missing: attach it to the job", true},
		{library.Document{ID: "D-15", Papers: "safety-sheet"}, "attached: Sheets", false},
		{library.Document{ID: "D-16", Made: true}, "in this pack", false},
	} {
		if got, open := a.documentState(&c.of); got != c.want || open != c.open {
			t.Errorf("%s: %q, open %v; want %q, %v", c.of.ID, got, open, c.want, c.open)
		}
	}
}

// Every page that the table of documents may name is one that the pack has, or the handover itself.
func TestDocumentPages(t *testing.T) {
	a := &assembler{Results: &assess.Results{}}
	for _, kind := range library.DocumentPages {
		if link := a.documentPage(&library.Document{Page: kind}); (link == nil) != (kind == "" || kind == "handover") {
			t.Errorf("%q leads to %v", kind, link)
		}
	}
}
