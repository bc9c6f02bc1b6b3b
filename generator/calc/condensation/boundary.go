package condensation

import (
	"fmt"

	q "lapwork/generator/quantity"
)

// Boundary is the mean climate of one month on both sides.
type Boundary struct {
	Month  int // 1 January to 12 December
	Te, Ti q.Temperature
	Pe, Pi q.Pressure
}

// Year is the climate of a year, one boundary a month, in any order of months that runs on from one to the next.
type Year [12]Boundary

// monthDays is the real length of the months, without 29 February.
var monthDays = [13]int{0, 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}

// Days gives the days of a month, 28 for February.
func Days(month int) int { return monthDays[month] }

func (b Boundary) seconds() float64 { return float64(monthDays[b.Month]) * 86400 }

func (y Year) check() error {
	for i, b := range y {
		if b.Month < 1 || b.Month > 12 {
			return fmt.Errorf("%w: month %d", ErrInput, b.Month)
		}
		if next := y[(i+1)%12].Month; next != b.Month%12+1 {
			return fmt.Errorf("%w: month %d follows month %d", ErrInput, next, b.Month)
		}
		if err := b.check(); err != nil {
			return err
		}
	}
	return nil
}

// check refuses what no building sees: −60 to 70 °C, vapour up to that of hot baths.
func (b Boundary) check() error {
	for _, t := range []q.Temperature{b.Te, b.Ti} {
		if !(t >= -60 && t <= 70) {
			return fmt.Errorf("%w: %v °C in month %d", ErrInput, float64(t), b.Month)
		}
	}
	for _, p := range []q.Pressure{b.Pe, b.Pi} {
		if !(p >= 0 && p <= 32000) {
			return fmt.Errorf("%w: vapour pressure %v Pa in month %d", ErrInput, float64(p), b.Month)
		}
	}
	return nil
}

// Turned is the same month with inside and outside exchanged.
func (b Boundary) Turned() Boundary {
	return Boundary{Month: b.Month, Te: b.Ti, Ti: b.Te, Pe: b.Pi, Pi: b.Pe}
}

// SkyLoss is how much colder than the air a light roof counts, K: EN ISO 13788:2012 4.2.3 (from memory, the value seen in
// a text that quotes it).
const SkyLoss q.Temperature = 2

// UnderSky is the month as a light roof sees it: the outdoor temperature less SkyLoss, the outdoor vapour pressure
// unchanged.
func (b Boundary) UnderSky() Boundary {
	b.Te -= SkyLoss
	return b
}
