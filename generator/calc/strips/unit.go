package strips

import (
	"math/big"

	q "lapwork/generator/quantity"
)

// Scales of the fixed-point lengths: the common denominator of all corners and crossings where it is small enough, else
// topScale, whose error of 4e-9 mm is then allowed for when lengths are rounded up. Slopes take at least slopeScale,
// for the few lengths across the strips whose denominators are not collected.
const (
	topScale   = 1 << 28
	slopeScale = 1 << 16
	inexact    = 16 // fine units of topScale that count as nothing
)

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

// floorMM and ceilMM leave the unit.
func (d *domain) floorMM(x fine) q.MM { return q.MM(floorDiv(x, d.unit)) }
func (d *domain) ceilMM(x fine) q.MM  { return q.MM(-floorDiv(-x, d.unit)) }
