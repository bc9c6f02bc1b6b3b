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

// saturationTable holds saturation on cubics between the points of a grid: the innermost loop asks for it at every node.
// Values and slopes meet at the points; 0 °C, where the branch changes, is one of them. Between them the value is off by less
// than 3e-8 of itself.
type saturationTable [][4]float64

// The grid of the table, °C: all temperatures that a build-up takes on. Beyond it the formula itself answers.
const (
	tableFrom = -50.0
	tableTo   = 100.0
	tableStep = 0.5
)

func newSaturationTable() saturationTable {
	out := make(saturationTable, int((tableTo-tableFrom)/tableStep))
	for i := range out {
		from := tableFrom + float64(i)*tableStep
		// The ends of a cell belong to its own branch.
		a, slopeA := saturation(from)
		b, slopeB := saturation(from + tableStep)
		if from+tableStep == 0 {
			b, slopeB = saturation(math.Nextafter(0, -1))
		}
		slopeA, slopeB = slopeA*tableStep, slopeB*tableStep
		out[i] = [4]float64{a, slopeA, 3*(b-a) - 2*slopeA - slopeB, 2*(a-b) + slopeA + slopeB}
	}
	return out
}

// at gives saturation pressure, Pa, and its slope, Pa/K.
func (s saturationTable) at(t float64) (p, slope float64) {
	x := (t - tableFrom) * (1 / tableStep)
	if !(x >= 0 && x < float64(len(s))) {
		return saturation(t)
	}
	i := int(x)
	c := &s[i]
	x -= float64(i)
	return c[0] + x*(c[1]+x*(c[2]+x*c[3])), (c[1] + x*(2*c[2]+3*x*c[3])) * (1 / tableStep)
}
