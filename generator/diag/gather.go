package diag

import (
	"slices"
	"strings"
)

// Gathered is a finding that stands at several places of a room in the same words. The finding is that of the first place.
type Gathered struct {
	Finding
	Items []string // every place in the order of the findings; one where it stands alone
}

// Gather joins findings that say the same of places of one room, so that who reads them reads each once; no place is lost.
// A place is an item with the room's id before its first hyphen, and its finding begins with it: "B2-W3+C1: ...". Faults stay
// as they are: each is mended where it stands.
func Gather(found []Finding) []Gathered {
	type key struct {
		level            Level
		room, said, hint string
	}
	var out []Gathered
	at := map[key]int{}
	for _, f := range found {
		room, _, isPlace := strings.Cut(f.Item, "-")
		said, begins := strings.CutPrefix(f.Msg, f.Item+": ")
		if f.Level == Fault || !isPlace || !begins {
			out = append(out, Gathered{f, []string{f.Item}})
			continue
		}
		k := key{f.Level, room, said, f.Hint}
		i, known := at[k]
		if !known {
			at[k] = len(out)
			out = append(out, Gathered{f, []string{f.Item}})
			continue
		}
		g := &out[i]
		if !slices.Contains(g.Items, f.Item) {
			g.Items = append(g.Items, f.Item)
		}
		for _, p := range append([]Pos{f.Pos}, f.See...) {
			if p != g.Pos && !slices.Contains(g.See, p) {
				g.See = append(slices.Clip(g.See), p)
			}
		}
	}
	return out
}

// Where names every place of the finding.
func (g Gathered) Where() string { return strings.Join(g.Items, ", ") }

// String is the finding with all its places before what it says.
func (g Gathered) String() string {
	f := g.Finding
	if len(g.Items) > 1 {
		f.Msg = g.Where() + strings.TrimPrefix(f.Msg, f.Item)
	}
	return f.String()
}
