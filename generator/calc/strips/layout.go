package strips

import (
	"math/bits"
	"slices"

	q "lapwork/generator/quantity"
)

// Layout is the best arrangement of one problem.
type Layout struct {
	Direction Direction
	RollWidth q.MM
	Strips    []Strip // in working order

	Length    q.MM     // all pieces together, as cut
	Pieces    int      // pieces to cut
	SeamTape  q.Length // along the laps between strips
	JointTape q.Length // across the strips at end joints
	Price     int64    // by the rates asked for, rounded to the nearest unit; 0 when none were given

	SheetUsed     q.Area // roll width times Length = CoverDomain + LapInDomain + OutsideDomain
	CoverDomain   q.Area // what the sheet must cover
	LapInDomain   q.Area // covered twice by neighbouring strips
	OutsideDomain q.Area // allowances, cut-outs, oblique ends, rips
	SurfaceNet    q.Area // the outline less the holes

	MinStrips int // no arrangement has fewer strips; see Bounds
}

// Strip is one band and what is hung in it. Positions are in the surface's own coordinates, to the nearest millimetre.
type Strip struct {
	No          int      // from 1, in working order
	At          q.MM     // lower or left edge of the band; for all but the first also the seam to set out
	Useful      q.MM     // width of the band within the extent of D, rounded up; the strip may be ripped to it
	Lap         q.MM     // over the strip before, 0 for the first
	Seam        []Span   // where the seam is taped; nothing for the first
	SeamTape    q.Length // along Seam
	Pieces      []Piece  // along the strip
	Joints      []Joint  // between Pieces; stops at openings have none
	JointTape   q.Length // all Joints
	Unsupported bool     // the seam lies off the backing: only in InfeasibleError.Backed
}

// Piece is one length of sheet, allowances and overlaps included.
type Piece struct{ From, To, Cut q.MM }

// Joint is an end joint centred at At.
type Joint struct {
	At   q.MM
	Tape q.Length
}

// Span is a stretch along the strip.
type Span struct{ From, To q.MM }

// Offcut is what ripping a strip leaves over its cut length.
type Offcut struct {
	Strip         int // its number
	Width, Length q.MM
}

// Tape is all tape, seams and end joints.
func (l Layout) Tape() q.Length { return l.SeamTape + l.JointTape }

// Waste is the share of the sheet used that does not end as net surface, 0 .. 1.
func (l Layout) Waste() q.Ratio { return 1 - q.Ratio(l.SurfaceNet/l.SheetUsed) }

// Rip is the width a strip is ripped to, 0 where the whole roll width is used.
func (l Layout) Rip(s Strip) q.MM {
	if s.Useful < l.RollWidth {
		return s.Useful
	}
	return 0
}

// Offcuts lists what rips leave where it is at least this wide, in working order.
func (l Layout) Offcuts(least q.MM) []Offcut {
	var out []Offcut
	for _, s := range l.Strips {
		if w := l.RollWidth - s.Useful; w > 0 && w >= least {
			for _, p := range s.Pieces {
				out = append(out, Offcut{s.No, w, p.Cut})
			}
		}
	}
	return out
}

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
