package transient

import (
	"fmt"

	q "lapwork/generator/quantity"
)

// Material is what a simulation must know of a material.
type Material struct {
	Heat     HeatCapacity // dry, by volume: density times specific heat; 1e3 … 1e7
	Lambda   Conductivity // dry; 0.005 … 500
	PerWater Conductivity // rise of lambda with each kg/m³ of water; 0 … 1
	Storage  Storage      // nil: the run is refused with MissingStorage
	Vapour   Permeability
	Liquid   Liquid // nil: no liquid transport
}

// Layer is one layer of a build-up: a film, or a material with a thickness.
type Layer struct {
	Name      string
	Thickness q.Length // 0 for a film, else 0.0001 … 100 m
	Film      *Film
	Material  *Material
	Start     q.Ratio     // humidity at the start if it differs from the wall's; 0: as the wall
	BuiltIn   MassPerArea // water above that at the start, spread over the layer; 0 … 500
	Limit     Content     // most water the material may hold in the settled year, mean over the layer; 0: none stated
}

// Surface is the resistance between air and build-up. A vapour resistance of 0 follows the monthly method; EN 15026
// takes it from the convection.
type Surface struct {
	R  Resistance // 0 … 10
	Sd q.SdValue  // 0 … 100 m
}

// Wetting is water placed at an interface at the start: a plane that got wet before it was closed.
type Wetting struct {
	Interface int // 0 inner surface, 1 behind the first layer …
	Water     MassPerArea
}

// Wall is a build-up, layers from inside to outside, as it stands at the start.
type Wall struct {
	Layers          []Layer
	Inside, Outside Surface
	Start           q.Ratio       // humidity of every layer at the start, above 0 and at most 1
	Temperature     q.Temperature // of every layer at the start
	Wet             []Wetting
	Source          Source // nil: none assumed, then no verdict is a proof
}

const maxLayers = 40

// check finds every fault of the wall's data; the first is returned.
func (w Wall) check() error {
	if n := len(w.Layers); n == 0 || n > maxLayers {
		return fmt.Errorf("%w: %d layers (1 … %d)", ErrInput, n, maxLayers)
	}
	if !within(float64(w.Start), 0.001, 1) || !within(float64(w.Temperature), -40, 90) {
		return fmt.Errorf("%w: start at humidity %v and %v °C", ErrInput, float64(w.Start), float64(w.Temperature))
	}
	for _, s := range []Surface{w.Inside, w.Outside} {
		if !within(float64(s.R), 0, 10) || !within(float64(s.Sd), 0, 100) {
			return fmt.Errorf("%w: surface R %v m²K/W, sd %v m", ErrInput, float64(s.R), float64(s.Sd))
		}
	}
	for _, l := range w.Layers {
		if err := l.check(); err != nil {
			return err
		}
	}
	for _, m := range w.Wet {
		if m.Interface < 0 || m.Interface > len(w.Layers) || !within(float64(m.Water), 0, 500) {
			return fmt.Errorf("%w: %v kg/m² of water at interface %d", ErrInput, float64(m.Water), m.Interface)
		}
	}
	if w.Source != nil {
		return w.Source.check(w)
	}
	return nil
}

func (l Layer) check() error {
	if !within(float64(l.Start), 0, 1) || !within(float64(l.BuiltIn), 0, 500) || !within(float64(l.Limit), 0, rhoWater) {
		return fmt.Errorf("%w: start humidity %v, built-in water %v kg/m² or limit %v kg/m³ of layer %q", ErrInput, float64(l.Start), float64(l.BuiltIn), float64(l.Limit), l.Name)
	}
	if l.Film != nil {
		if l.Material != nil || l.Thickness != 0 || l.BuiltIn != 0 || l.Limit != 0 {
			return fmt.Errorf("%w: film %q has no material, thickness or water", ErrInput, l.Name)
		}
		return l.Film.check(l.Name)
	}
	if l.Material == nil || !within(float64(l.Thickness), 0.0001, 100) {
		return fmt.Errorf("%w: layer %q needs a film, or a material and a thickness (%v m)", ErrInput, l.Name, float64(l.Thickness))
	}
	return l.Material.check(l.Name)
}

func (m *Material) check(layer string) error {
	if m.Storage == nil {
		return MissingStorage{layer}
	}
	if !within(float64(m.Heat), 1e3, 1e7) || !within(float64(m.Lambda), 0.005, 500) || !within(float64(m.PerWater), 0, 1) || m.Vapour == nil {
		return fmt.Errorf("%w: heat capacity, conductivity or vapour permeability of layer %q", ErrInput, layer)
	}
	if err := m.Storage.check(layer); err != nil {
		return err
	}
	if err := m.Vapour.check(layer); err != nil {
		return err
	}
	if m.Liquid == nil {
		return nil
	}
	return m.Liquid.check(layer)
}
