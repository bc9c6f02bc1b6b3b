package rolls

import "math"

// colKind says what a column of the linear program stands for.
type colKind uint8

const (
	patternCol    colKind = iota
	splitCol              // one strip joined of two pieces
	surplusCol            // a piece cut too often
	artificialCol         // a piece not cut, at a price above every roll
	slackCol              // a roll of limited supply not used
)

// column is one variable: cost, and where it stands in the rows. Columns are never changed once made.
type column struct {
	rows []int
	vals []float64
	cost float64
	kind colKind
	ref  int // index of the split, item or type
	pat  pattern
}

// simplex is a dense revised simplex: minimise cost, rows = rhs, variables >= 0. The inverse of the basis is explicit.
// Products are converted to float64 before they are added, so that no machine fuses the two and rounds differently.
type simplex struct {
	m     int
	cols  []*column
	off   []bool // barred: may not enter; costs much while still in the basis
	place []int  // row of a basic column, or -1
	inv   []float64
	basis []int
	x     []float64 // values of the basis
	y     []float64 // dual prices
	rhs   []float64
	alpha []float64
	since int // pivots since the inverse was computed
	w     *meter
}

const (
	offCost    = 8.0   // of a piece not cut, dearer than any roll: costs are scaled to <= 1
	costTol    = 1e-9  // a reduced cost above -costTol is none
	pivotTol   = 1e-8  // a smaller pivot is refused
	feasTol    = 1e-9  // a value above -feasTol is no violation
	maxSimplex = 20000 // pivots of one call; more means it cycles
)

// cost of a barred column is that of leaving all its pieces uncut, so that it never pays to keep it.
func (l *simplex) cost(j int) float64 {
	if !l.off[j] {
		return l.cols[j].cost
	}
	pieces := 0.0
	for _, v := range l.cols[j].vals {
		pieces += max(v, 0)
	}
	return offCost * pieces
}

func (l *simplex) row(r int) []float64 { return l.inv[r*l.m : (r+1)*l.m] }

// add appends a column outside the basis.
func (l *simplex) add(c *column) int {
	l.cols = append(l.cols, c)
	l.off = append(l.off, false)
	l.place = append(l.place, -1)
	return len(l.cols) - 1
}

// reduced is the reduced cost of a column.
func (l *simplex) reduced(j int) float64 {
	c := l.cols[j]
	v := l.cost(j)
	for k, r := range c.rows {
		v -= float64(l.y[r] * c.vals[k])
	}
	return v
}

// entering gives the column of the most negative reduced cost, or -1.
func (l *simplex) entering() (int, float64) {
	best, at := -costTol, -1
	for j := range l.cols {
		if l.place[j] >= 0 || l.off[j] {
			continue
		}
		if v := l.reduced(j); v < best {
			best, at = v, j
		}
	}
	l.w.spend(4 * len(l.cols))
	return at, best
}

// direction sets alpha to the column in terms of the basis.
func (l *simplex) direction(j int) {
	c := l.cols[j]
	for i := range l.alpha {
		row := l.row(i)
		v := 0.0
		for k, r := range c.rows {
			v += float64(row[r] * c.vals[k])
		}
		l.alpha[i] = v
	}
	l.w.spend(l.m * len(c.rows))
}

// leaving gives the row that blocks the entering column first; among near ties the largest pivot.
func (l *simplex) leaving() int {
	step := math.Inf(1)
	for i, a := range l.alpha {
		if a > pivotTol {
			step = min(step, (max(l.x[i], 0)+1e-9)/a)
		}
	}
	at, largest := -1, 0.0
	for i, a := range l.alpha {
		if a > pivotTol && max(l.x[i], 0)/a <= step && a > largest {
			at, largest = i, a
		}
	}
	return at
}

// pivot brings column j into row r; alpha is its direction, rc its reduced cost.
func (l *simplex) pivot(r, j int, rc float64) {
	pr := l.row(r)
	inverse := 1 / l.alpha[r]
	for k := range pr {
		pr[k] *= inverse
	}
	step := l.x[r] * inverse
	work := 2 * l.m
	for i, a := range l.alpha {
		if i == r || (a < 1e-13 && a > -1e-13) {
			continue
		}
		row := l.row(i)
		for k, v := range pr {
			row[k] -= float64(a * v)
		}
		l.x[i] -= float64(a * step)
		work += l.m
	}
	l.x[r] = step
	for k, v := range pr {
		l.y[k] += float64(rc * v)
	}
	l.place[l.basis[r]] = -1
	l.basis[r], l.place[j] = j, r
	l.since++
	l.w.spend(work)
}

// primal improves a feasible basis to the optimum; false if it ran out of work or cycles.
func (l *simplex) primal() bool {
	for range maxSimplex {
		j, rc := l.entering()
		if j < 0 {
			return true
		}
		l.direction(j)
		r := l.leaving()
		if r < 0 {
			return false
		}
		l.pivot(r, j, rc)
		if l.refresh(); l.w.out() {
			return false
		}
	}
	return false
}

// dual makes the basis feasible again after the right-hand side changed; false if it ran out of work or cycles.
func (l *simplex) dual() bool {
	for range maxSimplex {
		r := l.violated()
		if r < 0 {
			return true
		}
		j, rc := l.dualEntering(r)
		if j < 0 {
			return false
		}
		l.direction(j)
		if l.alpha[r] > -pivotTol {
			return false
		}
		l.pivot(r, j, rc)
		if l.refresh(); l.w.out() {
			return false
		}
	}
	return false
}

func (l *simplex) violated() int {
	worst, at := -feasTol, -1
	for i, v := range l.x {
		if v < worst {
			worst, at = v, i
		}
	}
	return at
}

// dualEntering is the dual ratio test on row r: the column whose reduced cost is used up first.
func (l *simplex) dualEntering(r int) (int, float64) {
	row := l.row(r)
	at, atRC, best, size := -1, 0.0, math.Inf(1), 0.0
	for j, c := range l.cols {
		if l.place[j] >= 0 || l.off[j] {
			continue
		}
		a := 0.0
		for k, i := range c.rows {
			a -= float64(row[i] * c.vals[k])
		}
		if a < 1e-7 {
			continue
		}
		rc := l.reduced(j)
		ratio := max(rc, 0) / a
		if ratio < best-1e-10 || (ratio < best+1e-10 && a > size) {
			at, atRC, best, size = j, rc, min(best, ratio), a
		}
	}
	l.w.spend(8 * len(l.cols))
	return at, atRC
}

// refresh recomputes the inverse once it has been updated often.
func (l *simplex) refresh() {
	if l.since < 400+2*l.m {
		return
	}
	l.since = 0
	if l.invert() {
		l.values()
		l.prices()
	}
}

// values recomputes x from the inverse.
func (l *simplex) values() {
	for i := range l.x {
		v := 0.0
		for k, a := range l.row(i) {
			v += float64(a * l.rhs[k])
		}
		l.x[i] = v
	}
	l.w.spend(l.m * l.m)
}

// prices recomputes y from the inverse.
func (l *simplex) prices() {
	clear(l.y)
	for i, j := range l.basis {
		c := l.cost(j)
		if c == 0 {
			continue
		}
		for k, a := range l.row(i) {
			l.y[k] += float64(c * a)
		}
	}
	l.w.spend(l.m * l.m)
}
