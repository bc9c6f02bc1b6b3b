package record

import (
	"cmp"
	"maps"
	"slices"
)

// Stated is a check as a pack states it now.
type Stated struct {
	Check string
	Lines []Line
}

// State says what a record is worth against the pack as it stands.
type State uint8

// The states of a record.
const (
	Valid      State = iota // its seal is that of the statement now
	Superseded              // the check's words have changed since
	Gone                    // the pack has no such check any more
	Other                   // made in a language the pack does not state now: neither can be said
)

// String gives the state's word.
func (s State) String() string {
	return [...]string{"valid", "superseded", "no longer in the pack", "other language"}[s]
}

// Change is a line of a statement that reads otherwise now. An empty Was: the line is new; an empty Is: it was taken out.
type Change struct{ Key, Was, Is string }

// Standing is a record held against the pack.
type Standing struct {
	Record  Record
	State   State
	Was, Is []Line   // the words then, nil where they are not known, and now; both nil unless superseded
	Changes []Change // in the order of the words now, then those taken out; nil where the words then are not known
}

// Standings holds the latest record of each check against the checks that a pack in language lang states. known are words
// by seal, as Journal.Statements has them. Notes, free defects and whatever carries no seal say nothing about a statement
// and are left out. Sorted by check and kind.
func Standings(records []Record, lang string, checks []Stated, known map[string][]Line) []Standing {
	now := map[string][]Line{}
	for _, c := range checks {
		now[c.Check] = c.Lines
	}
	var out []Standing
	for _, r := range Latest(records) {
		if r.Check == "" || r.Seal == "" {
			continue
		}
		lines, there := now[r.Check]
		s := Standing{Record: r}
		switch {
		case !there:
			s.State = Gone
		case r.Seal == Seal(lines):
			s.State = Valid
		case r.Lang != lang:
			s.State = Other
		default:
			s.State, s.Was, s.Is = Superseded, known[r.Seal], lines
			if s.Was != nil {
				s.Changes = Changes(s.Was, s.Is)
			}
		}
		out = append(out, s)
	}
	return out
}

// Changes lists the lines that differ between two statements, by key.
func Changes(was, is []Line) []Change {
	then := map[string]string{}
	for _, l := range was {
		then[l.Key] = worded(l)
	}
	var out []Change
	for _, l := range is {
		if old := then[l.Key]; old != worded(l) {
			out = append(out, Change{l.Key, old, worded(l)})
		}
		delete(then, l.Key)
	}
	taken := slices.SortedFunc(maps.Keys(then), cmp.Compare[string])
	for _, key := range taken {
		out = append(out, Change{Key: key, Was: then[key]})
	}
	return out
}

// worded is a line as it is read.
func worded(l Line) string {
	text := Folded(l.Text)
	if l.Unit != "" {
		text += " " + l.Unit
	}
	return text
}
