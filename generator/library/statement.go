package library

import (
	"lapwork/generator/diag"
	"lapwork/generator/drawing"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// StatementID names a method statement: wall-ceiling.
type StatementID string

// Statement is one generic method statement: one Markdown file with front matter.
type Statement struct {
	ID            StatementID
	Title         string
	Revision      int
	Group         string // field, edge, structure, opening, penetration
	AppliesTo     string // where it applies, in words
	When          Predicate
	Priority      int
	Replaces      StatementID
	Deprecated    *Deprecation // nil: current
	Seals         string       // what its components hold on: layer, substrate, member
	Substrates    []job.SubstrateID
	Measure       string  // m, m2, each
	Driver        Formula // labour driver
	Labour        Labour
	Activity      string // short name of the activity it is installed in: hang-walls, edges ...
	Condition     string // condition set id
	Components    []ComponentLine
	Variants      []Variant // "default" first
	Turn          TurnRule
	Prepare       []string
	Checks        []Check
	Tolerance     string
	Faults        []Fault
	Cautions      []string         // caution ids
	After, Before []string         // statement ids or activity names
	Rules         []string         // rule ids
	Unresolved    string           // not empty: chosen on purpose as "nobody decides this on site"; says whom to ask
	Section       *drawing.Section // nil: no drawing yet
	Steps         []Step           // in order, Markdown source per step
	Source        q.Source         // of steps, acceptance values, tolerance, labour unless they name their own
	Figures       q.Source         // of the component amounts
	Examples      []Example
	Origin        string   // name of its layer: built-in, firm, job, or a library's own
	Edition       string   // version and hash of the library it came from, in words; empty: not stated
	Text          string   `hash:"ignore"` // its file as it was read
	Hash          string   // SHA-256 of its file, first 12 digits
	Pos           diag.Pos `hash:"ignore"`

	places map[string]diag.Pos // of the entries of its lists, by key/entry
	parts  [][]diag.Pos        // of the parts of its section, by frame
}

// Deprecation says that a statement is kept for old jobs only.
type Deprecation struct {
	Since string      // when and why, in words
	Use   StatementID // what answers instead
	Pos   diag.Pos    `hash:"ignore"`
}

// at gives the place of an entry of one of the statement's lists, or of the statement.
func (s *Statement) at(key, entry string) diag.Pos {
	if p, ok := s.places[key+"/"+entry]; ok {
		return p
	}
	return s.Pos
}

// Labour is person-minutes per unit of the driver.
type Labour struct {
	Low, Likely, High q.Minutes
	Per               string // min/m, min/m2, min each
	Source            q.Source
}

// ComponentLine is one component with its quantity expression.
type ComponentLine struct {
	Component job.ComponentID
	Role      string     // main, if, option, info, layout
	Variant   string     // empty: every variant
	When      *Predicate // nil: always
	Condition string     // the predicate in words
	Amount    Formula
	Unit      string
	On        string // what it holds on; empty: what the statement seals to
	Source    q.Source
	Pos       diag.Pos `hash:"ignore"`
}

// Variant is one way to do it; the last one whose predicate is true replaces the default.
type Variant struct {
	ID, Title string
	When      *Predicate // nil for the default
	Reason    string     // the predicate in words
	Steps     []int      // step numbers that apply only here; empty: all
	Turn      *TurnRule  // nil: the statement's
	Activity  string     // empty: the statement's
	Labour    *Labour    // nil: the statement's
	// Unresolved, when not empty, says that this way is nobody's to decide on site, and whom to ask.
	Unresolved string
	Pos        diag.Pos `hash:"ignore"`
}

// TurnRule is what the junction asks of the strips that end there.
type TurnRule struct {
	Turn        q.MM // sheet turned onto the neighbour; -1: the setting turn_mm
	Fold        bool // a stress-relief fold of fold_mm
	CeilingDown bool // ceiling or slope sheet runs 100 mm down the wall
}

// Check is one check of the plan with this statement's own acceptance values.
type Check struct {
	QA      string // QA-18
	Accept  string // with value and unit; may hold {=expr} figures
	Variant string // empty: every variant
	Range   *Range // of the number recorded; nil: that of the plan
	Source  q.Source
	Pos     diag.Pos `hash:"ignore"`
}

// Fault is a typical fault and its repair.
type Fault struct{ Sign, Repair string }

// Step is one numbered step.
type Step struct {
	No   int
	Text string // Markdown; may hold {=expr} figures
	Body Figured
	Pos  diag.Pos `hash:"ignore"`
}

// Example is a hand-worked quantity: inputs and expected amounts, run by the checker.
type Example struct {
	Note   string
	Given  map[string]string
	Expect map[job.ComponentID]float64
	Pos    diag.Pos `hash:"ignore"`
}
