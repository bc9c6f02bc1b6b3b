package library

import (
	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// The scopes of a variable.
const (
	MeasureScope   = "measure"   // taken from the record
	SettingScope   = "setting"   // a figure of the firm, the job, a room or a surface
	SubstrateScope = "substrate" // read from the substrate table
)

// Variable is a name of the quantity expressions.
type Variable struct {
	Name      string
	Scope     string
	Unit      string
	Default   float64 // of a setting, in Unit
	Low, High float64 // plausible range; both 0: not stated
	Meaning   string
	Rule      string
	Source    q.Source
	Pos       diag.Pos `hash:"ignore"`
}

var variableSpec = spec[*Variable]{"variables", []string{"name", "scope", "unit", "default", "low", "high", "meaning",
	"rule", "source", "status"}, readVariable}

func readVariable(l line) *Variable {
	v := &Variable{Name: l.text("name"), Scope: l.word("scope", []string{MeasureScope, SettingScope, SubstrateScope}),
		Unit: l.need("unit"), Meaning: l.need("meaning"), Rule: l.text("rule"), Source: l.source(), Pos: l.pos}
	v.Default, _ = l.number("default")
	v.Low, _ = l.number("low")
	v.High, _ = l.number("high")
	if v.Scope == SettingScope && (v.Default < v.Low || v.Default > v.High) {
		l.found.Faultf(l.cells["default"].pos, "", "the default of %s lies outside its own range %g to %g", v.Name, v.Low, v.High)
	}
	return v
}

// Flag is a question to the site lead that predicates ask.
type Flag struct {
	ID       job.FlagID
	Question string
	Values   []string // empty: yes or no
	Default  string   // what holds while nobody has answered; for a safety question the worse case
	Safety   bool     // the default is the worse case, and only a named person may answer otherwise
	Choice   bool     // the firm's way of working: left unanswered it is no open point
	Who      string   // who answers
	Source   q.Source
	Pos      diag.Pos `hash:"ignore"`
}

var flagSpec = spec[*Flag]{"flags", []string{"id", "question", "values", "default", "safety", "choice", "who", "source", "status"},
	readFlag}

func readFlag(l line) *Flag {
	f := &Flag{ID: job.FlagID(l.text("id")), Question: l.need("question"), Values: l.list("values"),
		Safety: l.word("safety", []string{"", "yes"}) == "yes", Choice: l.word("choice", []string{"", "yes"}) == "yes",
		Who: l.need("who"), Source: l.source(), Pos: l.pos}
	known := f.Values
	if len(known) == 0 {
		known = []string{"yes", "no"}
	}
	f.Default = l.word("default", known)
	return f
}

// Accepts reports whether value answers the question.
func (f *Flag) Accepts(value string) bool {
	if len(f.Values) == 0 {
		return value == "yes" || value == "no"
	}
	return oneOf(value, f.Values)
}
