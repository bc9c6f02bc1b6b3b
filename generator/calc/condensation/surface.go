package condensation

import (
	"fmt"

	"lapwork/generator/calc/thermal"
	"lapwork/generator/calc/vapour"
	q "lapwork/generator/quantity"
)

// Factor is a temperature factor of the inside surface, fRsi = (θsi−te)/(ti−te).
type Factor float64

// The relative humidity a surface may reach in the monthly mean.
const (
	MouldHumidity        q.Ratio = 0.8 // mould, EN ISO 13788:2012 5.3 (secondary)
	CorrosionHumidity    q.Ratio = 0.6 // corrosion (from memory)
	CondensationHumidity q.Ratio = 1   // drops on surfaces that take up no water
)

// SurfaceMonth is what a month asks of the inside surface.
type SurfaceMonth struct {
	Boundary   Boundary
	Saturation q.Pressure    // least saturation pressure at the surface, pi/humidity
	Lowest     q.Temperature // θsi,min
	Required   Factor        // fRsi,min; valid where Defined
	Defined    bool          // te < ti
	Heating    bool          // counts in the search of the critical month
}

// SurfaceCriterion is the surface check of a year.
type SurfaceCriterion struct {
	Months   []SurfaceMonth
	Critical int // index of the month with the largest fRsi,min of the heating season; −1: none
	Required Factor
	Source   q.Source
}

// HeatingBelow is the outdoor mean from which a month no longer counts for the critical month: indoor values of the
// heating season do not hold there.
const HeatingBelow q.Temperature = 15

// Surface finds the least temperature factor each month asks for so that the surface humidity stays at or below the given
// share, and the critical month. EN ISO 13788:2012 clause 5.
func Surface(set vapour.Set, months []Boundary, humidity q.Ratio) (SurfaceCriterion, error) {
	if !(humidity > 0 && humidity <= 1) {
		return SurfaceCriterion{}, fmt.Errorf("%w: surface humidity %v", ErrInput, float64(humidity))
	}
	out := SurfaceCriterion{Critical: -1, Source: q.Source{Text: "EN ISO 13788:2012 clause 5", Status: q.Secondary}}
	for i, b := range months {
		if err := b.check(); err != nil {
			return SurfaceCriterion{}, err
		}
		m := SurfaceMonth{Boundary: b, Saturation: b.Pi / q.Pressure(humidity), Heating: b.Te < HeatingBelow}
		var err error
		if m.Lowest, err = set.DewPoint(m.Saturation); err != nil {
			return SurfaceCriterion{}, fmt.Errorf("month %d: %w", b.Month, err)
		}
		if m.Defined = b.Te < b.Ti; m.Defined {
			m.Required = Factor((m.Lowest - b.Te) / (b.Ti - b.Te))
		}
		out.Months = append(out.Months, m)
		if m.Defined && m.Heating && (out.Critical < 0 || m.Required > out.Required) {
			out.Critical, out.Required = i, m.Required
		}
	}
	return out, nil
}

// OwnFactor is the element's own fRsi away from thermal bridges: 1 − 0.25/RT with the inside film of the U-value replaced
// by 0.25. u and films are those of the U-value. At bridges the factor comes from a detailed calculation or a detail
// that states one.
func OwnFactor(u thermal.Transmittance, films thermal.Films) (Factor, error) {
	film := thermal.SurfaceFilms().Inside
	if !(u > 0) {
		return 0, fmt.Errorf("%w: U = %v", ErrInput, float64(u))
	}
	total := thermal.Resistance(1/u) - films.Inside + film
	if !(total > film) {
		return 0, fmt.Errorf("%w: U = %v leaves no resistance between the films", ErrInput, float64(u))
	}
	return Factor(1 - film/total), nil
}

// FactorOf is the temperature factor of a measured point.
func FactorOf(surface, te, ti q.Temperature) (Factor, error) {
	if !(ti != te) {
		return 0, fmt.Errorf("%w: no temperature factor with %v °C on both sides", ErrInput, float64(te))
	}
	return Factor((surface - te) / (ti - te)), nil
}

// SurfaceTemperature is θsi = te + fRsi·(ti−te).
func SurfaceTemperature(f Factor, te, ti q.Temperature) q.Temperature {
	return te + q.Temperature(f)*(ti-te)
}

// RoomHumidityLimit is the relative humidity of the room at which the surface reaches the given humidity.
func RoomHumidityLimit(set vapour.Set, f Factor, te, ti q.Temperature, surface q.Ratio) (q.Ratio, error) {
	at, err := set.Pressure(SurfaceTemperature(f, te, ti), surface)
	if err != nil {
		return 0, err
	}
	return set.Humidity(ti, at)
}
