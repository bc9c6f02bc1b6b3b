package airtight

import "strings"

// dimension is what a number measures.
type dimension uint8

const (
	plain dimension = iota
	share
	pressure
	flow
	volume
	area
	length
	speed
	temperature
)

// unit turns a number into the typed quantities' units: (x + before) · factor + after.
type unit struct{ before, factor, after float64 }

// The foot and the inch are exact by definition: 0.3048 m, 0.0254 m.
const foot = 0.3048

// unitOf finds a unit of a dimension by its word, whatever the case; raised digits and the degree sign are optional.
func unitOf(d dimension, word string) (unit, bool) {
	w := strings.NewReplacer("³", "3", "²", "2", "°", "", "·", ".", " ", "").Replace(strings.ToLower(word))
	scale, ok := map[dimension]map[string]float64{
		plain:    {"": 1, "-": 1},
		share:    {"%": 0.01},
		pressure: {"pa": 1, "hpa": 100, "kpa": 1000},
		flow:     {"m3/h": 1.0 / 3600, "l/s": 0.001, "m3/s": 1, "cfm": foot * foot * foot / 60},
		volume:   {"m3": 1, "ft3": foot * foot * foot},
		area:     {"m2": 1, "ft2": foot * foot},
		length:   {"m": 1, "ft": foot},
		speed:    {"m/s": 1, "km/h": 1 / 3.6},
	}[d][w]
	if ok {
		return unit{0, scale, 0}, true
	}
	if d == temperature {
		switch w {
		case "c":
			return unit{0, 1, 0}, true
		case "k":
			return unit{0, 1, -kelvin}, true
		case "f":
			return unit{-32, 5.0 / 9, 0}, true
		}
	}
	return unit{}, false
}

// known lists the units of a dimension for a hint.
func (d dimension) known() string {
	return [...]string{"no unit", "%", "Pa, hPa or kPa", "m3/h, L/s, m3/s or cfm", "m3 or ft3", "m2 or ft2", "m or ft", "m/s or km/h", "C, K or F"}[d]
}

func (u unit) apply(x float64) float64 { return (x+u.before)*u.factor + u.after }
