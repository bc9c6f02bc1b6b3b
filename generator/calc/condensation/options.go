package condensation

import (
	"fmt"

	"lapwork/generator/calc/vapour"
)

// MonthEnd says what happens when a plane dries within a month.
type MonthEnd uint8

// The two ways to end a month.
const (
	// SplitMonth ends the wet state at the moment the plane dries and goes on with a new profile: no water is made.
	SplitMonth MonthEnd = iota
	// ClipStock applies the month's first rates to the whole month and sets a negative stock to zero: the reading of
	// the standard (from memory). Where a plane that dries feeds another, it makes water; the result says how much.
	ClipStock
)

// Options are the choices of a run. The zero value is the ISO set, δ0 = 2e-10, months split where a plane dries, layers
// split where the standard asks, the start found, at most ten years.
type Options struct {
	Set      vapour.Set
	Delta0   vapour.Permeability // 0: 2e-10 kg/(m·s·Pa)
	MonthEnd MonthEnd
	Whole    bool // leave layers of R > 0.25 in one piece
	Years    int  // 0: until a year repeats itself, at most ten
	Start    int  // first month; 0: the first month with condensation after a dry one
	// Wetted is water built in or left by a leak at the start, kg/m² at these planes (clause 7).
	Wetted []Wetted
}

// Wetted is water held at a plane at the start.
type Wetted struct {
	At    Plane
	Water Water
}

// mostYears bounds a run without a wish: water that has not gone in ten years is not going.
const mostYears = 10

func (o Options) complete() (Options, error) {
	if o.Delta0 == 0 {
		o.Delta0 = vapour.StillAir
	}
	if !(o.Delta0 > 1e-11 && o.Delta0 < 1e-9) {
		return o, fmt.Errorf("%w: permeability of air %v kg/(m·s·Pa)", ErrInput, float64(o.Delta0))
	}
	if o.Start < 0 || o.Start > 12 || o.Years < 0 || o.Years > 100 || o.MonthEnd > ClipStock {
		return o, fmt.Errorf("%w: start month %d, %d years", ErrInput, o.Start, o.Years)
	}
	return o, nil
}
