package library

import (
	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// Fit says whether a kind of seal holds on a substrate.
type Fit string

// The fits.
const (
	FitYes    Fit = "yes"
	FitNo     Fit = "no"
	FitPrimed Fit = "primed" // after a primer
	FitTest   Fit = "test"   // after a pull test passed
	FitNever  Fit = "never"  // nobody does it that way
)

// Seal is a way a component holds on what it is stuck to.
type Seal string

// The seals: one column each of the substrate table.
const (
	SealTape    Seal = "tape"
	SealSplit   Seal = "split-tape"
	SealRoll    Seal = "roll-adhesive"
	SealBead    Seal = "bead"
	SealPlaster Seal = "plaster-tape"
	SealBrush   Seal = "brush-on"
)

var seals = []string{string(SealTape), string(SealSplit), string(SealRoll), string(SealBead), string(SealPlaster),
	string(SealBrush)}

// Substrate is what a seal is stuck to.
type Substrate struct {
	ID         job.SubstrateID
	Family     string // timber, panel, mineral, coated, metal ...; predicates ask for it
	Name       string
	Primer     string // yes, no, test, never
	Fits       map[Seal]Fit
	BeadFactor q.Ratio // extra adhesive for roughness
	Moisture   string  // limit in words
	Prepare    string
	Note       string
	Source     q.Source
	Pos        diag.Pos `hash:"ignore"`
}

var substrateSpec = spec[*Substrate]{"substrates", []string{"id", "family", "name", "primer", "tape", "split-tape",
	"roll-adhesive", "bead", "plaster-tape", "brush-on", "bead_factor", "moisture", "prepare", "note", "source",
	"status"}, readSubstrate}

func readSubstrate(l line) *Substrate {
	factor, _ := l.number("bead_factor")
	if factor < 1 {
		l.found.Faultf(l.cells["bead_factor"].pos, "1.0 is a smooth surface", "a bead factor is 1 or more")
	}
	s := &Substrate{ID: job.SubstrateID(l.text("id")), Family: l.need("family"), Name: l.need("name"),
		Primer: l.word("primer", []string{"yes", "no", "test", "never"}), Fits: map[Seal]Fit{},
		BeadFactor: q.Ratio(factor), Moisture: l.text("moisture"), Prepare: l.need("prepare"), Note: l.text("note"),
		Source: l.source(), Pos: l.pos}
	for _, c := range seals {
		s.Fits[Seal(c)] = Fit(l.word(c, []string{"yes", "no", "primed", "test", "never"}))
	}
	return s
}
