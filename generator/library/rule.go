package library

import (
	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

// Rule is a dimensional rule of the trade with its source.
type Rule struct {
	ID                string // R-LAP-1
	Group, Title      string
	Value             string // in words
	Low, Likely, High string // figures as stated; empty: none
	Unit              string
	Use               string // select, quantity, accept, schedule, caution ...
	Source            q.Source
	Pos               diag.Pos `hash:"ignore"`
}

var ruleSpec = spec[*Rule]{"rules", []string{"id", "group", "title", "value", "low", "likely", "high", "unit", "use",
	"source", "status"}, readRule}

func readRule(l line) *Rule {
	for _, c := range []string{"low", "likely", "high"} {
		l.number(c)
	}
	return &Rule{ID: l.text("id"), Group: l.need("group"), Title: l.need("title"), Value: l.need("value"),
		Low: l.text("low"), Likely: l.text("likely"), High: l.text("high"), Unit: l.text("unit"), Use: l.need("use"),
		Source: l.source(), Pos: l.pos}
}

// ConditionSet is what must hold before a kind of work starts.
type ConditionSet struct {
	ID        string // cond-tape
	Title     string // Taping
	Surface   q.Temperature
	TimberMax q.Ratio // moisture content
	Text      string
	Rules     []string
	Source    q.Source
	Pos       diag.Pos `hash:"ignore"`
}

var conditionSpec = spec[*ConditionSet]{"conditions", []string{"id", "title", "surface_min_c", "timber_max_pct", "text", "rules",
	"source", "status"}, readCondition}

func readCondition(l line) *ConditionSet {
	surface, _ := l.number("surface_min_c")
	timber, _ := l.number("timber_max_pct")
	return &ConditionSet{ID: l.text("id"), Title: l.need("title"), Surface: q.Temperature(surface), TimberMax: q.Ratio(timber / 100),
		Text: l.need("text"), Rules: l.list("rules"), Source: l.source(), Pos: l.pos}
}

// Term is a word of the trade in several languages.
type Term struct {
	ID, English, Definition string
	Words                   map[string]string // by language tag: de, fr, es, pl, ro, lt
	Checked                 string            // how sure the translations are: good, check
	Source                  q.Source
	Pos                     diag.Pos `hash:"ignore"`
}

// Languages are the language columns of the glossary beside English.
var Languages = []string{"de", "fr", "es", "pl", "ro", "lt"}

var termSpec = spec[*Term]{"glossary", append([]string{"id", "en", "definition", "checked", "source", "status"},
	Languages...), readTerm}

func readTerm(l line) *Term {
	t := &Term{ID: l.text("id"), English: l.need("en"), Definition: l.need("definition"), Words: map[string]string{},
		Checked: l.word("checked", []string{"good", "check"}), Source: l.source(), Pos: l.pos}
	for _, tag := range Languages {
		t.Words[tag] = l.need(tag)
	}
	return t
}
