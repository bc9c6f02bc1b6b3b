package library

import (
	"strings"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// QACheck is a check of the inspection and test plan.
type QACheck struct {
	ID, Title string
	When      []string // activities it belongs to
	Daily     bool     // again every day
	Signs     string   // a role of the job
	Method    string
	Accept    string
	Record    []string // tick, number, photo, signature
	Range     Range    // of the number recorded
	Failure   string   // what to do
	OnlyIf    string   // in words; empty: every job
	Stands    bool     // never released by the person who did the work, not even in a firm of one
	Source    q.Source
	Pos       diag.Pos `hash:"ignore"`
}

var checkSpec = spec[*QACheck]{"checks", []string{"id", "title", "when", "daily", "signs", "method", "accept", "record", "unit", "low", "high",
	"failure", "only_if", "second_person", "source", "status"}, readCheck}

func readCheck(l line) *QACheck {
	c := &QACheck{ID: l.text("id"), Title: l.need("title"), When: l.list("when"),
		Daily: l.word("daily", []string{"", "yes"}) == "yes", Signs: l.word("signs", job.Roles),
		Method: l.need("method"), Accept: l.need("accept"), Record: l.list("record"), Failure: l.text("failure"),
		OnlyIf: l.text("only_if"), Stands: l.word("second_person", []string{"", "yes"}) == "yes",
		Range: Range{l.text("unit"), l.text("low"), l.text("high")}, Source: l.source(), Pos: l.pos}
	if r := c.Range; !r.ordered() || r.Unit == "" && r.Low+r.High != "" {
		l.found.Faultf(l.cells["low"].pos, "write decimal numbers, the lower one first, and their unit", "the range %q to %q %q is none", r.Low, r.High, r.Unit)
	}
	known := []string{"tick", "number", "photo", "signature"}
	for _, r := range c.Record {
		if !oneOf(r, known) {
			l.found.Faultf(l.cells["record"].pos, suggest(r, known), "unknown kind of record %q", r)
		}
	}
	return c
}

// Hold is a hold point: work after it stays locked until somebody signs.
type Hold struct {
	ID       string // H1
	After    string // activity
	Release  string // when it may be released
	Signs    []string
	Checks   []string // checks that must stand
	NoSelf   bool     // a firm of one may not release it alone
	Source   q.Source
	Pos      diag.Pos `hash:"ignore"`
	Position int      // 1 for H1
}

var holdSpec = spec[*Hold]{"holds", []string{"id", "after", "release", "signs", "checks", "no_self_release", "source",
	"status"}, readHold}

func readHold(l line) *Hold {
	h := &Hold{ID: l.text("id"), After: l.need("after"), Release: l.need("release"), Signs: l.list("signs"),
		Checks: l.list("checks"), NoSelf: l.word("no_self_release", []string{"", "yes"}) == "yes", Source: l.source(),
		Pos: l.pos}
	for _, s := range h.Signs {
		if !oneOf(s, job.Roles) {
			l.found.Faultf(l.cells["signs"].pos, suggest(s, job.Roles), "unknown role %q", s)
		}
	}
	if n := strings.TrimPrefix(h.ID, "H"); len(n) == 1 && n[0] >= '1' && n[0] <= '9' {
		h.Position = int(n[0] - '0')
	} else {
		l.found.Faultf(l.pos, "holds are H1 to H9", "%q is no hold id", h.ID)
	}
	return h
}

// Document is a paper of the handover pack.
type Document struct {
	ID, Title string
	Checks    []string // checks whose records it holds
	Page      string   // kind of page that shows it, one of DocumentPages
	Made      bool     // the pack itself is the paper
	Papers    string   // kind of attachment that is one; an attachment may also name the document
	Source    q.Source
	Pos       diag.Pos `hash:"ignore"`
}

// DocumentPages are the kinds of page that show what a document of the handover holds.
var DocumentPages = []string{"", "handover", "materials", "schedule", "site", "declaration", "moisture"}

var documentSpec = spec[*Document]{"documents", []string{"id", "title", "checks", "page", "made", "papers", "source", "status"},
	func(l line) *Document {
		return &Document{ID: l.text("id"), Title: l.need("title"), Checks: l.list("checks"), Page: l.word("page", DocumentPages),
			Made:   l.word("made", []string{"", "yes"}) == "yes",
			Papers: l.word("papers", append([]string{""}, job.AttachmentKinds...)), Source: l.source(), Pos: l.pos}
	}}
