// Package material reads the table of building materials and thin layers. Every value keeps its own source status,
// because one row mixes what was read with what was remembered. A declared value of the product wins over every row.
//
//	density        kg/m³, a range where the class spans one
//	lambda         thermal conductivity                     W/(m·K)
//	heat_capacity  specific heat capacity                   J/(kg·K)
//	mu_dry, mu_wet vapour resistance factor from the dry-cup and the wet-cup test (EN ISO 12572), or "infinite"
//	sd             equivalent air layer thickness of a thin layer, m
package material

import (
	"math"

	q "lapwork/generator/quantity"
)

// Value is one figure with how well it is supported. The zero value is not known.
type Value struct {
	X      float64
	Known  bool
	Status q.Status
}

// Range is a figure that may span a class; a single figure has Low = High.
type Range struct {
	Low, High float64
	Known     bool
	Status    q.Status
}

// Material is a row of the table.
type Material struct {
	ID, Name     string
	Density      Range // kg/m³
	Lambda       Value // W/(m·K)
	HeatCapacity Value // J/(kg·K)
	MuDry, MuWet Value // 1; +Inf for "infinite"
	Sd           Value // m, of a thin layer
	Note         string
	Source       q.Source // its status is the weakest of the row
}

// Thin says that the row is a thin layer with an sd of its own: it has no thickness to multiply with.
func (m Material) Thin() bool { return m.Sd.Known }

// Cup says from which test a vapour resistance is taken.
type Cup uint8

// The tests of EN ISO 12572. Timber and boards on the warm side take the dry cup, on the cold side the wet cup: the
// cautious choice (common practice, no source).
const (
	DryCup Cup = iota
	WetCup
)

// Tight is the sd that stands for a layer no vapour passes, m: with 2000 Pa across it 0.001 g/m² flow in a month. It is
// finite so that profiles stay defined.
const Tight q.SdValue = 1e6

// VapourThickness is sd = mu·d for this thickness, or the declared sd of a thin layer, which does not depend on it.
// Where only one of the cups is known it serves for both; ok is false where neither is.
func (m Material) VapourThickness(d q.Length, cup Cup) (sd q.SdValue, status q.Status, ok bool) {
	if m.Sd.Known {
		return q.SdValue(m.Sd.X), m.Sd.Status, true
	}
	mu, other := m.MuDry, m.MuWet
	if cup == WetCup {
		mu, other = other, mu
	}
	if !mu.Known {
		mu = other
	}
	switch {
	case !mu.Known:
		return 0, q.Placeholder, false
	case math.IsInf(mu.X, 1):
		return Tight, mu.Status, true
	}
	return min(q.SdValue(mu.X*float64(d)), Tight), mu.Status, true
}
