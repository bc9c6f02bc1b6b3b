package library

import (
	"slices"
	"strings"

	"lapwork/generator/calc/table"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// MaterialKind says what a material is in a moisture check.
type MaterialKind struct {
	ID      string // of a material
	Kind    string // a word of materialKinds
	TakesUp bool   // takes up liquid water at its face
	Source  q.Source
}

// The kinds a moisture check tells apart. Others are only names.
const (
	Timber              = "timber"
	Panel               = "panel"
	Insulation          = "insulation"
	CapillaryInsulation = "capillary insulation"
	Masonry             = "masonry"
	Render              = "plaster"
	Metal               = "metal"
)

var materialKinds = []string{Timber, Panel, Insulation, CapillaryInsulation, Masonry, Render, Metal, "gypsum", "mineral board", "air", "sheet", "tight", "coat"}

func readKinds(file string, text []byte, found *diag.List) []MaterialKind {
	var out []MaterialKind
	for _, r := range table.Read(file, text, []string{"id", "kind", "takes_up", "source", "status"}, found) {
		k := MaterialKind{ID: r.Need("id"), Kind: r.Need("kind"), TakesUp: r.Text("takes_up") == "yes",
			Source: q.Source{Text: r.Need("source"), Status: r.Status("status")}}
		if !slices.Contains(materialKinds, k.Kind) {
			r.Fault("kind", "one of: "+strings.Join(materialKinds, ", "), "no kind of material")
		}
		if up := r.Text("takes_up"); up != "yes" && up != "no" {
			r.Fault("takes_up", "yes or no", "not yes or no")
		}
		if r.OK() {
			out = append(out, k)
		}
	}
	return out
}

// SheetClass is the range of sd that a class of sheet stands for.
type SheetClass struct {
	ID        job.ComponentID
	Low, High q.SdValue // m
	Source    q.Source
}

func readSheetClasses(file string, text []byte, found *diag.List) []SheetClass {
	var out []SheetClass
	for _, r := range table.Read(file, text, []string{"id", "low", "high", "source", "status"}, found) {
		c := SheetClass{ID: job.ComponentID(r.Need("id")), Low: q.SdValue(r.Number("low", 0.01, 1e5)), High: q.SdValue(r.Number("high", 0.01, 1e5)),
			Source: q.Source{Text: r.Need("source"), Status: r.Status("status")}}
		if r.OK() && c.High < c.Low {
			r.Fault("high", "write the larger end here", "below low")
		}
		if r.OK() {
			out = append(out, c)
		}
	}
	return out
}
