package rolls

import (
	"math"
	"slices"
)

// master is the linear relaxation over patterns for a residual demand: rows are open items and limited roll types.
// Costs are scaled by the dearest roll; unscaled ones made an earlier prototype stall.
type master struct {
	s      *solver
	lp     simplex
	items  []int // item of each row, or ^type for a supply row
	rowOf  []int // row of each item, or -1
	supRow []int // row of each type, or -1
	d      []int // residual demand; negative for split pieces cut ahead of their split
	supply []int
	cost   int64     // of what is fixed already
	done   []pattern // fixed already
	splits []int     // made already
	split  bool      // further strips may be split

	weight []int64 // integer prices of the last round
	most   []int64 // upper bounds of the weight that a roll of each type holds
	exact  bool    // most is valid
}

// rhsShift lowers the demand of row r by a tiny amount that differs from row to row: equal ratios stall the simplex.
func rhsShift(r int) float64 {
	f := float64(r+1) * 0.6180339887498949
	return 1e-7 + float64(9e-7*(f-math.Floor(f)))
}

// intTol is how far rhsShift can move a value that is whole without it.
const intTol = 1e-3

func newMaster(s *solver, d, supply []int, canSplit bool) *master {
	ms := &master{s: s, split: canSplit, d: slices.Clone(d), supply: slices.Clone(supply), rowOf: make([]int, len(d)), supRow: make([]int, len(supply)),
		splits: make([]int, len(s.m.splits))}
	avail := s.m.available(d, canSplit)
	for i := range d {
		ms.rowOf[i] = -1
		if avail[i] > 0 {
			ms.rowOf[i] = len(ms.items)
			ms.items = append(ms.items, i)
		}
	}
	for t := range supply {
		ms.supRow[t] = -1
		if s.m.limited(t) {
			ms.supRow[t] = len(ms.items)
			ms.items = append(ms.items, ^t)
		}
	}
	ms.start(avail)
	return ms
}

// limited reports that a type may run out.
func (m *model) limited(t int) bool {
	pieces := 0
	for _, it := range m.items {
		pieces += 2 * it.count
	}
	return m.types[t].supply < pieces
}

// start makes the first basis: every row by itself.
func (ms *master) start(avail []int) {
	m := len(ms.items)
	ms.lp = simplex{m: m, inv: make([]float64, m*m), basis: make([]int, m), x: make([]float64, m), y: make([]float64, m),
		rhs: make([]float64, m), alpha: make([]float64, m), w: ms.s.w}
	l := &ms.lp
	ms.setRHS()
	for r, i := range ms.items {
		first := -1
		if i < 0 {
			first = l.add(&column{rows: []int{r}, vals: []float64{1}, kind: slackCol, ref: ^i})
		} else {
			surplus := l.add(&column{rows: []int{r}, vals: []float64{-1}, kind: surplusCol, ref: i})
			first = l.add(&column{rows: []int{r}, vals: []float64{1}, cost: offCost, kind: artificialCol, ref: i})
			if ms.d[i] <= 0 {
				first = surplus
			} else if p, ok := ms.uniform(i, avail[i]); ok {
				first = ms.addPattern(p)
			}
		}
		l.basis[r], l.place[first] = first, r
		l.inv[r*m+r] = 1 / l.cols[first].vals[0]
	}
	for k := range ms.s.m.splits {
		if ms.split {
			ms.addSplit(k)
		}
	}
	l.values()
	l.prices()
}

// uniform is the pattern of one item that costs least for each piece, on a roll that does not run out.
func (ms *master) uniform(i, avail int) (pattern, bool) {
	best, at, n := math.Inf(1), -1, 0
	for t, typ := range ms.s.m.types {
		k := min(avail, typ.size/ms.s.m.items[i].size)
		if ms.supRow[t] >= 0 || k == 0 {
			continue
		}
		if c := float64(typ.cost) / float64(k); c < best {
			best, at, n = c, t, k
		}
	}
	return pattern{t: at, cuts: []count{{i, n}}}, at >= 0
}

func (ms *master) setRHS() {
	for r, i := range ms.items {
		if i < 0 {
			ms.lp.rhs[r] = float64(ms.supply[^i]) + rhsShift(r)
		} else {
			ms.lp.rhs[r] = float64(ms.d[i]) - rhsShift(r)
		}
	}
}

func (ms *master) addPattern(p pattern) int {
	c := &column{kind: patternCol, cost: ms.s.scaled(ms.s.m.types[p.t].cost), pat: p}
	for _, k := range p.cuts {
		c.rows = append(c.rows, ms.rowOf[k.item])
		c.vals = append(c.vals, float64(k.n))
	}
	if r := ms.supRow[p.t]; r >= 0 {
		c.rows = append(c.rows, r)
		c.vals = append(c.vals, 1)
	}
	return ms.lp.add(c)
}

// addSplit adds the column that makes one strip of two pieces, if its rows are open.
func (ms *master) addSplit(k int) {
	s := ms.s.m.splits[k]
	w, a, b := ms.rowOf[s.whole], ms.rowOf[s.a], ms.rowOf[s.b]
	if w < 0 || a < 0 || b < 0 {
		return
	}
	c := &column{kind: splitCol, cost: ms.s.scaled(ms.s.m.jointCost), ref: k, rows: []int{w, a, b}, vals: []float64{1, -1, -1}}
	if a == b {
		c.rows, c.vals = c.rows[:2], []float64{1, -2}
	}
	ms.lp.add(c)
}

func (s *solver) scaled(cost int64) float64 { return float64(cost) / float64(s.m.maxCost) }

// solve runs column generation. It returns a lower bound of fixed cost plus residual, and stops early once that
// exceeds target. ok is false if the work ran out or the arithmetic failed; the bound is valid all the same.
func (ms *master) solve(target int64) (bound int64, ok bool) {
	bound = ms.cost
	for range maxSimplex {
		if !ms.lp.primal() {
			return bound, false
		}
		found, exact := ms.priceOut()
		if exact {
			bound = max(bound, ms.safeBound())
		}
		if bound > target || (len(found) == 0 && exact) || bound >= ms.ceiling() {
			return bound, true
		}
		if len(found) == 0 || ms.s.w.out() {
			return bound, false
		}
		for _, p := range found {
			ms.addPattern(p)
		}
	}
	return bound, false
}

// priceOut sets the integer weights and looks for patterns worth adding.
func (ms *master) priceOut() ([]pattern, bool) {
	m := ms.s.m
	scale := ms.s.scale()
	top := float64(scale) * float64(m.maxCost)
	ms.weight = make([]int64, len(m.items))
	for r, i := range ms.items {
		if i >= 0 {
			ms.weight[i] = int64(max(0, ms.lp.y[r]) * top)
		}
	}
	threshold := make([]int64, len(m.types))
	for t, typ := range m.types {
		threshold[t] = scale * typ.cost
		if r := ms.supRow[t]; r >= 0 {
			threshold[t] += int64(max(0, -ms.lp.y[r]) * top)
		}
	}
	ms.s.w.spend(2000) // what a round costs apart from its arithmetic
	res := ms.s.p.price(ms.weight, m.available(ms.d, ms.split), ms.supply, threshold)
	ms.most, ms.exact = res.most, res.exact
	found := slices.DeleteFunc(res.found, func(p pattern) bool {
		v := int64(0)
		for _, c := range p.cuts {
			v += int64(c.n) * ms.weight[c.item]
		}
		return float64(v-threshold[p.t]) < 1e-8*top
	})
	return found, res.exact
}

// scale is the weight of one unit of cost in dual certificates.
func (s *solver) scale() int64 { return max(1, dearest/s.m.maxCost) }

// safeBound is the bound of the integer weights, valid whatever the rounding of the simplex.
func (ms *master) safeBound() int64 {
	b, ok := ms.s.m.weightBound(ms.weight, ms.most, ms.d, ms.supply, ms.split)
	if !ok {
		return math.MaxInt64
	}
	return ms.s.ladder.atLeast(ms.cost + b)
}

// ceiling is what the bound can reach at most: the value of the restricted program, rounded up.
func (ms *master) ceiling() int64 {
	v := 0.0
	for r, j := range ms.lp.basis {
		v += float64(ms.lp.cost(j) * ms.lp.x[r])
	}
	v = (v - 1e-5) * float64(ms.s.m.maxCost)
	if v > math.MaxInt64/4 {
		return math.MaxInt64
	}
	return ms.s.ladder.atLeast(ms.cost + int64(math.Ceil(max(0, v))))
}
