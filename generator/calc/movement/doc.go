// Package movement computes how far timber and boards move with their moisture, and how large the fold must be that a
// sheet needs where moving parts meet.
//
//	M   moisture content, mass of water per dry mass    %
//	h   relative humidity                               share of one
//	D   dimension across the grain                      m, whole mm at the edge
//	C   coefficient of dimensional change               per % of moisture content
//	S   shrinkage from green to oven dry                %
//	FSP moisture content at fibre saturation            %, about 30
//
// Sources: Wood Handbook of the US forest products laboratory (FPL-GTR-282), eq. 4-5, tables 4-2, 4-3 and 13-5 and the
// formulas of chapter 13; DIN 68100 and EN 1995-1-1/NA for European species (from memory).
package movement

import (
	"errors"
	"fmt"

	q "lapwork/generator/quantity"
)

// Moisture is a moisture content in percent of the dry mass.
type Moisture float64

// Coefficient is the relative change of a dimension per percent of moisture content.
type Coefficient float64

// Shrinkage is the shrinkage from green to oven dry in percent of the green dimension.
type Shrinkage float64

// Change is a change of a dimension in metres: positive swells, negative shrinks.
type Change float64

// ErrRange is wrapped where an input lies outside what a formula holds for.
var ErrRange = errors.New("outside the range of the formula")

// FibreSaturation is the usual moisture content at fibre saturation: above it nothing moves. Redwood and western
// redcedar need 22 to fit the coefficients of table 13-5.
const FibreSaturation Moisture = 30

// Equilibrium is the moisture content wood takes on in air of t and rh, Wood Handbook eq. 4-5; it reproduces table 4-2
// to 0.052 in 152 entries. Range −10 to 100 °C; at saturation it gives about fibre saturation.
func Equilibrium(t q.Temperature, rh q.Ratio) (Moisture, error) {
	if !(t >= -10 && t <= 100) || !(rh >= 0 && rh <= 1) {
		return 0, fmt.Errorf("air at %v °C with humidity %v: %w (-10 to 100 °C, 0 to 1)", float64(t), float64(rh), ErrRange)
	}
	c, h := float64(t), float64(rh)
	w := 349 + 1.29*c + 0.0135*c*c
	k := 0.805 + 0.000736*c - 0.00000273*c*c
	k1 := 6.27 - 0.00938*c - 0.000303*c*c
	k2 := 1.91 + 0.0407*c - 0.000293*c*c
	kh := k * h
	return Moisture(1800 / w * (kh/(1-kh) + (k1*kh+2*k1*k2*kh*kh)/(1+k1*kh+k1*k2*kh*kh))), nil
}
