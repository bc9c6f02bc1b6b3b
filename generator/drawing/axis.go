package drawing

import (
	"math"
	"strconv"
	"strings"
)

// ruler is an axis with its range and its place on the figure.
type ruler struct {
	Axis
	low, high float64
	p0, p1    float64 // pixels of low and high
	decimal   string
}

// newRuler finds the range of an axis from its values; what is not finite, and on a log axis what is not over 0, does
// not count.
func newRuler(a Axis, decimal string, values ...[]float64) ruler {
	r := ruler{Axis: a, low: math.Inf(1), high: math.Inf(-1), decimal: decimal}
	for _, list := range values {
		for _, v := range list {
			if r.takes(v) {
				r.low, r.high = math.Min(r.low, v), math.Max(r.high, v)
			}
		}
	}
	fixed := a.From != a.To && r.takes(a.From) && r.takes(a.To)
	switch {
	case fixed:
		r.low, r.high = math.Min(a.From, a.To), math.Max(a.From, a.To)
	case math.IsInf(r.low, 0):
		r.low, r.high = 1, 10
	case a.Log:
		r.low, r.high = r.low/1.12, r.high*1.12
	default:
		r.pad()
	}
	return r
}

func (r ruler) takes(v float64) bool {
	return !math.IsNaN(v) && math.Abs(v) < 1e15 && (!r.Log || v > 1e-12)
}

// pad widens a linear range to whole steps; a range that starts near 0 starts at 0.
func (r *ruler) pad() {
	if r.low > 0 && r.low < 0.4*r.high {
		r.low = 0
	}
	if r.high-r.low < 1e-9*math.Max(math.Abs(r.high), 1) {
		r.low, r.high = r.low-0.5, r.high+0.5
	}
	step := niceStep((r.high - r.low) / 5)
	r.low, r.high = math.Floor(r.low/step+1e-9)*step, math.Ceil(r.high/step-1e-9)*step
}

// niceStep is the least of 1, 2, 5 times a power of ten that is not under v.
func niceStep(v float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(v)))
	for _, m := range [3]float64{1, 2, 5} {
		if m*power >= v*(1-1e-9) {
			return m * power
		}
	}
	return 10 * power
}

// at is where a value stands, kept within the axis.
func (r ruler) at(v float64) float64 {
	if math.IsNaN(v) {
		v = r.low
	}
	v = math.Max(r.low, math.Min(r.high, v))
	t := (v - r.low) / (r.high - r.low)
	if r.Log {
		t = math.Log(v/r.low) / math.Log(r.high/r.low)
	}
	return r.p0 + t*(r.p1-r.p0)
}

type tick struct {
	value float64
	text  string
}

// ticks gives the steps of the axis, about as many as room lets: one per gap pixels at most.
func (r ruler) ticks(gap float64) []tick {
	if r.Log {
		return r.logTicks(gap)
	}
	most := math.Max(1, math.Abs(r.p1-r.p0)/gap)
	step := niceStep((r.high - r.low) / most)
	var out []tick
	for i := math.Ceil(r.low/step - 1e-9); i*step <= r.high+step*1e-9 && len(out) < 200; i++ {
		out = append(out, tick{i * step, r.text(i*step, step)})
	}
	return out
}

// logTicks takes multiples of powers of ten that stand far enough from those before; 1, 2 and 5 first.
func (r ruler) logTicks(gap float64) []tick {
	var out []tick
	taken := []float64{}
	free := func(p float64) bool {
		for _, t := range taken {
			if math.Abs(t-p) < gap {
				return false
			}
		}
		return true
	}
	first, last := math.Floor(math.Log10(r.low)), math.Ceil(math.Log10(r.high))
	for _, m := range [11]float64{1, 5, 2, 3, 7, 4, 6, 8, 9, 1.5, 2.5} {
		for e := first; e <= last; e++ {
			v := m * math.Pow(10, e)
			if v < r.low*(1-1e-9) || v > r.high*(1+1e-9) || !free(r.at(v)) {
				continue
			}
			step := math.Pow(10, e)
			if m != math.Floor(m) {
				step /= 10
			}
			taken = append(taken, r.at(v))
			out = append(out, tick{v, r.text(v, step)})
		}
	}
	return out
}

// text writes a value with the decimals its step has.
func (r ruler) text(v, step float64) string {
	if math.Abs(v) >= 1e7 || step < 1e-5 {
		return strings.Replace(strconv.FormatFloat(v, 'g', 3, 64), ".", r.decimal, 1)
	}
	decimals := max(0, int(math.Ceil(-math.Log10(step)-1e-9)))
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return strings.Replace(s, ".", r.decimal, 1)
}
