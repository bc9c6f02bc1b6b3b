package pack

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"sync"

	"lapwork/generator/assess"
	"lapwork/generator/library"
	"lapwork/generator/markdown"
)

// CoverageRow is a kind of junction of the job with the statement that answers it.
type CoverageRow struct {
	Edge, SurfaceA, SurfaceB, Item, Part string
	Places                               int
	Statement, Origin                    string // empty: a gap
}

// Preview makes a site of every detail of the library, for those who write details: each with its drawing, this job's
// figures, its examples and its source. Nothing on it is signed.
func Preview(r *assess.Results, b Build, coverage []CoverageRow) (Pack, error) {
	a := newAssembler(r, b)
	a.seeFirst()
	pages := []Page{{}, a.coverage(coverage)}
	pages = append(pages, a.detailPages()...)
	contents := &SearchPage{Index: a.detailIndex(pages[2:])}
	pages[0] = Page{Path: "index.html", Kind: KindSearch, Title: a.say("Details of the library"), Where: a.say("Library"), SearchPage: contents}
	pk := Pack{Pages: pages, Lang: b.Lang, Head: Head{Lapwork: b.Version, Job: a.say("Detail library"), Reference: a.say("Library"), Issue: a.say("preview, not for site"),
		Revision: a.say("preview"), Language: r.Job.Language, Firm: r.Job.Firm.Name, Mark: b.mark(), Contact: a.contactLines(), Footer: b.Own.Footer, PackID: "library", Still: true,
		Menu:   []Link{{Text: a.say("Details"), Path: "index.html"}, {Text: a.say("Coverage"), Path: "coverage.html"}},
		Limits: []string{a.say("A preview for those who write details. Figures are those of the first place of the job %s that uses a detail, or of its first example; a measure that neither states is shown by its name.", r.Job.Name)}}}
	for _, p := range pages[2:] {
		pk.Search = append(pk.Search, SearchEntry{Text: p.Title + " " + p.Statement.ID, Path: p.Path, Kind: a.say("method statement")})
	}
	return pk, a.failed()
}

// detailPages gives a page for every statement, used or not, by group and title.
func (a *assembler) detailPages() []Page {
	all := slices.Clone(a.Library.Statements)
	slices.SortStableFunc(all, func(x, y *library.Statement) int {
		return cmp.Or(slices.Index(library.Groups, x.Group)-slices.Index(library.Groups, y.Group), compareFold(x.Title, y.Title))
	})
	var out []Page
	for _, s := range all {
		v := a.method(s)
		for i := range v.Places {
			v.Places[i].Path = "" // this site has no rooms
		}
		for _, x := range s.Examples {
			v.Examples = append(v.Examples, x.String())
		}
		listing, err := markdown.Listing(s.Text, "markdown")
		a.fail(err)
		v.Listing = listing
		out = append(out, Page{Path: methodPath(s.ID), Kind: KindStatement, Title: s.Title, Where: string(s.ID), Statement: v})
	}
	for i := range out[:max(0, len(out)-1)] {
		out[i].Next = &Link{Text: out[i+1].Title, Path: out[i+1].Path}
	}
	return out
}

// detailIndex lists the details by group, with where each comes from and how often the job uses it.
func (a *assembler) detailIndex(pages []Page) []IndexGroup {
	titles := map[string]string{"field": a.say("Field"), "edge": a.say("Edges"), "structure": a.say("Structure"), "opening": a.say("Openings"), "penetration": a.say("Penetrations")}
	groups := make([]IndexGroup, len(library.Groups))
	for i, g := range library.Groups {
		groups[i].Title = titles[g]
	}
	for _, p := range pages {
		s := a.Library.Statement(library.StatementID(p.Statement.ID))
		note := string(s.ID) + ", " + s.Origin
		if n := len(p.Statement.Places); n > 0 {
			note += a.say(", at %d places of the job", n)
		}
		if s.Deprecated != nil {
			note += a.say(", deprecated")
		}
		i := slices.Index(library.Groups, s.Group)
		groups[i].Links = append(groups[i].Links, Link{Text: p.Title, Path: p.Path, Note: note})
	}
	return slices.DeleteFunc(groups, func(g IndexGroup) bool { return len(g.Links) == 0 })
}

// coverage shows which detail answers each kind of junction of the job.
func (a *assembler) coverage(rows []CoverageRow) Page {
	v := &Schedule{}
	for _, r := range rows {
		words := []string{a.side(r.Edge)}
		for _, w := range []string{r.Item, r.Part} {
			if w != "" {
				words = append(words, a.side(w))
			}
		}
		var met []string
		for _, surface := range []string{r.SurfaceA, r.SurfaceB} {
			if surface != "" {
				met = append(met, a.side(surface))
			}
		}
		if len(met) > 0 {
			words = append(words, strings.Join(met, " / "))
		}
		row := CoverRow{Kind: strings.Join(words, ", "), Places: fmt.Sprint(r.Places), Origin: a.origin(r.Origin)}
		if s := a.Library.Statement(library.StatementID(r.Statement)); s != nil {
			row.Link = &Link{Text: s.Title, Path: methodPath(s.ID), Note: string(s.ID)}
		}
		v.Cover = append(v.Cover, row)
	}
	return Page{Path: "coverage.html", Kind: KindSchedule, Title: a.say("Coverage of the job"), Where: a.say("Coverage"), Schedule: v}
}

// seeFirst gives each statement that the job does not use a place to be seen at: its own first example.
func (a *assembler) seeFirst() {
	for _, s := range a.Library.Statements {
		if len(a.used[s.ID]) == 0 {
			a.samples[s.ID] = &assess.Place{Env: a.Library.Sample(s, a.Facts)}
		}
	}
}

// firstPlace is the place whose figures a statement's page shows.
func (a *assembler) firstPlace(s *library.Statement) *assess.Place {
	if places := a.used[s.ID]; len(places) > 0 {
		return places[0]
	}
	return a.samples[s.ID]
}

func newAssembler(r *assess.Results, b Build) *assembler {
	a := &assembler{Results: r, build: b, drawn: DrawingWords(b.Lang), format: formatOf(r.Job, b.Lang), md: markdown.New(), checks: map[string]Check{},
		used: map[library.StatementID][]*assess.Place{}, samples: map[library.StatementID]*assess.Place{}}
	a.byRoom, a.shares, a.rolls = sync.OnceValue(a.findingsByRoom), sync.OnceValue(a.allShares), sync.OnceValue(a.rollNumbers)
	a.site = sync.OnceValue(func() *onSite { return siteOf(b.Journal) })
	a.head, a.wordings, a.cures = sync.OnceValue(a.makeHead), sync.OnceValue(a.allWordings), sync.OnceValue(a.curesByStage)
	a.left = sync.OnceValue(a.rollsLeft)
	for _, p := range r.Places {
		if p.Answered() {
			id := p.Chosen.Statement.ID
			a.used[id] = append(a.used[id], p)
		}
	}
	return a
}

// origin names the layer of a library; other libraries have their own names.
func (a *assembler) origin(layer string) string {
	switch layer {
	case library.BuiltIn:
		return a.say("built-in")
	case "firm":
		return a.say("firm")
	case "job":
		return a.say("job")
	}
	return layer
}

// libraryOf names the library a statement comes from, with version and hash.
func (a *assembler) libraryOf(s *library.Statement) string {
	switch {
	case s.Edition != "":
		return s.Origin + " " + s.Edition
	case s.Origin == library.BuiltIn:
		return a.say("built-in, Lapwork %s", a.build.Version)
	}
	return a.origin(s.Origin)
}
