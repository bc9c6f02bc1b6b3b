package airtight

import (
	"errors"
	"fmt"
	"math"

	q "lapwork/generator/quantity"
)

// Density is the density of moist air in kg/m³.
type Density float64

// Viscosity is a dynamic viscosity in Pa·s.
type Viscosity float64

// The reference state of ISO 9972: 20 °C, 101 325 Pa, dry. The standard writes 1.013e5 Pa; the effect is below 0.01 %.
const (
	ReferenceDensity     Density       = 1.2041
	ReferenceTemperature q.Temperature = 20
	ReferencePressure    q.Pressure    = 101325
)

const kelvin = 273.15

// ErrInput is wrapped by every error about a value that cannot be: not a number, or outside what a building can meet.
var ErrInput = errors.New("airtight: impossible input")

// Air is the state of the air on one side of the envelope.
type Air struct {
	Temperature q.Temperature // −60 … 80 °C
	Humidity    q.Ratio       // relative, 0 … 1, over water
}

// VapourPressure is the partial pressure of water vapour, RH exp(59.484085 − 6790.4985/T − 5.02802 ln T), T in K.
// Source: ISO 9972 annex B as quoted in public code; −60 … 80 °C, else ErrInput.
func (a Air) VapourPressure() (q.Pressure, error) {
	if !within(float64(a.Temperature), -60, 80) || !within(float64(a.Humidity), 0, 1) {
		return 0, fmt.Errorf("%w: air of %v °C and %v relative humidity", ErrInput, float64(a.Temperature), float64(a.Humidity))
	}
	t := float64(a.Temperature) + kelvin
	return q.Pressure(float64(a.Humidity) * math.Exp(59.484085-6790.4985/t-5.02802*math.Log(t))), nil
}

// Density is the density of the moist air at this barometric pressure (50 000 … 120 000 Pa, else ErrInput):
// (p − 0.37802 p_v)/(287.055 T). Source as VapourPressure. It is the mass of air and vapour per volume, not the inverse
// of the volume per mass of dry air.
func (a Air) Density(barometer q.Pressure) (Density, error) {
	vapour, err := a.VapourPressure()
	if err != nil {
		return 0, err
	}
	if !within(float64(barometer), 50_000, 120_000) {
		return 0, fmt.Errorf("%w: a barometric pressure of %v Pa", ErrInput, float64(barometer))
	}
	return Density(float64(barometer-0.37802*vapour) / (287.055 * (float64(a.Temperature) + kelvin))), nil
}

// Viscosity is Sutherland's formula, 1.458e-6 T^0.5/(1 + 110.4/T), as ASTM E779 uses it. From memory.
func (a Air) Viscosity() Viscosity {
	t := float64(a.Temperature) + kelvin
	return Viscosity(1.458e-6 * math.Sqrt(t) / (1 + 110.4/t))
}

// FanFlow is the real volume flow in an orifice-type fan calibrated at another density: read (cal/fan)^0.5.
// Both densities > 0, else ErrInput.
func FanFlow(read q.AirFlow, calibrated, fan Density) (q.AirFlow, error) {
	if !within(float64(calibrated), 0.1, 10) || !within(float64(fan), 0.1, 10) || !finite(float64(read)) {
		return 0, fmt.Errorf("%w: fan flow %v at densities %v and %v", ErrInput, read, calibrated, fan)
	}
	return read * q.AirFlow(math.Sqrt(float64(calibrated/fan))), nil
}

// within is false for NaN.
func within(x, low, high float64) bool { return x >= low && x <= high }

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
