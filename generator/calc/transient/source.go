package transient

import (
	"fmt"

	q "lapwork/generator/quantity"
)

// Source is moisture that reaches a plane otherwise than by diffusion: an assumed leak, or a reserve that must dry.
type Source interface {
	at() int
	// rate gives water, kg/(m² s), and the heat that comes with it, W/m², from the step's mean climate and the plane.
	rate(m *[channels]float64, t, psat float64) (water, heat float64)
	check(w Wall) error
}

// Leak is indoor air that leaks out through the build-up and drops the water it cannot hold at the temperature of the
// plane: flow · (v inside - v saturated at the plane), where positive. It never dries the plane, and its sensible heat is left
// out (both on the safe side).
type Leak struct {
	Interface int               // the cold plane: outer face of the insulation, mostly
	Flow      q.AirPermeability // at the pressure that acts in use, not at 50 Pa; above 0 … 100 m³/(h m²)
}

func (l Leak) at() int { return l.Interface }

func (l Leak) rate(m *[channels]float64, t, psat float64) (water, heat float64) {
	const perPascal = molarMass / gasConstant
	dv := perPascal * (m[pInside]/(m[tInside]+kelvin) - psat/(t+kelvin))
	if dv <= 0 {
		return 0, 0
	}
	water = float64(l.Flow) / hour * dv
	return water, water * (latentHeat + vapourHeat*t)
}

func (l Leak) check(w Wall) error {
	if l.Interface < 0 || l.Interface > len(w.Layers) || !within(float64(l.Flow), 1e-9, 100) {
		return fmt.Errorf("%w: leak of %v m³/(h m²) at interface %d", ErrInput, float64(l.Flow), l.Interface)
	}
	return nil
}

// The drying reserves of roofs and of walls and ceilings: water that a build-up must be able to dry each year beyond what
// the calculation finds (DIN 68800-2 / DIN 4108-3, from memory).
const (
	RoofReserve MassPerArea = 0.25
	WallReserve MassPerArea = 0.10
)

// Reserve places extra water at a plane every year, evenly over the hours that are not warmer outside than the year's
// mean. A build-up that still reaches a steady year below its limits has that reserve.
type Reserve struct {
	Interface int
	PerYear   MassPerArea // above 0 … 10
}

func (r Reserve) at() int { return r.Interface }

func (r Reserve) rate(m *[channels]float64, t, _ float64) (water, heat float64) {
	water = float64(r.PerYear) * m[coldShare]
	return water, water * waterHeat * t
}

func (r Reserve) check(w Wall) error {
	if r.Interface < 0 || r.Interface > len(w.Layers) || !within(float64(r.PerYear), 1e-6, 10) {
		return fmt.Errorf("%w: reserve of %v kg/m² at interface %d", ErrInput, float64(r.PerYear), r.Interface)
	}
	return nil
}
