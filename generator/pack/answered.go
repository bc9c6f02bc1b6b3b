package pack

import (
	"slices"
	"strings"

	"lapwork/generator/record"
)

// answered is how a check stands by its records. It says what a tablet says of the same records (stateOf in the script), so that
// a handover counts nothing as done that the tablet still asks for.
type answered uint8

const (
	checkOpen     answered = iota
	checkInPart            // something that it records is still missing
	checkOutdated          // an answer was given to other words, and nobody says that it is still true
	checkRefused           // no, all but some, or out of range
	checkDone
)

// recordKinds are the kinds of record that answer what a check records.
var recordKinds = map[string]record.Kind{"tick": record.Tick, "number": record.Reading, "photo": record.Photo, "signature": record.Sign}

// answeredAs holds the records of a check against what it wants recorded.
func (a *assembler) answeredAs(c Check) answered {
	wants := strings.Split(c.Record, "+")
	have := map[record.Kind]bool{}
	bad, old, spared := false, false, false
	for _, s := range a.standing[c.Key] {
		kind := s.Record.Kind
		wanted := slices.ContainsFunc(wants, func(w string) bool { return recordKinds[w] == kind })
		switch {
		case !wanted && kind != record.Tick: // any check can be said not to apply
		case s.State == record.Superseded || s.State == record.Other:
			old = true
		case refuses(s.Record, c):
			bad = true
		case kind == record.Tick && s.Record.Value == "na":
			spared = true
		case wanted:
			have[kind] = true
		}
	}
	switch {
	case bad:
		return checkRefused
	case old:
		return checkOutdated
	case spared || len(have) >= len(wants):
		return checkDone
	case len(have) > 0:
		return checkInPart
	}
	return checkOpen
}

// doneOf counts the checks that are done.
func (a *assembler) doneOf(checks []Check) int {
	n := 0
	for _, c := range checks {
		if a.answeredAs(c) == checkDone {
			n++
		}
	}
	return n
}
