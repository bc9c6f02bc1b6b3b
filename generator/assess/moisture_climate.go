package assess

import (
	"fmt"

	"lapwork/generator/calc/climate"
	"lapwork/generator/calc/condensation"
	"lapwork/generator/calc/transient"
	"lapwork/generator/calc/vapour"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/library"
	q "lapwork/generator/quantity"
)

// AssumedClass is the humidity class where the job states none: buildings with unknown occupancy.
const AssumedClass condensation.HumidityClass = 3

// indoorOf is the indoor climate with what is assumed.
func indoorOf(j job.Indoor) Indoor {
	out := Indoor{Class: condensation.HumidityClass(j.Class), Own: j, Source: condensation.ClassSource()}
	switch {
	case j.Own:
		out.Class, out.Source = 0, q.Source{Text: "stated in the job", Status: q.Confirmed}
	case j.Load != "":
		ramp := condensation.Load(j.Load == "high")
		out.Class, out.Ramp, out.Source = 0, &ramp, ramp.Source
	case j.Class == 0:
		out.Class, out.Assumed = AssumedClass, true
	}
	return out
}

// outdoors takes the outdoor climate from the job's weather file, or from the table.
func (m *Moisture) outdoors(place job.Place, tables *library.MoistureTables, found *diag.List) {
	file := place.Weather
	if file == nil {
		m.Climate, m.Known = tables.Climate(place.Climate)
		return
	}
	w, ok := climate.ParseEPW(file.Shown, file.Text, found)
	if !ok {
		return
	}
	if m.Climate, m.Known = w.Climate(file.File, file.File, vapour.ISO13788, found); !m.Known {
		return
	}
	m.Severe = place.Severe
	var err error
	if m.Hours, m.Filled, err = w.Hourly(vapour.ISO13788); err != nil {
		found.Notef(diag.Pos{File: file.Shown}, "close the gap in the file", "simulations take its monthly means: %v", err)
		return
	}
	if m.Sunny, err = sunshineOf(w); err != nil {
		found.Notef(diag.Pos{File: file.Shown}, "take a file with radiation by the hour", "simulations leave out sun and sky: %v", err)
	}
}

// yearOf puts the outdoor climate and the indoor climate together. The vapour pressure outside is the mean of the hourly
// pressures.
func yearOf(c climate.Climate, in Indoor) (condensation.Year, error) {
	var out condensation.Year
	for i, m := range c.Months {
		var err error
		switch {
		case in.Ramp != nil:
			out[i], err = condensation.ByRamp(vapour.ISO13788, m.Month, m.Te, m.Pe, *in.Ramp)
		case in.Class == 0:
			out[i], err = condensation.Own(vapour.ISO13788, m.Month, m.Te, m.Pe, in.Own.Temperature, in.Own.Humidity)
		default:
			out[i], err = condensation.ByClass(m.Month, m.Te, m.Pe, in.Class, 1)
		}
		if err != nil {
			return out, fmt.Errorf("climate %s, month %d: %w", c.ID, m.Month, err)
		}
	}
	return out, nil
}

// humidDew is the mean dew point from which a summer month counts as humid for cooled rooms: common practice, no source.
const humidDew q.Temperature = 16

// humidSummer says that the air outside would condense on what a cooled room keeps cold.
func (m *Moisture) humidSummer() bool {
	for _, b := range m.Year {
		if dew, err := vapour.ISO13788.DewPoint(b.Pe); err == nil && dew >= humidDew {
			return true
		}
	}
	return false
}

// AverageYear is how much colder, and how much warmer, than the file the air of an average year is taken, its humidity unchanged,
// K: EN 15026:2007 allows a mean year moved by this in place of a year as severe as comes once in ten (from memory).
const AverageYear q.Temperature = 2

// moved is a climate with its air warmer by dt at the same humidity.
func moved(c climate.Climate, dt q.Temperature) (climate.Climate, error) {
	for i := range c.Months {
		air, err := warmer(climate.Air{T: c.Months[i].Te, P: c.Months[i].Pe}, dt)
		if err != nil {
			return c, err
		}
		c.Months[i].Te, c.Months[i].Pe = air.T, air.P
	}
	return c, nil
}

// warmer is air warmer by dt at the same humidity over water.
func warmer(a climate.Air, dt q.Temperature) (climate.Air, error) {
	if dt == 0 {
		return a, nil
	}
	before, err := vapour.ISO13788.SaturationOverWater(a.T)
	if err != nil {
		return a, err
	}
	after, err := vapour.ISO13788.SaturationOverWater(a.T + dt)
	return climate.Air{T: a.T + dt, P: a.P * after / before}, err
}

// hourly is the climate of a run: the job's weather by the hour where there is one, else the smoothed monthly means; inside
// always the smoothed means, since the indoor climate is stated for them. Where the file does not tell what the sky sends, the
// air at a part that radiates to it is as much cooler in every hour as in the month.
func (m *Moisture) hourly(c *MoistureCheck, o Outdoors) (transient.Climate, error) {
	if m.Hours == nil {
		return smooth(c.Year)
	}
	place, err := moved(m.Climate, o.Moved)
	if err != nil {
		return nil, err
	}
	year, err := yearOf(place, m.Indoor)
	if err != nil {
		return nil, err
	}
	hours, err := smooth(year)
	if err != nil {
		return nil, err
	}
	colder := c.Year[0].Te - m.Year[0].Te
	if m.Sunny != nil {
		colder = 0
	}
	for i, air := range m.Hours {
		if air, err = warmer(air, o.Moved); err != nil {
			return nil, err
		}
		sat, err := vapour.ISO13788.Saturation(air.T + colder)
		if err != nil {
			return nil, err
		}
		hours[i].Outside = transient.Air{T: air.T + colder, P: min(air.P, sat)}
		if m.Sunny != nil && o.Sun != NotReached {
			hours[i].Absorbed = m.Sunny.gain(i, air.T, o)
		}
	}
	return hours, nil
}

// smooth draws a year's months out to hours.
func smooth(year condensation.Year) (transient.Climate, error) {
	var months []transient.Month
	for _, b := range year {
		months = append(months, transient.Month{Month: b.Month, Inside: transient.Air{T: b.Ti, P: b.Pi}, Outside: transient.Air{T: b.Te, P: b.Pe}})
	}
	return transient.Smooth(months, 0)
}
