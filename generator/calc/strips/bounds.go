package strips

import (
	q "lapwork/generator/quantity"
)

// minStrips is ceil((H-L)/(W-L)), at least 1: a strip adds W-L at most, H being the extent of D across.
func (s *search) minStrips() int {
	height := s.d.vmax - s.d.vmin - s.d.slack - s.mm(s.p.Lap)
	return max(1, int(-floorDiv(-height, s.mm(s.p.RollWidth-s.p.Lap))))
}

// Bounds are limits no arrangement goes below. They are for judging and testing; the optimum is found without them and often
// lies well above the length bound.
type Bounds struct {
	Strips int
	Length q.Length // total cut length
}

// BoundsOf gives the bounds of a problem. Every row belongs to one strip, and all strips but the last own at most W-L rows,
// so n >= 2 strips cut at least (area(D) - L*width(D))/(W-L) + 2E*n; one strip area(D)/W + 2E; and the longest row
// has to be cut in one strip beside the allowances of all.
func BoundsOf(p Problem) (Bounds, error) {
	s, err := newSearch(p, LeastLength())
	if err != nil {
		return Bounds{}, err
	}
	b := Bounds{Strips: s.minStrips()}
	unit := float64(s.d.unit)
	area, width := s.d.area(s.d.vmin, s.d.vmax), float64(s.d.umax-s.d.umin)/unit
	ends := 2 * float64(p.EndAllowance)
	several := (area-float64(p.Lap)*width)/float64(p.RollWidth-p.Lap) + ends*float64(max(b.Strips, 2))
	if b.Strips == 1 {
		several = min(several, area/float64(p.RollWidth)+ends)
	}
	row, err := longestRow(p)
	if err != nil {
		return Bounds{}, err
	}
	b.Length = q.Length(max(several, row+ends*float64(b.Strips)) / 1000)
	return b, nil
}

// longestRow is the most of D on one line along the strips, in mm: with the axes changed, the tallest stack of trapezoids.
// It is linear between corners, so the ends of the trapezoids are enough.
func longestRow(p Problem) (float64, error) {
	p.Direction = Upright - p.Direction
	d, err := cover(p)
	if err != nil {
		return 0, err
	}
	var most float64
	for _, at := range d.traps {
		for _, u := range []fine{at.u0, at.u1} {
			var left, right float64 // just before and just after u
			for _, t := range d.traps {
				if t.u0 > u || t.u1 < u {
					continue
				}
				height := d.edges[t.high].exact(u) - d.edges[t.low].exact(u)
				if t.u0 < u {
					left += height
				}
				if t.u1 > u {
					right += height
				}
			}
			most = max(most, left, right)
		}
	}
	return most / float64(d.unit), nil
}
