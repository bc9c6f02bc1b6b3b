package assess

import (
	"math"

	"lapwork/generator/calc/climate"
	"lapwork/generator/calc/sun"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// Sunlight says how much sun a run gives the outer face.
type Sunlight uint8

// The sunlight of a run.
const (
	Unlit      Sunlight = iota // nothing is known of the sun: monthly means, or a file without radiation
	NotReached                 // the outer face lies behind a ventilated layer or under a roof: neither sun nor open sky
	InShade                    // no sun, the open sky all the same
	LeastSun                   // the direction with the least sun in the year
	MostSun                    // the direction with the most
)

// Word gives the sunlight for other programs.
func (s Sunlight) Word() string {
	return [...]string{"left out", "not reached", "in shade", "least", "most"}[s]
}

// Outdoors is the weather of a run as it reaches the outer face. A part has to dry where the sun helps least, and must not
// get wet from outside where the sun drives vapour inwards most; which way each surface looks is not stated in a job, so
// both ends are run.
type Outdoors struct {
	Sun     Sunlight
	Face    sun.Face      // valid for LeastSun and MostSun; its tilt for InShade
	Takes   q.Ratio       // share of the sun that the face takes up
	Moved   q.Temperature // how much warmer than the file; below 0: colder
	Guessed bool          // nobody answered whether the sun reaches it
}

// absorptances are the shares of the sun that a light, a medium and a dark face take up: usual values of energy standards, from
// memory.
var absorptances = map[string]q.Ratio{"light": 0.3, "medium": 0.6, "dark": 0.9}

// Sunshine is sun and sky by the hour, and where the sun stands in the middle of each.
type Sunshine struct {
	Hours  []climate.Radiation
	Filled int // of Hours, those that were missing
	at     []sun.Position
}

// sunshineOf takes the radiation of a weather file.
func sunshineOf(w climate.Weather) (*Sunshine, error) {
	hours, filled, err := w.RadiationByHour()
	if err != nil {
		return nil, err
	}
	s := &Sunshine{Hours: hours, Filled: filled, at: make([]sun.Position, len(hours))}
	for i := range s.at {
		if s.at[i], err = w.SunAt(i); err != nil {
			return nil, err
		}
	}
	return s, nil
}

// gain is what a face takes up of the sun in an hour, less what it loses to the sky, within what the simulation allows.
func (s *Sunshine) gain(i int, air q.Temperature, o Outdoors) q.Irradiance {
	h := s.Hours[i]
	g := -o.Face.SkyLoss(air, h.Sky)
	if o.Sun == LeastSun || o.Sun == MostSun {
		g += q.Irradiance(o.Takes) * o.Face.Receives(s.at[i], h.Radiation)
	}
	return min(max(g, -300), 1200)
}

// year is the sun on a face over the year, Wh/m².
func (s *Sunshine) year(f sun.Face) (sum float64) {
	for i, h := range s.Hours {
		sum += float64(f.Receives(s.at[i], h.Radiation))
	}
	return sum
}

// extremes are the faces with the least and the most sun in the year: of the tilts in which the part stands, looking in any of
// eight directions.
func (s *Sunshine) extremes(tilts []q.Degrees) (least, most sun.Face) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, tilt := range tilts {
		for k := range 8 {
			f := sun.Face{Tilt: tilt, Azimuth: q.Degrees(45 * k)}
			sum := s.year(f)
			if sum < low {
				low, least = sum, f
			}
			if sum > high {
				high, most = sum, f
			}
		}
	}
	return least, most
}

// outdoors lists the weathers that a build-up has to stand.
func (c *MoistureCheck) outdoors(m *Moisture) []Outdoors {
	if m.Hours == nil {
		return []Outdoors{{}}
	}
	cold, warm := -AverageYear, AverageYear
	if m.Severe {
		cold, warm = 0, 0
	}
	tilts, hidden := c.tilts()
	switch {
	case len(tilts) == 0 || c.BuildUp.Ventilated:
		return []Outdoors{{Sun: NotReached, Moved: cold}}
	case m.Sunny == nil:
		return []Outdoors{{Moved: cold}}
	}
	e := c.BuildUp.Exposure
	light, dark := absorptances["light"], absorptances["dark"]
	if share, stated := absorptances[e.Colour]; stated {
		light, dark = share, share
	}
	least, most := m.Sunny.extremes(tilts)
	first := Outdoors{Sun: LeastSun, Face: least, Takes: light, Moved: cold}
	if e.Shaded == nil || *e.Shaded || hidden {
		first.Sun, first.Takes, first.Guessed = InShade, 0, e.Shaded == nil
	}
	if e.Shaded != nil && *e.Shaded {
		return []Outdoors{first}
	}
	return []Outdoors{first, {Sun: MostSun, Face: most, Takes: dark, Moved: warm}}
}

// tilts are those of the outer faces that stand under the open sky; hidden says that the build-up also stands elsewhere.
func (c *MoistureCheck) tilts() (open []q.Degrees, hidden bool) {
	seen := map[q.Degrees]bool{}
	for _, s := range c.Surfaces {
		if s.Face.Behind != job.Outside {
			hidden = true
			continue
		}
		tilt := s.Pitch
		if s.Role == surface.Floor {
			tilt = 180 - s.Pitch
		}
		if !seen[tilt] {
			seen[tilt], open = true, append(open, tilt)
		}
	}
	return open, hidden
}
