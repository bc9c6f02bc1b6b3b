package transient

import "math"

// saturation gives the saturation pressure, Pa, and its slope, Pa/K, after EN ISO 13788 annex E (confirmed), over
// liquid water from 0 °C and over ice below. Package vapour has the value alone; here the slope comes with it, and a test holds
// the two together.
func saturation(t float64) (p, slope float64) {
	a, b := 17.269, 237.3
	if t < 0 {
		a, b = 21.875, 265.5
	}
	d := 1 / (b + t)
	p = 610.5 * math.Exp(a*t*d)
	return p, p * a * b * d * d
}
