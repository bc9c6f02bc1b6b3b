// Package thermal computes thermal resistance and transmittance of flat building parts after EN ISO 6946:2017: surface
// films, air layers, the combined method for layers bridged by members, corrections, and what the method refuses.
//
//	R     thermal resistance                  m²·K/W
//	U     thermal transmittance               W/(m²·K)
//	λ     thermal conductivity                W/(m·K)
//	Rsi, Rse  films inside and outside        m²·K/W
//	RT    total resistance, films included    m²·K/W
//
// The full text of the standard was not open: formulas and tables were seen in public code and texts that cite it,
// clause numbers are from memory, and each function says what else is.
package thermal

import (
	"errors"
	"fmt"
	"math"
	"strconv"

	q "lapwork/generator/quantity"
)

// Resistance is a thermal resistance in m²·K/W.
type Resistance float64

// Conductivity is a thermal conductivity in W/(m·K).
type Conductivity float64

// Transmittance is a thermal transmittance, or a correction to one, in W/(m²·K).
type Transmittance float64

// ErrRange is wrapped where an input lies outside what a formula or table holds for.
var ErrRange = errors.New("outside the range of EN ISO 6946")

// ErrRefused is wrapped where the method itself does not apply: a detailed calculation is needed.
var ErrRefused = errors.New("the method of EN ISO 6946 does not apply")

// Of gives the resistance of a homogeneous layer, R = d/λ. Thickness ≥ 0 and conductivity > 0.
func Of(d q.Length, lambda Conductivity) (Resistance, error) {
	if !(d >= 0) || math.IsInf(float64(d), 1) || !(lambda > 0) || math.IsInf(float64(lambda), 1) {
		return 0, fmt.Errorf("layer of %v m with %v W/(m·K): %w", float64(d), float64(lambda), ErrRange)
	}
	return Resistance(float64(d) / float64(lambda)), nil
}

// Transmittance gives U = 1/RT of a total resistance above zero.
func (r Resistance) Transmittance() (Transmittance, error) {
	if !(r > 0) || math.IsInf(float64(r), 1) {
		return 0, fmt.Errorf("total resistance %v m²·K/W: %w", float64(r), ErrRange)
	}
	return Transmittance(1 / r), nil
}

// Declared gives U rounded to the two significant figures in which a result is stated. Rounding comes last: never
// compute on with it.
func (u Transmittance) Declared() Transmittance {
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(float64(u), 'e', 1, 64), 64)
	if err != nil {
		return u
	}
	return Transmittance(rounded)
}
