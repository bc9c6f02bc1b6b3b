package assess

import (
	"slices"

	"lapwork/generator/calc/strips"
	"lapwork/generator/geometry"
	"lapwork/generator/job"
	"lapwork/generator/junction"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

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
