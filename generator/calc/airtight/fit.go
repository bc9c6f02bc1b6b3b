package airtight

import "math"

// FitMethod says how the line is put through the logarithms of pressure and flow.
type FitMethod uint8

// The methods.
const (
	Ordinary FitMethod = iota // least squares, every reading alike: ISO 9972:2015 annex C
	Weighted                  // least squares with the weight of each reading
	Iterated                  // weights 1/(u_lnq² + n² u_dp²/dp²), repeated until n stands still
	Organic                   // line of organic correlation, n = s_y/s_x: proposed for the next edition (2023, read in an abstract)
)

// String names the method.
func (m FitMethod) String() string {
	return [...]string{"ordinary least squares", "weighted least squares", "iterated weights", "organic correlation"}[m]
}

// point is a reading in logarithms: x = ln dp, y = ln q_env, w its weight.
type point struct{ x, y, w float64 }

// line is y = a + n x with what its confidence needs. Sums are weighted; with weights of one they are annex C's.
type line struct {
	n, a     float64
	r2       float64
	count    int
	weight   float64 // Σw
	xMean    float64
	xx       float64 // Σw (x − x̄)²
	variance float64 // Σw e²/(N − 2), 0 for N = 2
}

// leastSquares puts a line through the points; ok is false where they have no spread in pressure or flow.
func leastSquares(points []point) (l line, ok bool) {
	var yMean float64
	l.count = len(points)
	for _, p := range points {
		l.weight += p.w
		l.xMean += p.w * p.x
		yMean += p.w * p.y
	}
	if !(l.weight > 0) || l.count < 2 {
		return line{}, false
	}
	l.xMean /= l.weight
	yMean /= l.weight
	var xy, yy, rest float64
	for _, p := range points {
		dx, dy := p.x-l.xMean, p.y-yMean
		l.xx += p.w * dx * dx
		xy += p.w * dx * dy
		yy += p.w * dy * dy
	}
	// Below this the pressures are one pressure written with rounding errors.
	if !(l.xx > 1e-18*l.weight) || !(yy > 0) || !finite(yy) {
		return line{}, false
	}
	l.n = xy / l.xx
	l.a = yMean - l.n*l.xMean
	l.r2 = xy * xy / (l.xx * yy)
	for _, p := range points {
		e := p.y - yMean - l.n*(p.x-l.xMean)
		rest += p.w * e * e
	}
	if l.count > 2 {
		l.variance = rest / float64(l.count-2)
	}
	return l, true
}

// organic turns an ordinary line into the line of organic correlation through the same centre. The standard error of its
// slope is that of the ordinary one (s_y/s_x ((1−r²)/(N−2))^0.5, from memory), so the variance stays.
func (l line) organic() line {
	yMean := l.a + l.n*l.xMean
	l.n /= math.Sqrt(l.r2)
	l.a = yMean - l.n*l.xMean
	return l
}

// iterated repeats the weighted fit with weights that depend on the exponent, starting from the ordinary line.
func iterated(points []point, lnFlow, pressure float64) (line, bool) {
	l, ok := leastSquares(points)
	work := make([]point, len(points))
	for range 200 {
		if !ok {
			return line{}, false
		}
		for i, p := range points {
			relative := l.n * pressure / math.Exp(p.x)
			work[i] = point{p.x, p.y, 1 / (lnFlow*lnFlow + relative*relative)}
		}
		before := l.n
		if l, ok = leastSquares(work); ok && math.Abs(l.n-before) < 1e-12 {
			return l, true
		}
	}
	return line{}, false
}

// slopeError is the standard error of n.
func (l line) slopeError() float64 { return math.Sqrt(l.variance / l.xx) }

// errorAt is the standard error of the line, not of one reading, at x.
func (l line) errorAt(x float64) float64 {
	return math.Sqrt(l.variance * (1/l.weight + (x-l.xMean)*(x-l.xMean)/l.xx))
}
