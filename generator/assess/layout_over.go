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

// slopesOneByOne is up to how many slopes of a delivery are tried one by one; more are tried together and only parted where
// that does not save. mostTrials bounds the trials of a delivery then, since each cuts its rolls anew.
const (
	slopesOneByOne = 8
	mostTrials     = 32
)

// overRun takes ways to run over edges into a delivery where it buys and works less with them.
type overRun struct {
	*cutter
	layouts []*Layout // left to lay
	now     spent     // what they take
	trials  int
}

// runOver decides which slopes of a delivery run over their edges, and gives the layouts that are left to lay: what runs with a
// slope keeps a layout without strips.
func (k *cutter) runOver(ctx context.Context, layouts []*Layout) ([]*Layout, error) {
	var slopes [][]overCandidate // the ways of each slope of this delivery
	here := map[*Layout]bool{}
	for _, l := range layouts {
		here[l] = true
	}
	for i, o := range k.over {
		switch {
		case !here[o.slope]:
		case i > 0 && k.over[i-1].slope == o.slope:
			slopes[len(slopes)-1] = append(slopes[len(slopes)-1], o)
		default:
			slopes = append(slopes, []overCandidate{o})
		}
	}
	if len(slopes) == 0 {
		return layouts, nil
	}
	apart, err := k.boughtFor(ctx, layouts)
	if err != nil {
		return nil, err
	}
	run := &overRun{cutter: k, layouts: layouts, now: apart}
	if len(slopes) > slopesOneByOne {
		err := run.together(ctx, slopes)
		return run.layouts, err
	}
	for _, ways := range slopes {
		if err := run.oneSlope(ctx, ways); err != nil {
			return nil, err
		}
	}
	return run.layouts, nil
}

// oneSlope takes the way of one slope with which the delivery takes least, where that is less than without.
func (r *overRun) oneSlope(ctx context.Context, ways []overCandidate) error {
	var best *overTrial
	for i := range ways {
		if !r.open(&ways[i], nil) {
			continue
		}
		t, err := r.try(ctx, []*overCandidate{&ways[i]})
		if err != nil {
			return err
		}
		if t.saves(r.now) && (best == nil || t.with.compare(best.with) < 0) {
			best = t
		}
	}
	r.take(best)
	return nil
}

// together takes the best way of each slope as the surfaces tell by themselves, all at once where the delivery then takes less;
// else each half of the slopes likewise.
func (r *overRun) together(ctx context.Context, slopes [][]overCandidate) error {
	var set []*overCandidate
	for _, ways := range slopes {
		var best *overCandidate
		for i := range ways {
			if o := &ways[i]; r.open(o, set) && (best == nil || o.better(best)) {
				best = o
			}
		}
		if best != nil {
			set = append(set, best)
		}
	}
	if len(set) == 0 || r.trials >= mostTrials {
		return nil
	}
	t, err := r.try(ctx, set)
	if err != nil {
		return err
	}
	half := len(slopes) / 2
	switch {
	case t.saves(r.now):
		r.take(t)
		return nil
	case half == 0:
		return nil
	}
	if err := r.together(ctx, slopes[:half]); err != nil {
		return err
	}
	return r.together(ctx, slopes[half:])
}

// open says whether all that a way needs is still laid apart, in the delivery and in a set of other ways.
func (r *overRun) open(o *overCandidate, set []*overCandidate) bool {
	for _, l := range append([]*Layout{o.slope}, o.parts...) {
		if !slices.Contains(r.layouts, l) || l.Over != nil || slices.ContainsFunc(set, func(x *overCandidate) bool { return x.slope == l || slices.Contains(x.parts, l) }) {
			return false
		}
	}
	return true
}

// better says whether a way saves more on its surfaces than another: money where both are known, else sheet.
func (o *overCandidate) better(than *overCandidate) bool {
	a, known := o.over.Saves(o.choices[0])
	b, both := than.over.Saves(than.choices[0])
	if known && both {
		return a > b
	}
	sheet, _, _ := o.over.Less(o.choices[0])
	other, _, _ := than.over.Less(than.choices[0])
	return sheet > other
}

// overTrial is a delivery with some ways taken.
type overTrial struct {
	set   []*overCandidate
	laid  []Layout // in the order of the layouts that are left
	takes spent    // edges not counted
	with  spent    // less what the edges would take, where money counts
}

// saves says whether the delivery takes less than before.
func (t *overTrial) saves(before spent) bool { return t.with.compare(before) < 0 }

// try lays slopes with their parts in one piece and cuts the delivery again.
func (r *overRun) try(ctx context.Context, set []*overCandidate) (*overTrial, error) {
	r.trials++
	rest := withoutParts(r.layouts, set)
	t := &overTrial{set: set, laid: make([]Layout, len(rest))}
	of := map[*Layout]*overCandidate{}
	for _, o := range set {
		of[o.slope] = o
	}
	for i, l := range rest {
		t.laid[i] = *l
		if o := of[l]; o != nil {
			t.laid[i].Over, t.laid[i].Choice, t.laid[i].Others = o.over, o.choices[0], o.choices[1:]
		}
	}
	if err := r.chooseWidths(ctx, pointers(t.laid)); err != nil {
		return nil, err
	}
	var err error
	t.takes, err = r.boughtFor(ctx, pointers(t.laid))
	t.with = t.takes
	if r.now.work > 0 || t.takes.work > 0 { // money
		for _, o := range set {
			t.with.work -= o.over.EdgeFee
		}
	}
	return t, err
}

// take settles a trial; nil: none.
func (r *overRun) take(t *overTrial) {
	if t == nil {
		return
	}
	r.layouts, r.now = withoutParts(r.layouts, t.set), t.takes
	for i, l := range r.layouts {
		*l = t.laid[i]
	}
	for _, o := range t.set {
		for _, l := range o.parts {
			*l = Layout{Surface: l.Surface, Component: l.Component, HungWith: o.slope, Choice: Choice{Problem: l.Problem}}
		}
	}
}

// withoutParts are the layouts but what runs with a slope.
func withoutParts(layouts []*Layout, set []*overCandidate) []*Layout {
	gone := map[*Layout]bool{}
	for _, o := range set {
		for _, l := range o.parts {
			gone[l] = true
		}
	}
	return slices.DeleteFunc(slices.Clone(layouts), func(l *Layout) bool { return gone[l] })
}

// boughtFor is what layouts as they stand take.
func (k *cutter) boughtFor(ctx context.Context, layouts []*Layout) (spent, error) {
	for _, l := range layouts {
		l.Cuts = cuts(l)
	}
	plan, err := k.plan(ctx, layouts)
	return plan.bought, err
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
	slices.SortStableFunc(out, Choice.compare)
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

// overPlace is a surface beyond an edge of a slope, with the side of the slope's outline that it lies on.
type overPlace struct {
	OverPart
	side  int  // of the slope
	own   int  // of the part
	below bool // the slope rises from the edge
}

// beyond gives the surface behind an edge of a slope where the edge allows strips in one piece: the knee wall below, the flat
// ceiling or the other slope above, both of the job's sheet, nothing that fixes level strips, members in line, an obtuse level
// edge over the whole width of a rectangle, and no structure near it.
func (c Context) beyond(e surface.Edge, p *Place, slope *surface.Surface) (out overPlace, ok bool) {
	part := e.B
	out.side, out.own = e.SideA, e.SideB
	if e.B == slope {
		part, out.side, out.own = e.A, e.SideB, e.SideA
	} else if e.A != slope {
		return out, false
	}
	if part == nil || part.Role != surface.KneeWall && part.Role != surface.Ceiling && part.Role != surface.Slope || !c.mayRun(slope) || !c.mayRun(part) || slope.Face.Direction == strips.Level.String() ||
		p == nil || p.Record.Edge != junction.InsideEdge || p.Settled != nil || e.AngleDeg < leastOverAngle || !e.Level || e.Net() != e.Length ||
		out.side >= len(slope.Outline) || out.own >= len(part.Outline) || len(part.Outline) != 4 {
		return out, false
	}
	from, to := slope.Side(out.side)
	out.OverPart = OverPart{Surface: part, Edge: e.ID, At: from.Y}
	if out.below = from.X < to.X; out.below != (part.Role == surface.KneeWall) {
		return out, false
	}
	if out.Unfold, ok = unfoldOn(slope, out.side, part, out.own); !ok || !rectangle(part.Outline) {
		return out, false
	}
	across := strips.Upright
	if out.Turned() {
		across = strips.Level
	}
	if d := part.Face.Direction; d != "" && d != across.String() {
		return out, false
	}
	return out, inLine(slope, out, min(from.X, to.X), max(from.X, to.X)) && clearMembers(slope, from.Y, asIs) && clearMembers(part, from.Y, out.To)
}

// mayRun says whether strips of a surface may be part of longer ones.
func (c Context) mayRun(s *surface.Surface) bool {
	v, _ := c.Library.Setting("over_edge", c.Job.Settings, s.Room.ID, s.ID)
	return v >= 1 && s.CarriesSheet && s.Face.Layer == job.Sheet && s.Dormer == nil
}

func rectangle(p geometry.Polygon) bool {
	box := p.Bounds()
	return len(p) == 4 && p.TwiceArea() == 2*int64(box.Width())*int64(box.Height())
}

func asIs(p geometry.Point) geometry.Point { return p }

// inLine says whether the members of a slope and of the part beyond stand in line along the edge, from x to end on the slope.
func inLine(slope *surface.Surface, part overPlace, x, end q.MM) bool {
	above, level := junction.FramingLines(slope)
	below, partLevel := junction.FramingLines(part.Surface)
	if level || partLevel != part.Turned() {
		return false
	}
	for i, at := range below {
		p := geometry.Point{X: at}
		if partLevel {
			p = geometry.Point{Y: at}
		}
		below[i] = part.To(p).X
	}
	within := func(lines []q.MM) (out []q.MM) {
		for _, at := range lines {
			if x < at && at < end {
				out = append(out, at)
			}
		}
		slices.Sort(out)
		return out
	}
	return slices.Equal(within(above), within(below))
}

// clearMembers says whether no member of a surface lies near a level line of the slope's plane.
func clearMembers(s *surface.Surface, y q.MM, to func(geometry.Point) geometry.Point) bool {
	return !slices.ContainsFunc(s.Members, func(m surface.Member) bool {
		a, b := to(m.From).Y, to(m.To).Y
		return min(a, b)-clearOfEdge < y && y < max(a, b)+clearOfEdge
	})
}

// unfolded adds the surface beyond a side to a problem: its other corners come between the ends of the side, with their turns.
func unfolded(slope, part strips.Problem, x overPlace) strips.Problem {
	out, n := slope, len(part.Outline)
	start, ahead := slope.Outline[x.side], 1
	at := slices.IndexFunc(part.Outline, func(p geometry.Point) bool { return x.To(p) == start })
	if x.To(part.Outline[(at+1)%n]) == slope.Outline[(x.side+1)%len(slope.Outline)] {
		ahead = n - 1 // the next corner is the side's other end: go round the other way
	}
	out.Outline, out.Turns = slices.Clone(slope.Outline), slices.Clone(slope.Turns)
	for i := range n - 1 { // the edges of the part but the common one
		from, to := (at+i*ahead)%n, (at+(i+1)*ahead)%n
		turn := part.Turns[from]
		if ahead != 1 {
			turn = part.Turns[to]
		}
		if i == 0 {
			out.Turns[x.side] = turn
			continue
		}
		out.Outline = slices.Insert(out.Outline, x.side+i, x.To(part.Outline[from]))
		out.Turns = slices.Insert(out.Turns, x.side+i, turn)
	}
	out.Holes = slices.Clone(slope.Holes)
	for _, h := range part.Holes {
		out.Holes = append(out.Holes, strips.Hole{Outline: x.Polygon(h.Outline), TurnIn: h.TurnIn})
	}
	return out
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
