package record

import (
	"cmp"
	"slices"
	"time"

	"lapwork/generator/sorting"
)

// Merge is the union of several lists of records, sorted by tablet, position and hash: the same record twice is one, two
// different ones always both stay. The order of the lists does not matter, and merging again changes nothing.
func Merge(lists ...[]Record) []Record {
	seen := map[string]bool{}
	var out []Record
	for _, list := range lists {
		for _, r := range list {
			id := identity(r)
			if seen[id] {
				continue
			}
			seen[id] = true
			out = append(out, r)
		}
	}
	sorting.Func(out, func(a, b Record) int {
		return cmp.Or(cmp.Compare(a.Dev, b.Dev), cmp.Compare(a.Seq, b.Seq), cmp.Compare(identity(a), identity(b)))
	})
	return out
}

// identity tells two records apart by everything they say, their own hash included, so that a changed copy never
// stands in for the true one.
func identity(r Record) string {
	text, err := Canonical(r)
	if err != nil {
		panic("record: a record of strings and integers has no canonical text: " + err.Error())
	}
	return string(text)
}

// Latest is the newest record of each check and kind, without voided ones, sorted by check and kind. Notes, defects, day
// sheets, times taken, goods and today's readings stand each for itself. Within one tablet the chain gives the order and a
// clock that was set back does not; between tablets their clocks do.
func Latest(records []Record) []Record {
	all := byTime(records)
	gone := voided(all)
	newest := map[string]Record{}
	for _, r := range all {
		if r.Kind != Void && !gone[r.ID] {
			newest[slot(r)] = r
		}
	}
	return sortedSlots(newest)
}

// Conflict is a check on which tablets' latest records of one kind differ. Both stay.
type Conflict struct {
	Check   string
	Kind    Kind
	Records []Record // one a tablet, oldest first
}

// Conflicts lists every tick or reading where the latest words of two tablets differ, sorted by check and kind.
func Conflicts(records []Record) []Conflict {
	byDevice := map[string][]Record{}
	gone := voided(records)
	for _, r := range records {
		if (r.Kind == Tick || r.Kind == Reading) && !gone[r.ID] {
			byDevice[r.Dev] = append(byDevice[r.Dev], r)
		}
	}
	slots := map[string][]Record{}
	for _, own := range byDevice {
		for _, r := range Latest(own) {
			slots[slot(r)] = append(slots[slot(r)], r)
		}
	}
	var out []Conflict
	for _, rs := range slots {
		if slices.ContainsFunc(rs, func(r Record) bool { return !sameWord(r, rs[0]) }) {
			out = append(out, Conflict{rs[0].Check, rs[0].Kind, byTime(rs)})
		}
	}
	sorting.Func(out, func(a, b Conflict) int {
		return cmp.Or(cmp.Compare(a.Check, b.Check), cmp.Compare(a.Kind, b.Kind))
	})
	return out
}

func sameWord(a, b Record) bool {
	return a.Value == b.Value && a.Unit == b.Unit && slices.Equal(a.But, b.But)
}

// slot is what a newer record of the same check replaces.
func slot(r Record) string {
	switch r.Kind {
	case Note, Defect, Start, Goods, Work, Day:
		return r.Check + "\x00" + string(r.Kind) + "\x00" + r.ID
	}
	return r.Check + "\x00" + string(r.Kind)
}

func sortedSlots(m map[string]Record) []Record {
	out := make([]Record, 0, len(m))
	for _, r := range m {
		out = append(out, r)
	}
	sorting.Func(out, func(a, b Record) int {
		return cmp.Or(cmp.Compare(a.Check, b.Check), cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.ID, b.ID))
	})
	return out
}

func voided(records []Record) map[string]bool {
	gone := map[string]bool{}
	for _, r := range records {
		if r.Kind == Void {
			gone[r.Of] = true
		}
	}
	return gone
}

// byTime sorts oldest first. A tablet's own order is its chain: a record counts as no older than the one before it.
func byTime(records []Record) []Record {
	own := slices.Clone(records)
	sorting.Func(own, func(a, b Record) int {
		return cmp.Or(cmp.Compare(a.Dev, b.Dev), cmp.Compare(a.Seq, b.Seq), cmp.Compare(a.Hash, b.Hash))
	})
	type timed struct {
		r  Record
		at time.Time
	}
	list := make([]timed, len(own))
	for i, r := range own {
		at, err := time.Parse(time.RFC3339, r.At)
		if err != nil {
			at = time.Time{} // Parse has reported it; it sorts as the oldest its chain allows
		}
		if i > 0 && own[i-1].Dev == r.Dev && list[i-1].at.After(at) {
			at = list[i-1].at
		}
		list[i] = timed{r, at}
	}
	sorting.StableFunc(list, func(a, b timed) int { return a.at.Compare(b.at) })
	out := make([]Record, len(list))
	for i, t := range list {
		out[i] = t.r
	}
	return out
}
