package strips

import "slices"

// span is an open interval of fine lengths.
type span struct{ from, to fine }

// along gives the projection on u of the domain inside the open band (v0, v1), as separate spans from left to right, in buf.
func (d *domain) along(buf []span, v0, v1 fine) []span {
	buf = buf[:0]
	for i := range d.traps {
		t := &d.traps[i]
		s := span{t.u0, t.u1}
		if min(t.low0, t.low1) >= v1 || max(t.high0, t.high1) <= v0 {
			continue
		}
		if t.low0 >= v1 {
			s.from = max(s.from, d.edges[t.low].where(v1))
		} else if t.low1 >= v1 {
			s.to = min(s.to, d.edges[t.low].where(v1))
		}
		if t.high0 <= v0 {
			s.from = max(s.from, d.edges[t.high].where(v0))
		} else if t.high1 <= v0 {
			s.to = min(s.to, d.edges[t.high].where(v0))
		}
		if s.from < s.to {
			buf = append(buf, s)
		}
	}
	return merged(buf)
}

// across gives the projection on v of the domain inside the zone (u0, u1).
func (d *domain) across(u0, u1 fine) []span {
	var buf []span
	for _, t := range d.traps {
		a, b := max(t.u0, u0), min(t.u1, u1)
		if a >= b {
			continue
		}
		low, high := d.edges[t.low], d.edges[t.high]
		s := span{
			min(low.at(a, toNearest), low.at(b, toNearest)),
			max(high.at(a, toNearest), high.at(b, toNearest)),
		}
		if s.from < s.to {
			buf = append(buf, s)
		}
	}
	return merged(buf)
}

// merged sorts spans and joins those that touch, in place.
func merged(s []span) []span {
	for i := 1; i < len(s); i++ { // nearly sorted, mostly short
		for j := i; j > 0 && s[j].from < s[j-1].from; j-- {
			s[j], s[j-1] = s[j-1], s[j]
		}
	}
	out := s[:0]
	for _, x := range s {
		if n := len(out); n > 0 && x.from <= out[n-1].to {
			out[n-1].to = max(out[n-1].to, x.to)
			continue
		}
		out = append(out, x)
	}
	return out
}

// total is the length of separate spans.
func total(s []span) fine {
	var sum fine
	for _, x := range s {
		sum += x.to - x.from
	}
	return sum
}

// area is the domain's area inside the band (v0, v1), in mm².
func (d *domain) area(v0, v1 fine) float64 {
	var sum float64
	for _, t := range d.traps {
		sum += d.trapArea(t, v0, v1)
	}
	unit := float64(d.unit)
	return sum / unit / unit
}

// trapArea is the area of one trapezoid inside the band, in square units. Height as a function of u is linear between
// the places where an edge crosses the band's lines.
func (d *domain) trapArea(t trapezoid, v0, v1 fine) float64 {
	if min(t.low0, t.low1) >= v1 || max(t.high0, t.high1) <= v0 {
		return 0
	}
	low, high := d.edges[t.low], d.edges[t.high]
	var cuts [6]fine
	at := append(cuts[:0], t.u0, t.u1)
	for _, e := range []edge{low, high} {
		for _, v := range []fine{v0, v1} {
			if a, b := e.at(t.u0, toNearest), e.at(t.u1, toNearest); (a < v) != (b < v) {
				at = append(at, min(max(e.where(v), t.u0), t.u1))
			}
		}
	}
	slices.Sort(at)
	height := func(u fine) float64 {
		l, h := low.exact(u), high.exact(u)
		return max(0, min(h, float64(v1))-max(l, float64(v0)))
	}
	var sum float64
	for i := 1; i < len(at); i++ {
		sum += float64(at[i]-at[i-1]) * (height(at[i-1]) + height(at[i])) / 2
	}
	return sum
}

// exact is the edge's v over u without rounding to the unit.
func (e edge) exact(u fine) float64 {
	if e.v0 == e.v1 {
		return float64(e.v0)
	}
	return float64(e.v0) + float64(u-e.u0)*float64(e.v1-e.v0)/float64(e.u1-e.u0)
}
