// Package leakage estimates what an envelope leaks before it is tested: elements times quantities, added as flows at the
// test pressure, with what each contributes and what doing the worst ones better buys.
//
//	Q(p) = quantity × q_ref (p/p_ref)^n             m³/s
//	q_ref = A Cd (2 p_ref/rho)^0.5                  for a figure published as a leakage area
//	n50 = Q(50)/V, qE50 = Q(50)/AE                  1/h, m³/(h·m²)
//	effective exponent = Σ Q_i n_i / Σ Q_i          at that pressure
//
// Coefficients of elements with different exponents do not add; flows at one pressure do. An area published at 4 Pa with
// Cd 1 is no hole at 50 Pa: 1 cm² of it with n 0.65 leaks 4.79 m³/h there, a sharp hole of 1 cm² 2.00 m³/h.
//
// A budget is an estimate from handbook figures: it ranks, it proves nothing.
package leakage

import (
	"errors"
	"fmt"
	"math"

	q "lapwork/generator/quantity"
)

// Density is an air density in kg/m³.
type Density float64

// ReferenceDensity is that of dry air at 20 °C and 101 325 Pa, the reference state of ISO 9972.
const ReferenceDensity Density = 1.2041

// The discharge coefficients in use.
const (
	Nozzle    = 1.0   // effective leakage areas (ELA)
	SharpEdge = 0.611 // sharp-edged holes, π/(π+2)
)

// ErrInput is wrapped by every error about a value that cannot be.
var ErrInput = errors.New("leakage: impossible input")

// Basis is the kind of figure an element is published as.
type Basis uint8

// The bases.
const (
	ByFlow Basis = iota // a flow at the reference pressure
	ByArea              // a leakage area at the reference pressure, with its discharge coefficient
)

// Leakage is what one unit of an element leaks: a flow or an area, as its basis says.
type Leakage struct {
	Flow q.AirFlow // ByFlow
	Area q.Area    // ByArea
}

// Element is a kind of place that leaks, per metre, square metre or item.
type Element struct {
	ID, Name            string
	Per                 string // unit of its quantity: "m", "m2", "item", "cm2"
	Basis               Basis
	Reference           q.Pressure
	Cd                  float64 // ByArea
	Exponent            float64 // 0.5 (hole) … 1 (long thin crack)
	Low, Expected, High Leakage // by workmanship: careful, usual, poor
	Ranged              bool    // false: only one figure is published, Low and High repeat it
	Published           string  // what the figures are there: "tight/typical", "minimum/best/maximum" …
	Note                string
	Source              q.Source
}

// Flows are three estimates of one flow.
type Flows struct{ Low, Expected, High q.AirFlow }

func (f Flows) plus(g Flows) Flows {
	return Flows{f.Low + g.Low, f.Expected + g.Expected, f.High + g.High}
}

// check refuses an element without a flow law.
func (e Element) check() error {
	if !within(float64(e.Reference), 0.1, 1000) || !within(e.Exponent, 0.4, 1) {
		return fmt.Errorf("%w: element %s at %v Pa with exponent %v", ErrInput, e.ID, float64(e.Reference), e.Exponent)
	}
	if !within(e.Cd, 0, 1) || e.Basis == ByArea && e.Cd < 0.01 {
		return fmt.Errorf("%w: element %s with discharge coefficient %v", ErrInput, e.ID, e.Cd)
	}
	for _, l := range [][3]float64{
		{float64(e.Low.Flow), float64(e.Expected.Flow), float64(e.High.Flow)},
		{float64(e.Low.Area), float64(e.Expected.Area), float64(e.High.Area)},
	} {
		if !within(l[0], 0, 1e6) || !within(l[1], l[0], l[2]) || !within(l[2], 0, 1e6) {
			return fmt.Errorf("%w: element %s with %v", ErrInput, e.ID, l)
		}
	}
	return nil
}

// At is the flow through a quantity of the element at a pressure (0.1 … 1000 Pa) for air of this density
// (0.5 … 2 kg/m³). Quantity 0 … 1e7; else ErrInput.
func (e Element) At(quantity float64, p q.Pressure, rho Density) (Flows, error) {
	if err := e.check(); err != nil {
		return Flows{}, err
	}
	if !within(quantity, 0, 1e7) || !within(float64(p), 0.1, 1000) || !within(float64(rho), 0.5, 2) {
		return Flows{}, fmt.Errorf("%w: %v %s of %s at %v Pa, density %v", ErrInput, quantity, e.Per, e.ID, float64(p), float64(rho))
	}
	scale := quantity * math.Pow(float64(p/e.Reference), e.Exponent)
	flow := func(l Leakage) q.AirFlow {
		unit := l.Flow
		if e.Basis == ByArea {
			unit = orifice(l.Area, e.Reference, e.Cd, rho)
		}
		return q.AirFlow(scale) * unit
	}
	return Flows{flow(e.Low), flow(e.Expected), flow(e.High)}, nil
}

// within is false for NaN.
func within(x, low, high float64) bool { return x >= low && x <= high }
