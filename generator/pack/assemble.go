package pack

import (
	"errors"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"lapwork/generator/assess"
	"lapwork/generator/diag"
	"lapwork/generator/drawing"
	"lapwork/generator/job"
	"lapwork/generator/lang"
	"lapwork/generator/library"
	"lapwork/generator/markdown"
	"lapwork/generator/parallel"
	q "lapwork/generator/quantity"
	"lapwork/generator/record"
	"lapwork/generator/revision"
	"lapwork/generator/sorting"
	"lapwork/generator/theme"
)

// Build is what a run adds to a job's results.
type Build struct {
	Version  string
	Findings []diag.Finding
	Journal  record.Journal   // what tablets recorded so far
	Photos   map[string]Photo // of the journal's photos, by SHA-256
	Handover bool             // the handover leads the pack
	Lang     *lang.Catalogue
	Wordings []Wording // of every language of the pack, the job's first; none: only this one
	// Beneath is the library in the language that stands beneath each step; nil: none.
	Beneath    *library.Library
	BeneathTag string
	Own        theme.Theme // what the firm and the job put over the look, and their own pages
}

// assembler turns one job's results into views.
type assembler struct {
	*assess.Results
	build   Build
	format  q.Format
	drawn   *drawing.Words // the words that drawings write by themselves
	md      *markdown.Renderer
	checks  map[string]Check // by key, sealed
	rooms   sync.Map         // *roomNumbers by room
	lines   sync.Map         // HTML of lines, by what figured gives for them
	figures sync.Map         // Drawing by the storey or the room that it shows
	used    map[library.StatementID][]*assess.Place
	// samples stand in for the places of statements that the job does not use, in a preview of the library.
	samples   map[library.StatementID]*assess.Place
	head      func() Head
	wordings  func() []Wording
	cures     func() map[atStage][]assess.Cure
	rolls     func() map[string]string // roll of each piece
	byRoom    func() map[job.RoomID][]diag.Finding
	shares    func() map[job.RoomID][]MaterialRow
	standing  map[string][]record.Standing // latest records of each check, against the pack
	standings []record.Standing            // all of them
	differing []record.Conflict            // checks of the pack that tablets answered otherwise
	site      func() *onSite               // what the journal holds beside answers
	left      func() map[string]rollLeft   // roll of each piece
	errs      []error                      // texts that could not be rendered
	guard     sync.Mutex                   // of errs: pages are put together side by side
}

// Assemble makes the pack of a job.
func Assemble(r *assess.Results, b Build) (Pack, error) {
	a := newAssembler(r, b)
	a.sealChecks()
	a.supersede()
	pk := Pack{Head: a.head(), Pages: a.pages(), Checks: a.allChecks(), Lang: b.Lang}
	pk.Search = a.search(pk.Pages)
	return pk, a.failed()
}

// pages gives every page in reading order.
func (a *assembler) pages() []Page {
	one := func(page func() Page) func() []Page { return func() []Page { return []Page{page()} } }
	groups := []func() []Page{one(a.overview), one(a.start), a.unitPages, a.roomPages, a.surfacePages, one(a.schedule), a.methodPages,
		one(a.materials), one(a.cutting), one(a.programmePage), one(a.latePage), one(a.tradesPage), one(a.airPage), a.moisturePages,
		a.signOffs, one(a.defects), one(a.siteBook), one(a.cautionsPage), one(a.openPoints), a.ownPages}
	end := []func() []Page{one(a.handover), one(a.declaration), one(a.changes)}
	if a.build.Handover { // what the client reads comes first; the rest stands behind it as the record of how
		groups = slices.Concat(groups[:1], end, groups[1:])
	} else {
		groups = append(groups, end...)
	}
	pages := slices.Concat(parallel.Map(len(groups), func(i int) []Page { return groups[i]() })...)
	a.leadToWork(pages)
	pages = append(pages, Page{Path: "search.html", Kind: KindSearch, Title: a.say("Search"), SearchPage: a.index(pages)})
	return pages
}

// makeHead gives what is the same on all pages. The revision holds every seal of the job.
func (a *assembler) makeHead() Head {
	h := Head{Lapwork: a.build.Version, Job: a.Job.Name, Reference: a.Job.Reference, Language: a.Job.Language,
		Firm: a.Job.Firm.Name, Mark: a.build.mark(), Contact: a.contactLines(), Footer: a.build.Own.Footer, PackID: packID(a.Job.Reference), Emergency: a.Job.Safety.Emergency, Issue: a.say("not issued")}
	number := 0
	if i := a.Job.Issue; i != nil {
		number = i.Number
		h.Issue, h.IssueOK = a.say("issue %d, %s", i.Number, i.Date), true
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
	h.Menu = a.withOwn(a.menu())
	h.Limits = []string{
		a.say("This pack shows the usual practice of the trade and what follows from the job's own data. Local codes, the products' own sheets and licensed trades come first."),
		a.say("Figures carry the word for how well they are supported: confirmed, secondary, computed, from memory, common practice, placeholder."),
	}
	return h
}

// menu lists the other pages, in order.
func (a *assembler) menu() []Link {
	first := append([]Link{{Text: a.say("Overview"), Path: "index.html"}, {Text: a.say("Before you start"), Path: "start.html"}}, a.unitLinks()...)
	return append(first, []Link{{Text: a.say("Open points"), Path: "open.html"}, {Text: a.say("Junctions"), Path: "junctions.html"},
		{Text: a.say("Materials"), Path: "materials.html"}, {Text: a.say("Cutting plan"), Path: "cutting.html"}, {Text: a.say("Programme"), Path: "programme.html"},
		{Text: a.say("Before it is too late"), Path: latePath}, {Text: a.say("For the other trades"), Path: tradesPath},
		{Text: a.say("Airtightness"), Path: "air.html"}, {Text: a.say("Moisture"), Path: moistureIndex}, {Text: a.say("Job sign-off"), Path: signPath(assess.JobScope)}, {Text: a.say("Defects"), Path: "defects.html"},
		{Text: a.say("Site book"), Path: sitePath}, {Text: a.say("What changed"), Path: changesPath}, {Text: a.say("Handover"), Path: "handover.html"}, {Text: a.say("Test result and declaration"), Path: declarationPath}, {Text: a.say("Cautions"), Path: "cautions.html"}, {Text: a.say("Search"), Path: "search.html"}}...)
}

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
	known := figured(source, fill)
	if html, done := a.lines.Load(known); done {
		return html.(string)
	}
	html, err := a.md.Line(source, fill)
	a.fail(err)
	a.lines.Store(known, html)
	return html
}

// figured is a line with the values of its figures behind it: two lines that are alike in both read the same. A figure that
// has no value fails when the line is rendered.
func figured(source string, fill markdown.Fill) string {
	known := source
	for rest := source; ; {
		_, figure, more := strings.Cut(rest, "{=")
		if !more {
			return known
		}
		figure, rest, _ = strings.Cut(figure, "}")
		if value, err := fill(figure); err == nil {
			known += "\x00" + value
		}
	}
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
	sorting.Func(a.errs, func(x, y error) int { return strings.Compare(x.Error(), y.Error()) })
	return errors.Join(a.errs...)
}

// sealChecks takes the checks as they were sealed for the pack's own wording, or seals them.
func (a *assembler) sealChecks() {
	for _, w := range a.build.Wordings {
		if w.Tag == a.Job.Language && w.sealed != nil {
			for key, view := range w.sealed {
				view.Also = a.sealsBeside(key)
				a.checks[key] = view
			}
			return
		}
	}
	for _, view := range parallel.Map(len(a.Results.Checks), func(i int) Check { return a.check(a.Results.Checks[i]) }) {
		a.checks[view.Key] = view
	}
}

// check is one line of the check plan as pages show it, sealed.
func (a *assembler) check(c assess.Check) Check {
	v := Check{Key: c.Key, Accept: c.Accept, Places: c.Places, When: c.Activity.Title}
	if c.Hold != nil {
		v.QA, v.Hold, v.Title = c.Hold.ID, c.Hold.ID, a.say("Release %s", c.Hold.ID)
		v.Who, v.Record = a.roles(c.Hold.Signs), "signature"
		if c.Signer != "" {
			v.Who = a.role(c.Signer)
			v.Title = a.say("Release %s: %s", c.Hold.ID, v.Who)
		}
		v.Method = a.say("sign only when every check before it stands")
		if c.Hold.NoSelf {
			v.Method = a.say("%s; never by the person who did the work", v.Method)
		}
	} else {
		v.QA, v.Title, v.Method, v.Who = c.QA.ID, c.QA.Title, c.QA.Method, a.roles([]string{c.QA.Signs})
		v.Record, v.OnFail = strings.Join(c.QA.Record, "+"), c.QA.Failure
		v.Unit, v.Low, v.High = a.readingUnit(c.Range.Unit), c.Range.Low, c.Range.High
		v.Tools = a.toolsOf(toolKinds[c.QA.ID]...)
	}
	v.Seal = record.Seal(v.Statement())
	v.Also = a.sealsBeside(v.Key)
	return v
}

func (a *assembler) allChecks() []Check {
	out := make([]Check, 0, len(a.Results.Checks))
	for _, c := range a.Results.Checks {
		out = append(out, a.checks[c.Key])
	}
	sorting.Func(out, func(x, y Check) int { return strings.Compare(x.Key, y.Key) })
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
func (a *assembler) roles(ids []string) string {
	if len(ids) == 0 {
		return ""
	}
	text := a.role(ids[0])
	for _, id := range ids[1:] {
		text = a.say("%s and %s", text, a.role(id))
	}
	return text
}

// role writes a role's id as words.
func (a *assembler) role(id string) string {
	if id == "licensed" {
		return a.say("licensed person")
	}
	return a.word(strings.ReplaceAll(id, "-", " "))
}

// notes gives the findings of a level that concern items, or all for a nil condition.
func (a *assembler) notes(level diag.Level, concerns func(item string) bool) []Note {
	return a.noted(a.build.Findings, level, concerns)
}

// notesOf gives the findings of a level about a room or one of its parts.
func (a *assembler) notesOf(room job.RoomID, level diag.Level, owner string) []Note {
	return a.noted(a.byRoom()[room], level, about(owner))
}

func (a *assembler) findingsByRoom() map[job.RoomID][]diag.Finding {
	byRoom := map[job.RoomID][]diag.Finding{}
	for _, f := range a.build.Findings {
		id, _, _ := strings.Cut(f.Item, "-")
		byRoom[job.RoomID(id)] = append(byRoom[job.RoomID(id)], f)
	}
	return byRoom
}

func (a *assembler) noted(found []diag.Finding, level diag.Level, concerns func(item string) bool) []Note {
	own := slices.DeleteFunc(slices.Clone(found), func(f diag.Finding) bool { return f.Level != level || concerns != nil && !concerns(f.Item) })
	var out []Note
	for _, g := range diag.Gather(own) {
		out = append(out, Note{Level: g.Level.String(), Text: upperFirst(a.finding(g.Finding)), Hint: a.hint(g.Hint), Item: g.Where()})
	}
	return out
}

// finding says a finding in the pack's language, without the item that stands before it anyway.
func (a *assembler) finding(f diag.Finding) string {
	text := strings.TrimPrefix(strings.TrimPrefix(f.Msg, "build-up "), f.Item+": ")
	pattern := f.Pattern // a literal where the finding was made
	switch {
	case pattern != "" && lang.Wordless(pattern): // its values were said where they were found
		return text
	case pattern == "" || !a.build.Lang.Has(pattern):
		return a.word(text)
	}
	return strings.TrimPrefix(a.say(pattern, f.Values...), f.Item+": ")
}

// hint says what to change. A hint with values was said where the finding was made and stays as it is.
func (a *assembler) hint(english string) string {
	if a.build.Lang.Has(english) {
		return sentence(a.word(english))
	}
	return sentence(english)
}

// upperFirst begins a sentence.
func upperFirst(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	switch first {
	case utf8.RuneError:
		return text
	case lang.Begin: // the mark of a missing translation stands before it
		return text[:size] + upperFirst(text[size:])
	}
	return string(unicode.ToUpper(first)) + text[size:]
}

// sentence makes a hint a sentence.
func sentence(text string) string {
	if plain := lang.Plain(text); plain == "" || strings.HasSuffix(plain, ".") || strings.HasSuffix(plain, "…") {
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
