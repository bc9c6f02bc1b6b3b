package pack

// Room is a room page.
type Room struct {
	ID, Name, Storey string
	Key              Drawing // small key plan
	View             Drawing // isometric with numbered junction lines
	Blocks           []Note  // what blocks this room
	Facts            []Figure
	Activities       []Activity
	Surfaces         []SurfaceRow
	Junctions        []JunctionRow
	Holes            []JunctionRow // penetrations
	Materials        []MaterialRow
	Cautions         []Caution // particular to this room
	Everywhere       []string  // short names of those of every room of the job
	InFull           Link      // where their words stand
	Checks           []Check
	SignOff          Link
	Spots            []Spot // without a method: each blocks itself
	Phases           []PhaseLink
}

// Phase is the page of a later stretch of a room's work.
type Phase struct {
	ID, Name, Storey, Title string
	Room, RoomPath          string
	Key                     Drawing       // small key plan
	View                    Drawing       // isometric; empty where no junction line is worked
	Earlier                 []Stop        // holds of the pages before
	Running                 []RunningWait // waits that began on the pages before
	Activities              []Activity
	Phases                  []PhaseLink
	SignOff                 Link // only of the last phase
}

// PhaseLink is a part of a room's work in the row that leads from one to the next.
type PhaseLink struct {
	Text, Path string
	Here       bool
	Progress   // only on the room's own page
}

// Activity is one stage of a room's work in working order.
type Activity struct {
	Name, Title string // hang-walls, "Hang wall sheet"
	Anchor      string // by which rows of junctions lead here; empty: none does
	Crew        string
	Minutes     string // "77 min (46-123)"
	Stop        *Stop  // the hold at its end; nil: none
	Wait        string // cure or drying time before the next
	Clocks      []Clock
	Conditions  string
	Work        []Work
	Checks      []Check
}

// Stop is a hold point where the work stops until it is released.
type Stop struct {
	Hold string // H4
	Text string
	Key  string // of the signature that releases it; several with spaces between
	Seal string
	Path string // where it is signed: page and hold
}

// Work is one method statement applied at its places in a room.
type Work struct {
	Title    string
	Link     Link
	Variant  string
	Places   []string // junction ids
	Amount   string   // "12.40 m" or "3 pieces"
	Uses     []string // "13.5 m tape, 60 mm"
	Steps    []Step
	Cautions []Caution
	Problem  string // unresolved: whom to ask
}
