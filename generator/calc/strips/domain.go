package strips

import (
	"math/big"

	q "lapwork/generator/quantity"
)

// fine is a length in 1/unit of a millimetre, unit being the domain's own.
type fine = int64

// Scales of the fixed-point lengths: the common denominator of all corners and crossings where it is small enough, else
// topScale, whose error of 4e-9 mm is then allowed for when lengths are rounded up. Slopes take at least slopeScale,
// for the few lengths across the strips whose denominators are not collected.
const (
	topScale   = 1 << 28
	slopeScale = 1 << 16
	inexact    = 16 // fine units of topScale that count as nothing
)

// edge is a straight piece of a ring, from left to right in u, with the sense the ring runs in.
type edge struct {
	u0, v0, u1, v1 fine
	rising         int // +1: the ring's inside lies above (v larger), -1: below
	ring           int // 0 the outline, 1.. the holes
}

// domain is a plane set cut into trapezoids, each between a lower and an upper edge.
type domain struct {
	unit  fine
	slack fine // what rounding up ignores; 0 while the scale is exact
	level bool // all edges run along u or v, on whole millimetres
	edges []edge
	traps []trapezoid

	umin, umax, vmin, vmax fine
	corners                []fine // v of every corner, for the positions to try
}

// newDomain builds the set inside the first ring and outside the others.
func newDomain(rings [][]point) (*domain, error) {
	if err := reach(rings); err != nil {
		return nil, err
	}
	cross := crossings(rings)
	d := &domain{}
	d.pickUnit(rings, cross)
	events := make([]fine, 0, 4*len(rings)+len(cross))
	for _, u := range cross {
		events = append(events, d.scale(u))
	}
	for r, ring := range rings {
		for i, p := range ring {
			n := ring[(i+1)%len(ring)]
			e := edge{d.scale(p.u), d.scale(p.v), d.scale(n.u), d.scale(n.v), 1, r}
			events = append(events, e.u0)
			d.corners = append(d.corners, e.v0)
			if e.u0 > e.u1 {
				e = edge{e.u1, e.v1, e.u0, e.v0, -1, r}
			}
			if e.u0 < e.u1 {
				d.edges = append(d.edges, e)
			}
		}
	}
	d.cut(events, len(rings))
	return d, d.frame()
}

// reach refuses corners that mitres threw far away, before they meet fixed-point numbers.
func reach(rings [][]point) error {
	limit := float64(maxPlace + 2*MaxExtent)
	for _, ring := range rings {
		for _, p := range ring {
			if u, v := near(p.u), near(p.v); max(u, -u, v, -v) > limit {
				return tooSharp()
			}
		}
	}
	return nil
}

func tooSharp() error {
	var c checker
	c.add("Turns", "turn less over the edges at sharp corners, or split the surface", "the turned edges reach too far")
	return c.err()
}

// frame measures the box round the set and refuses one that mitres made too large.
func (d *domain) frame() error {
	if len(d.traps) == 0 {
		var c checker
		c.add("Holes", "check the openings", "nothing is left to cover")
		return c.err()
	}
	d.umin, d.umax, d.vmin, d.vmax = d.traps[0].u0, d.traps[0].u1, d.traps[0].low0, d.traps[0].high0
	for _, t := range d.traps {
		d.umin, d.umax = min(d.umin, t.u0), max(d.umax, t.u1)
		d.vmin, d.vmax = min(d.vmin, t.low0, t.low1), max(d.vmax, t.high0, t.high1)
	}
	limit := fine(MaxExtent) * d.unit
	if d.umax-d.umin > limit || d.vmax-d.vmin > limit {
		return tooSharp()
	}
	return nil
}

// scale puts an exact number on the domain's unit, to the nearest.
func (d *domain) scale(r *big.Rat) fine {
	if r.IsInt() {
		return r.Num().Int64() * d.unit
	}
	num := new(big.Int).Mul(r.Num(), big.NewInt(2*d.unit))
	num.Add(num, r.Denom())
	den := new(big.Int).Lsh(r.Denom(), 1)
	return num.Div(num, den).Int64() // Euclidean, and the divisor is positive: floor
}

// pickUnit finds the common denominator of everything the search compares.
func (d *domain) pickUnit(rings [][]point, cross []*big.Rat) {
	d.level, d.unit = true, 2 // half of an odd end-joint lap
	along, across := common{2, false}, common{1, false}
	for _, u := range cross {
		along.take(u)
	}
	for _, ring := range rings {
		for i, p := range ring {
			n := ring[(i+1)%len(ring)]
			along.take(p.u)
			across.take(p.v)
			du, dv := new(big.Rat).Sub(n.u, p.u), new(big.Rat).Sub(n.v, p.v)
			if du.Sign() == 0 || dv.Sign() == 0 {
				d.level = d.level && p.u.IsInt() && p.v.IsInt()
				continue
			}
			d.level = false
			along.takeLine(du, dv, p.u, p.v)
			across.takeLine(dv, du, p.v, p.u)
		}
	}
	if d.level {
		return
	}
	all := along
	all.join(across)
	switch {
	case !all.over:
		d.unit = all.den
	case !along.over:
		d.unit = along.den
	default:
		d.unit, d.slack = topScale, inexact
		return
	}
	if d.unit < slopeScale {
		d.unit *= (slopeScale + d.unit - 1) / d.unit
	}
}

// common gathers a common denominator up to topScale.
type common struct {
	den  int64
	over bool
}

func (c *common) take(r *big.Rat) {
	if !r.IsInt() {
		c.by(r.Denom())
	}
}

func (c *common) by(den *big.Int) {
	if c.over || !den.IsInt64() || den.Int64() > topScale {
		c.over = true
		return
	}
	n := den.Int64()
	if c.den = c.den / gcd(c.den, n) * n; c.den > topScale {
		c.over = true
	}
}

func (c *common) join(o common) {
	c.over = c.over || o.over
	if !c.over {
		c.by(big.NewInt(o.den))
	}
}

// takeLine adds what u needs wherever the line through (u, v) with direction (du, dv) passes a whole v.
func (c *common) takeLine(du, dv, u, v *big.Rat) {
	slope := new(big.Rat).Quo(du, dv)
	c.take(slope)
	slope.Mul(slope, v)
	c.take(slope.Sub(u, slope))
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// crossings gives the u of every crossing of two edges that both run along u at all. (The others cross at a corner's u.)
func crossings(rings [][]point) []*big.Rat {
	var lines []segment
	for _, ring := range rings {
		for i, a := range ring {
			if s := newSegment(a, ring[(i+1)%len(ring)]); s.lowU < s.highU {
				lines = append(lines, s)
			}
		}
	}
	var out []*big.Rat
	for i, s := range lines {
		for _, t := range lines[i+1:] {
			if s.lowU < t.highU && t.lowU < s.highU && s.lowV <= t.highV && t.lowV <= s.highV {
				if u := s.cross(t); u != nil {
					out = append(out, u)
				}
			}
		}
	}
	return out
}

// segment is an edge with the box round it; the box only saves exact arithmetic.
type segment struct {
	a, b                     point
	lowU, highU, lowV, highV float64
}

func newSegment(a, b point) segment {
	au, av, bu, bv := near(a.u), near(a.v), near(b.u), near(b.v)
	return segment{a, b, min(au, bu), max(au, bu), min(av, bv), max(av, bv)}
}

func near(r *big.Rat) float64 {
	f, _ := r.Float64()
	return f
}

// cross gives the u where the segments cross inside both, else nil.
func (s segment) cross(t segment) *big.Rat {
	sub := func(x, y *big.Rat) *big.Rat { return new(big.Rat).Sub(x, y) }
	cross := func(au, av, bu, bv *big.Rat) *big.Rat {
		return sub(new(big.Rat).Mul(au, bv), new(big.Rat).Mul(av, bu))
	}
	su, sv, tu, tv := sub(s.b.u, s.a.u), sub(s.b.v, s.a.v), sub(t.b.u, t.a.u), sub(t.b.v, t.a.v)
	det := cross(su, sv, tu, tv)
	if det.Sign() == 0 {
		return nil
	}
	gu, gv := sub(t.a.u, s.a.u), sub(t.a.v, s.a.v)
	onS, onT := cross(gu, gv, tu, tv), cross(gu, gv, su, sv)
	one := big.NewRat(1, 1)
	for _, share := range []*big.Rat{onS.Quo(onS, det), onT.Quo(onT, det)} {
		if share.Sign() <= 0 || share.Cmp(one) >= 0 {
			return nil
		}
	}
	return onS.Mul(onS, su).Add(onS, s.a.u)
}

// floorMM and ceilMM leave the unit.
func (d *domain) floorMM(x fine) q.MM { return q.MM(floorDiv(x, d.unit)) }
func (d *domain) ceilMM(x fine) q.MM  { return q.MM(-floorDiv(-x, d.unit)) }
