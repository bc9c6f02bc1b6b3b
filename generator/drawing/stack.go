package drawing

import (
	"math"
	"slices"
)

// Sheets and tapes lie on each other and on the structure; at true scale they would be one line. Stacking draws what
// comes later a few pixels off what it lies on, on the side away from solids, so that a lap is seen as two lines.

const (
	touchDistance = 4.5 // closer than this, two lines lie on each other
	nearDistance  = 8.0 // closer than this, their drawn lines may touch
	lapGap        = 7.0
	rampLength    = 8.0
)

type stack struct {
	lines  []layer // what was drawn so far, segment by segment
	solids [][]Pt
	marks  []laid
}

// laid is a mark as the author meant it and as it was drawn.
type laid struct{ meant, drawn []Pt }

// layer is a stretch of something drawn: where it was meant, how far off that it was drawn, and the gap that what lies
// on it keeps.
type layer struct {
	a, b      Pt
	high, gap float64
	side      Pt   // the way it was moved
	rim       bool // edge of a solid: a sheet that lies on it lies flat over its whole length
}

// rim makes the edges of solids something to lie on.
func (s *stack) rim(outline []Pt) {
	const gap = (cutWidth + sheetWidth) / 2
	for i, a := range outline {
		s.lines = append(s.lines, layer{a: a, b: outline[(i+1)%len(outline)], gap: gap, rim: true})
	}
	s.solids = append(s.solids, outline)
}

// lay gives the path as it is drawn, and remembers it; gap is what the next layer keeps off this one.
func (s *stack) lay(path []Pt, gap float64) []Pt {
	var out []Pt
	var fresh []layer
	var before Pt // shift at the end of the last segment
	for i := 1; i < len(path); i++ {
		a, c := path[i-1], path[i]
		n, between := s.roomSide(a, c)
		rises := s.rises(a, c, n, between)
		part := raised(a, c, n, rises)
		if len(out) > 0 {
			corner := times(n, rises[0].high)
			if math.Abs(cross(unit(path[i-2], a), unit(a, c))) > 0.2 {
				corner = add(before, corner)
			}
			out[len(out)-1] = add(a, corner)
			part = part[1:]
		}
		out = append(out, part...)
		before = times(n, rises[len(rises)-1].high)
		for _, r := range rises {
			fresh = append(fresh, layer{a: lerp(a, c, r.from), b: lerp(a, c, r.to), high: r.high, gap: gap, side: n})
		}
	}
	s.lines = append(s.lines, fresh...)
	s.marks = append(s.marks, laid{path, out})
	return out
}

// rise is a stretch of a segment, in parts of its length, and how far it is moved.
type rise struct{ from, to, high float64 }

// raised gives the points of a segment with its rises, a short ramp before each higher stretch and after it.
func raised(a, c, n Pt, rises []rise) []Pt {
	l := math.Max(dist(a, c), 1)
	at := func(t, high float64) Pt { return add(lerp(a, c, t), times(n, high)) }
	out := []Pt{at(0, rises[0].high)}
	for i := 1; i < len(rises); i++ {
		r, p := rises[i], rises[i-1]
		if r.high > p.high {
			ramp := math.Min(rampLength/l, (p.to-p.from)/2)
			out = append(out, at(r.from-ramp, p.high), at(r.from, r.high))
			continue
		}
		ramp := math.Min(rampLength/l, (r.to-r.from)/2)
		out = append(out, at(r.from, p.high), at(r.from+ramp, r.high))
	}
	return append(out, at(1, rises[len(rises)-1].high))
}

// rises tells for every stretch of a-c how far it must move to lie on what is there.
func (s *stack) rises(a, c, n Pt, between bool) []rise {
	l := dist(a, c)
	if l < 1 {
		return []rise{{0, 1, 0}}
	}
	u := unit(a, c)
	cuts := []float64{0, 1}
	var on []rise
	for _, line := range s.lines {
		if line.rim && between || dist(line.a, line.b) < 1 || math.Abs(cross(u, unit(line.a, line.b))) > 0.1 {
			continue
		}
		p, q := dot(sub(line.a, a), u)/l, dot(sub(line.b, a), u)/l
		p, q = math.Max(0, math.Min(p, q)), math.Min(1, math.Max(p, q))
		middle := lerp(a, c, (p+q)/2)
		if q-p < 3/l || toSegment(middle, line.a, line.b) > nearDistance {
			continue
		}
		high := line.high + line.gap + dot(sub(line.a, middle), n)
		if line.rim {
			p, q = 0, 1
		}
		on, cuts = append(on, rise{p, q, high}), append(cuts, p, q)
	}
	return merged(cuts, on)
}

func merged(cuts []float64, on []rise) []rise {
	slices.Sort(cuts)
	var out []rise
	for i := 1; i < len(cuts); i++ {
		if cuts[i]-cuts[i-1] < 1e-6 {
			continue
		}
		m, high := (cuts[i]+cuts[i-1])/2, 0.0
		for _, r := range on {
			if r.from <= m && m <= r.to && r.high > 0.2 {
				high = math.Max(high, r.high)
			}
		}
		if n := len(out); n > 0 && math.Abs(out[n-1].high-high) < 0.3 {
			out[n-1].to = cuts[i]
			continue
		}
		out = append(out, rise{cuts[i-1], cuts[i], high})
	}
	return out
}

// roomSide is the unit normal of a-c that points out of the solids, by a vote of places along it; without solids, that of
// the mark it lies on; else up, or left of an upright line. Between two solids nothing is moved off their edges.
func (s *stack) roomSide(a, c Pt) (n Pt, between bool) {
	n = normal(a, c)
	if n.Y > 0.01 || (math.Abs(n.Y) <= 0.01 && n.X > 0) {
		n = times(n, -1)
	}
	votes, both := 0, 0
	const places = 9
	for i := range places {
		m := lerp(a, c, (float64(i)+0.5)/places)
		vote, closed := s.vote(m, n)
		votes += vote
		if closed {
			both++
		}
	}
	if votes == 0 {
		for _, line := range s.lines {
			if !line.rim && line.side != (Pt{}) && toSegment(lerp(line.a, line.b, 0.5), a, c) < touchDistance {
				n = line.side
			}
		}
	}
	if votes < 0 {
		n = times(n, -1)
	}
	return n, both > places/2
}

// vote is 1 when n points from a solid into the open at m, -1 the other way round; closed: solids on both sides.
func (s *stack) vote(m, n Pt) (vote int, closed bool) {
	for probe := 3.0; probe < 30; probe += 4 {
		front, back := s.solid(add(m, times(n, probe))), s.solid(sub(m, times(n, probe)))
		switch {
		case front && back:
			return 0, true
		case front:
			return -1, false
		case back:
			return 1, false
		}
	}
	return 0, false
}

// drawnAt gives the place where the last mark that runs through p was drawn; p itself when there is none.
func (s *stack) drawnAt(p Pt) Pt {
	for i := len(s.marks) - 1; i >= 0; i-- {
		m := s.marks[i]
		if pathDistance(p, m.meant) > touchDistance {
			continue
		}
		best := p
		d := math.Inf(1)
		for k := 1; k < len(m.drawn); k++ {
			if near := onSegment(p, m.drawn[k-1], m.drawn[k]); dist(p, near) < d {
				best, d = near, dist(p, near)
			}
		}
		return best
	}
	return p
}

func pathDistance(p Pt, path []Pt) float64 {
	d := math.Inf(1)
	for i := 1; i < len(path); i++ {
		d = math.Min(d, toSegment(p, path[i-1], path[i]))
	}
	return d
}

func (s *stack) solid(p Pt) bool {
	for _, outline := range s.solids {
		if inside(p, outline) {
			return true
		}
	}
	return false
}
