package pack

import (
	"slices"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/calc/airtight"
	"lapwork/generator/job"
	"lapwork/generator/junction"
	"lapwork/generator/library"
	q "lapwork/generator/quantity"
	"lapwork/generator/record"
	"lapwork/generator/surface"
)

// Words lists the words that data chooses, sorted: a word of one of these lists is said by assembler.word. What is no
// literal of the code would else be missing from the lists of what a language has to translate.
func Words() []string {
	out := slices.Concat(pairs, items, monthNames[1:], library.Groups, leaflet, surface.Hows, unsourced, perMinutes)
	for r := surface.Wall; r <= surface.Floor; r++ {
		out = append(out, r.String())
	}
	for _, e := range junction.Edges {
		out = append(out, string(e))
	}
	for s := q.Confirmed; s <= q.Placeholder; s++ {
		out = append(out, s.String())
	}
	for v := airtight.Valid; v <= airtight.DataError; v++ {
		out = append(out, v.String())
	}
	for c := airtight.Inform; c <= airtight.Fatal; c++ {
		out = append(out, c.String())
	}
	for d := airtight.NotProven; d <= airtight.Passes; d++ {
		out = append(out, d.String())
	}
	for d := airtight.PerVolume; d <= airtight.PerLoss; d++ {
		out = append(out, d.String())
	}
	for _, s := range []airtight.State{airtight.Open, airtight.Closed, airtight.Sealed} {
		out = append(out, string(s))
	}
	for s := record.Valid; s <= record.Stands; s++ {
		out = append(out, s.String())
	}
	out = append(append(out, assess.MoistureWords()...), compass[:]...)
	out = append(out, airtight.Depressurise.String(), airtight.Pressurise.String())
	for _, role := range job.Roles {
		out = append(out, role, role+"s")
	}
	out = append(append(out, weekdays[:]...), months[:]...)
	for i, w := range out {
		if !strings.Contains(w, " ") {
			out[i] = strings.ReplaceAll(w, "-", " ")
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// pairs are short answers, levels, directions and what lies behind a surface.
var pairs = []string{"yes", "no", "fault", "open", "ok", "note", "under", "over", "before", "after", string(surface.Front), string(surface.LeftCheek),
	string(surface.RightCheek), string(surface.Top), string(job.Sheet), string(job.Board), string(job.Plaster), string(job.Outside), string(job.Ground), string(job.Unheated), string(job.Party), string(job.Heated), "upright", "level"}

// unsourced are what stands for a source where there is none; a source itself stands as it was printed.
var unsourced = []string{"no source", "common practice, no source", "own rule: a balance that is open or a run without a leak or reserve proves nothing"}

// perMinutes are what minutes are counted by, where that is a word.
var perMinutes = []string{"min each"}

// items are those that the built-in statements know.
var items = []string{"back-box", "batten", "bracket", "cable", "cat-flap", "chimney", "conduit", "door", "duct", "floor-cassette", "floor-duct",
	"floor-hatch", "flue", "garage", "gas-pipe", "hanger-joist", "hatch", "joist", "joist-bays", "letterbox", "lightning-conductor", "luminaire",
	"meter-board", "open-web-joists", "partition", "pipe", "rain-pipe", "refrigerant-line", "roof-window", "shutter-box", "soil-pipe", "solar-line",
	"sprinkler-pipe", "stair", "staple", "steel-member", "temporary", "terminal", "timber-member", "vent-pipe", "wall-plate", "window"}

// people names one or several of a role.
func (a *assembler) people(n int, role string) string {
	if n > 1 {
		role += "s"
	}
	return a.role(role)
}

// side is what a record names on one side: knee wall, partition.
func (a *assembler) side(name string) string { return a.word(strings.ReplaceAll(name, "-", " ")) }
