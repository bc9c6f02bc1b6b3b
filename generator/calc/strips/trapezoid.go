package strips

import (
	"cmp"
	"math/bits"
	"slices"
)

// trapezoid is the part of the domain between two edges over (u0, u1). low0 and low1 are the lower edge at both ends, rounded
// down; high0 and high1 the upper one, rounded up; so comparing them with a whole millimetre is exact.
type trapezoid struct {
	u0, u1                   fine
	low, high                int // indices of the edges
	low0, low1, high0, high1 fine
}

// cut makes the trapezoids: between neighbouring events nothing starts, ends or crosses, so the order of the edges on the
// middle line tells the inside. The same pair of edges in the next slab only makes its trapezoid longer.
func (d *domain) cut(events []fine, rings int) {
	slices.Sort(events)
	events = slices.Compact(events)
	winding := make([]int, rings)
	var over []crossed
	open := make(map[[2]int]int, 8)
	for i := 0; i+1 < len(events); i++ {
		a, b := events[i], events[i+1]
		over = d.order(over[:0], a, b)
		clear(winding)
		start, holes := -1, 0
		for _, c := range over {
			e := d.edges[c.edge]
			was := winding[e.ring] > 0
			winding[e.ring] += e.rising
			if is := winding[e.ring] > 0; e.ring > 0 && is != was {
				if is {
					holes++
				} else {
					holes--
				}
			}
			inside := winding[0] > 0 && holes == 0
			switch {
			case inside && start < 0:
				start = c.edge
			case !inside && start >= 0:
				d.extend(open, a, b, start, c.edge)
				start = -1
			}
		}
	}
	for i := range d.traps {
		t := &d.traps[i]
		low, high := d.edges[t.low], d.edges[t.high]
		t.low0, t.low1 = low.at(t.u0, floorDown), low.at(t.u1, floorDown)
		t.high0, t.high1 = high.at(t.u0, ceilUp), high.at(t.u1, ceilUp)
	}
	slices.SortFunc(d.traps, func(a, b trapezoid) int {
		return cmp.Or(cmp.Compare(a.u0, b.u0), cmp.Compare(a.low0, b.low0), cmp.Compare(a.low1, b.low1))
	})
}

// extend adds the slab (a, b) between two edges. Edges that coincide enclose nothing.
func (d *domain) extend(open map[[2]int]int, a, b fine, low, high int) {
	l, h := d.edges[low], d.edges[high]
	if max(h.at(a, floorDown)-l.at(a, floorDown), h.at(b, floorDown)-l.at(b, floorDown)) <= d.slack {
		return
	}
	key := [2]int{low, high}
	if at, ok := open[key]; ok && d.traps[at].u1 == a {
		d.traps[at].u1 = b
		return
	}
	open[key] = len(d.traps)
	d.traps = append(d.traps, trapezoid{u0: a, u1: b, low: low, high: high})
}

// crossed is an edge met by the middle line of a slab.
type crossed struct {
	edge int
	sum  fine // v at both sides of the slab together, twice the height on the middle line
}

// order lists the edges over a slab from below.
func (d *domain) order(over []crossed, a, b fine) []crossed {
	for i, e := range d.edges {
		if e.u0 <= a && e.u1 >= b {
			over = append(over, crossed{i, e.at(a, floorDown) + e.at(b, floorDown)})
		}
	}
	slices.SortFunc(over, func(x, y crossed) int { return cmp.Or(cmp.Compare(x.sum, y.sum), cmp.Compare(x.edge, y.edge)) })
	return over
}

// Ways of rounding a fine length.
const (
	floorDown = iota
	ceilUp
	toNearest
)

// at is the edge's v over u, which lies between its ends.
func (e edge) at(u fine, rounding int) fine {
	if e.v0 == e.v1 {
		return e.v0
	}
	return e.v0 + mulDiv(u-e.u0, e.v1-e.v0, e.u1-e.u0, rounding)
}

// where is the u at which the edge reaches v. Edges along u never do.
func (e edge) where(v fine) fine {
	return e.u0 + mulDiv(e.u1-e.u0, v-e.v0, e.v1-e.v0, toNearest)
}

// mulDiv is a*b/c, rounded; c is not 0 and the result fits.
func mulDiv(a, b, c fine, rounding int) fine {
	negative := (a < 0) != (b < 0) != (c < 0)
	ua, ub, uc := uint64(abs(a)), uint64(abs(b)), uint64(abs(c))
	var quo, rem uint64
	if hi, lo := bits.Mul64(ua, ub); hi == 0 {
		quo, rem = lo/uc, lo%uc
	} else {
		quo, rem = bits.Div64(hi, lo, uc)
	}
	up := rem > 0 && (rounding == ceilUp) != negative && rounding != toNearest ||
		rounding == toNearest && rem >= uc-rem
	if up {
		quo++
	}
	if negative {
		return -fine(quo)
	}
	return fine(quo)
}

// floorDiv is a/b rounded down, b > 0.
func floorDiv(a, b fine) fine {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}
