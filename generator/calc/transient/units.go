package transient

import "errors"

// Content is water by volume of material, kg/m³.
type Content float64

// MassPerArea is water by area of the build-up, kg/m².
type MassPerArea float64

// EnergyPerArea is heat by area of the build-up, J/m².
type EnergyPerArea float64

// Hours is a span of time in hours.
type Hours float64

// Resistance is a thermal resistance, m²K/W.
type Resistance float64

// Conductivity is a thermal conductivity, W/(m K).
type Conductivity float64

// HeatCapacity is a heat capacity by volume, J/(m³ K).
type HeatCapacity float64

// The errors of this package; wrapped with what was wrong.
var (
	ErrInput    = errors.New("transient: value outside its range")
	ErrStorage  = errors.New("transient: no moisture storage data")
	ErrSteps    = errors.New("transient: the step limit was reached before the span ended")
	ErrDiverged = errors.New("transient: no solution even with the shortest step")
)

// MissingStorage says which layer has no moisture storage function. It wraps ErrStorage: the run is refused, since a
// guessed storage function would give a curve that looks measured.
type MissingStorage struct{ Layer string }

// Error names the layer and what to supply.
func (e MissingStorage) Error() string {
	return ErrStorage.Error() + ` for layer "` + e.Layer + `": give its sorption isotherm, or state that it takes up no water`
}

// Unwrap gives ErrStorage.
func (e MissingStorage) Unwrap() error { return ErrStorage }

const (
	gasConstant  = 8.314  // J/(mol K), as in the annex of the standard
	molarMass    = 0.018  // kg/mol, as in the annex (water is 0.018015)
	rhoWater     = 1000.0 // kg/m³
	airDelta     = 2e-10  // kg/(m s Pa), permeability of air; EN ISO 13788 uses one value, sd figures rest on it
	latentHeat   = 2.5e6  // J/kg at 0 °C; EN 15026 (from memory), handbook 2.501e6
	waterHeat    = 4180.0 // J/(kg K), handbook
	vapourHeat   = 1860.0 // J/(kg K), handbook
	kelvin       = 273.15 // K at 0 °C
	hour         = 3600.0 // s
	suctionScale = rhoWater * gasConstant / molarMass
)
