// Package vapour is the arithmetic of moist air: saturation, dew point, humidity ratio, density, wet bulb, and the
// units in which resistance to vapour is declared. Two formula sets stand side by side and every call names the one
// it means; nothing is switched for the whole program.
//
//	t     temperature                      °C
//	p     vapour pressure                  Pa
//	psat  saturation vapour pressure       Pa
//	rh    relative humidity                share of one
//	w     humidity ratio, per dry air      kg/kg
//	v     vapour by volume                 kg/m³   v = p/(461.5·(t+273.15))
//	sd    equivalent air layer thickness   m       g = δ0·Δp/sd
//
// Sources: EN ISO 13788:2012 annex E for the ISO set, with δ0 = 2e-10 kg/(m·s·Pa) (coefficients seen in texts that
// quote the standard); Handbook of fundamentals of the American society of heating engineers, 2017, chapter 1, for the
// handbook set (equations 5 and 6, checked against a published library run). The ISO set lies 0.5 % below the handbook
// at −20 °C, 0.06 % at 10 °C and 0.17 % at 40 °C.
package vapour

import (
	"errors"
	"fmt"
	"math"

	q "lapwork/generator/quantity"
)

// ErrRange is wrapped by every error of this package: a quantity lies outside what the formula holds for.
var ErrRange = errors.New("outside the range of the formula")

// The range of temperatures both sets accept, in °C. The formulas are published for −100 to 200 °C (handbook); the ISO
// set is used over less, but stays smooth and monotone over the same range.
const (
	Coldest q.Temperature = -100
	Hottest q.Temperature = 200
)

// Kelvin gives the absolute temperature in K.
func Kelvin(t q.Temperature) float64 { return float64(t) + 273.15 }

// checkTemperature refuses what the formulas do not hold for, NaN included.
func checkTemperature(t q.Temperature) error {
	if !(t >= Coldest && t <= Hottest) {
		return fmt.Errorf("temperature %v °C: %w (%v to %v °C)", float64(t), ErrRange, float64(Coldest), float64(Hottest))
	}
	return nil
}

// checkShare refuses a humidity that is no share of one.
func checkShare(rh q.Ratio) error {
	if !(rh >= 0 && rh <= 1) {
		return fmt.Errorf("relative humidity %v: %w (0 to 1)", float64(rh), ErrRange)
	}
	return nil
}

// checkPositive refuses a quantity that is not above zero and finite.
func checkPositive(what string, x float64) error {
	if !(x > 0) || math.IsInf(x, 1) {
		return fmt.Errorf("%s %v: %w (above 0)", what, x, ErrRange)
	}
	return nil
}
