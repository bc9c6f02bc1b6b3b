package pack

// Overview is the front page.
type Overview struct {
	Scenario string   // rendered Markdown: trusted
	Facts    []Figure // floor area, volume, envelope, layer area, target
	Storeys  []OverviewStorey
	Holds    []HoldRow
	Open     []Note // open points, gravest first
	Today    []Link // where to start
	People   []Term
}

// OverviewStorey is one storey on the front page.
type OverviewStorey struct {
	Name    string
	Plan    Drawing
	Rooms   []RoomRow
	SignOff Link
}

// RoomRow is one room in a list.
type RoomRow struct {
	ID, Name, Path              string
	LayerArea, Junctions, Holes string // "38.4 m²", "23", "6"
	Progress
	Open int
}

// HoldRow is one hold point of the job.
type HoldRow struct {
	ID, Title, Released, Who, After string
	Progress
	Blocked []string // what keeps it locked, in words
}

// Progress is how many of some checks are done: counted on the tablet from its own records, or in a handover from those
// gathered.
type Progress struct {
	CheckKeys []string // the tablet counts these; none in a handover
	Recorded  string   // "35 of 39", in a handover
}

// Start is "before you start".
type Start struct {
	Conditions []Term // condition sets in force with their limits
	MayWe      []Term // limits for today's readings: surface, dew point margin, timber
	Moisture   []Verdict
	Deliveries []Link
	Safety     []Term // emergency number, first-aider, assembly point ...; empty text = missing
	Missing    []Note // missing safety or design data
	Cautions   []Caution
	Tools      []Term
	Checks     []Check
	Questions  []Question // to the site lead, unanswered
	Today      TodayLimits
	With       []Tool // instruments that today's readings may be taken with
	Readings   []ReadingRow
}

// TodayLimits are the limits that the tablet compares today's readings with: decimal numbers, empty = none.
type TodayLimits struct {
	SurfaceMin  string // °C
	DewMargin   string // K that the coldest surface must be above the dew point
	HumidityMax string // %
	TimberMax   string // % of dry mass
}

// Verdict is a result in one sentence with its method and scope.
type Verdict struct {
	Item, Verdict, Method, Scope string
	Level                        string // ok, open
	Link                         *Link
}

// Question is an unanswered question to the site lead.
type Question struct {
	Flag, Text, Assumed string
	Places              []Link
}

// SurfaceRow is one surface in a room's list.
type SurfaceRow struct {
	ID, Role, Behind, Layer, BuildUp, Net, Strips, Path string
}

// JunctionRow is one junction in a list.
type JunctionRow struct {
	ID, Room, Title, Variant, Amount, Substrate, Activity string
	No                                                    int    // number in the room's view; 0 none
	Statement                                             *Link  // nil: unresolved
	Origin                                                string // built-in, firm, job
	Problem                                               string
	Path                                                  string // page and place where it is shown
	Work                                                  string // page and activity where it is done; empty: no page has it
	Again                                                 bool   // its own row stands on its room's page
}

// Surface is a surface page.
type Surface struct {
	ID, Room, RoomName, RoomPath, Role string
	Layout                             Drawing
	Facts                              []Figure
	Strips                             []StripRow
	Measure                            []CutRow
	Setting                            []Term // set-out marks: edge heights from the datum
	Notes                              []Note
	Holes                              []JunctionRow
	Junctions                          []JunctionRow
	Cautions                           []Caution
	InFull                             Link // where their words stand
	Checks                             []Check
	Behind                             []Term // build-up layers inside to outside
}

// StripRow is one piece of a strip in the cut list.
type StripRow struct {
	ID                string // B2-W3/4
	Order             int
	Width, Clear, Cut string // "1500 mm" ...
	Ends              string // allowances and turns in words
	Roll              string // roll number in the cutting plan
	Edge              string // height or offset of its lower or left edge from the datum
	Note              string
	Left              string // running remainder of the roll after this cut; only in the cutting plan
}

// Schedule is the junction schedule of the job.
type Schedule struct {
	Rows    []JunctionRow
	ByTitle []KindRow
	Cover   []CoverRow // only in a preview of the library
	Open    []Note
}

// CoverRow is a kind of junction with the detail that answers it; without a link none does.
type CoverRow struct {
	Kind, Places, Origin string
	Link                 *Link
}

// KindRow sums one kind of junction.
type KindRow struct {
	Title, Amount, Count, Minutes, Origin string
	Link                                  *Link
}

// Statement is a method statement page.
type Statement struct {
	ID, Title, Revision, Origin, Hash, Status string
	Where                                     string
	Substrates                                []Term
	Prepare                                   []string
	Conditions                                string
	Section                                   *Drawing // nil: no drawing yet
	Steps                                     []Step
	Variants                                  []Term
	Components                                []ComponentRow
	Accept                                    []Term // check id, acceptance
	Tolerance                                 string
	Faults                                    []Term
	Cautions                                  []Caution
	Labour                                    string
	After, Before                             []string
	Holds                                     []string
	Rules                                     []Term
	Places                                    []JunctionRow // where this job uses it
	Unresolved                                string
	Deprecated                                string   // since when, and what to use instead
	Examples                                  []string // worked by hand; only in a preview
	Listing                                   string   // its file with colours: trusted; only in a preview
}

// ComponentRow is one component of a statement.
type ComponentRow struct{ Name, Role, When, Formula, Unit, Status string }

// MaterialRow is one line of material.
type MaterialRow struct {
	ID, Name string
	Net      string // with waste, before rounding
	Unit     string
	Packs    string   // whole packs; empty where a room or junction shows only its share
	Pack     string   // what a pack holds
	Working  []Figure // each contribution with formula and inputs
	Storage  string
	Article  string
	Price    string
	Hazard   string
}

// Materials is the materials page.
type Materials struct {
	Deliveries []DeliveryView
	Total      []MaterialRow // all deliveries
	Cost       []Term        // of the whole job; empty where nobody stated a price
	Widths     []WidthRow    // none where there is one width of roll only
	Instead    []InsteadRow
	ByRoom     []RoomMaterials
	Rules      []Term
	Notes      []Note
}

// DeliveryView is one delivery.
type DeliveryView struct {
	ID, Name, Rooms, Date, Mass string
	Stated                      bool // by the job, with its id; else it was made for a storey and shows its name only
	Rows                        []MaterialRow
	Cost                        []Term
	Loads                       []LoadView // none where it goes up at once
	Notes                       []Note
	Cautions                    []Caution
}

// LoadView is what goes up at once.
type LoadView struct {
	Title string // Load 1 of 3, about 120 kg, for A1, A2
	Packs []Term // name, number of packs or rolls
}

// RoomMaterials is the pick list of a room.
type RoomMaterials struct {
	Room Link
	Rows []MaterialRow
}

// Cutting is the cutting plan: one entry a roll in cutting order.
type Cutting struct {
	Deliveries []CuttingDelivery
}

// CuttingDelivery is the cutting plan of one delivery.
type CuttingDelivery struct {
	Name    string
	Verdict string // "12 rolls, proven fewest" or bound and gap
	Rolls   []RollView
	Left    []string // leftovers to keep
}

// RollView is one roll.
type RollView struct {
	No, Sheet, Size, Remainder string
	Cuts                       []StripRow // Note holds the running remainder
}

// SignOff is the sign-off page of a room or a storey.
type SignOff struct {
	Place  string
	Back   Link
	Groups []SignGroup
	Seal   string // page statement's seal
	QR     Drawing
}

// SignGroup is the checks of one activity.
type SignGroup struct {
	Title, Hold, HoldText string
	Checks                []Check
	Signs                 []Check // the signatures that release the hold
	Anchor                string  // by which its hold is found; empty: it has none, or an earlier group has it
}

// Defects is the defect log page.
type Defects struct {
	Kinds, Severities, Causes []string
	Rules                     []string
	Places                    []Term      // id, what
	Home                      []DefectRow // that came home before this pack was made
	Rows                      int         // empty rows on paper
}

// Handover is the handover page.
type Handover struct {
	Documents []DocumentRow
	Facts     []Figure
	Rooms     []HandoverRoom
	Leaflet   []string
	Open      []Note
	Checks    []Check
	Results   []Figure
	Summary   []Figure    // as built, in figures
	About     []Term      // the job, where, for whom, by whom, when
	Records   []RecordRow // of the job as a whole
	Shots     []Shot      // of the job as a whole
	Defects   []DefectRow
	Measured  []CutRow   // strips as measured on site
	Settled   []Spot     // spots without a method, with what became of each
	Goods     []GoodsRow // by batch, where recorded
	Materials []Term     // name, amount and packs
	Papers    []Paper
	Signed    Link // test result and declaration
}

// DocumentRow is a paper of the handover and whether it is there.
type DocumentRow struct {
	ID, Title string
	State     string
	Open      bool  // something is missing
	Link      *Link // where the pack shows it; nil: nowhere
}

// DefectRow is a defect that was reported and what became of it.
type DefectRow struct {
	Place, Severity, Cause, Text, Who, When string
	Repair                                  string // what was done, by whom and when; "open"
	Open                                    bool
}

// HandoverRoom says what is behind the lining of a room.
type HandoverRoom struct {
	Room       Link
	View       Drawing
	Behind     []Term   // surface, layers from inside to outside
	People     []Term   // who fitted, who inspected, who released
	Facts      []Figure // lining, cavity, longest screw
	Records    []RecordRow
	Shots      []Shot
	Holes      []JunctionRow
	Statements []string
}

// CautionsPage collects every caution of the job.
type CautionsPage struct {
	Cautions []Caution
	Silent   []Caution // those that nothing in the job triggers
}

// OpenPage lists every open point.
type OpenPage struct {
	Notes     []Note
	Questions []Question
}

// SearchPage is the search; without scripts it is an index.
type SearchPage struct{ Index []IndexGroup }

// IndexGroup is one letter or kind of the index.
type IndexGroup struct {
	Title string
	Links []Link
}
