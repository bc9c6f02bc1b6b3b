package library

import (
	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// Component is a generic class of material, tool or protective equipment. A firm's table may give its own packs.
type Component struct {
	ID         job.ComponentID
	Class      string // sheet, tape, adhesive, collar, fixing, tool, ppe ...; "placeholder" is resolved by the job
	Name       string
	Unit       string
	Pack       Pack
	OwnName    bool   // the firm's own name, the same in every language
	Article    string // the firm's own article number; empty: none
	Coverage   string // what a pack does, in words
	UseOn      string
	Work       *TemperatureRange // nil: not limited
	Storage    string
	ShelfLife  int // months; 0: not stated
	Hazard     string
	Protection []job.ComponentID // protective equipment to wear
	Waste      string
	Note       string
	Cautions   []string
	Seal       Seal            // how it holds on a substrate; empty: it is no seal
	Becomes    job.SubstrateID // the substrate it leaves behind: a smoothing band is sealed to like render
	Wait       Wait
	Source     q.Source
	Pos        diag.Pos `hash:"ignore"`
}

// Pack is how much of a component one pack holds, in the component's unit; zeros: not packed.
type Pack struct {
	Low, Likely, High float64
	Note              string
}

// TemperatureRange is where a component may be worked, °C.
type TemperatureRange struct{ Low, High q.Temperature }

// Wait is how long a component must be left alone after it is placed, and where that comes from.
type Wait struct {
	Load    Hours // before load or a fan test
	Between Hours // between two coats
	PerMM   bool  // Load is per millimetre of thickness
}

// Hours is an elapsed time in hours; nights count.
type Hours float64

var componentSpec = spec[*Component]{"components", []string{"id", "class", "name", "unit", "pack_low", "pack_likely",
	"pack_high", "pack_note", "coverage", "use_on", "work_low", "work_high", "storage", "shelf_months", "hazard",
	"protection", "waste", "note", "cautions", "seal", "becomes", "wait_h", "wait_between_h", "wait_per", "source",
	"status"}, readComponent}

func readComponent(l line) *Component {
	c := &Component{ID: job.ComponentID(l.text("id")), Class: l.need("class"), Name: l.need("name"),
		Unit: l.word("unit", []string{"m", "m2", "ml", "kg", "each", "pair"}), Coverage: l.text("coverage"),
		UseOn: l.text("use_on"), Storage: l.text("storage"), Hazard: l.text("hazard"), Waste: l.text("waste"),
		Note: l.text("note"), Cautions: l.list("cautions"), Becomes: job.SubstrateID(l.text("becomes")),
		Source: l.source(), Pos: l.pos}
	c.Pack.Low, _ = l.number("pack_low")
	c.Pack.Likely, _ = l.number("pack_likely")
	c.Pack.High, _ = l.number("pack_high")
	c.Pack.Note = l.text("pack_note")
	months, _ := l.number("shelf_months")
	c.ShelfLife = int(months)
	for _, p := range l.list("protection") {
		c.Protection = append(c.Protection, job.ComponentID(p))
	}
	if l.text("seal") != "" {
		c.Seal = Seal(l.word("seal", seals))
	}
	low, okLow := l.number("work_low")
	high, okHigh := l.number("work_high")
	if okLow && okHigh {
		c.Work = &TemperatureRange{q.Temperature(low), q.Temperature(high)}
	}
	load, _ := l.number("wait_h")
	between, _ := l.number("wait_between_h")
	c.Wait = Wait{Load: Hours(load), Between: Hours(between), PerMM: l.word("wait_per", []string{"", "mm"}) == "mm"}
	return c
}
