package junction

import (
	"slices"

	"lapwork/generator/geometry"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// framingLines gives the places of the framing lines strictly inside a surface, across the framing, in the surface's own
// plane, which starts at the left end of walls and slopes and at the room's lower corner for ceilings; none where the
// support is full.
func framingLines(s *surface.Surface) []q.MM {
	f := s.Face.Framing
	across := acrossFraming(s)
	low, high := bounds(s.Outline)
	from, to := across(low), across(high)
	if f.BackFrom == 0 || framingLevel(s) {
		return linesBetween(f, from, to)
	}
	lines := linesBetween(f, f.BackFrom-to, f.BackFrom-from)
	for i := range lines {
		lines[i] = f.BackFrom - lines[i]
	}
	slices.Reverse(lines)
	return lines
}

// FramingPitch gives the spacing of the framing that a record's surface hangs on: as stated, or the mean of explicit lines; 0
// where the support is full or only one line is known. Doubled studs stand beside their lines and are no spacing.
func (r *Record) FramingPitch() q.MM {
	if r.A == nil || r.A.Face == nil {
		return 0
	}
	f := r.A.Face.Framing
	if n := len(f.Lines); n > 0 {
		return (slices.Max(f.Lines) - slices.Min(f.Lines)) / q.MM(max(1, n-1))
	}
	return f.Pitch
}

// linesBetween gives the stated lines strictly between two places: explicit ones or those of a spacing, and doubled studs
// that stand beside them.
func linesBetween(f job.Framing, from, to q.MM) []q.MM {
	lines := slices.Clone(f.Lines)
	if len(lines) == 0 && f.Pitch > 0 {
		first := f.Offset
		first -= (first - from) / f.Pitch * f.Pitch // a slope over a hip also has framing left of its foot
		for l := first - f.Pitch; l < to; l += f.Pitch {
			lines = append(lines, l)
		}
	}
	if len(lines) > 0 {
		lines = append(lines, f.Doubled...)
	}
	lines = slices.DeleteFunc(lines, func(l q.MM) bool { return l <= from || l >= to })
	slices.Sort(lines)
	return slices.Compact(lines)
}

// acrossFraming gives the coordinate of a point that framing lines are counted in.
func acrossFraming(s *surface.Surface) func(geometry.Point) q.MM {
	if framingLevel(s) {
		return func(p geometry.Point) q.MM { return p.Y }
	}
	return func(p geometry.Point) q.MM { return p.X }
}

// framingLevel reports whether the framing runs along the plane's x axis. Ceiling framing whose direction is not stated
// spans the shorter way, as joists do (common practice, no source).
func framingLevel(s *surface.Surface) bool {
	if s.Role != surface.Ceiling && s.Role != surface.Floor {
		return false
	}
	if a := s.Face.Framing.Along; a != "" {
		return a == "x"
	}
	low, high := bounds(s.Outline)
	return high.X-low.X < high.Y-low.Y
}

// netAlong gives the length of a framing line inside the surface, net of openings.
func netAlong(s *surface.Surface, line q.MM) q.MM {
	across := acrossFraming(s)
	return netCut(s, line, across, func(p geometry.Point) q.MM { return p.X + p.Y - across(p) })
}

// netCut gives the length of a line inside the surface, net of holes and openings.
func netCut(s *surface.Surface, line q.MM, across, along func(geometry.Point) q.MM) q.MM {
	net := cut(s.Outline, line, across, along)
	for _, hole := range s.Holes {
		net -= cut(hole, line, across, along)
	}
	for _, o := range s.Openings {
		net -= cut(o.Outline, line, across, along)
	}
	return max(net, 0)
}

// cut gives the length of a line inside an outline. A line that lies on a side counts on its far side only.
func cut(p geometry.Polygon, line q.MM, across, along func(geometry.Point) q.MM) q.MM {
	var at []float64
	for i, a := range p {
		b := p[(i+1)%len(p)]
		if (across(a) <= line) == (across(b) <= line) {
			continue
		}
		share := float64(line-across(a)) / float64(across(b)-across(a))
		at = append(at, float64(along(a))+share*float64(along(b)-along(a)))
	}
	slices.Sort(at)
	var sum float64
	for i := 0; i+1 < len(at); i += 2 {
		sum += at[i+1] - at[i]
	}
	return q.MM(sum + 0.5)
}

// studsCrossed gives how many framing lines of the surface the runs of an edge cross.
func studsCrossed(s *surface.Surface, e surface.Edge) int {
	if e.Length <= 0 {
		return 0
	}
	across := acrossFraming(s)
	from, to := float64(across(inPlane(s.Frame, e.From))), float64(across(inPlane(s.Frame, e.To)))
	n := 0
	for _, line := range framingLines(s) {
		for _, r := range e.Runs {
			a := from + (to-from)*float64(r.From)/float64(e.Length)
			b := from + (to-from)*float64(r.To)/float64(e.Length)
			if l := float64(line); l > min(a, b) && l < max(a, b) {
				n++
			}
		}
	}
	return n
}

// inPlane gives a point in space in a surface's own plane, to the nearest millimetre.
func inPlane(f surface.Frame, p [3]float64) geometry.Point {
	var x, y float64
	for i := range p {
		x += (p[i] - f.Origin[i]) * f.X[i]
		y += (p[i] - f.Origin[i]) * f.Y[i]
	}
	return geometry.Point{X: q.MMOf(q.Length(x)), Y: q.MMOf(q.Length(y))}
}
