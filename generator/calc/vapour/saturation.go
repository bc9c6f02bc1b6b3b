package vapour

import (
	"fmt"
	"math"

	q "lapwork/generator/quantity"
)

// Set is a set of formulas for saturation. The zero value is the ISO set.
type Set uint8

// The formula sets.
const (
	ISO13788 Set = iota // EN ISO 13788:2012 annex E; branches meet at 0 °C
	Handbook            // handbook of fundamentals 2017, ch. 1, eq. 5 and 6; branches meet at the triple point, 0.01 °C
)

// String gives the set's name.
func (s Set) String() string {
	if s == Handbook {
		return "handbook of fundamentals 2017, ch. 1"
	}
	return "EN ISO 13788:2012 annex E"
}

// triple is the temperature up to which the handbook's branch over ice applies, °C.
const triple = 0.01

// Saturation is the saturation vapour pressure at t in Pa: over ice below the set's freezing point, over water above.
// Range −100 to 200 °C.
func (s Set) Saturation(t q.Temperature) (q.Pressure, error) {
	if err := checkTemperature(t); err != nil {
		return 0, err
	}
	if s.frozen(t) {
		return q.Pressure(s.overIce(float64(t))), nil
	}
	return q.Pressure(s.overWater(float64(t))), nil
}

// SaturationOverWater is the saturation pressure over liquid water in Pa, also below freezing (supercooled): what the
// relative humidity of a weather record refers to. Range −100 to 200 °C.
func (s Set) SaturationOverWater(t q.Temperature) (q.Pressure, error) {
	if err := checkTemperature(t); err != nil {
		return 0, err
	}
	return q.Pressure(s.overWater(float64(t))), nil
}

func (s Set) frozen(t q.Temperature) bool {
	if s == Handbook {
		return t <= triple
	}
	return t < 0
}

// isoBase is the saturation pressure at 0 °C of the ISO set, Pa; both branches start from it.
const isoBase = 610.5

func (s Set) overWater(t float64) float64 {
	if s == Handbook { // eq. 6, T in K
		k := t + 273.15
		return math.Exp(-5.8002206e3/k + 1.3914993 - 4.8640239e-2*k + 4.1764768e-5*k*k - 1.4452093e-8*k*k*k + 6.5459673*math.Log(k))
	}
	return isoBase * math.Exp(17.269*t/(237.3+t))
}

func (s Set) overIce(t float64) float64 {
	if s == Handbook { // eq. 5, T in K
		k := t + 273.15
		return math.Exp(-5.6745359e3/k + 6.3925247 - 9.677843e-3*k + 6.2215701e-7*k*k + 2.0747825e-9*k*k*k -
			9.484024e-13*k*k*k*k + 4.1635019*math.Log(k))
	}
	return isoBase * math.Exp(21.875*t/(265.5+t))
}

// DewPoint is the temperature at which air of vapour pressure p is saturated, °C; below freezing it is the frost point.
// The inverse of Saturation; p between the saturation pressures at −100 and 200 °C.
func (s Set) DewPoint(p q.Pressure) (q.Temperature, error) {
	low, high := s.overIce(float64(Coldest)), s.overWater(float64(Hottest))
	if !(float64(p) >= low && float64(p) <= high) {
		return 0, fmt.Errorf("vapour pressure %v Pa: %w (%.3g to %.3g Pa)", float64(p), ErrRange, low, high)
	}
	if s == Handbook {
		return q.Temperature(s.bisect(float64(p))), nil
	}
	x := math.Log(float64(p) / isoBase)
	if x >= 0 {
		return q.Temperature(237.3 * x / (17.269 - x)), nil
	}
	return q.Temperature(265.5 * x / (21.875 - x)), nil
}

// bisect inverts Saturation where no closed inverse is published. At the triple point the two branches of the handbook
// differ by some 1e-3 Pa; a pressure in that gap gives the triple point.
func (s Set) bisect(p float64) float64 {
	low, high, branch := float64(Coldest), triple, s.overIce
	if p > s.overIce(triple) {
		low, high, branch = triple, float64(Hottest), s.overWater
	}
	for range 60 { // 300 K halved sixty times is below the spacing of floats
		if mid := (low + high) / 2; branch(mid) < p {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}
