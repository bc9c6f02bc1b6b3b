package pack

import (
	"strings"

	"lapwork/generator/assess"
)

// overTerms say on both pages which strips run over an edge in one piece.
func (a *assembler) overTerms(l *assess.Layout) []Term {
	switch {
	case l.Over != nil:
		return []Term{{a.say("Over the edge to %s", string(l.Over.Wall.ID)),
			a.say("%s run down the wall in one piece, no lap and no tape on the edge: hang from the top, press into the angle along a straight lath, then fix the wall", a.overStrips(l))}}
	case l.DownFrom != nil:
		return []Term{{a.say("Sheet of this wall"),
			a.say("%s come down from %s in one piece: cut none for this wall, and do not cut them at the edge", a.overStrips(l.DownFrom), string(l.DownFrom.Surface.ID))}}
	}
	return nil
}

// overStrips names the pieces that reach below the edge.
func (a *assembler) overStrips(l *assess.Layout) string {
	edge := l.Over.Wall.Outline.Bounds().Max.Y + l.Over.Shift.Y
	var ids []string
	for _, c := range l.Cuts {
		if c.From < edge {
			ids = append(ids, c.ID)
		}
	}
	return strings.Join(ids, ", ")
}

// overFact says what one piece over the edge takes less than slope and wall apart.
func (a *assembler) overFact(l *assess.Layout) Figure {
	o := l.Over
	slope, wall := o.Apart[0], o.Apart[1]
	edge := o.Wall.Outline.Bounds().Width().Metres()
	out := Figure{Label: a.say("With %s in one piece", string(o.Wall.ID)), Status: a.say("computed"),
		Formula: a.say("against slope and wall apart: sheet %s, pieces %+d, tape %s", a.signed(float64(l.SheetUsed-slope.SheetUsed-wall.SheetUsed), "m²"),
			l.Pieces-slope.Pieces-wall.Pieces, a.signed(float64(l.Tape()-slope.Tape()-wall.Tape()-edge), "m")),
		Inputs: a.say("net area on the wall %s", a.format.Area(o.Wall.Net))}
	out.Value = out.Formula
	if saves, known := o.Saves(l.Choice); known {
		out.Value = a.say("%s saved", a.money(saves))
	} else {
		out.Formula = a.say("outlines laid as one, unfolded about the edge")
	}
	return out
}
