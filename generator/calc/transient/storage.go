package transient

import (
	"fmt"
	"math"

	q "lapwork/generator/quantity"
)

// Storage is the water content of a material by humidity and temperature, with its slopes. Isotherm, Retention and
// NoUptake are the three kinds.
type Storage interface {
	content(rh, t float64) (w, byHumidity, byTemperature float64)
	check(layer string) error
}

// Isotherm is a measured sorption isotherm: water content in kg/m³ (0 … 1000) over humidity, rising, starting at 0 and
// ending at humidity 1 (free saturation). Straight lines between the points.
type Isotherm struct{ line curve }

// NewIsotherm checks the points of a sorption isotherm; else ErrInput.
func NewIsotherm(points []Point) (Isotherm, error) {
	c, err := humidityCurve("sorption isotherm", points, 0, rhoWater)
	if err != nil {
		return Isotherm{}, err
	}
	if points[0].Humidity != 0 || points[len(points)-1].Humidity != 1 {
		return Isotherm{}, fmt.Errorf("%w: a sorption isotherm runs from humidity 0 to 1", ErrInput)
	}
	for i, s := range c.slope {
		if s <= 0 {
			return Isotherm{}, fmt.Errorf("%w: sorption isotherm does not rise after humidity %v", ErrInput, c.x[i])
		}
	}
	return Isotherm{line: c}, nil
}

// IsothermByMass makes an isotherm from moisture by dry mass (kg/kg) and the dry density (kg/m³, 5 … 8000).
func IsothermByMass(points []Point, density float64) (Isotherm, error) {
	if !within(density, 5, 8000) {
		return Isotherm{}, fmt.Errorf("%w: density %v kg/m³", ErrInput, density)
	}
	byVolume := make([]Point, len(points))
	for i, p := range points {
		byVolume[i] = Point{p.Humidity, p.Value * density}
	}
	return NewIsotherm(byVolume)
}

func (s Isotherm) content(rh, _ float64) (w, byHumidity, byTemperature float64) {
	w, byHumidity = s.line.at(rh)
	if byHumidity == 0 && rh >= 1 {
		byHumidity = s.line.slope[len(s.line.slope)-1]
	}
	return w, byHumidity, 0
}

func (s Isotherm) check(layer string) error {
	if len(s.line.x) == 0 {
		return MissingStorage{layer}
	}
	return nil
}

// Retention is a curve of water content over suction, w = Saturated / (1 + (Scale · s)^Exponent)^Power: the form of the
// benchmark material of EN 15026 annex A. Saturated 1 … 1000 kg/m³, Scale 1e-12 … 1 1/Pa, Exponent 1 … 10, Power 0.01 … 5.
type Retention struct {
	Saturated Content
	Scale     float64
	Exponent  float64
	Power     float64
}

func (r Retention) content(rh, t float64) (w, byHumidity, byTemperature float64) {
	ws := float64(r.Saturated)
	if rh >= 1 {
		return ws, 0, 0
	}
	tk := t + kelvin
	s := -suctionScale * tk * math.Log(rh)
	x := math.Pow(r.Scale*s, r.Exponent)
	w = ws * math.Pow(1+x, -r.Power)
	bySuction := -r.Power * r.Exponent * w * x / ((1 + x) * s)
	return w, -bySuction * suctionScale * tk / rh, bySuction * s / tk
}

func (r Retention) check(layer string) error {
	if !within(float64(r.Saturated), 1, 1000) || !within(r.Scale, 1e-12, 1) || !within(r.Exponent, 1, 10) || !within(r.Power, 0.01, 5) {
		return fmt.Errorf("%w: retention curve of layer %q", ErrInput, layer)
	}
	return nil
}

// ContentAt gives the water content at a humidity above 0 and up to 1.
func (r Retention) ContentAt(rh q.Ratio, t q.Temperature) Content {
	w, _, _ := r.content(float64(rh), float64(t))
	return Content(w)
}

// Suction gives the suction at a water content between 0 and saturation: the inverse of the curve.
func (r Retention) Suction(w Content) q.Pressure {
	return q.Pressure(math.Pow(math.Pow(float64(r.Saturated/w), 1/r.Power)-1, 1/r.Exponent) / r.Scale)
}

// NoUptake says that a material holds no water below saturation: mineral wool, an air layer, metal, glass. It is a
// statement to be made about a material, not a default.
type NoUptake struct{}

func (NoUptake) content(float64, float64) (w, byHumidity, byTemperature float64) { return 0, 0, 0 }

func (NoUptake) check(string) error { return nil }
