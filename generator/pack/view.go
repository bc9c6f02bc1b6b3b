// Package pack assembles the pages of a pack as views of finished text. Nothing is computed here and no markup is
// written: figures come from assess as quantities and become text here, once, so that they agree from page to page.
package pack

import "lapwork/generator/lang"

// Pack is everything a pack shows, in reading order.
type Pack struct {
	Head   Head
	Pages  []Page
	Search []SearchEntry
	Checks []Check // every check of the job, sorted by key; pages show them by reference
	Lang   *lang.Catalogue
}

// Head stands at the top of every page.
type Head struct {
	Lapwork   string // program version
	Job       string // name
	Reference string
	Issue     string // "issue 2 · 4 May 2026" or "not issued"
	IssueOK   bool
	Revision  string // "2-1a2b3c4d5e6f"
	Language  string // BCP 47 tag for <html lang>
	Languages []Language
	Firm      string
	Mark      *Mark    // nil: none
	Contact   []string // lines of the firm's contact block, under its name
	Footer    string   // the firm's line at the foot of every page
	PackID    string   // storage name: letters, digits, hyphen
	Emergency string
	Storeys   []StoreyLink // for the strip of rooms under the top line
	Menu      []Link       // the other pages, in order
	Limits    []string     // sentences: what this pack is and is not, in the footer
	Still     bool         // nothing is recorded in it: a preview
}

// StoreyLink is a storey with its rooms, for navigation.
type StoreyLink struct {
	Name  string
	Rooms []Link
}

// Link goes to a page of the pack; Path is relative to the pack's root and may end in #id.
type Link struct{ Text, Path, Note string }

// Kind is what a page is; it names its template.
type Kind string

// The kinds of page.
const (
	KindOverview  Kind = "overview"
	KindStart     Kind = "start"
	KindRoom      Kind = "room"
	KindPhase     Kind = "phase"
	KindSurface   Kind = "surface"
	KindSchedule  Kind = "schedule"
	KindStatement Kind = "statement"
	KindMaterials Kind = "materials"
	KindCutting   Kind = "cutting"
	KindProgramme Kind = "programme"
	KindAir       Kind = "air"
	KindMoisture  Kind = "moisture"
	KindSignOff   Kind = "signoff"
	KindDefects   Kind = "defects"
	KindHandover  Kind = "handover"
	KindCautions  Kind = "cautions"
	KindOpen      Kind = "open-points"
	KindTrades    Kind = "trades"
	KindLate      Kind = "late"
	KindSite      Kind = "site"
	KindChanges   Kind = "changes"
	KindDeclared  Kind = "declaration"
	KindUnit      Kind = "unit"
	KindOwn       Kind = "own"
	KindSearch    Kind = "search"
)

// Page is one page. Exactly the view that its kind names is set.
type Page struct {
	Path  string // relative to the pack's root, with forward slashes: rooms/B2.html
	Kind  Kind
	Title string
	Where string // short place for the top line: "B2 Back bedroom"
	Next  *Link  // next page of the same sort, at the end

	Overview   *Overview
	Start      *Start
	Room       *Room
	Phase      *Phase
	Surface    *Surface
	Schedule   *Schedule
	Statement  *Statement
	Materials  *Materials
	Cutting    *Cutting
	Programme  *Programme
	Air        *Air
	Moisture   *Moisture
	SignOff    *SignOff
	Defects    *Defects
	Handover   *Handover
	Cautions   *CautionsPage
	Open       *OpenPage
	Trades     *Trades
	Late       *Late
	Site       *SiteBook
	Changes    *ChangesPage
	Declared   *Declaration
	Unit       *Unit
	Own        *OwnPage
	SearchPage *SearchPage
}

// Drawing is a finished SVG with its words.
type Drawing struct {
	SVG     string // an <svg> element with title and desc, made by drawing/svg: trusted
	Title   string
	Caption string
	Legend  []Term // marks or numbers explained beside it
}

// Term is a word and what stands beside it.
type Term struct{ Name, Text string }

// Note is a finding as a page shows it. Level is fault, open or note.
type Note struct {
	Level, Text, Hint, Item string
	Path                    string // page and place of what it is about; empty: it has none, or is about several
}

// Caution is a safety note as a page shows it.
type Caution struct {
	ID, Short, Text, DefersTo string
	Because                   string // what in the job's data triggered it
}

// Step is one thing to do.
type Step struct {
	No     int
	Jump   int     // its number where that is not its place in the list; nought where it is
	HTML   string  // rendered Markdown of one step: trusted
	Other  Beneath // the same in another language; its HTML is empty where none is shown
	Checks []Check // hold or check that follows this step
}

// Beneath is a step in the language that stands beneath it.
type Beneath struct{ HTML, Tag, Name string }

// Check is one check of the plan at one place.
type Check struct {
	Key       string // room, QA id, statement: B2/QA-17/field-lap-vertical
	QA        string
	Title     string
	Accept    string // acceptance with unit
	Method    string
	Who       string // role that signs
	When      string // activity
	Hold      string // H4 or empty
	Record    string // tick, number, photo, signature; several joined by +
	Unit      string // of the number
	Low, High string // accepted range of the number, decimal strings; empty = open
	OnFail    string
	Places    []string // object ids one line stands for
	Tools     []Tool   // instruments of the job that its number may be read with
	Seal      string   // SHA-256 of the statement a person signs, hex
	Also      string   // first digits of its seals in the pack's other languages, set apart by spaces
	Changed   string   // what changed in it since the last issue, in words; empty: nothing
}

// Figure is a computed value with its way of working.
type Figure struct {
	Label, Value, Unit string
	Formula, Inputs    string // shown on request; empty: stated
	Source, Status     string
}

// SearchEntry is one hit of the search.
type SearchEntry struct {
	Text string // what is matched and shown
	Path string
	Kind string // room, surface, junction, statement, component, caution, check
}
