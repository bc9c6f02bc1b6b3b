package thermal

import (
	"fmt"
	"math"
)

// Ventilation is how an air layer is ventilated, by its openings to outside.
type Ventilation uint8

// The kinds of ventilation of an air layer.
const (
	Unventilated Ventilation = iota
	SlightlyVentilated
	WellVentilated
)

// String gives the kind's words.
func (v Ventilation) String() string {
	return [...]string{"unventilated", "slightly ventilated", "well ventilated"}[v]
}

// Openings is the area of openings to outside in mm², per metre of length for a vertical layer and per m² for a
// horizontal one.
type Openings float64

// The limits of a slightly ventilated layer, EN ISO 6946:2017 6.9.3.
const (
	slightFrom Openings = 500
	slightTo   Openings = 1500
)

// Ventilation gives the kind: up to 500 mm² unventilated, from 1500 mm² well ventilated.
func (o Openings) Ventilation() Ventilation {
	switch {
	case o <= slightFrom:
		return Unventilated
	case o < slightTo:
		return SlightlyVentilated
	}
	return WellVentilated
}

// Ventilated is the total resistance of a part whose air layer has these openings: between the part with the layer
// unventilated and the part with the layer well ventilated, RT = (1500−Av)/1000·RT,u + (Av−500)/1000·RT,v,
// EN ISO 6946:2017 6.9.3 (weights seen in a public implementation). Resistance is interpolated, never U.
func Ventilated(o Openings, unventilated, well Resistance) (Resistance, error) {
	if !(o >= 0) || math.IsInf(float64(o), 1) {
		return 0, fmt.Errorf("openings of %v mm²: %w (0 or more)", float64(o), ErrRange)
	}
	if !(well > 0 && unventilated > 0) || math.IsInf(float64(unventilated), 1) || math.IsInf(float64(well), 1) {
		return 0, fmt.Errorf("total resistances %v and %v: %w", float64(unventilated), float64(well), ErrRange)
	}
	f := Resistance(min(max(o-slightFrom, 0), slightTo-slightFrom) / (slightTo - slightFrom))
	return (1-f)*unventilated + f*well, nil
}
