package leakage

import (
	"fmt"
	"math"

	q "lapwork/generator/quantity"
)

// Orifice is the flow through a hole, Cd A (2 dp/rho)^0.5. Area 0 … 1e4 m², pressure 0 … 1000 Pa, Cd 0.01 … 1, density
// 0.5 … 2 kg/m³, else ErrInput. A deep narrow slot leaks less than this.
func Orifice(a q.Area, dp q.Pressure, cd float64, rho Density) (q.AirFlow, error) {
	if !within(float64(a), 0, 1e4) || !within(float64(dp), 0, 1000) || !within(cd, 0.01, 1) || !within(float64(rho), 0.5, 2) {
		return 0, fmt.Errorf("%w: a hole of %v m² at %v Pa, Cd %v, density %v", ErrInput, float64(a), float64(dp), cd, float64(rho))
	}
	return orifice(a, dp, cd, rho), nil
}

func orifice(a q.Area, dp q.Pressure, cd float64, rho Density) q.AirFlow {
	return q.AirFlow(cd * float64(a) * math.Sqrt(2*float64(dp)/float64(rho)))
}

// Hole is a round sharp-edged hole.
type Hole struct {
	Area     q.Area
	Diameter q.Length
}

// RoundHole is the hole of this diameter, 0 … 100 m, else ErrInput.
func RoundHole(d q.Length) (Hole, error) {
	if !within(float64(d), 0, 100) {
		return Hole{}, fmt.Errorf("%w: a hole of %v m", ErrInput, float64(d))
	}
	return Hole{Area: q.Area(math.Pi / 4 * float64(d*d)), Diameter: d}, nil
}

// HoleFor is the round hole that passes a flow at a pressure: the inverse of Orifice. Flow 0 … 1e5 m³/s, pressure
// 0.1 … 1000 Pa, else ErrInput.
func HoleFor(flow q.AirFlow, dp q.Pressure, cd float64, rho Density) (Hole, error) {
	if !within(float64(flow), 0, 1e5) || !within(float64(dp), 0.1, 1000) || !within(cd, 0.01, 1) || !within(float64(rho), 0.5, 2) {
		return Hole{}, fmt.Errorf("%w: a hole for %v m³/s at %v Pa, Cd %v, density %v", ErrInput, float64(flow), float64(dp), cd, float64(rho))
	}
	area := float64(flow) / float64(orifice(1, dp, cd, rho))
	return Hole{Area: q.Area(area), Diameter: q.Length(math.Sqrt(4 * area / math.Pi))}, nil
}

// Text says the hole as a person on site sees it: "a 20 mm hole".
func (h Hole) Text(f q.Format) string {
	switch d := float64(h.Diameter) * 1000; {
	case d <= 0:
		return f.Says("no hole")
	case d < 0.95:
		return f.Says("a pinhole")
	case d < 9.5:
		return f.Says("a %s mm hole", f.Number(d, 1))
	default:
		return f.Says("a %s mm hole", f.Number(d, 0))
	}
}
