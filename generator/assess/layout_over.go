package assess

import (
	"cmp"
	"context"
	"math"
	"slices"

	"lapwork/generator/calc/strips"
	"lapwork/generator/diag"
	"lapwork/generator/geometry"
	"lapwork/generator/job"
	"lapwork/generator/junction"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// Limits of an edge that strips may run over in one piece. Common practice, no source.
const (
	leastOverAngle q.Degrees = 100 // of the room's side: a sharper edge is pressed into, not run over (catalogue: 100 to 170)
	clearOfEdge    q.MM      = 300 // no member of the structure this near to the edge
)

// Over is a knee wall whose sheet comes down from the slope in one piece: no lap and no tape on the edge.
type Over struct {
	Wall    *surface.Surface
	Edge    string // the junction that falls away
	Shift   geometry.Point
	Apart   [2]Choice // how slope and wall would be laid apart
	EdgeFee int64     // tape and labour of the edge, less what hanging the wall's sheet with the slope's takes more; where prices are known
	holes   []strips.Hole
}

// Saves is what running over the edge saves; known only where all prices are.
func (o *Over) Saves(taken Choice) (amount int64, known bool) {
	known = taken.Cost.Known && o.Apart[0].Cost.Known && o.Apart[1].Cost.Known
	return o.Apart[0].Cost.Total() + o.Apart[1].Cost.Total() + o.EdgeFee - taken.Cost.Total(), known
}

// overCandidate is a slope and a knee wall that may be laid in one piece.
type overCandidate struct {
	slope, wall *Layout
	over        *Over
	choices     []Choice // best first
}

// overEdges finds the knee walls whose strips may come down from the slope in one piece, where that saves money on the two
// surfaces, or without prices sheet.
func (c Context) overEdges(room *surface.RoomShape, layouts map[*surface.Surface]*Layout, turns map[*surface.Surface]map[int]q.MM,
	byID map[string]*Place, money *pricing) []overCandidate {
	var out []overCandidate
	for _, e := range room.Edges {
		slope, wall := layouts[e.A], layouts[e.B]
		side := e.SideA
		if e.A != nil && e.A.Role == surface.KneeWall {
			slope, wall, side = wall, slope, e.SideB
		}
		if slope == nil || wall == nil || !c.mayRunOver(e, byID[e.ID], slope.Surface, wall.Surface, side) ||
			slices.ContainsFunc(out, func(o overCandidate) bool { return o.slope == slope || o.wall == wall }) {
			continue
		}
		p, shift := unfolded(c.problem(slope.Surface, turns[slope.Surface], byID), c.problem(wall.Surface, turns[wall.Surface], byID), side)
		p.MaxPiece = min(c.longest(slope.Surface), c.longest(wall.Surface))
		over := &Over{Wall: wall.Surface, Edge: e.ID, Shift: shift, Apart: [2]Choice{slope.Choice, wall.Choice},
			EdgeFee: money.place(byID[e.ID]) - money.hanging(slope.Surface, wall.Surface, byID), holes: slope.Problem.Holes}
		if all := c.overChoices(slope.Surface, p, over, money); len(all) > 0 {
			out = append(out, overCandidate{slope, wall, over, all})
		}
	}
	return out
}

// runOver takes the candidates with which a delivery buys and works less, one after the other, and gives the layouts that are
// left to lay: joined walls keep a layout without strips.
func (k *cutter) runOver(ctx context.Context, layouts []*Layout) ([]*Layout, error) {
	for _, o := range k.over {
		if !slices.Contains(layouts, o.slope) || !slices.Contains(layouts, o.wall) {
			continue
		}
		apart, err := k.boughtFor(ctx, layouts)
		if err != nil {
			return nil, err
		}
		rest := slices.DeleteFunc(slices.Clone(layouts), func(l *Layout) bool { return l == o.wall })
		trial := make([]Layout, len(rest))
		for i, l := range rest {
			if trial[i] = *l; l == o.slope {
				trial[i].Over, trial[i].Choice, trial[i].Others = o.over, o.choices[0], o.choices[1:]
			}
		}
		if err := k.chooseWidths(ctx, pointers(trial)); err != nil {
			return nil, err
		}
		joined, err := k.boughtFor(ctx, pointers(trial))
		if err != nil {
			return nil, err
		}
		if apart.work > 0 || joined.work > 0 { // money
			joined.work -= o.over.EdgeFee
		}
		if joined.compare(apart) >= 0 {
			continue
		}
		for i, l := range rest {
			*l = trial[i]
		}
		*o.wall = Layout{Surface: o.wall.Surface, Component: o.wall.Component, DownFrom: o.slope, Choice: Choice{Problem: o.wall.Problem}}
		layouts = rest
	}
	return layouts, nil
}

// boughtFor is what layouts as they stand take.
func (k *cutter) boughtFor(ctx context.Context, layouts []*Layout) (spent, error) {
	for _, l := range layouts {
		l.Cuts = cuts(l)
	}
	plan, err := k.plan(ctx, layouts)
	return plan.bought, err
}

// overChoices lays slope and wall in one piece in every width open on the slope; those that save come back, best first.
func (c Context) overChoices(s *surface.Surface, p strips.Problem, o *Over, money *pricing) []Choice {
	var out []Choice
	fixed := c.setting("roll_mm", s)
	widths := c.widths()
	if fixed > 0 {
		widths = []q.MM{fixed}
	}
	for _, width := range widths {
		one, err := c.choice(s, p, width, strips.Upright, money)
		if err != nil || one.barred || len(one.Backing) > 0 || one.WideLap() || one.JointTape > 0 || !o.cheaper(one, c.edgeLength(o)) {
			continue
		}
		one.Why = Why{Reason: OverTheEdge}
		one.Problem.JointAt = nil // the strips stay in one piece even where a joint would save a roll
		out = append(out, one)
	}
	slices.SortStableFunc(out, Choice.compare)
	return out
}

// edgeLength is the tape of the edge itself.
func (c Context) edgeLength(o *Over) q.Length { return o.Wall.Outline.Bounds().Width().Metres() }

// cheaper says whether laying in one piece takes less than apart: money where it is known, else sheet, then pieces and tape.
func (o *Over) cheaper(one Choice, edge q.Length) bool {
	a, b := o.Apart[0], o.Apart[1]
	if saves, known := o.Saves(one); known {
		return saves > 0
	}
	const noise = 1e-9
	return cmp.Or(number01(one.SheetUsed > a.SheetUsed+b.SheetUsed+noise)-number01(one.SheetUsed < a.SheetUsed+b.SheetUsed-noise),
		cmp.Compare(one.Pieces, a.Pieces+b.Pieces), cmp.Compare(one.Tape(), a.Tape()+b.Tape()+edge)) < 0
}

// mayRunOver says whether the edge allows strips in one piece: a slope on a knee wall, both of the job's sheet, nothing that
// fixes level strips, members in line, an obtuse edge over the wall's whole width, and no structure near it.
func (c Context) mayRunOver(e surface.Edge, p *Place, slope, wall *surface.Surface, side int) bool {
	allowed := func(s *surface.Surface) bool {
		v, _ := c.Library.Setting("over_edge", c.Job.Settings, s.Room.ID, s.ID)
		return v >= 1 && s.CarriesSheet && s.Face.Layer == job.Sheet && s.Face.Direction != "level" && s.Dormer == nil
	}
	if slope.Role != surface.Slope || wall.Role != surface.KneeWall || !allowed(slope) || !allowed(wall) ||
		p == nil || p.Record.Edge != junction.InsideEdge || p.Settled != nil || e.AngleDeg < leastOverAngle || !e.Level || e.Net() != e.Length {
		return false
	}
	box := wall.Outline.Bounds()
	from, to := slope.Side(side)
	if len(wall.Outline) != 4 || wall.Outline.TwiceArea() != 2*int64(box.Width())*int64(box.Height()) || from.Y != to.Y ||
		to.X-from.X != box.Width() || side >= len(slope.Outline) {
		return false
	}
	return inLine(slope, wall, from.X, to.X, box.Min.X) && clearMembers(slope, from.Y) && clearMembers(wall, box.Max.Y)
}

// inLine says whether rafters and studs stand in line along the edge, from x to end on the slope; the wall begins at left.
func inLine(slope, wall *surface.Surface, x, end, left q.MM) bool {
	above, levelAbove := junction.FramingLines(slope)
	below, levelBelow := junction.FramingLines(wall)
	if levelAbove || levelBelow {
		return false
	}
	within := func(lines []q.MM, from, to q.MM) (out []q.MM) {
		for _, at := range lines {
			if from < at && at < to {
				out = append(out, at-from)
			}
		}
		return out
	}
	return slices.Equal(within(above, x, end), within(below, left, left+end-x))
}

// clearMembers says whether no member of a surface lies near a level line.
func clearMembers(s *surface.Surface, y q.MM) bool {
	return !slices.ContainsFunc(s.Members, func(m surface.Member) bool {
		return min(m.From.Y, m.To.Y)-clearOfEdge < y && y < max(m.From.Y, m.To.Y)+clearOfEdge
	})
}

// unfolded turns a wall into the plane of the slope over it: one problem in the slope's coordinates, and how far the wall's own
// are shifted. side is the slope's side on the edge.
func unfolded(slope, wall strips.Problem, side int) (strips.Problem, geometry.Point) {
	out, box := slope, wall.Outline.Bounds()
	from := slope.Outline[side]
	shift := geometry.Point{X: from.X - box.Min.X, Y: from.Y - box.Max.Y}
	moved := func(p geometry.Polygon) geometry.Polygon {
		p = slices.Clone(p)
		for i := range p {
			p[i].X, p[i].Y = p[i].X+shift.X, p[i].Y+shift.Y
		}
		return p
	}
	// The wall's corners run on from its upper left one: left side, lower side, right side.
	first := slices.Index(wall.Outline, geometry.Point{X: box.Min.X, Y: box.Max.Y})
	low := moved(wall.Outline)
	at := func(i int) int { return (first + i) % 4 }
	out.Outline = slices.Insert(slices.Clone(slope.Outline), side+1, low[at(1)], low[at(2)])
	out.Turns = slices.Clone(slope.Turns)
	out.Turns[side] = wall.Turns[at(0)]
	out.Turns = slices.Insert(out.Turns, side+1, wall.Turns[at(1)], wall.Turns[at(2)])
	out.Holes = slices.Clone(slope.Holes)
	for _, h := range wall.Holes {
		out.Holes = append(out.Holes, strips.Hole{Outline: moved(h.Outline), TurnIn: h.TurnIn})
	}
	return out, shift
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

// hanging is what the labour of hanging takes more where the wall's sheet is hung with the slope's.
func (p *pricing) hanging(slope, wall *surface.Surface, byID map[string]*Place) int64 {
	a, b := byID[string(slope.ID)], byID[string(wall.ID)]
	if p == nil || a == nil || b == nil {
		return 0
	}
	var quiet diag.List // the real record reports what is wrong
	more := 0.0
	for _, grown := range p.c.Select([]junction.Record{grow(a.Record, b.Record)}, &quiet) {
		more += float64(grown.Minutes.Likely - a.Minutes.Likely - b.Minutes.Likely)
	}
	return int64(math.Round(more * p.minute()))
}

// grow gives a slope's own record with the wall below.
func grow(slope, wall junction.Record) junction.Record {
	slope.Area += wall.Area
	slope.Height += wall.Height
	return slope
}

// Without gives the places less what runs in one piece over its edge: the junctions go, and the walls' own hanging becomes part
// of the slopes', which grow by the walls' area.
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
		gone[l.Over.Edge], gone[string(l.Over.Wall.ID)] = true, true
		slope, wall := byID[string(l.Surface.ID)], byID[string(l.Over.Wall.ID)]
		if slope == nil || wall == nil {
			continue
		}
		r := grow(slope.Record, wall.Record)
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
