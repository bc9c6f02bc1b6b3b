package transient

import (
	"fmt"
	"math"
)

// Liquid is the liquid transport of a material. LogPolynomial (driven by suction) and Diffusivity (driven by water content)
// are the two kinds; none at all is nil.
type Liquid interface {
	// drive gives the conductance by length, and the potential that falls along the flow with its slopes, from the water
	// content w and the suction s.
	drive(w, s potential) (k float64, p potential)
	check(layer string) error
}

// potential is a value with its slopes by humidity and temperature.
type potential struct{ value, byHumidity, byTemperature float64 }

// LogPolynomial gives ln K as a polynomial in w - Centre, natural logarithm, K in s: the form of EN 15026 annex A.
// 1 … 10 finite terms.
type LogPolynomial struct {
	Centre Content
	Terms  []float64
}

func (l LogPolynomial) drive(w, s potential) (k float64, p potential) {
	return l.At(Content(w.value)), potential{-s.value, -s.byHumidity, -s.byTemperature}
}

// At gives K at a water content, s.
func (l LogPolynomial) At(w Content) float64 {
	x, sum := float64(w-l.Centre), 0.0
	for i := len(l.Terms) - 1; i >= 0; i-- {
		sum = sum*x + l.Terms[i]
	}
	return math.Exp(sum)
}

func (l LogPolynomial) check(layer string) error {
	if len(l.Terms) == 0 || len(l.Terms) > 10 || !within(float64(l.Centre), 0, rhoWater) {
		return fmt.Errorf("%w: liquid conductivity of layer %q", ErrInput, layer)
	}
	for _, v := range l.Terms {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("%w: liquid conductivity of layer %q", ErrInput, layer)
		}
	}
	return nil
}

// TransportPoint is a liquid diffusivity, m²/s, at a water content.
type TransportPoint struct {
	Content     Content
	Diffusivity float64
}

// Diffusivity is a liquid diffusivity over water content: its logarithm runs straight between the points, and below the
// first point no liquid moves. The flow is Dw dw/dx within the material.
type Diffusivity struct{ line curve }

// NewDiffusivity checks a liquid diffusivity: at least two points, contents rising within 0 … 1000 kg/m³, diffusivities
// 1e-16 … 1e-3 m²/s; else ErrInput.
func NewDiffusivity(points []TransportPoint) (Diffusivity, error) {
	var d Diffusivity
	if len(points) < 2 {
		return d, fmt.Errorf("%w: liquid diffusivity needs at least two points", ErrInput)
	}
	for i, p := range points {
		if !within(float64(p.Content), 0, rhoWater) || !within(p.Diffusivity, 1e-16, 1e-3) || (i > 0 && p.Content <= points[i-1].Content) {
			return Diffusivity{}, fmt.Errorf("%w: liquid diffusivity %v m²/s at %v kg/m³", ErrInput, p.Diffusivity, float64(p.Content))
		}
		d.line.add(float64(p.Content), math.Log(p.Diffusivity))
	}
	return d, nil
}

// drive takes the content itself: K = Dw dw/ds would jump wherever the straight lines of an isotherm meet.
func (d Diffusivity) drive(w, _ potential) (k float64, p potential) {
	if w.value < d.line.x[0] {
		return 0, w
	}
	ln, _ := d.line.at(w.value)
	return math.Exp(ln), w
}

func (d Diffusivity) check(layer string) error {
	if len(d.line.x) == 0 {
		return fmt.Errorf("%w: liquid diffusivity of layer %q is empty", ErrInput, layer)
	}
	return nil
}
