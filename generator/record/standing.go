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
	Stands                  // the words have changed since, and somebody said by name and reason that it is still true as built
)

// String gives the state's word.
func (s State) String() string {
	return [...]string{"valid", "superseded", "no longer in the pack", "other language", "still true as built"}[s]
}

// Change is a line of a statement that reads otherwise now. An empty Was: the line is new; an empty Is: it was taken out.
type Change struct{ Key, Was, Is string }

// Standing is a record held against the pack.
type Standing struct {
	Record  Record
	State   State
	Was, Is []Line   // the words then, nil where they are not known, and now; both nil unless superseded or standing again
	Changes []Change // in the order of the words now, then those taken out; nil where the words then are not known
	By      *Record  // who says that it is still true as built; nil: nobody
}

// Standings holds the latest record of each check against the checks that a pack in language lang states. known are words
// by seal, as Journal.Statements has them. Notes, free defects and whatever carries no seal say nothing about a statement
// and are left out. Sorted by check and kind.
func Standings(records []Record, lang string, checks []Stated, known map[string][]Line) []Standing {
	return StandingsIn(records, lang, map[string][]Stated{lang: checks}, known)
}

// StandingsIn is the same for a pack that states its checks in several languages, lang first. A record stands when its seal
// is that of any of them, since each says the same; otherwise it is held against the words of its own language.
func StandingsIn(records []Record, lang string, in map[string][]Stated, known map[string][]Line) []Standing {
	now := map[string]map[string][]Line{}
	for tag, checks := range in {
		now[tag] = map[string][]Line{}
		for _, c := range checks {
			now[tag][c.Check] = c.Lines
		}
	}
	again := standing(records)
	var out []Standing
	for _, r := range Latest(records) {
		if r.Check == "" || r.Seal == "" || r.Kind == Stand {
			continue
		}
		lines, there := now[lang][r.Check]
		s := Standing{Record: r}
		own, stated := now[r.Lang]
		if stated && there {
			lines = own[r.Check]
		}
		switch {
		case !there:
			s.State = Gone
		case sealedIn(now, r):
			s.State = Valid
		case !stated:
			s.State = Other
		default:
			s.State, s.Was, s.Is = Superseded, known[r.Seal], lines
			if s.Was != nil {
				s.Changes = Changes(s.Was, s.Is)
			}
			for _, tag := range slices.Sorted(maps.Keys(now)) {
				if by, ok := again[r.Hash+Seal(now[tag][r.Check])]; ok && s.By == nil {
					s.State, s.By = Stands, &by
				}
			}
		}
		out = append(out, s)
	}
	return out
}

// sealedIn reports whether a record's seal is that of its check in one of the languages.
func sealedIn(now map[string]map[string][]Line, r Record) bool {
	for _, checks := range now {
		if lines, there := checks[r.Check]; there && r.Seal == Seal(lines) {
			return true
		}
	}
	return false
}

// standing finds who said of a record, by its hash and the seal of the words it was held against, that it is still true as
// built. Against other words it says nothing: after the next change it must be said again.
func standing(records []Record) map[string]Record {
	out := map[string]Record{}
	gone := voided(records)
	for _, r := range byTime(records) {
		if r.Kind != Stand || gone[r.ID] {
			continue
		}
		for _, hash := range r.Covers {
			out[hash+r.Seal] = r
		}
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
