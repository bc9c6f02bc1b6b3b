package transient

import (
	"fmt"

	q "lapwork/generator/quantity"
)

// Permeability is the vapour permeability of a material. Mu and PoreDiffusion are the two kinds.
type Permeability interface {
	delta(rh, w, t float64) float64
	check(layer string) error
}

// Mu is the vapour resistance factor, one value or a curve over humidity.
type Mu struct {
	fixed float64
	line  curve
}

// FixedMu is one vapour resistance factor, 1 … 1e6, checked at the start of a run.
func FixedMu(mu float64) Mu { return Mu{fixed: mu} }

// NewMu is a factor (1 … 1e6) that follows the humidity, straight between the points and held at the ends.
func NewMu(points []Point) (Mu, error) {
	c, err := humidityCurve("vapour resistance factor", points, 1, 1e6)
	return Mu{line: c}, err
}

func (m Mu) delta(rh, _, _ float64) float64 {
	if m.fixed > 0 {
		return airDelta / m.fixed
	}
	mu, _ := m.line.at(rh)
	return airDelta / mu
}

func (m Mu) check(layer string) error {
	if len(m.line.x) == 0 && !within(m.fixed, 1, 1e6) {
		return fmt.Errorf("%w: vapour resistance factor %v of layer %q", ErrInput, m.fixed, layer)
	}
	return nil
}

// PoreDiffusion is vapour diffusion in the pores that water leaves free, the form of EN 15026 annex A:
// Mw/(R T) · Diffusivity/Factor · f/(Share f² + 1 - Share) with f = 1 - w/Saturated.
// Diffusivity 1e-6 … 1e-4 m²/s, Factor 1 … 1e6, Share 0 … 1, Saturated 1 … 1000 kg/m³.
type PoreDiffusion struct {
	Diffusivity float64
	Factor      float64
	Share       float64
	Saturated   Content
}

func (d PoreDiffusion) delta(_, w, t float64) float64 {
	f := 1 - w/float64(d.Saturated)
	return molarMass / (gasConstant * (t + kelvin)) * d.Diffusivity / d.Factor * f / (d.Share*f*f + 1 - d.Share)
}

func (d PoreDiffusion) check(layer string) error {
	if !within(d.Diffusivity, 1e-6, 1e-4) || !within(d.Factor, 1, 1e6) || !within(d.Share, 0, 1) || !within(float64(d.Saturated), 1, 1000) {
		return fmt.Errorf("%w: pore diffusion of layer %q", ErrInput, layer)
	}
	return nil
}

// At gives the permeability, kg/(m s Pa), at a water content below saturation.
func (d PoreDiffusion) At(w Content, t q.Temperature) float64 {
	return d.delta(0, float64(w), float64(t))
}

// Film is a layer without thickness: a membrane, a vapour control sheet, a coat of paint. It stores nothing and stops
// liquid. Its sd value may follow the mean humidity of its two faces.
type Film struct {
	line curve
	R    Resistance // 0 … 10, mostly 0
}

// FixedFilm is a film of one sd value, 0 … 1e5 m, checked at the start of a run.
func FixedFilm(sd q.SdValue) Film {
	return Film{line: curve{x: []float64{0}, y: []float64{float64(sd)}}}
}

// NewFilm is a film whose sd value (0 … 1e5 m) follows the mean humidity of its faces, straight between the points and
// held at the ends.
func NewFilm(points []Point) (Film, error) {
	c, err := humidityCurve("sd value", points, 0, 1e5)
	return Film{line: c}, err
}

// SdAt gives the sd value at a mean humidity.
func (f Film) SdAt(rh q.Ratio) q.SdValue {
	sd, _ := f.line.at(float64(rh))
	return q.SdValue(sd)
}

func (f Film) check(layer string) error {
	if len(f.line.x) == 0 || !within(f.line.y[0], 0, 1e5) || !within(float64(f.R), 0, 10) {
		return fmt.Errorf("%w: film %q", ErrInput, layer)
	}
	return nil
}
