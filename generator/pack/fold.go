package pack

import (
	"math"

	"lapwork/generator/assess"
	"lapwork/generator/junction"
)

// foldTerms are the stress-relief folds along a surface that are sized for a movement, with what they are sized for.
func (a *assembler) foldTerms(l *assess.Layout) []Term {
	var out []Term
	for _, p := range a.PlacesIn(l.Surface.Room.ID) {
		if h := p.Record.Head; h != nil && touches(p, l.Surface) {
			out = append(out, Term{a.say("Fold at %s", p.Record.ID), a.foldText(h)})
		}
	}
	return out
}

func (a *assembler) foldText(h *junction.HeadFold) string {
	loop, all := a.format.MM(h.Loop), a.format.MM(h.Movement)
	stated := a.format.MM(h.Deflection)
	t := h.Timber
	if t == nil {
		return a.say("a loop of %s = 2 × %s + 20 mm: the movement that the engineer states", loop, stated)
	}
	moves, depth := a.format.Number(1000*math.Abs(float64(h.Fold.Timber)), 1)+" mm", a.format.MM(t.Depth)
	from, to := a.format.Number(t.From, 0), a.format.Number(t.To, 0)
	if h.Deflection == 0 {
		return a.say("a loop of %[1]s = 2 × %[2]s + 20 mm: %[3]s of timber across the grain move %[4]s from %[5]s %% to %[6]s %% moisture content (0.0025 per %%, from memory)", loop, all, depth, moves, from, to)
	}
	return a.say("a loop of %[1]s = 2 × %[2]s + 20 mm: %[3]s of timber across the grain move %[4]s from %[5]s %% to %[6]s %% moisture content (0.0025 per %%, from memory), and the engineer states %[7]s", loop, all, depth, moves, from, to, stated)
}
