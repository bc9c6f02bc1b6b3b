package sun

import (
	"fmt"
	"math"

	q "lapwork/generator/quantity"
)

// Site is a place on the earth and its clock.
type Site struct {
	Latitude  q.Degrees // −90 … 90, north positive
	Longitude q.Degrees // −180 … 180, east positive
	Zone      float64   // hours that the clock is before Greenwich, −12 … 14
}

// Position is where the sun stands.
type Position struct {
	Zenith  q.Degrees // 0 … 180; over 90 it is below the horizon
	Azimuth q.Degrees // 0 … 360 from north through east
}

// Up says that the sun stands over the horizon.
func (p Position) Up() bool { return p.Zenith < 90 }

// Check refuses a place that is none.
func (s Site) Check() error {
	if !within(float64(s.Latitude), -90, 90) || !within(float64(s.Longitude), -180, 180) || !within(s.Zone, -12, 14) {
		return fmt.Errorf("%w: latitude %v°, longitude %v°, zone %v h", ErrInput, float64(s.Latitude), float64(s.Longitude), s.Zone)
	}
	return nil
}

// At gives the sun's position on a day of the year (1 … 365) at an hour of standard time (0 … 24).
func (s Site) At(day int, hour float64) (Position, error) {
	if err := s.Check(); err != nil {
		return Position{}, err
	}
	if day < 1 || day > 365 || !within(hour, 0, 24) {
		return Position{}, fmt.Errorf("%w: day %d, hour %v", ErrInput, day, hour)
	}
	declination, equation := spencer(day, hour-s.Zone)
	solar := hour - s.Zone + float64(s.Longitude)/15 + equation/60
	angle := radians(15 * (solar - 12))
	latitude := radians(float64(s.Latitude))
	up := math.Sin(latitude)*math.Sin(declination) + math.Cos(latitude)*math.Cos(declination)*math.Cos(angle)
	east := -math.Cos(declination) * math.Sin(angle)
	north := math.Cos(latitude)*math.Sin(declination) - math.Sin(latitude)*math.Cos(declination)*math.Cos(angle)
	return Position{Zenith: q.Degrees(degrees(math.Acos(min(max(up, -1), 1)))), Azimuth: q.Degrees(math.Mod(degrees(math.Atan2(east, north))+360, 360))}, nil
}

// spencer gives the declination in radians and the equation of time in minutes for a day and an hour at Greenwich.
func spencer(day int, hour float64) (declination, equation float64) {
	g := 2 * math.Pi * (float64(day-1) + hour/24) / 365
	sin1, cos1 := math.Sincos(g)
	sin2, cos2 := math.Sincos(2 * g)
	sin3, cos3 := math.Sincos(3 * g)
	declination = 0.006918 - 0.399912*cos1 + 0.070257*sin1 - 0.006758*cos2 + 0.000907*sin2 - 0.002697*cos3 + 0.00148*sin3
	return declination, 229.18 * (0.000075 + 0.001868*cos1 - 0.032077*sin1 - 0.014615*cos2 - 0.040849*sin2)
}

func radians(d float64) float64 { return d * math.Pi / 180 }

func degrees(r float64) float64 { return r * 180 / math.Pi }

// within says that x is a number from low to high.
func within(x, low, high float64) bool { return x >= low && x <= high }
