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
	var err error
	if m.Hours, m.Filled, err = w.Hourly(vapour.ISO13788); err != nil {
		found.Notef(diag.Pos{File: file.Shown}, "close the gap in the file", "simulations take its monthly means: %v", err)
	}
}

// yearOf puts the outdoor climate and the indoor climate together. The vapour pressure outside is the mean of the hourly
// pressures.
func yearOf(c climate.Climate, in Indoor) (condensation.Year, error) {
	var out condensation.Year
	for i, m := range c.Months {
		var err error
		if in.Class == 0 {
			out[i], err = condensation.Own(vapour.ISO13788, m.Month, m.Te, m.Pe, in.Own.Temperature, in.Own.Humidity)
		} else {
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

// hourly is the climate of a run: the job's weather by the hour where there is one, else the smoothed monthly means; inside
// always the smoothed means, since the indoor climate is stated for them. The air at a part that radiates to the sky is as
// much cooler in every hour as in the month.
func (m *Moisture) hourly(year condensation.Year) (transient.Climate, error) {
	var months []transient.Month
	for _, b := range year {
		months = append(months, transient.Month{Month: b.Month, Inside: transient.Air{T: b.Ti, P: b.Pi}, Outside: transient.Air{T: b.Te, P: b.Pe}})
	}
	hours, err := transient.Smooth(months, 0)
	if err != nil || m.Hours == nil {
		return hours, err
	}
	colder := year[0].Te - m.Year[0].Te
	for i, air := range m.Hours {
		t := air.T + colder
		sat, err := vapour.ISO13788.Saturation(t)
		if err != nil {
			return nil, err
		}
		hours[i].Outside = transient.Air{T: t, P: min(air.P, sat)}
	}
	return hours, nil
}
