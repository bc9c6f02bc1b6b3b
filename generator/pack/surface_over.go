package pack

import (
	"strings"

	"lapwork/generator/assess"
)

// overTerms say on each page which strips run over an edge in one piece.
func (a *assembler) overTerms(l *assess.Layout) []Term {
	switch {
	case l.Over != nil:
		var out []Term
		for _, part := range l.Over.Parts {
			out = append(out, Term{a.say("Over the edge to %s", string(part.Surface.ID)),
				a.say("%s run over it in one piece, no lap and no tape on the edge: hang from the top, press into the angle along a straight lath, then fix what lies below", overStrips(l, part))})
		}
		return out
	case l.HungWith != nil:
		return []Term{{a.say("Sheet of this surface"), a.say("%s come over the edge from %s in one piece: cut none for this surface, and do not cut them at the edge",
			overStrips(l.HungWith, l.HungWith.Over.Part(l.Surface)), string(l.HungWith.Surface.ID))}}
	}
	return nil
}

// overStrips names the pieces that reach beyond the edge.
func overStrips(l *assess.Layout, part assess.OverPart) string {
	below := part.Polygon(part.Surface.Outline).Bounds().Min.Y < part.At
	var ids []string
	for _, c := range l.Cuts {
		if below && c.From < part.At || !below && c.To > part.At {
			ids = append(ids, c.ID)
		}
	}
	return strings.Join(ids, ", ")
}

// partsText names the surfaces beyond the edges.
func partsText(o *assess.Over) string {
	var ids []string
	for _, part := range o.Parts {
		ids = append(ids, string(part.Surface.ID))
	}
	return strings.Join(ids, ", ")
}

// overFact says what one piece over the edges takes less than the surfaces apart.
func (a *assembler) overFact(l *assess.Layout) Figure {
	sheet, pieces, tape := l.Over.Less(l.Choice)
	var net []string
	for _, part := range l.Over.Parts {
		net = append(net, string(part.Surface.ID)+" "+a.format.Area(part.Surface.Net))
	}
	out := Figure{Label: a.say("With %s in one piece", partsText(l.Over)), Status: a.say("computed"),
		Formula: a.say("against the surfaces apart: sheet %s, pieces %+d, tape %s", a.signed(float64(-sheet), "m²"), -pieces, a.signed(float64(-tape), "m")),
		Inputs:  a.say("net area beyond the edge: %s", strings.Join(net, ", "))}
	out.Value = out.Formula
	if saves, known := l.Over.Saves(l.Choice); known {
		out.Value = a.say("%s saved", a.money(saves))
	} else {
		out.Formula = a.say("outlines laid as one, unfolded about the edge")
	}
	return out
}
