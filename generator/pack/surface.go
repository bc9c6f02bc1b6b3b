package pack

import (
	"fmt"
	"slices"

	"lapwork/generator/assess"
	"lapwork/generator/calc/strips"
	"lapwork/generator/diag"
	"lapwork/generator/geometry"
	"lapwork/generator/job"
	"lapwork/generator/junction"
	"lapwork/generator/parallel"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// surfacePages gives a page for each surface with sheet, in room order.
func (a *assembler) surfacePages() []Page {
	out := parallel.Map(len(a.Layouts), func(i int) Page {
		s := a.Layouts[i].Surface
		return Page{Path: surfacePath(s.ID), Kind: KindSurface, Title: string(s.ID) + " " + a.roleWord(s),
			Where: string(s.ID), Surface: a.surface(a.Layouts[i])}
	})
	for i := 1; i < len(out); i++ {
		if a.Layouts[i-1].Surface.Room == a.Layouts[i].Surface.Room {
			out[i-1].Next = &Link{Text: out[i].Title, Path: out[i].Path}
		}
	}
	return out
}

func (a *assembler) surface(l *assess.Layout) *Surface {
	s := l.Surface
	v := &Surface{ID: string(s.ID), Room: string(s.Room.ID), RoomName: s.Room.Name, RoomPath: roomPath(s.Room.ID), InFull: a.cautionsInFull(), Role: a.roleWord(s),
		Layout: a.stripDrawing(l), Facts: a.surfaceFacts(l), Strips: a.stripRows(l), Measure: a.cutRows(l), Setting: slices.Concat(a.overTerms(l), a.setOut(l), a.jointTerms(l), a.meetingTerms(l), a.foldTerms(l)), Behind: a.behind(s),
		Notes: append(a.notesOf(s.Room.ID, diag.Open, string(s.ID)), a.notesOf(s.Room.ID, diag.Note, string(s.ID))...)}
	for _, p := range a.PlacesIn(s.Room.ID) {
		if !touches(p, s) {
			continue
		}
		if p.Record.Edge == junction.PenetrationAt || p.Record.Edge == junction.Recess {
			v.Holes = append(v.Holes, a.rowAgain(p))
		} else if p.Record.Edge != junction.Field {
			v.Junctions = append(v.Junctions, a.rowAgain(p))
		}
	}
	if p := a.Place(string(s.ID)); p != nil {
		for _, id := range a.Results.Cautions.Place[p.Record.ID] {
			v.Cautions = append(v.Cautions, a.caution(a.Library.Cautions.Find(string(id)), ""))
		}
	}
	return v
}

func touches(p *assess.Place, s *surface.Surface) bool { return p.Record.A == s || p.Record.B == s }

// surfaceFacts are the figures of a layout with how each comes about.
func (a *assembler) surfaceFacts(l *assess.Layout) []Figure {
	f := a.format
	if l.HungWith != nil {
		return []Figure{
			{Label: a.say("Net area"), Value: f.Area(l.Surface.Net), Formula: a.say("outline less openings"), Inputs: a.say("outline %s", f.Area(l.Surface.Gross))},
			{Label: a.say("Staples"), Value: fmt.Sprint(l.Staples.Total()), Formula: a.say("ceil(length ÷ spacing) + 1 on each clear stretch"),
				Inputs: a.say("on framing %d, on edges %d", l.Staples.OnLines, l.Staples.OnEdges), Status: a.say("computed")},
		}
	}
	facts := []Figure{
		{Label: a.say("Net area"), Value: f.Area(l.Surface.Net), Formula: a.say("outline less openings"), Inputs: a.say("outline %s", f.Area(l.Surface.Gross))},
		{Label: a.say("Sheet used"), Value: f.Area(l.SheetUsed), Formula: a.say("roll width × total cut length"),
			Inputs: fmt.Sprintf("%s × %s", f.MM(l.RollWidth), f.MM(l.Length)), Status: a.say("computed")},
		{Label: a.say("Sheet not on the surface"), Value: f.Percent(l.Waste(), 1), Formula: a.say("1 − net area ÷ sheet used"),
			Inputs: a.say("laps, turns, folds, allowances, openings and rips"), Status: a.say("computed")},
		{Label: a.say("Staples"), Value: fmt.Sprint(l.Staples.Total()), Formula: a.say("ceil(length ÷ spacing) + 1 on each clear stretch"),
			Inputs: a.say("on framing %d, on edges %d", l.Staples.OnLines, l.Staples.OnEdges), Status: a.say("computed")},
	}
	if l.Tape() > 0 {
		facts = slices.Insert(facts, len(facts)-1, Figure{Label: a.say("Seam tape, net"), Value: f.Metres(l.Tape()), Formula: a.say("laps + end joints, where the lap is not swallowed by an opening"),
			Inputs: a.say("laps %s, end joints %s", f.Metres(l.SeamTape), f.Metres(l.JointTape)), Status: a.say("computed")})
	}
	facts = slices.Insert(facts, 1, a.choiceFacts(l)...)
	return facts
}

// stripRows is the cut list of a surface.
func (a *assembler) stripRows(l *assess.Layout) []StripRow {
	roll := a.rolls()
	var out []StripRow
	for i, c := range l.Cuts {
		row := a.stripRow(c)
		row.Order, row.Roll = i+1, roll[c.ID]
		out = append(out, row)
	}
	return out
}

// edgeText says where the lower or left edge of a strip lies.
func (a *assembler) edgeText(l *assess.Layout, at q.MM) string {
	at -= l.Base(false)
	level := l.Direction == strips.Level
	switch {
	case level && at < 0:
		return a.say("%s below the lower edge", a.format.MM(-at))
	case level:
		return a.say("%s up from the lower edge", a.format.MM(at))
	case at < 0:
		return a.say("%s over the left end", a.format.MM(-at))
	}
	return a.say("%s from the left end", a.format.MM(at))
}

// ends says what of a cut length lies beyond the surface: turns, folds and the allowances that are trimmed.
func (a *assembler) ends(l *assess.Layout, c assess.CutPiece) string {
	text := "+" + a.format.MM(c.Cut-c.Longer-ClearLength(l, c))
	if c.Joint {
		text += a.say(", end joint")
	}
	return text
}

// setOut are the edges to mark on the framing before the first staple.
func (a *assembler) setOut(l *assess.Layout) []Term {
	var out []Term
	if l.Surface.Room.Mirrored && l.Direction == strips.Upright && len(l.Strips) > 1 {
		text := a.say("at the right end: the plan is another's left for right")
		if l.Surface.Role == surface.Ceiling {
			text = a.say("at the edge with the higher plan coordinate: the plan is another's left for right")
		}
		out = append(out, Term{Name: a.say("Begin with strip 1"), Text: text})
	}
	for i, st := range l.Strips {
		if i == 0 {
			continue
		}
		at, lap := a.format.MM(l.Across(st.At)-l.Base(false)), a.format.MM(st.Lap)
		text := a.say("%s right of the left end, lap %s", at, lap)
		switch {
		case l.Surface.Role == surface.Ceiling:
			text = a.say("%s from the ceiling's edge with the lower plan coordinate, lap %s", at, lap)
		case l.Direction == strips.Level:
			text = a.say("%s over the lower edge, lap %s", at, lap)
		}
		out = append(out, Term{Name: a.say("Edge of strip %d", st.No), Text: text})
		if most := l.Problem.MaxLap; most > 0 && st.Lap > most {
			out = append(out, Term{Name: a.say("Wide lap at strip %d", st.No),
				Text: a.say("%s, more than the %s set as the widest: nothing narrower falls on the framing", lap, a.format.MM(most))})
		}
	}
	return out
}

// behind lists a surface's build-up from inside to outside.
func (a *assembler) behind(s *surface.Surface) []Term {
	b := s.Face.BuildUp
	if b == nil {
		return nil
	}
	var out []Term
	for i, l := range b.Layers {
		out = append(out, Term{Name: fmt.Sprint(i + 1), Text: a.layerText(l)})
	}
	return out
}

func (a *assembler) layerText(l job.Layer) string {
	name := l.Material
	if m, ok := a.Library.Moisture.Material(l.Material); ok {
		name = m.Name
	}
	switch {
	case l.Component != "":
		name = a.componentName(string(a.ComponentFor(l.Component)))
	case l.Air:
		name = a.say("air space")
	}
	if l.Thickness > 0 {
		name = a.format.MM(l.Thickness) + " " + name
	}
	if l.Bridged {
		name += a.say(", between the framing")
	}
	return name
}

// ClearLength is how much of a piece lies on the surface itself: its extent within the strip's band, without turns,
// folds and allowances.
func ClearLength(l *assess.Layout, c assess.CutPiece) q.MM {
	low, high, any := q.MM(0), q.MM(0), false
	take := func(u q.MM) {
		if !any {
			low, high, any = u, u, true
		}
		low, high = min(low, u), max(high, u)
	}
	poly := l.Outline()
	for i, p := range poly {
		a, b := along(l, p), along(l, poly[(i+1)%len(poly)])
		if a.Y > b.Y {
			a, b = b, a
		}
		if b.Y <= c.At || a.Y >= c.At+c.Width {
			continue
		}
		for _, v := range []q.MM{max(a.Y, c.At), min(b.Y, c.At+c.Width)} {
			u := a.X
			if b.Y > a.Y {
				u += q.MM(float64(b.X-a.X)*float64(v-a.Y)/float64(b.Y-a.Y) + 0.5)
			}
			take(u)
		}
		if a.Y == b.Y {
			take(b.X)
		}
	}
	return max(0, min(high, c.To)-max(low, c.From))
}

// along gives a point with X along the strips and Y across them.
func along(l *assess.Layout, p geometry.Point) geometry.Point {
	if l.Direction == strips.Upright {
		return geometry.Point{X: p.Y, Y: p.X}
	}
	return p
}
