package rolls

import (
	"math"
	"slices"
)

// invert computes the inverse of the basis anew by Gauss-Jordan elimination with row exchange. It leaves the old
// inverse if the basis is singular to working precision.
func (l *simplex) invert() bool {
	m := l.m
	a := make([]float64, m*m)
	for i, j := range l.basis {
		c := l.cols[j]
		for k, r := range c.rows {
			a[r*m+i] = c.vals[k]
		}
	}
	inv := make([]float64, m*m)
	for i := range m {
		inv[i*m+i] = 1
	}
	for i := range m {
		if !eliminate(a, inv, m, i) {
			return false
		}
		l.w.spend(m * m)
	}
	l.inv = inv
	return true
}

// eliminate turns column i of a into a unit vector.
func eliminate(a, inv []float64, m, i int) bool {
	p := i
	for r := i + 1; r < m; r++ {
		if math.Abs(a[r*m+i]) > math.Abs(a[p*m+i]) {
			p = r
		}
	}
	if math.Abs(a[p*m+i]) < 1e-11 {
		return false
	}
	if p != i {
		swapRows(a, m, p, i)
		swapRows(inv, m, p, i)
	}
	scale := 1 / a[i*m+i]
	for k := range m {
		a[i*m+k] *= scale
		inv[i*m+k] *= scale
	}
	for r := range m {
		if f := a[r*m+i]; r != i && f != 0 {
			subtractRow(a[r*m:(r+1)*m], a[i*m:(i+1)*m], f)
			subtractRow(inv[r*m:(r+1)*m], inv[i*m:(i+1)*m], f)
		}
	}
	return true
}

func swapRows(a []float64, m, p, i int) {
	for k := range m {
		a[p*m+k], a[i*m+k] = a[i*m+k], a[p*m+k]
	}
}

func subtractRow(row, pivot []float64, f float64) {
	for k, v := range pivot {
		row[k] -= float64(f * v)
	}
}

// clone copies everything that a further solve changes. Columns are shared: they never change.
func (l *simplex) clone() simplex {
	c := *l
	c.cols = slices.Clone(l.cols)
	c.off = slices.Clone(l.off)
	c.place = slices.Clone(l.place)
	c.inv = slices.Clone(l.inv)
	c.basis = slices.Clone(l.basis)
	c.x = slices.Clone(l.x)
	c.y = slices.Clone(l.y)
	c.rhs = slices.Clone(l.rhs)
	c.alpha = slices.Clone(l.alpha)
	return c
}
