package pack

import (
	"cmp"
	"slices"

	"lapwork/generator/assess"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/lang"
	"lapwork/generator/record"
)

// Spot is a place without a method: it blocks itself and nothing else, and can be settled on site.
type Spot struct {
	ID, Title, Problem string
	Kind, Method       string // the same in every language: what is sealed
	Key, Seal          string
	Path               string
	Settled            string // who settled it, when and how; empty: nobody
}

// Statement is what somebody settles.
func (s Spot) Statement() []record.Line {
	return []record.Line{{Key: s.Key + "#spot", Text: s.ID}, {Key: s.Key + "#kind", Text: s.Kind}, {Key: s.Key + "#method", Text: s.Method}}
}

func spotKey(p *assess.Place) string { return string(p.Record.Room.ID) + "/spot/" + p.Record.ID }

// spot is a place's own words.
func spot(p *assess.Place) Spot {
	s := Spot{ID: p.Record.ID, Title: what(p.Record), Kind: what(p.Record), Method: "none", Problem: p.Problem, Key: spotKey(p), Path: roomPath(p.Record.Room.ID) + "#" + p.Record.ID}
	if p.Answered() {
		s.Title, s.Method = p.Chosen.Statement.Title, string(p.Chosen.Statement.ID)
	}
	s.Seal = record.Seal(s.Statement())
	return s
}

// spots are those of a room.
func (a *assembler) spots(room job.RoomID) []Spot {
	var out []Spot
	for _, p := range a.PlacesIn(room) {
		if p.Problem == "" {
			continue
		}
		s := spot(p)
		if r, ok := a.site().settled[s.Key]; ok && r.Seal == s.Seal {
			s.Settled = a.settledWords(r)
		}
		out = append(out, s)
	}
	return out
}

func (a *assembler) settledWords(r record.Record) string {
	return a.say("settled on site by %s on %s: %s", cmp.Or(r.Name, r.Who), day(r.At), r.Text)
}

// Settle turns the open point of each spot that was settled on site, to the words as they stand, into a note with who
// settled it and how. The job keeps asking for the method, so that the quantities can follow.
func Settle(r *assess.Results, c *lang.Catalogue, j record.Journal, found []diag.Finding) []diag.Finding {
	a := &assembler{Results: r, build: Build{Lang: c}}
	site := siteOf(j)
	if len(site.settled) == 0 {
		return found
	}
	out := slices.Clone(found)
	for i, f := range out {
		p := r.Place(f.Item)
		if p == nil || p.Problem == "" || f.Level != diag.Open {
			continue
		}
		s := spot(p)
		if rec, ok := site.settled[s.Key]; ok && rec.Seal == s.Seal {
			out[i].Level = diag.Note
			out[i].Msg = joined(f.Msg, a.settledWords(rec))
			out[i].Hint = a.say("enter it in the job under resolved, so that the quantities follow")
		}
	}
	return out
}
