package jobfile

import (
	"path"

	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// rawIndoor is the indoor climate as written.
type rawIndoor struct {
	class                 at[int]
	temperature, humidity at[float64]
	load                  at[string]
	cooled                at[bool]
}

var indoorValue = object("an indoor climate",
	field("humidity-class", "1 to 4; above those state temperature and humidity", count(1, 4), func(i *rawIndoor) *at[int] { return &i.class }),
	field("temperature", "°C, instead of a class", number(5, 35), func(i *rawIndoor) *at[float64] { return &i.temperature }),
	field("humidity", "relative humidity, with temperature", share, func(i *rawIndoor) *at[float64] { return &i.humidity }),
	field("load", "indoor air that follows the outdoor temperature, for normal or high occupancy; instead of a class", word(job.Loads...), func(i *rawIndoor) *at[string] { return &i.load }),
	field("cooled", "rooms are cooled below the outdoor air in summer", yesNo, func(i *rawIndoor) *at[bool] { return &i.cooled }),
)

// indoor resolves the indoor climate: a class, a load, or temperature and humidity.
func (s *resolver) indoor() job.Indoor {
	raw := s.raw.indoor.v
	own := raw.temperature.set() || raw.humidity.set()
	switch {
	case own && raw.class.set():
		s.fault(raw.class.pos, "delete the class, or temperature and humidity", "the indoor climate is stated twice")
	case raw.load.set() && (own || raw.class.set()):
		s.fault(raw.load.pos, "delete the load, or what else states it", "the indoor climate is stated twice")
	case own && !(raw.temperature.set() && raw.humidity.set()):
		s.fault(s.raw.indoor.pos, "state both", "an own indoor climate needs temperature and humidity")
	}
	return job.Indoor{Class: raw.class.v, Own: own, Temperature: q.Temperature(raw.temperature.v), Humidity: ratio(raw.humidity.v), Load: raw.load.v,
		Cooled: pointer(raw.cooled), Pos: s.raw.indoor.pos}
}

// rawExposure is what a build-up is exposed to, as written.
type rawExposure struct {
	rain, shaded, trades, timber, path, capillary, stored, sideways at[bool]
	colour                                                          at[string]
}

var exposureValue = object("an exposure",
	field("driving-rain", "rain reaches the outer face", yesNo, func(e *rawExposure) *at[bool] { return &e.rain }),
	field("shaded", "the outer face in shade, under plants, gravel or panels; no: sun reaches it and helps it dry", yesNo, func(e *rawExposure) *at[bool] { return &e.shaded }),
	field("wet-trades", "water gets in while building", yesNo, func(e *rawExposure) *at[bool] { return &e.trades }),
	field("wet-timber", "timber is above its limit when it is closed in", yesNo, func(e *rawExposure) *at[bool] { return &e.timber }),
	field("air-path", "room air has a way into it that the layer does not close", yesNo, func(e *rawExposure) *at[bool] { return &e.path }),
	field("capillary", "insulation is relied on to carry liquid water", yesNo, func(e *rawExposure) *at[bool] { return &e.capillary }),
	field("stored", "the answer rests on materials that take up and give off moisture", yesNo, func(e *rawExposure) *at[bool] { return &e.stored }),
	field("sideways", "heat or moisture also flows along it: joist ends, metal through it", yesNo, func(e *rawExposure) *at[bool] { return &e.sideways }),
	field("colour", "of the outer face", word(job.Colours...), func(e *rawExposure) *at[string] { return &e.colour }),
)

func exposureOf(raw rawExposure) job.Exposure {
	return job.Exposure{DrivingRain: pointer(raw.rain), Shaded: pointer(raw.shaded), WetTrades: pointer(raw.trades), WetTimber: pointer(raw.timber),
		AirPath: pointer(raw.path), Capillary: pointer(raw.capillary), Stored: pointer(raw.stored), Sideways: pointer(raw.sideways), Colour: raw.colour.v}
}

// weather reads the weather file of a climate that is stated by one; nil: none.
func (s *resolver) weather(climate at[string]) *job.WeatherFile {
	if !isWeather(climate.v) {
		return nil
	}
	text, ok := s.attached(climate, "an hourly year in the EPW form has about 2 MB: check that it is one, and that you may read it")
	if !ok {
		return nil
	}
	return &job.WeatherFile{File: climate.v, Shown: path.Join(s.shown, climate.v), Text: text}
}
