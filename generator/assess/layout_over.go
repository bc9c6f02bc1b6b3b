package assess

import (
	"cmp"
	"math"
	"slices"

	"lapwork/generator/calc/strips"
	"lapwork/generator/diag"
	"lapwork/generator/geometry"
	"lapwork/generator/junction"
	q "lapwork/generator/quantity"
	"lapwork/generator/sorting"
	"lapwork/generator/surface"
)

// Limits of an edge that strips may run over in one piece. Common practice, no source.
const (
	leastOverAngle q.Degrees = 100 // of the room's side: a sharper edge is pressed into, not run over (catalogue: 100 to 170)
	clearOfEdge    q.MM      = 300 // no member of the structure this near to the edge
)

// Over are the surfaces that a slope's strips run onto in one piece: the knee wall below, the flat ceiling or the other slope
// above, or both. No lap and no tape on these edges.
type Over struct {
	Parts   []OverPart // from below
	Apart   []Choice   // how the slope and then each part would be laid apart
	EdgeFee int64      // tape and labour of the edges, less what hanging the parts' sheet with the slope's takes more; where prices are known
	holes   []strips.Hole
}

// OverPart is a surface beyond an edge of the slope.
type OverPart struct {
	Surface *surface.Surface
	Edge    string // the junction that falls away
	At      q.MM   // where it lies on the slope, over the slope's lower edge
	Unfold         // into the slope's plane, about the edge
}

// Part is the part that a surface is.
func (o *Over) Part(s *surface.Surface) OverPart {
	i := slices.IndexFunc(o.Parts, func(p OverPart) bool { return p.Surface == s })
	return o.Parts[i]
}

// Saves is what running over the edges saves; known only where all prices are.
func (o *Over) Saves(taken Choice) (amount int64, known bool) {
	amount, known = o.EdgeFee-taken.Cost.Total(), taken.Cost.Known
	for _, a := range o.Apart {
		amount, known = amount+a.Cost.Total(), known && a.Cost.Known
	}
	return amount, known
}

// Less is what running over the edges takes less than the surfaces apart: negative where it takes more.
func (o *Over) Less(taken Choice) (sheet q.Area, pieces int, tape q.Length) {
	sheet, pieces, tape = -taken.SheetUsed, -taken.Pieces, -taken.Tape()
	for _, a := range o.Apart {
		sheet, pieces, tape = sheet+a.SheetUsed, pieces+a.Pieces, tape+a.Tape()
	}
	for _, p := range o.Parts {
		tape += p.width.Metres()
	}
	return sheet, pieces, tape
}

// overCandidate is a slope with one way to run over its edges.
type overCandidate struct {
	slope   *Layout
	parts   []*Layout
	over    *Over
	choices []Choice // best first
}

// overEdges finds for each slope of a room the surfaces that its strips may run onto, and every set of them that saves money
// on the surfaces, or without prices sheet. Candidates of one slope stand together.
func (c Context) overEdges(room *surface.RoomShape, layouts map[*surface.Surface]*Layout, turns map[*surface.Surface]map[int]q.MM,
	byID map[string]*Place, money *pricing) []overCandidate {
	var out []overCandidate
	for _, s := range room.Surfaces {
		slope := layouts[s]
		if slope == nil || s.Role != surface.Slope {
			continue
		}
		var beyond []overPlace
		for _, e := range room.Edges {
			if x, ok := c.beyond(e, byID[e.ID], s); ok && layouts[x.Surface] != nil {
				beyond = append(beyond, x)
			}
		}
		for _, set := range oneOrTwo(beyond) {
			p := c.problem(s, turns[s], byID)
			o := overCandidate{slope: slope, over: &Over{Apart: []Choice{slope.Choice}, holes: slope.Problem.Holes}}
			longest := c.longest(s)
			for _, x := range slices.Backward(set) { // the higher side first, so that the lower one keeps its number
				p = unfolded(p, c.problem(x.Surface, turns[x.Surface], byID), x)
			}
			for _, x := range set {
				longest = min(longest, c.longest(x.Surface))
				o.parts = append(o.parts, layouts[x.Surface])
				o.over.Parts = append(o.over.Parts, x.OverPart)
				o.over.Apart = append(o.over.Apart, layouts[x.Surface].Choice)
				o.over.EdgeFee += money.place(byID[x.Edge])
			}
			p.MaxPiece = longest
			o.over.EdgeFee -= money.hanging(s, o.over.Parts, byID)
			if o.choices = c.overChoices(s, p, o.over, money); len(o.choices) > 0 {
				out = append(out, o)
			}
		}
	}
	return out
}

// oneOrTwo gives each place below and above by itself and every pair of one below and one above, in the order of their sides.
func oneOrTwo(beyond []overPlace) [][]overPlace {
	var out [][]overPlace
	for _, x := range beyond {
		out = append(out, []overPlace{x})
	}
	for _, a := range beyond {
		for _, b := range beyond {
			if a.side < b.side && a.below != b.below && a.Surface != b.Surface {
				out = append(out, []overPlace{a, b})
			}
		}
	}
	return out
}

// overChoices lays a slope and its parts in one piece in every width open on the slope; those that save come back, best first.
func (c Context) overChoices(s *surface.Surface, p strips.Problem, o *Over, money *pricing) []Choice {
	var out []Choice
	fixed := c.setting("roll_mm", s)
	widths := c.widths()
	if fixed > 0 {
		widths = []q.MM{fixed}
	}
	for _, width := range widths {
		directed := c.directed(c.inRolls(p, s, width), s, strips.Upright)
		directed.JointAt = o.joints(directed)
		one, err := c.solve(s, directed, money)
		if err != nil || one.barred || len(one.Backing) > 0 || one.WideLap() || !o.cheaper(one) {
			continue
		}
		one.Why = Why{Reason: OverTheEdge}
		out = append(out, one)
	}
	sorting.StableFunc(out, Choice.compare)
	return out
}

// joints are the places where a strip may be joined: those of the slope and the level blocking of the parts, none of them
// within clearOfEdge of an edge that the strips run over.
func (o *Over) joints(p strips.Problem) []q.MM {
	at := slices.Clone(p.JointAt)
	var edges []q.MM
	for _, x := range o.Parts {
		box := x.Surface.Outline.Bounds()
		edges = append(edges, x.At)
		if lines, _ := junction.FramingLines(x.Surface); len(lines) == 0 || x.Turned() {
			continue // full support is in the raster already; blocking is stated over a lower edge
		}
		for _, n := range x.Surface.Face.Framing.Noggins {
			if n > box.Min.Y && n < box.Max.Y {
				at = append(at, x.To(geometry.Point{Y: n}).Y+p.EndJointLap/2)
			}
		}
	}
	at = slices.DeleteFunc(at, func(v q.MM) bool {
		return slices.ContainsFunc(edges, func(e q.MM) bool { return max(v-e, e-v) < clearOfEdge+p.EndJointLap/2 })
	})
	slices.Sort(at)
	return at
}

// cheaper says whether laying in one piece takes less than apart: money where it is known, else sheet, then pieces and tape.
func (o *Over) cheaper(one Choice) bool {
	if saves, known := o.Saves(one); known {
		return saves > 0
	}
	sheet, pieces, tape := o.Less(one)
	const noise = 1e-9
	return cmp.Or(number01(sheet > noise)-number01(sheet < -noise), pieces, cmp.Compare(tape, 0)) > 0
}

// place is what a place takes in tape and labour, in hundredths.
func (p *pricing) place(at *Place) int64 {
	if p == nil || at == nil || !at.Answered() {
		return 0
	}
	sum, ok := p.worth(at)
	if !ok {
		return 0
	}
	return int64(math.Round(sum))
}

// hanging is what the labour of hanging takes more where the parts' sheet is hung with the slope's.
func (p *pricing) hanging(slope *surface.Surface, parts []OverPart, byID map[string]*Place) int64 {
	a := byID[string(slope.ID)]
	if p == nil || a == nil {
		return 0
	}
	record, more := a.Record, -float64(a.Minutes.Likely)
	for _, x := range parts {
		b := byID[string(x.Surface.ID)]
		if b == nil {
			return 0
		}
		record = grow(record, b.Record, x)
		more -= float64(b.Minutes.Likely)
	}
	var quiet diag.List // the real record reports what is wrong
	for _, grown := range p.c.Select([]junction.Record{record}, &quiet) {
		more += float64(grown.Minutes.Likely)
	}
	return int64(math.Round(more * p.minute()))
}

// grow gives a slope's own record with a part beyond its edge.
func grow(slope, part junction.Record, x OverPart) junction.Record {
	slope.Area += part.Area
	slope.Height += x.Polygon(x.Surface.Outline).Bounds().Height().Metres()
	return slope
}

// Without gives the places less what runs in one piece over its edge: the junctions go, and the parts' own hanging becomes part
// of the slopes', which grow by the parts' area.
func (c Context) Without(places []*Place, laid Laid, found *diag.List) []*Place {
	gone := map[string]bool{}
	grown := map[string]*Place{}
	byID := map[string]*Place{}
	for _, p := range places {
		byID[p.Record.ID] = p
	}
	for _, l := range laid.Layouts {
		if l.Over == nil {
			continue
		}
		slope := byID[string(l.Surface.ID)]
		if slope == nil {
			continue
		}
		r := slope.Record
		for _, x := range l.Over.Parts {
			gone[x.Edge], gone[string(x.Surface.ID)] = true, true
			if part := byID[string(x.Surface.ID)]; part != nil {
				r = grow(r, part.Record, x)
			}
		}
		for _, p := range c.Select([]junction.Record{r}, found) {
			grown[r.ID] = p
		}
	}
	if len(gone) == 0 {
		return places
	}
	var out []*Place
	for _, p := range places {
		p = cmp.Or(grown[p.Record.ID], p)
		if !gone[p.Record.ID] {
			out = append(out, p)
		}
	}
	return out
}
