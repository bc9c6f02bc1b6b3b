package library

import (
	"errors"
	"io/fs"
	"slices"
	"strings"

	"lapwork/generator/calc/airtight"
	"lapwork/generator/calc/leakage"
	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

// AirTables are the tables of airtightness of all layers together. A later layer's row takes the place of the row with
// its id, so that a firm puts its own measured figures in place of planning values.
type AirTables struct {
	Limits   []airtight.Limit
	Elements []leakage.Element
	Map      Table[*LeakageKind]
	Openings Table[*TestOpening]
	origin   map[string]string // of elements
}

// LeakageKind says which leakage element stands for a kind of place.
type LeakageKind struct {
	Kind    string // a statement, statement/variant, "opening window", "other run" ...
	Element string // empty: nothing is counted
	Amount  string // run, count, perimeter, area, opening
	Note    string
	Pos     diag.Pos `hash:"ignore"`
}

// TestOpening says how a kind of opening stands during a fan test.
type TestOpening struct {
	Item, Title      string
	Method1, Method2 airtight.State
	Note             string
	Source           q.Source
	Pos              diag.Pos `hash:"ignore"`
}

// amountUnit gives the unit of quantity that each amount has.
var amountUnit = map[string]string{"run": "m", "perimeter": "m", "count": "item", "area": "m2", "opening": "m2"}

var leakageKindSpec = spec[*LeakageKind]{"leakage-map", []string{"kind", "element", "amount", "note"}, readLeakageKind}

func readLeakageKind(l line) *LeakageKind {
	k := &LeakageKind{Kind: l.text("kind"), Element: l.text("element"), Amount: l.text("amount"), Note: l.text("note"), Pos: l.pos}
	switch {
	case k.Element != "":
		l.word("amount", []string{"run", "count", "perimeter", "area", "opening"})
	default:
		l.need("note")
	}
	return k
}

var testOpeningSpec = spec[*TestOpening]{"test-openings", []string{"item", "title", "method_1", "method_2", "note", "source", "status"}, readTestOpening}

func readTestOpening(l line) *TestOpening {
	states := []string{string(airtight.Open), string(airtight.Closed), string(airtight.Sealed)}
	return &TestOpening{Item: l.text("item"), Title: l.need("title"), Method1: airtight.State(l.word("method_1", states)),
		Method2: airtight.State(l.word("method_2", states)), Note: l.text("note"), Source: l.source(), Pos: l.pos}
}

// LoadAir reads the tables of airtightness alone, from the same layers as LoadLayers.
func LoadAir(layers []Layer, found *diag.List) AirTables {
	var t AirTables
	for _, layer := range layers {
		t.load(layer, found)
	}
	t.check(found)
	return t
}

func (t *AirTables) load(from Layer, found *diag.List) {
	leakageKindSpec.load(&t.Map, from, found)
	testOpeningSpec.load(&t.Openings, from, found)
	if name, text := from.table("air-limits", found); text != nil {
		for _, row := range airtight.ParseLimits(name, text, found) {
			t.Limits = put(t.Limits, row, func(l airtight.Limit) bool { return l.ID == row.ID })
		}
	}
	if name, text := from.table("leakage-elements", found); text != nil {
		for _, row := range leakage.ParseElements(name, text, found) {
			t.Elements = put(t.Elements, row, func(e leakage.Element) bool { return e.ID == row.ID })
			if t.origin == nil {
				t.origin = map[string]string{}
			}
			t.origin[row.ID] = from.Name
		}
	}
}

// table reads a table file of a layer; nil when there is none.
func (l Layer) table(name string, found *diag.List) (at string, text []byte) {
	name = "tables/" + name + ".csv"
	text, err := readBounded(l.FS, name, maxFile)
	if err != nil {
		if !errors.Is(err, fs.ErrNotExist) {
			found.Faultf(diag.Pos{File: l.path(name)}, "a table is a plain text file of its own", "cannot read the table: %v", err)
		}
		return "", nil
	}
	return l.path(name), []byte(plainStart(string(text)))
}

// put replaces the row that is the same, or adds one.
func put[T any](rows []T, row T, same func(T) bool) []T {
	if i := slices.IndexFunc(rows, same); i >= 0 {
		rows[i] = row
		return rows
	}
	return append(rows, row)
}

// check reports kinds whose element is missing or counted in another unit.
func (t *AirTables) check(found *diag.List) {
	for _, k := range t.Map.All() {
		if k.Element == "" {
			continue
		}
		e, ok := t.Element(k.Element)
		switch {
		case !ok:
			var ids []string
			for _, e := range t.Elements {
				ids = append(ids, e.ID)
			}
			found.Faultf(k.Pos, suggest(k.Element, ids), "no leakage element %q", k.Element)
		case amountUnit[k.Amount] != "" && amountUnit[k.Amount] != e.Per:
			found.Faultf(k.Pos, "take another amount, or an element per "+amountUnit[k.Amount], "element %s is counted per %s, %s gives %s", e.ID, e.Per, k.Amount, amountUnit[k.Amount])
		}
	}
}

// Limit gives a row of the table of limits.
func (t *AirTables) Limit(id string) (airtight.Limit, bool) {
	for _, l := range t.Limits {
		if l.ID == id {
			return l, true
		}
	}
	return airtight.Limit{}, false
}

// LimitIDs gives the ids of all limits, sorted.
func (t *AirTables) LimitIDs() []string {
	var out []string
	for _, l := range t.Limits {
		out = append(out, l.ID)
	}
	slices.Sort(out)
	return out
}

// Element gives a row of the table of leakage elements.
func (t *AirTables) Element(id string) (leakage.Element, bool) {
	for _, e := range t.Elements {
		if e.ID == id {
			return e, true
		}
	}
	return leakage.Element{}, false
}

// OwnElement reports whether an element's figures come from the firm or the job.
func (t *AirTables) OwnElement(id string) bool {
	return t.origin[id] != "" && t.origin[id] != "built-in"
}

// Leak gives the element that stands for a statement: of its variant, of itself, of the statement it replaces.
func (l *Library) Leak(s *Statement, variant string) *LeakageKind {
	for _, id := range []StatementID{s.ID, s.Replaces} {
		for _, kind := range []string{string(id) + "/" + variant, string(id)} {
			if k := l.Air.Map.Find(strings.TrimSuffix(kind, "/")); k != nil && id != "" {
				return k
			}
		}
	}
	return nil
}
