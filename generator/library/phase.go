package library

import (
	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

// Phase is a stretch of a room's work that has a page of its own: what comes before the layer, the layer itself, what closes
// it up.
type Phase struct {
	ID     string // layer; names the page: rooms/B2-layer.html
	Title  string
	Begins string // the activity it begins with; empty: the first one
	Source q.Source
	Pos    diag.Pos `hash:"ignore"`
}

var phaseSpec = spec[*Phase]{"phases", []string{"id", "title", "begins", "source", "status"}, func(l line) *Phase {
	return &Phase{ID: l.text("id"), Title: l.need("title"), Begins: l.text("begins"), Source: l.source(), Pos: l.pos}
}}

// PhaseOf is the phase in which an activity stands: the last that begins with it or before it. nil: the library has none.
func (l *Library) PhaseOf(a *Activity) *Phase {
	var in *Phase
	for _, p := range l.Phases.All() {
		if from := l.Activities.Find(p.Begins); from == nil || from.Position <= a.Position {
			in = p
		}
	}
	return in
}

// checkPhases reports phases that begin with nothing known, or before the one above them, and names that make no file.
func (l *Library) checkPhases(found *diag.List) {
	last := 0
	for i, p := range l.Phases.All() {
		if !idShape.MatchString(p.ID) {
			found.Faultf(p.Pos, "small letters, digits and hyphens: close-up", "%q cannot name a page", p.ID)
		}
		if i == 0 && p.Begins == "" {
			continue
		}
		a := l.Activities.Find(p.Begins)
		switch {
		case a == nil:
			found.Faultf(p.Pos, suggest(p.Begins, l.Activities.IDs()), "phase %q begins with no activity: %q", p.ID, p.Begins)
		case a.Position <= last:
			found.Faultf(p.Pos, "list the phases in the order of their activities", "phase %q begins before the one above it", p.ID)
		default:
			last = a.Position
		}
	}
}
