package thermal

import (
	"fmt"

	q "lapwork/generator/quantity"
)

// Direction is the direction of heat flow through a part.
type Direction uint8

// The directions of heat flow.
const (
	Horizontal Direction = iota
	Upward
	Downward
)

// String gives the direction's word.
func (d Direction) String() string { return [...]string{"horizontal", "upward", "downward"}[d] }

// HorizontalFrom is the pitch from which heat flow counts as horizontal: within 30° of a wall, EN ISO 6946 table 7.
const HorizontalFrom q.Degrees = 60

// DirectionAt gives the direction of heat flow through a part of this pitch, 0° flat and 90° a wall. warmBelow says
// that the warmer side is the lower one, as in a heated room under a roof; under cooling it is the upper one.
func DirectionAt(pitch q.Degrees, warmBelow bool) (Direction, error) {
	switch {
	case !(pitch >= 0 && pitch <= 90):
		return 0, fmt.Errorf("pitch %v°: %w (0 to 90)", float64(pitch), ErrRange)
	case pitch >= HorizontalFrom:
		return Horizontal, nil
	case warmBelow:
		return Upward, nil
	}
	return Downward, nil
}

// Films are the surface resistances of a part.
type Films struct {
	Inside, Outside Resistance
	Source          q.Source
}

var filmTable = q.Source{Text: "EN ISO 6946:2017 table 7", Status: q.Secondary}

// Behind says what the outer face meets.
type Behind uint8

// What the outer face meets.
const (
	OutsideAir    Behind = iota
	VentilatedAir        // a well-ventilated air layer: what lies beyond it does not count
	IndoorAir            // another room, heated or not
)

// FilmsFor gives the films for a U-value: inside 0.13, 0.10 or 0.17 by direction, outside 0.04, or the inside value where
// the outer face meets a well-ventilated layer (clause 6.9.4, from memory) or a room.
func FilmsFor(d Direction, behind Behind) Films {
	inside := [...]Resistance{0.13, 0.10, 0.17}[d]
	if behind == OutsideAir {
		return Films{Inside: inside, Outside: 0.04, Source: filmTable}
	}
	return Films{Inside: inside, Outside: inside, Source: q.Source{Text: "EN ISO 6946:2017 6.9.4", Status: q.FromMemory}}
}

// SurfaceFilms are the films for checks of surface humidity and mould on opaque parts: 0.25 inside, also in corners and
// behind furniture, EN ISO 13788:2012 4.4.1. Never in a U-value.
func SurfaceFilms() Films {
	return Films{Inside: 0.25, Outside: 0.04, Source: q.Source{Text: "EN ISO 13788:2012 4.4.1", Status: q.Secondary}}
}

// GlazingSurfaceFilms are the films for surface checks of glazing and frames, which keep 0.13 inside (from memory).
func GlazingSurfaceFilms() Films {
	return Films{Inside: 0.13, Outside: 0.04, Source: q.Source{Text: "EN ISO 13788:2012 4.4.1", Status: q.FromMemory}}
}

// BlockFilms are the films of the German block method where the outer face meets a ventilated layer.
func BlockFilms() Films {
	return Films{Inside: 0.25, Outside: 0.08, Source: q.Source{Text: "DIN 4108-3 A.2.3", Status: q.Secondary}}
}
