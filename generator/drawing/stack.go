package drawing

import "math"

// Sheets and tapes lie on each other and on the structure; at true scale they would be one line. Stacking draws what
// comes later a few pixels off what it lies on, on the side away from solids, so that a lap is seen as two lines.

const (
	touchDistance = 4.5 // closer than this, two lines lie on each other
	lapGap        = 7.0
	rampLength    = 8.0
)

type stack struct {
	lines  []layer // what was drawn so far, segment by segment
	solids [][]Pt
}

type layer struct {
	a, b Pt
	gap  float64 // what lies on it keeps this far off
}

// rim makes the edges of solids something to lie on.
func (s *stack) rim(outline []Pt) {
	const gap = (cutWidth + sheetWidth) / 2
	for i, a := range outline {
		s.lines = append(s.lines, layer{a, outline[(i+1)%len(outline)], gap})
	}
	s.solids = append(s.solids, outline)
}

// lay gives the path as it is drawn, and remembers it.
func (s *stack) lay(path []Pt, gap float64) []Pt { // gap is what the next layer keeps off this one
	out := path
	for range 4 { // a third layer steps over the second
		next, moved := s.step(out)
		out = next
		if !moved {
			break
		}
	}
	for i := 1; i < len(out); i++ {
		s.lines = append(s.lines, layer{out[i-1], out[i], gap})
	}
	return out
}

func (s *stack) step(path []Pt) ([]Pt, bool) {
	out := path[:min(1, len(path)):min(1, len(path))]
	moved := false
	for i := 1; i < len(path); i++ {
		a, c := path[i-1], path[i]
		t0, t1, gap := s.covered(a, c)
		if gap == 0 {
			out = append(out, c)
			continue
		}
		moved = true
		n := times(s.roomSide(a, c), gap)
		ramp := rampLength / math.Max(dist(a, c), 1)
		if t0 < ramp/2 {
			out[len(out)-1] = add(out[len(out)-1], n)
		} else {
			out = append(out, lerp(a, c, math.Max(0, t0-ramp)), add(lerp(a, c, t0), n))
		}
		out = append(out, add(lerp(a, c, t1), n))
		if t1 < 1-ramp/2 {
			out = append(out, lerp(a, c, math.Min(1, t1+ramp)), c)
		}
	}
	return out, moved
}

// covered is the range of a-c that lies on something drawn before, as parts of its length.
func (s *stack) covered(a, c Pt) (t0, t1, gap float64) {
	l := dist(a, c)
	if l < 1 {
		return 0, 0, 0
	}
	u := unit(a, c)
	t0, t1 = 1, 0
	for _, line := range s.lines {
		if dist(line.a, line.b) < 1 || math.Abs(cross(u, unit(line.a, line.b))) > 0.1 {
			continue
		}
		p, q := dot(sub(line.a, a), u)/l, dot(sub(line.b, a), u)/l
		if p > q {
			p, q = q, p
		}
		p, q = math.Max(0, p), math.Min(1, q)
		middle := lerp(a, c, (p+q)/2)
		if q-p < 3/l || toSegment(middle, line.a, line.b) > touchDistance {
			continue
		}
		t0, t1, gap = math.Min(t0, p), math.Max(t1, q), math.Max(gap, line.gap)
	}
	return t0, t1, gap
}

// roomSide is the unit normal of a-c that points out of the solids; up, or left of an upright line, when both are free.
func (s *stack) roomSide(a, c Pt) Pt {
	n := normal(a, c)
	if n.Y > 0.01 || (math.Abs(n.Y) <= 0.01 && n.X > 0) {
		n = times(n, -1)
	}
	m := lerp(a, c, 0.5)
	const probe = 9
	if s.solid(add(m, times(n, probe))) && !s.solid(sub(m, times(n, probe))) {
		return times(n, -1)
	}
	return n
}

func (s *stack) solid(p Pt) bool {
	for _, outline := range s.solids {
		if inside(p, outline) {
			return true
		}
	}
	return false
}
