package pack

import (
	"cmp"
	"slices"
	"strings"

	"lapwork/generator/sorting"
)

// search gives the entries of the search, sorted by kind and text.
func (a *assembler) search(pages []Page) []SearchEntry {
	var out []SearchEntry
	for _, p := range pages {
		if k, ok := map[Kind]string{KindRoom: a.say("room"), KindPhase: a.say("room"), KindSurface: a.say("surface"), KindStatement: a.say("method statement"), KindSignOff: a.say("sign-off"),
			KindTrades: a.say("page"), KindLate: a.say("page"), KindSite: a.say("page"), KindChanges: a.say("page"), KindHandover: a.say("page"), KindDeclared: a.say("page"), KindStart: a.say("page"), KindOwn: a.say("page")}[p.Kind]; ok {
			out = append(out, SearchEntry{Text: p.Title, Path: p.Path, Kind: k})
		}
	}
	for _, room := range a.Job.Rooms {
		for _, p := range a.PlacesIn(room.ID) {
			row := a.junctionRow(p)
			if row.Path != "" && p.Record.Edge != "field" {
				out = append(out, SearchEntry{Text: row.ID + " " + row.Title, Path: row.Path, Kind: a.say("junction")})
			}
		}
	}
	for _, r := range a.total() {
		out = append(out, SearchEntry{Text: r.Name, Path: "materials.html", Kind: a.say("material")})
	}
	for _, id := range a.Results.Cautions.Job {
		c := a.Library.Cautions.Find(string(id))
		out = append(out, SearchEntry{Text: c.Short + ": " + c.Text, Path: "cautions.html", Kind: a.say("caution")})
	}
	sorting.StableFunc(out, func(x, y SearchEntry) int { return cmp.Or(cmp.Compare(x.Kind, y.Kind), compareFold(x.Text, y.Text)) })
	return slices.CompactFunc(out, func(x, y SearchEntry) bool { return x == y })
}

// index is the search page without scripts: rooms, surfaces and methods in order.
func (a *assembler) index(pages []Page) *SearchPage {
	groups := []IndexGroup{{Title: a.say("Rooms")}, {Title: a.say("Surfaces")}, {Title: a.say("Methods")}, {Title: a.say("Sign-off")}}
	at := map[Kind]int{KindRoom: 0, KindSurface: 1, KindStatement: 2, KindSignOff: 3}
	for _, p := range pages {
		if i, ok := at[p.Kind]; ok {
			groups[i].Links = append(groups[i].Links, Link{Text: p.Title, Path: p.Path})
		}
	}
	return &SearchPage{Index: groups}
}

func compareFold(a, b string) int {
	return cmp.Or(cmp.Compare(strings.ToLower(a), strings.ToLower(b)), cmp.Compare(a, b))
}
