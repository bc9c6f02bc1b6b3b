package job

import (
	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

// Measures are the building's volume and areas where somebody took them otherwise than from the rooms as stated. Zero:
// taken from the rooms.
type Measures struct {
	Volume       q.Volume // V
	EnvelopeArea q.Area   // AE
	FloorArea    q.Area   // AF
	Reason       string   // who took them, how and why
	Pos          diag.Pos `hash:"ignore"`
}

// TestKind is which fan test of a job it is.
type TestKind string

// The kinds of test, as they follow one another.
const (
	BaselineTest TestKind = "baseline" // before the work, of a house that stands
	InterimTest  TestKind = "interim"  // the layer is complete, nothing covers it yet
	FinalTest    TestKind = "final"
)

// FanTest is a fan test kept with the job: the file of its readings as it was read.
type FanTest struct {
	File     string // inside the job's folder
	Shown    string // the file as findings name it
	Readings []byte
	Kind     TestKind
	By, Role string   // who read it; Role tester makes it more than the firm's own reading
	Report   string   // number of the tester's signed report
	Pos      diag.Pos `hash:"ignore"`
}
