package record

import (
	"cmp"
	"maps"
	"slices"
	"strings"
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
	Check   string // the name of its check in the pack as it stands
	State   State
	Was, Is []Line   // the words then, nil where they are not known, and now; both nil unless superseded or standing again
	Changes []Change // in the order of the words now, then those taken out; nil where the words then are not known
	By      *Record  // who says that it is still true as built; nil: nobody
}

// Against is what records are held against: the checks that a pack states, in each of its languages, its own named by Lang.
// Known are words by seal, as Journal.Statements has them. Now gives the name under which a check stands in the pack, where
// an earlier pack named it otherwise; nil: names do not change.
type Against struct {
	Lang   string
	Checks map[string][]Stated
	Known  map[string][]Line
	Now    func(check string) string
}

// Standings holds the latest record of each check against a pack. A record stands when its seal is that of its check in any
// of the languages, since each says the same; otherwise it is held against the words of its own language. Notes, free
// defects and whatever carries no seal say nothing about a statement and are left out. Sorted by check and kind.
func (a Against) Standings(records []Record) []Standing {
	now := map[string]map[string][]Line{}
	for tag, checks := range a.Checks {
		now[tag] = map[string][]Line{}
		for _, c := range checks {
			now[tag][c.Check] = c.Lines
		}
	}
	again := standing(records)
	var out []Standing
	for _, r := range a.latest(aboutWords(records)) {
		if r.Check == "" || r.Seal == "" || r.Kind == Stand {
			continue
		}
		s := Standing{Record: r, Check: a.now(r.Check)}
		lines, there := now[a.Lang][s.Check]
		own, stated := now[r.Lang]
		if stated && there {
			lines = own[s.Check]
		}
		switch {
		case !there:
			s.State = Gone
		case sealedIn(now, s):
			s.State = Valid
		case !stated:
			s.State = Other
		default:
			s.State, s.Was, s.Is = Superseded, rekeyed(a.Known[r.Seal], r.Check, s.Check), lines
			if s.Was != nil {
				s.Changes = Changes(s.Was, s.Is)
			}
			for _, tag := range slices.Sorted(maps.Keys(now)) {
				for _, seal := range []string{Seal(now[tag][s.Check]), Seal(rekeyed(now[tag][s.Check], s.Check, r.Check))} {
					if by, ok := again[r.Hash+seal]; ok && s.By == nil {
						s.State, s.By = Stands, &by
					}
				}
			}
		}
		out = append(out, s)
	}
	return out
}

// aboutWords leaves out answers without a seal before the latest are taken, so that none of them hides a sealed one.
func aboutWords(records []Record) []Record {
	return slices.DeleteFunc(slices.Clone(records), func(r Record) bool { return r.Seal == "" && r.Kind != Void })
}

func (a Against) now(check string) string {
	if a.Now == nil {
		return check
	}
	return a.Now(check)
}

// latest is the newest record of each check and kind. One under an earlier name stays beside others of that sort, and makes
// room only for a newer one under today's name.
func (a Against) latest(records []Record) []Record {
	at, order := map[string]int{}, map[string]int{} // when, of each record and of the newest under each name
	for i, r := range byTime(records) {
		order[r.Hash] = i
	}
	all := Latest(records)
	for _, r := range all {
		at[slot(r)] = order[r.Hash]
	}
	return slices.DeleteFunc(all, func(r Record) bool {
		today := r
		today.Check = a.now(r.Check)
		newer, ok := at[slot(today)]
		return ok && newer > order[r.Hash]
	})
}

// rekeyed is a statement as it would read under another name of its check.
func rekeyed(lines []Line, was, is string) []Line {
	if was == is || lines == nil {
		return lines
	}
	out := slices.Clone(lines)
	for i, l := range out {
		if rest, ok := strings.CutPrefix(l.Key, was+"#"); ok {
			out[i].Key = is + "#" + rest
		}
	}
	return out
}

// sealedIn reports whether a record's seal is that of its check in one of the languages, under the name it was recorded by.
func sealedIn(now map[string]map[string][]Line, s Standing) bool {
	for _, checks := range now {
		if lines, there := checks[s.Check]; there && s.Record.Seal == Seal(rekeyed(lines, s.Check, s.Record.Check)) {
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
