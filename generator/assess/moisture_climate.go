package assess

import (
	"fmt"

	"lapwork/generator/calc/climate"
	"lapwork/generator/calc/condensation"
	"lapwork/generator/calc/vapour"
	"lapwork/generator/job"
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
