package condensation

import (
	"fmt"

	"lapwork/generator/calc/vapour"
	q "lapwork/generator/quantity"
)

// HumidityClass is an internal humidity class of EN ISO 13788:2012 annex A, 1 to 5.
type HumidityClass uint8

// Occupancy gives what the class is for.
func (c HumidityClass) Occupancy() string {
	if c < 1 || c > 5 {
		return "no such class"
	}
	return [...]string{"unoccupied buildings, storage of dry goods", "offices, dwellings with normal occupancy and ventilation",
		"buildings with unknown occupancy", "sports halls, kitchens, canteens", "special buildings: laundries, breweries, pools"}[c-1]
}

// classLimits are the upper limits of classes 1 to 4 up to te = 0 °C, Pa and kg/m³ (from memory; class 3 seen).
var classLimits = [4]struct {
	p q.Pressure
	v vapour.Concentration
}{{270, 0.002}, {540, 0.004}, {810, 0.006}, {1080, 0.008}}

// ClassSource is where the limits of the classes come from.
func ClassSource() q.Source {
	return q.Source{Text: "EN ISO 13788:2012 annex A, figure A.2", Status: q.FromMemory}
}

// taper is the share of the winter excess left at te: one up to 0 °C, none from 20 °C, linear between.
func taper(te q.Temperature) float64 { return min(max(1-float64(te)/20, 0), 1) }

// Excess is the upper limit of the vapour pressure excess Δp of a class at this outdoor temperature, Pa. Class 5 lies
// above class 4 and has no upper limit: state own indoor values for it.
func (c HumidityClass) Excess(te q.Temperature) (q.Pressure, error) {
	if c < 1 || c > 4 {
		return 0, fmt.Errorf("%w: humidity class %d has no upper limit", ErrInput, c)
	}
	return classLimits[c-1].p * q.Pressure(taper(te)), nil
}

// ExcessByVolume is the same limit as vapour by volume Δv, kg/m³.
func (c HumidityClass) ExcessByVolume(te q.Temperature) (vapour.Concentration, error) {
	if c < 1 || c > 4 {
		return 0, fmt.Errorf("%w: humidity class %d has no upper limit", ErrInput, c)
	}
	return classLimits[c-1].v * vapour.Concentration(taper(te)), nil
}

// Ramp is an indoor climate that follows the outdoor temperature: humidity linear from te = −10 to 20 °C.
type Ramp struct {
	Name      string
	Low, High q.Ratio
	Source    q.Source
}

// Ramps gives the indoor ramps of the standards, seen in a public script that carries both.
func Ramps() []Ramp {
	iso := q.Source{Text: "EN ISO 13788:2012 A.1", Status: q.Secondary}
	en := q.Source{Text: "EN 15026:2007 annex C", Status: q.Secondary}
	return []Ramp{{"EN 15026 normal load", 0.30, 0.60, en}, {"EN 15026 high load", 0.40, 0.70, en},
		{"EN ISO 13788 A", 0.35, 0.65, iso}, {"EN ISO 13788 B", 0.40, 0.70, iso}}
}

// Load gives the ramp of EN 15026 for normal or high occupancy.
func Load(high bool) Ramp {
	if high {
		return Ramps()[1]
	}
	return Ramps()[0]
}

// IndoorTemperature is the temperature of heated rooms by the outdoor mean: 20 °C up to te = 10 °C, 25 °C from 20 °C,
// linear between. A fixed 20 °C would show false condensation on the room side in summer.
func IndoorTemperature(te q.Temperature) q.Temperature {
	return 20 + q.Temperature(min(max((float64(te)-10)/10, 0), 1))*5
}

// Humidity is the indoor relative humidity of the ramp.
func (r Ramp) Humidity(te q.Temperature) q.Ratio {
	return r.Low + (r.High-r.Low)*q.Ratio(min(max((float64(te)+10)/30, 0), 1))
}

// ByRamp gives a month with the indoor climate of a ramp.
func ByRamp(set vapour.Set, month int, te q.Temperature, pe q.Pressure, r Ramp) (Boundary, error) {
	b := Boundary{Month: month, Te: te, Pe: pe, Ti: IndoorTemperature(te)}
	var err error
	b.Pi, err = set.Pressure(b.Ti, r.Humidity(te))
	return b, err
}

// ByClass gives a month with the indoor temperature ramp and the upper limit of a class, pi = pe + factor·Δp. factor is
// 1.0, or 1.1 in the 2001 edition of the standard.
func ByClass(month int, te q.Temperature, pe q.Pressure, c HumidityClass, factor float64) (Boundary, error) {
	if !(factor >= 1 && factor <= 2) {
		return Boundary{}, fmt.Errorf("%w: factor %v on the vapour excess (1 to 2)", ErrInput, factor)
	}
	excess, err := c.Excess(te)
	return Boundary{Month: month, Te: te, Pe: pe, Ti: IndoorTemperature(te), Pi: pe + q.Pressure(factor)*excess}, err
}

// Own gives a month with stated indoor values: rooms that are cooled, measured or air-conditioned.
func Own(set vapour.Set, month int, te q.Temperature, pe q.Pressure, ti q.Temperature, rh q.Ratio) (Boundary, error) {
	pi, err := set.Pressure(ti, rh)
	return Boundary{Month: month, Te: te, Pe: pe, Ti: ti, Pi: pi}, err
}
