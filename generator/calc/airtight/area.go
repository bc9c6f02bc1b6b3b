package airtight

import (
	"fmt"
	"math"

	q "lapwork/generator/quantity"
)

// The discharge coefficients of the areas in use.
const (
	Nozzle    = 1.0   // ELA: ISO 9972, ASTM E779
	SharpEdge = 0.611 // EqLA: CAN/CGSB-149.10
)

// LeakageArea is a leakage area with what it cannot be read without: the areas in use differ by a factor of about two for
// one house.
type LeakageArea struct {
	Name             string // "ELA4", "EqLA10" …
	At               q.Pressure
	Cd               float64
	Value, Low, High q.Area
	Banded           bool
	Extrapolated     bool
}

// AreaOf is the area of an opening with this discharge coefficient (0 < cd ≤ 1, else ErrInput) that passes the flow,
// q/(Cd (2 dp/rho_0)^0.5): the ELA of ISO 9972:2015 6.3.5 (from memory) written from the flow.
func AreaOf(f Flow, cd float64) (LeakageArea, error) {
	if !within(cd, 1e-3, 1) || !within(float64(f.At), 1e-3, maxPressure) {
		return LeakageArea{}, fmt.Errorf("%w: an area with discharge coefficient %v at %v Pa", ErrInput, cd, float64(f.At))
	}
	speed := cd * math.Sqrt(2*float64(f.At)/float64(ReferenceDensity))
	area := func(flow q.AirFlow) q.Area { return q.Area(float64(flow) / speed) }
	name := "ELA"
	if cd < Nozzle {
		name = "EqLA"
	}
	return LeakageArea{Name: fmt.Sprintf("%s%g", name, float64(f.At)), At: f.At, Cd: cd, Value: area(f.Value), Low: area(f.Low),
		High: area(f.High), Banded: f.Banded, Extrapolated: f.Extrapolated}, nil
}

// Areas gives the leakage areas in use: ELA4, ELA10 and ELA50 with Cd 1, EqLA10 with Cd 0.611.
func (t Test) Areas() ([]LeakageArea, error) {
	var out []LeakageArea
	for _, want := range []struct {
		at q.Pressure
		cd float64
	}{{4, Nozzle}, {10, Nozzle}, {10, SharpEdge}, {50, Nozzle}} {
		f, err := t.At(want.at)
		if err != nil {
			return nil, err
		}
		a, err := AreaOf(f, want.cd)
		if err != nil {
			return nil, err
		}
		out = append(out, a)
	}
	return out, nil
}
