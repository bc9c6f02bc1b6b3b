package airtight

import (
	"fmt"
	"math"
)

// StudentT is the two-sided quantile of Student's distribution: the t with P(|T| ≤ t) = confidence for this many degrees
// of freedom. 0 < confidence < 1, degrees ≥ 1, else ErrInput.
func StudentT(confidence float64, degrees int) (float64, error) {
	if !(confidence > 0 && confidence < 1) || degrees < 1 {
		return 0, fmt.Errorf("%w: no quantile for confidence %v and %d degrees of freedom", ErrInput, confidence, degrees)
	}
	high := 1.0
	for outside(high, degrees) > 1-confidence && high < 1e150 {
		high *= 2
	}
	low := high / 2
	if high == 1 {
		low = 0
	}
	// The interval halves until its ends are neighbours: at most some 60 steps.
	for {
		mid := (low + high) / 2
		if mid <= low || mid >= high {
			return mid, nil
		}
		if outside(mid, degrees) > 1-confidence {
			low = mid
		} else {
			high = mid
		}
	}
}

// outside is P(|T| > t) = I_x(v/2, 1/2) with x = v/(v+t²) (Abramowitz and Stegun 26.7.1 and 26.5.27, from memory).
func outside(t float64, degrees int) float64 {
	v := float64(degrees)
	return incompleteBeta(v/(v+t*t), t*t/(v+t*t), v/2, 0.5)
}

// incompleteBeta is the regularised incomplete beta function I_x(a, b); y = 1−x is handed in so that no digits are lost.
func incompleteBeta(x, y, a, b float64) float64 {
	if x <= 0 {
		return 0
	}
	if y <= 0 {
		return 1
	}
	if x > (a+1)/(a+b+2) {
		return 1 - incompleteBeta(y, x, b, a)
	}
	la, _ := math.Lgamma(a)
	lb, _ := math.Lgamma(b)
	lab, _ := math.Lgamma(a + b)
	return math.Exp(lab-la-lb+a*math.Log(x)+b*math.Log(y)) / (a * betaFraction(x, a, b))
}

// betaFraction is the continued fraction of Abramowitz and Stegun 26.5.8, evaluated forwards after Lentz. It converges
// in the order of the square root of max(a, b) steps for x < (a+1)/(a+b+2).
func betaFraction(x, a, b float64) float64 {
	const tiny, eps = 1e-300, 1e-16
	f, c, d := 1.0, 1.0, 0.0
	for i := 1; i <= 20_000; i++ {
		m := float64(i / 2)
		var coefficient float64
		if i%2 == 0 {
			coefficient = m * (b - m) * x / ((a + 2*m - 1) * (a + 2*m))
		} else {
			coefficient = -(a + m) * (a + b + m) * x / ((a + 2*m) * (a + 2*m + 1))
		}
		if d = 1 + coefficient*d; math.Abs(d) < tiny {
			d = tiny
		}
		if c = 1 + coefficient/c; math.Abs(c) < tiny {
			c = tiny
		}
		d = 1 / d
		f *= c * d
		if math.Abs(c*d-1) < eps {
			break
		}
	}
	return f
}
