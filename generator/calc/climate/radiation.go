package climate

import (
	"errors"

	"lapwork/generator/calc/sun"
	q "lapwork/generator/quantity"
)

// Radiation is what an hour brings from sun and sky, W/m².
type Radiation struct {
	sun.Radiation
	Sky q.Irradiance // heat radiation of the sky on a level face
}

// ErrNoSite says that a weather file does not say where it stands, so that its sun has no place.
var ErrNoSite = errors.New("climate: the weather file states no latitude, longitude and time zone")

// RadiationByHour gives sun and sky by the hour as Hourly gives the air. An hour that lacks one of its figures counts as missing; so
// do zeros for the sky. More than LongestGap in a row give ErrGap, a file without a place ErrNoSite.
func (w Weather) RadiationByHour() (year []Radiation, filled int, err error) {
	if !w.HasSite {
		return nil, 0, ErrNoSite
	}
	year = make([]Radiation, YearHours)
	rows := make([]int, YearHours)
	for _, h := range w.Hours {
		if h.leapDay() || !h.HasRadiation {
			continue
		}
		i := h.index()
		rows[i]++
		year[i] = mix(year[i], h.Radiation, 1/float64(rows[i]))
	}
	filled, err = fill(year, rows, mix)
	return year, filled, err
}

// mix gives the radiation at the share f of the way from a to b.
func mix(a, b Radiation, f float64) Radiation {
	on := func(a, b q.Irradiance) q.Irradiance { return a + q.Irradiance(f)*(b-a) }
	return Radiation{sun.Radiation{Direct: on(a.Direct, b.Direct), Diffuse: on(a.Diffuse, b.Diffuse), Global: on(a.Global, b.Global)}, on(a.Sky, b.Sky)}
}

// SunAt gives the sun's position in the middle of an hour of the year, counted from 0.
func (w Weather) SunAt(hour int) (sun.Position, error) {
	return w.Site.At(hour/24+1, float64(hour%24)+0.5)
}
