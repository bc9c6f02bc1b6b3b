package pack

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"

	"lapwork/generator/assess"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/lang"
	"lapwork/generator/library"
	"lapwork/generator/markdown"
	"lapwork/generator/parallel"
	q "lapwork/generator/quantity"
	"lapwork/generator/record"
	"lapwork/generator/revision"
)

// Build is what a run adds to a job's results.
type Build struct {
	Version  string
	Findings []diag.Finding
	Journal  record.Journal // what tablets recorded so far
	Lang     *lang.Catalogue
	Wordings []Wording // of every language of the pack, the job's first; none: only this one
	// Beneath is the library in the language that stands beneath each step; nil: none.
	Beneath    *library.Library
	BeneathTag string
}

// assembler turns one job's results into views.
type assembler struct {
	*assess.Results
	build  Build
	format q.Format
	md     *markdown.Renderer
	checks map[string]Check // by key, sealed
	rooms  sync.Map         // *roomNumbers by room
	used   map[library.StatementID][]*assess.Place
	// samples stand in for the places of statements that the job does not use, in a preview of the library.
	samples  map[library.StatementID]*assess.Place
	rolls    func() map[string]string // roll of each piece
	byRoom   func() map[job.RoomID][]diag.Finding
	shares   func() map[job.RoomID][]MaterialRow
	standing map[string]record.Standing // latest record of each check, against the pack
	errs     []error                    // texts that could not be rendered
	guard    sync.Mutex                 // of errs: pages are put together side by side
}

// Assemble makes the pack of a job.
func Assemble(r *assess.Results, b Build) (Pack, error) {
	a := newAssembler(r, b)
	for _, c := range r.Checks {
		view := a.check(c)
		a.checks[view.Key] = view
	}
	a.supersede()
	pk := Pack{Head: a.head(), Pages: a.pages(), Checks: a.allChecks(), Lang: b.Lang}
	pk.Search = a.search(pk.Pages)
	return pk, a.failed()
}

// pages gives every page in reading order.
func (a *assembler) pages() []Page {
	one := func(page func() Page) func() []Page { return func() []Page { return []Page{page()} } }
	groups := []func() []Page{one(a.overview), one(a.start), a.roomPages, a.surfacePages, one(a.schedule), a.methodPages,
		one(a.materials), one(a.cutting), one(a.programmePage), one(a.latePage), one(a.tradesPage), one(a.airPage), a.moisturePages,
		a.signOffs, one(a.defects), one(a.handover), one(a.cautionsPage), one(a.openPoints)}
	pages := slices.Concat(parallel.Map(len(groups), func(i int) []Page { return groups[i]() })...)
	pages = append(pages, Page{Path: "search.html", Kind: KindSearch, Title: "Search", SearchPage: a.index(pages)})
	return pages
}

// head is the same on all pages. The revision holds every seal of the job.
func (a *assembler) head() Head {
	h := Head{Lapwork: a.build.Version, Job: a.Job.Name, Reference: a.Job.Reference, Language: a.Job.Language,
		Firm: a.Job.Firm.Name, PackID: packID(a.Job.Reference), Emergency: a.Job.Safety.Emergency, Issue: "not issued"}
	number := 0
	if i := a.Job.Issue; i != nil {
		number = i.Number
		h.Issue, h.IssueOK = fmt.Sprintf("issue %d, %s", i.Number, i.Date), true
	}
	var seals []revision.Sealed
	for _, w := range a.wordings() {
		for key, seal := range w.seals {
			seals = append(seals, revision.Sealed{Key: w.key(key), Seal: seal})
		}
	}
	h.Revision = revision.Of(number, seals)
	h.Languages = a.languages()
	for _, st := range a.Job.Storeys {
		link := StoreyLink{Name: st.Name}
		for _, room := range a.layerRooms(st) {
			link.Rooms = append(link.Rooms, a.roomLink(room))
		}
		if len(link.Rooms) > 0 {
			h.Storeys = append(h.Storeys, link)
		}
	}
	h.Menu = menu
	h.Limits = []string{
		"This pack shows the usual practice of the trade and what follows from the job's own data. Local codes, the products' own sheets and licensed trades come first.",
		"Figures carry the word for how well they are supported: confirmed, secondary, computed, from memory, common practice, placeholder.",
	}
	return h
}

var menu = []Link{{Text: "Overview", Path: "index.html"}, {Text: "Before you start", Path: "start.html"},
	{Text: "Open points", Path: "open.html"}, {Text: "Junctions", Path: "junctions.html"},
	{Text: "Materials", Path: "materials.html"}, {Text: "Cutting plan", Path: "cutting.html"}, {Text: "Programme", Path: "programme.html"},
	{Text: "Before it is too late", Path: latePath}, {Text: "For the other trades", Path: tradesPath},
	{Text: "Airtightness", Path: "air.html"}, {Text: "Moisture", Path: moistureIndex}, {Text: "Job sign-off", Path: signPath(assess.JobScope)}, {Text: "Defects", Path: "defects.html"},
	{Text: "Handover", Path: "handover.html"}, {Text: "Cautions", Path: "cautions.html"}, {Text: "Search", Path: "search.html"}}

// packID is a reference made safe for a storage name and a file name.
func packID(reference string) string {
	id := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-':
			return r
		}
		return '-'
	}, reference)
	if id = strings.Trim(id, "-"); id == "" {
		return "job"
	}
	return id
}

// layerRooms lists the rooms of a storey in which there is something to do.
func (a *assembler) layerRooms(st *job.Storey) []*job.Room {
	var out []*job.Room
	for _, r := range a.Job.Rooms {
		if r.Storey == st && a.HasLayer(r.ID) {
			out = append(out, r)
		}
	}
	return out
}

func roomPath(id job.RoomID) string            { return "rooms/" + string(id) + ".html" }
func surfacePath(id job.SurfaceID) string      { return "surfaces/" + string(id) + ".html" }
func methodPath(id library.StatementID) string { return "methods/" + string(id) + ".html" }
func signPath(scope string) string             { return "signoff/" + scope + ".html" }

func (a *assembler) roomLink(r *job.Room) Link {
	return Link{Text: string(r.ID), Path: roomPath(r.ID), Note: r.Name}
}

// line renders one line of Markdown. A line that cannot be rendered fails the whole pack: the checker has passed it.
func (a *assembler) line(source string, fill markdown.Fill) string {
	html, err := a.md.Line(source, fill)
	a.fail(err)
	return html
}

// fail notes an error, unless it is none.
func (a *assembler) fail(err error) {
	if err == nil {
		return
	}
	a.guard.Lock()
	defer a.guard.Unlock()
	a.errs = append(a.errs, err)
}

// failed gives the errors noted, in an order that does not depend on which page was first.
func (a *assembler) failed() error {
	slices.SortFunc(a.errs, func(x, y error) int { return strings.Compare(x.Error(), y.Error()) })
	return errors.Join(a.errs...)
}

// check is one line of the check plan as pages show it, sealed.
func (a *assembler) check(c assess.Check) Check {
	v := Check{Key: c.Key, Accept: c.Accept, Places: c.Places, When: c.Activity.Title}
	if c.Hold != nil {
		v.QA, v.Hold, v.Title = c.Hold.ID, c.Hold.ID, "Release "+c.Hold.ID
		v.Who, v.Record = roles(c.Hold.Signs), "signature"
		v.Method = "sign only when every check before it stands"
		if c.Hold.NoSelf {
			v.Method += "; never by the person who did the work"
		}
	} else {
		v.QA, v.Title, v.Method, v.Who = c.QA.ID, c.QA.Title, c.QA.Method, roles([]string{c.QA.Signs})
		v.Record, v.OnFail = strings.Join(c.QA.Record, "+"), c.QA.Failure
		v.Unit, v.Low, v.High = c.QA.Unit, c.QA.Low, c.QA.High
	}
	v.Seal = record.Seal(v.Statement())
	v.Also = a.sealsBeside(v.Key)
	return v
}

func (a *assembler) allChecks() []Check {
	var out []Check
	for _, c := range a.Results.Checks {
		out = append(out, a.checks[c.Key])
	}
	slices.SortFunc(out, func(x, y Check) int { return strings.Compare(x.Key, y.Key) })
	return out
}

// checksIn gives the sealed checks of a scope that satisfy a condition, in plan order.
func (a *assembler) checksIn(scope string, want func(assess.Check) bool) []Check {
	var out []Check
	for _, c := range a.Results.ChecksIn(scope) {
		if want == nil || want(c) {
			out = append(out, a.checks[c.Key])
		}
	}
	return out
}

// checksWhere gives the sealed checks of the whole job that satisfy a condition, in plan order.
func (a *assembler) checksWhere(want func(assess.Check) bool) []Check {
	var out []Check
	for _, c := range a.Results.Checks {
		if want(c) {
			out = append(out, a.checks[c.Key])
		}
	}
	return out
}

func keys(checks []Check) []string {
	var out []string
	for _, c := range checks {
		out = append(out, c.Key)
	}
	return out
}

// roles writes role ids as words: "site lead and other trade".
func roles(ids []string) string {
	words := make([]string, len(ids))
	for i, id := range ids {
		words[i] = strings.ReplaceAll(id, "-", " ")
	}
	return strings.Join(words, " and ")
}

// notes gives the findings of a level that concern items, or all for a nil condition.
func (a *assembler) notes(level diag.Level, concerns func(item string) bool) []Note {
	return noted(a.build.Findings, level, concerns)
}

// notesOf gives the findings of a level about a room or one of its parts.
func (a *assembler) notesOf(room job.RoomID, level diag.Level, owner string) []Note {
	return noted(a.byRoom()[room], level, about(owner))
}

func (a *assembler) findingsByRoom() map[job.RoomID][]diag.Finding {
	byRoom := map[job.RoomID][]diag.Finding{}
	for _, f := range a.build.Findings {
		id, _, _ := strings.Cut(f.Item, "-")
		byRoom[job.RoomID(id)] = append(byRoom[job.RoomID(id)], f)
	}
	return byRoom
}

func noted(found []diag.Finding, level diag.Level, concerns func(item string) bool) []Note {
	var out []Note
	for _, f := range found {
		if f.Level == level && (concerns == nil || concerns(f.Item)) {
			text := strings.TrimPrefix(strings.TrimPrefix(f.Msg, "build-up "), f.Item+": ")
			out = append(out, Note{Level: f.Level.String(), Text: upperFirst(text), Hint: sentence(f.Hint), Item: f.Item})
		}
	}
	return out
}

// upperFirst begins a sentence.
func upperFirst(text string) string {
	if text == "" {
		return text
	}
	return strings.ToUpper(text[:1]) + text[1:]
}

// sentence makes a hint a sentence.
func sentence(text string) string {
	if text == "" || strings.HasSuffix(text, ".") {
		return upperFirst(text)
	}
	return upperFirst(text) + "."
}

// about reports whether an item id belongs to a room or surface: B2, B2-W3, B2-P02, B2-W3+C1 all belong to B2.
func about(owner string) func(string) bool {
	return func(item string) bool {
		rest, ok := strings.CutPrefix(item, owner)
		return ok && (rest == "" || rest[0] == '-' || rest[0] == '/' || rest[0] == '+')
	}
}
