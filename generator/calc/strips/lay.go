package strips

import (
	"math/bits"
	"slices"

	q "lapwork/generator/quantity"
)

// Lay finds the best arrangement. Errors: *InvalidError for wrong input, *InfeasibleError where the backing given allows no
// arrangement at all.
func Lay(p Problem, o Objective) (Layout, error) {
	s, err := newSearch(p, o)
	if err != nil {
		return Layout{}, err
	}
	at, sum, ok := s.best()
	if !ok {
		return Layout{}, s.infeasible()
	}
	return s.layout(at, sum), nil
}

// newSearch checks the problem and builds its domain.
func newSearch(p Problem, o Objective) (*search, error) {
	if err := p.check(o); err != nil {
		return nil, err
	}
	d, err := cover(p)
	if err != nil {
		return nil, err
	}
	s := &search{layer: &layer{p: p, d: d}, objective: o}
	for _, u := range sorted(p.JointAt) {
		s.jointAt = append(s.jointAt, s.mm(u))
		if p.MaxPiece > 0 {
			s.zones = append(s.zones, s.zone(s.mm(u)))
		}
	}
	s.seamAt = sorted(p.SeamAt)
	s.first = d.floorMM(d.vmin + d.slack)
	s.end = d.ceilMM(d.vmax-d.slack) - p.RollWidth
	return s, nil
}

// cover builds D.
func cover(p Problem) (*domain, error) {
	rings := [][]point{turned(p.Outline, p.Turns, p.Direction).outward()}
	for _, h := range p.Holes {
		if hole := turned(h.Outline, nil, p.Direction).inward(h.TurnIn); hole != nil {
			rings = append(rings, hole)
		}
	}
	return newDomain(rings)
}

func sorted(at []q.MM) []q.MM {
	out := slices.Clone(at)
	slices.Sort(out)
	return slices.Compact(out)
}

// layout works the chosen positions out in full.
func (s *search) layout(at []q.MM, sum cost) Layout {
	w := s.p.RollWidth
	out := Layout{Direction: s.p.Direction, RollWidth: w, Length: q.MM(sum.length), Pieces: int(sum.pieces)}
	var covered, lapped float64
	for i, v := range at {
		strip := s.strip(v)
		strip.No = i + 1
		covered += s.d.area(s.mm(v), s.mm(v+w))
		if i > 0 {
			strip.Lap = at[i-1] + w - v
			lapped += s.d.area(s.mm(v), s.mm(v+strip.Lap))
			strip.Seam, strip.SeamTape = s.seamSpans(v)
			strip.Unsupported = !s.backed(v)
		}
		out.SeamTape += strip.SeamTape
		out.JointTape += strip.JointTape
		out.Strips = append(out.Strips, strip)
	}
	if s.objective.priced {
		quo, rem := bits.Div64(sum.price.hi, sum.price.lo, uint64(s.d.unit))
		out.Price = int64(quo + rem/uint64(s.d.unit/2)) // the unit is even
	}
	const square = 1e-6 // mm² in m²
	out.SheetUsed = q.Area(float64(w) * float64(out.Length) * square)
	out.CoverDomain = q.Area(s.d.area(s.d.vmin, s.d.vmax) * square)
	out.LapInDomain = q.Area(lapped * square)
	out.OutsideDomain = out.SheetUsed - q.Area(covered*square)
	out.SurfaceNet = s.p.net()
	out.MinStrips = s.minStrips()
	return out
}

// strip works one strip out, without its seam.
func (s *search) strip(v q.MM) Strip {
	one := s.lay(v)
	low, high := s.mm(v), s.mm(v+s.p.RollWidth)
	out := Strip{At: v, Useful: s.d.ceilMM(max(0, min(high, s.d.vmax)-max(low, s.d.vmin)-s.d.slack)), JointTape: s.metres(one.tape)}
	for _, p := range one.pieces {
		out.Pieces = append(out.Pieces, Piece{s.nearest(p.from), s.nearest(p.to), s.cut(p)})
	}
	if s.p.StaggerJoints {
		s.avoid = one.joints
	}
	for _, u := range one.joints {
		out.Joints = append(out.Joints, Joint{s.nearest(u), s.metres(s.jointTape(u, v))})
	}
	return out
}

// seamSpans gives where the seam at v is taped.
func (s *search) seamSpans(v q.MM) ([]Span, q.Length) {
	var out []Span
	found := s.d.along(nil, s.mm(v), s.mm(v+s.p.Lap))
	for _, x := range found {
		out = append(out, Span{s.nearest(x.from), s.nearest(x.to)})
	}
	return out, s.metres(total(found))
}

func (l *layer) nearest(x fine) q.MM { return l.d.floorMM(x + l.d.unit/2) }

func (l *layer) metres(x fine) q.Length { return q.Length(float64(x) / float64(l.d.unit) / 1000) }

// net is the outline's area less the holes. Holes are taken as lying inside and apart.
func (p Problem) net() q.Area {
	a := p.Outline.Area()
	for _, h := range p.Holes {
		a -= h.Outline.Area()
	}
	return a
}
