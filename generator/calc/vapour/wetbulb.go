package vapour

import (
	"fmt"

	q "lapwork/generator/quantity"
)

// RatioAtWetBulb is the humidity ratio of air at t whose wet bulb shows wet, handbook 2017 ch. 1 eq. 33 (above 0 °C)
// and 35 (over ice). It may come out below zero where no air has that pair. Needs wet ≤ t.
func (s Set) RatioAtWetBulb(t, wet q.Temperature, total q.Pressure) (HumidityRatio, error) {
	if !(wet <= t) {
		return 0, fmt.Errorf("wet bulb %v °C above the air's %v °C: %w", float64(wet), float64(t), ErrRange)
	}
	if err := checkTemperature(t); err != nil {
		return 0, err
	}
	sat, err := s.Saturation(wet)
	if err != nil {
		return 0, err
	}
	full, err := Ratio(sat, total)
	if err != nil {
		return 0, err
	}
	a, b, ws := float64(t), float64(wet), float64(full)
	if wet >= 0 {
		return HumidityRatio(((2501-2.326*b)*ws - 1.006*(a-b)) / (2501 + 1.86*a - 4.186*b)), nil
	}
	return HumidityRatio(((2830-0.24*b)*ws - 1.006*(a-b)) / (2830 + 1.86*a - 2.1*b)), nil
}

// WetBulb is the wet-bulb temperature of air at t with vapour pressure p, °C: between the dew point and t, found by
// halving.
func (s Set) WetBulb(t q.Temperature, p, total q.Pressure) (q.Temperature, error) {
	w, err := Ratio(p, total)
	if err != nil {
		return 0, err
	}
	low, err := s.DewPoint(p)
	if err != nil {
		return 0, err
	}
	high := t
	if low > high {
		return 0, fmt.Errorf("vapour pressure %v Pa exceeds saturation at %v °C: %w", float64(p), float64(t), ErrRange)
	}
	for range 50 {
		mid := (low + high) / 2
		at, err := s.RatioAtWetBulb(t, mid, total)
		if err != nil {
			return 0, err
		}
		if at < w {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2, nil
}
