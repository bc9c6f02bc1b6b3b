package pack

// Programme is the programme page.
type Programme struct {
	Summary  []Figure
	Rows     []ProgrammeRow
	Chart    *Drawing      // by room
	Charts   []StoreyChart // step by step
	Critical []string
	Notes    []Note

	Rooms             []ProgrammeRoom // Rows are the steps of more than one room
	Weeks             []ProgrammeWeek
	Holds, Deliveries []ProgrammeDate
	Cures             []ProgrammeCure
	File              string // name of the calendar file beside the pages; empty: none
}

// ProgrammeRow is one activity of the programme.
type ProgrammeRow struct{ Activity, Place, Start, Finish, Work, Crew, SetBy, Hold string }

// Air is the airtightness page: the tests first, then target, budget and leak search.
type Air struct {
	Results  []FanTest
	Target   []Figure
	Areas    []Figure // V, AE, AF and how each was taken
	Budget   []BudgetRow
	Zones    []ZoneRow // by test zone, where the job states several
	Gains    []GainRow
	Sum      []Figure
	Silent   []Term // what the budget does not count
	Sources  []Term // where the elements' figures come from
	Verdict  *Verdict
	Search   []SearchRow
	Storeys  []SearchStorey
	Tests    []Check
	Notes    []Note
	Cautions []Caution
	Chart    *Drawing
	Holes    []Term
	Sheet    *RecordSheet
}

// BudgetRow is one contributor to the leakage budget.
type BudgetRow struct{ Item, Amount, Low, Likely, High, Share, Halved, Status string }

// GainRow is what halving one contributor buys, once those above it are halved.
type GainRow struct{ Item, Flow, Hole, Saved, After, Figure string }

// SearchRow is one line of the leak search.
type SearchRow struct {
	Order                  int
	ID, Place, Title, Look string
	Flow                   string // expected at 50 Pa
	Key                    string // record key
}

// SearchStorey is the leak search of one storey.
type SearchStorey struct {
	Name string
	Plan Drawing
	Rows []SearchRow
}

// Moisture is the list of moisture checks, or the page of one build-up.
type Moisture struct {
	Verdicts []Verdict // of the list
	BuildUps []MoistureBuildUp
	Climate  []Figure
	NoProof  []Term // cases in which the method is no proof, with the build-ups they concern
	Notes    []Note
	Back     *Link
}

// MoistureBuildUp is one build-up on the moisture page.
type MoistureBuildUp struct {
	ID       string
	Layers   []LayerRow
	Verdict  Verdict
	Facts    []Figure
	Used     []string // surface ids
	Checks   []Check
	Chart    *Drawing // pressure over sd in the month that decides
	Reasons  []Term   // why it is no proof, or why it fails
	Cases    []MoistureCase
	PlanesOf string // the month of Planes, with its climate
	Planes   []PlaneRow
	Water    string   // the year's water in a sentence
	Year     *Drawing // held water over the months
	Months   []MonthRow
	Beyond   string   // what a simulation would need, or what it says
	Run      []Figure // of the simulation
	Above    string   // the humidity whose hours Humid counts
	Humid    []HumidRow
	Series   []Drawing
	Unshown  []Term // what the simulation cannot show
	Runs     []RunRow
	Timber   string // what the last column of Humid is
}

// RunRow is one weather that a build-up was simulated through.
type RunRow struct{ Weather, Outcome, Years, Hours string }

// HumidRow is a plane of a simulation over its last year.
type HumidRow struct{ Plane, Hours, Highest, Free, Timber string }

// LayerRow is one layer of a build-up, inside first.
type LayerRow struct{ No, Name, Thickness, Lambda, R, Sd, Source, Status string }

// MoistureCase is one run of a build-up.
type MoistureCase struct{ Name, Verdict, Most, Dry string }

// PlaneRow is a plane of a build-up in one month.
type PlaneRow struct{ Plane, Temperature, Dew, Saturation, Pressure, Humidity string }

// MonthRow is a month of a moisture check.
type MonthRow struct{ Month, Te, Pe, Ti, Pi, Factor, Change, Held string }
