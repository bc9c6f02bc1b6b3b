// Package job is the job as its people state it: rooms by footprint and ceiling planes, what lies behind each surface,
// openings, penetrations, members, choices and answers. Nothing here is derived; after jobfile has read it no reference
// dangles and every length is a whole millimetre.
package job

import (
	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

// Ids as people pencil them on the sheet.
type (
	RoomID        string // B2
	StoreyID      string // 1
	SurfaceID     string // B2-W3
	OpeningID     string // B2-O1
	PenetrationID string // B2-P02
	MemberID      string // B2-M1
	BuildUpID     string
	SubstrateID   string // a row of the substrate table: osb, screed ...
	ComponentID   string // a row of the component table: tape-single-60 ...
	FlagID        string // a yes/no question to the site lead, without the prefix "flag."
)

// Job is one job, as read from its folder.
type Job struct {
	Dir           string `hash:"ignore"` // folder the job was read from; empty for the embedded demo
	Reference     string
	Name          string
	Language      string   // BCP 47 tag of the pack's language
	AlsoIn        []string // tags of further languages of the pack
	Imperial      bool     // feet, inches and pounds stand beside the metric figures
	Beneath       string   // tag of the language shown beneath each step; empty: none
	Scenario      string   // a paragraph about the job, Markdown
	Place         Place
	Indoor        Indoor
	Client        Person
	Firm          Firm
	Rates         Rates // the job's own over the firm's
	People        []Person
	Issue         *Issue // nil: not issued
	Target        Target
	Measures      *Measures // nil: volume and areas follow from the rooms
	Tests         []FanTest // in the order stated
	Instruments   []Instrument
	Attachments   []Attachment
	State         State
	Burners       []Burner
	BuildUps      []*BuildUp
	Storeys       []*Storey // from the lowest up
	Rooms         []*Room   // in working order as listed
	Units         []Unit    // dwellings that are built several times; their rooms are among Rooms
	Zones         []TestZone
	Stock         []StockRoll
	Deliveries    []Delivery
	TradeTimes    []TradeTime
	Settings      []Setting
	Flags         []FlagAnswer
	Components    map[string]ComponentID // class chosen for a placeholder: "sheet-main" -> "sheet-variable"; job-wide
	Resolutions   []Resolution
	Safety        Safety
	Site          Site
	Assumed       []Assumption
	MoistureNotes []Acceptance // who accepted which build-up's moisture verdict and why
	Pos           diag.Pos     `hash:"ignore"`
}

// Place is where the job is.
type Place struct {
	Address   string
	Country   string       // ISO 3166 alpha-2
	Climate   string       // id of a climate of the climate table, or the name of Weather; empty: not stated
	Weather   *WeatherFile // nil: no file
	Severe    bool         // the weather file is a year as severe as comes once in ten; else an average one
	Altitude  q.MM
	RadonArea bool
	Pos       diag.Pos `hash:"ignore"`
}

// WeatherFile is an hourly weather file of the job, as it was read.
type WeatherFile struct {
	File  string // inside the job's folder
	Shown string // the file as findings name it
	Text  []byte
}

// Person is somebody with a part in the job. Role is one of Roles.
type Person struct {
	Name, Role, Contact string
	Pos                 diag.Pos `hash:"ignore"`
}

// Roles are the roles of the inspection and test plan.
var Roles = []string{"estimator", "designer", "site-lead", "fitter", "other-trade", "licensed", "fire-stop", "tester",
	"main-contractor", "client"}

// Firm is who does the work; it comes from firm.yaml and may be overridden by the job.
type Firm struct {
	Name, Contact, Address string
	Crew                   int      // fitters; 0 = 2
	Pos                    diag.Pos `hash:"ignore"`
}

// Issue is the issue of the pack: the only date in it.
type Issue struct {
	Number int
	Date   string // ISO 8601 date
	By     string
	Reason string
	// Ordered says who ordered what is new in this issue, and when; empty: not stated.
	Ordered string
	Pos     diag.Pos `hash:"ignore"`
}

// TargetKind is the quantity the airtightness target is stated in, as ISO 9972:2015 names it.
type TargetKind string

// The target quantities.
const (
	N50  TargetKind = "n50"
	QE50 TargetKind = "qE50"
	QF50 TargetKind = "qF50"
)

// Target is the airtightness target.
type Target struct {
	Kind   TargetKind
	Value  float64 // 1/h for n50, m³/(h·m²) else
	Source string
	Limit  string   // id of a row of the table of limits that results are held against too; empty: none
	Pos    diag.Pos `hash:"ignore"`
}

// State is what kind of building the job meets.
type State struct {
	Retrofit  bool
	Crooked   bool // walls and frames out of true
	Occupied  bool
	BuiltYear int      // 0 = unknown
	Pos       diag.Pos `hash:"ignore"`
}

// Burner is a combustion appliance inside the envelope.
type Burner struct {
	ID        string
	Room      RoomID
	Kind      string // stove, boiler, cooker ...
	AirSupply string // room, outside, unknown
	OutOfUse  bool   // a licensed person signed it as dead
	SignedBy  string
	Pos       diag.Pos `hash:"ignore"`
}

// StockRoll is a roll length that can be bought, or a leftover to use up first.
type StockRoll struct {
	Component ComponentID
	Width     q.MM
	Length    q.MM
	Leftover  string // name of the leftover; empty: bought
	Count     int    // of leftovers; 0 with bought = any number
	Article   string // the firm's own article number
	Price     *Price
	Pos       diag.Pos `hash:"ignore"`
}

// Delivery is a batch of material; rooms without one go into their storey's default delivery.
type Delivery struct {
	ID    string
	Name  string
	Rooms []RoomID
	Date  string
	Load  q.Mass   // most that goes up at once; 0: what the storeys of its rooms say
	Pos   diag.Pos `hash:"ignore"`
}

// Setting overrides one setting of variables.csv for the job, a room or a surface.
type Setting struct {
	Name  string
	Scope string   // "", a RoomID or a SurfaceID
	Value float64  // in the variable's own unit
	Pos   diag.Pos `hash:"ignore"`
}

// FlagAnswer answers a question to the site lead, for the job or one object (room, surface, opening, penetration, member).
type FlagAnswer struct {
	Flag  FlagID
	Scope string
	Value string // yes, no or an enum value
	By    string
	Pos   diag.Pos `hash:"ignore"`
}

// Resolution settles an unresolved junction on site: who decided what.
type Resolution struct {
	Junction  string // junction id
	Statement string // id of the chosen statement, or "licensed" when a licensed person sealed it
	Variant   string
	By, Role  string
	Reason    string
	Pos       diag.Pos `hash:"ignore"`
}

// Acceptance records who accepted an open point and why.
type Acceptance struct {
	BuildUp BuildUpID
	Check   string // moisture, class, ventilation
	By      string
	Reason  string
	Pos     diag.Pos `hash:"ignore"`
}

// Assumption is what a survey took for true; it stays open until somebody takes it out of the job.
type Assumption struct {
	Text string
	Pos  diag.Pos `hash:"ignore"`
}

// TestZone is what one fan test covers; default the whole dwelling.
type TestZone struct {
	ID, Name string
	Rooms    []RoomID // empty: all
	Pos      diag.Pos `hash:"ignore"`
}

// Safety is the site's own safety data; a missing entry is an open point.
type Safety struct {
	Emergency     string
	FirstAider    string
	AssemblyPoint string
	Isolation     string // where power, water, gas are turned off
	SheetList     string // where the safety sheets are
	Briefed       []string
	Heater        string   // how the site is heated: electric, indirect, none; flueless is refused
	Pos           diag.Pos `hash:"ignore"`
}

// Site is the working time and crew for the programme.
type Site struct {
	Start      string   // ISO date of day 1; empty: day numbers only
	DayMinutes int      // 0 = 480
	DayStart   int      // minutes after midnight; 0 = 480 (08:00)
	WorkDays   []string // mon..sun; empty: mon-fri
	Closed     []string // ISO dates
	Pos        diag.Pos `hash:"ignore"`
}
