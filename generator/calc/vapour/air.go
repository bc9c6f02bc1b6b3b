package vapour

import (
	"fmt"
	"math"

	q "lapwork/generator/quantity"
)

// HumidityRatio is the mass of vapour per mass of dry air, kg/kg.
type HumidityRatio float64

// Concentration is vapour by volume, or a difference of it, in kg/m³.
type Concentration float64

// Density is a mass per volume in kg/m³.
type Density float64

// Enthalpy is the enthalpy of moist air per kg of dry air in J/kg, zero at 0 °C dry.
type Enthalpy float64

// The constants of moist air.
const (
	gasVapour = 461.5    // J/(kg·K), EN ISO 13788
	gasDryAir = 287.042  // J/(kg·K), handbook 2017 ch. 1 eq. 1
	massRatio = 0.621945 // water to dry air, handbook 2017 ch. 1 eq. 20
)

// Pressure is the vapour pressure of air at t with relative humidity rh, Pa. Humidity below freezing is read over ice.
func (s Set) Pressure(t q.Temperature, rh q.Ratio) (q.Pressure, error) {
	if err := checkShare(rh); err != nil {
		return 0, err
	}
	sat, err := s.Saturation(t)
	return q.Pressure(float64(rh) * float64(sat)), err
}

// Humidity is the relative humidity of air at t with vapour pressure p ≥ 0, a share that exceeds one in supersaturated
// air.
func (s Set) Humidity(t q.Temperature, p q.Pressure) (q.Ratio, error) {
	sat, err := s.Saturation(t)
	if err != nil {
		return 0, err
	}
	if !(p >= 0) || math.IsInf(float64(p), 1) {
		return 0, fmt.Errorf("vapour pressure %v Pa: %w (0 or more)", float64(p), ErrRange)
	}
	return q.Ratio(p / sat), nil
}

// ByVolume is the vapour by volume of air at t with vapour pressure p: v = p/(461.5·T), EN ISO 13788.
func ByVolume(t q.Temperature, p q.Pressure) Concentration {
	return Concentration(float64(p) / (gasVapour * Kelvin(t)))
}

// Ratio is the humidity ratio at vapour pressure p and total pressure total: w = 0.621945·p/(total−p), handbook 2017
// ch. 1 eq. 20. Needs 0 ≤ p < total.
func Ratio(p, total q.Pressure) (HumidityRatio, error) {
	if !(p >= 0 && p < total) || math.IsInf(float64(total), 1) {
		return 0, fmt.Errorf("vapour pressure %v Pa in a total of %v Pa: %w", float64(p), float64(total), ErrRange)
	}
	return HumidityRatio(massRatio * float64(p) / float64(total-p)), nil
}

// SpecificVolume is the volume of moist air per kg of dry air in m³/kg, handbook 2017 ch. 1 eq. 26.
func SpecificVolume(t q.Temperature, w HumidityRatio, total q.Pressure) (float64, error) {
	if err := checkTemperature(t); err != nil {
		return 0, err
	}
	if err := checkPositive("total pressure in Pa", float64(total)); err != nil {
		return 0, err
	}
	if !(w >= 0) || math.IsInf(float64(w), 1) {
		return 0, fmt.Errorf("humidity ratio %v: %w (0 or more)", float64(w), ErrRange)
	}
	return gasDryAir * Kelvin(t) * (1 + 1.607858*float64(w)) / float64(total), nil
}

// MoistAir is the density of moist air in kg/m³: dry air and vapour together per volume.
func MoistAir(t q.Temperature, p, total q.Pressure) (Density, error) {
	w, err := Ratio(p, total)
	if err != nil {
		return 0, err
	}
	v, err := SpecificVolume(t, w, total)
	if err != nil {
		return 0, err
	}
	return Density((1 + float64(w)) / v), nil
}

// Heat is the enthalpy of moist air per kg of dry air, handbook 2017 ch. 1 eq. 30.
func Heat(t q.Temperature, w HumidityRatio) Enthalpy {
	return Enthalpy((1.006*float64(t) + float64(w)*(2501+1.86*float64(t))) * 1000)
}

// Atmosphere is the pressure of the standard atmosphere at this height above the sea, handbook 2017 ch. 1 eq. 3.
// Range −500 to 11 000 m.
func Atmosphere(height q.Length) (q.Pressure, error) {
	if !(height >= -500 && height <= 11000) {
		return 0, fmt.Errorf("height %v m: %w (-500 to 11000 m)", float64(height), ErrRange)
	}
	return q.Pressure(101325 * math.Pow(1-2.25577e-5*float64(height), 5.2559)), nil
}
