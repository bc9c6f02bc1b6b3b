package job

import (
	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

// Indoor is the indoor climate that moisture checks reckon with. The zero value is not stated.
type Indoor struct {
	Class       int           // humidity class 1 to 4; 0: not stated
	Own         bool          // temperature and humidity are stated instead
	Temperature q.Temperature // valid where Own
	Humidity    q.Ratio       // valid where Own
	Load        string        // one of Loads, instead of a class; empty: not stated
	Cooled      *bool         // rooms are cooled below the outdoor air in summer; nil: not answered
	Pos         diag.Pos      `hash:"ignore"`
}

// Loads are the indoor climates that follow the outdoor temperature: normal and high occupancy.
var Loads = []string{"normal", "high"}

// Colours are those of an outer surface, by how much sun it takes up.
var Colours = []string{"light", "medium", "dark"}

// WeatherYears say what an hourly weather file holds: an average year, or one as severe as comes once in ten years.
var WeatherYears = []string{"average", "severe"}

// Exposure is what decides whether a moisture check by monthly means can be a proof for a build-up. nil: not answered,
// then the worse case counts where the layers leave it possible.
type Exposure struct {
	DrivingRain *bool  // rain reaches the outer face
	Shaded      *bool  // in shade, under plants, gravel or solar panels
	WetTrades   *bool  // water gets in while building: screed, plaster, rain
	WetTimber   *bool  // timber above its limit when it is closed in
	AirPath     *bool  // a way for room air into the part that the layer does not close
	Capillary   *bool  // insulation that is relied on to carry liquid water
	Stored      *bool  // the answer rests on materials that take up and give off moisture
	Sideways    *bool  // heat or moisture also flows along the part: joist ends, metal through it
	Colour      string // one of Colours, of the outer surface; empty: not answered
}
