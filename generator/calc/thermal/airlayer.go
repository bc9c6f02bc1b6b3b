package thermal

import (
	"fmt"
	"math"

	q "lapwork/generator/quantity"
)

// MaxAirLayer is the greatest thickness the rules for unventilated air layers hold for.
const MaxAirLayer q.MM = 300

// airTable is EN ISO 6946:2007 table 2, table 8 of 2017: unventilated layers between faces of high emissivity at 10 °C
// with 5 K or less across them. Put together from public texts; horizontal 15 mm and downward 100 mm from memory.
var airTable = []struct {
	thickness q.MM
	r         [3]Resistance // horizontal, upward, downward
}{
	{0, [3]Resistance{0, 0, 0}},
	{5, [3]Resistance{0.11, 0.11, 0.11}},
	{7, [3]Resistance{0.13, 0.13, 0.13}},
	{10, [3]Resistance{0.15, 0.15, 0.15}},
	{15, [3]Resistance{0.17, 0.16, 0.17}},
	{25, [3]Resistance{0.18, 0.16, 0.19}},
	{50, [3]Resistance{0.18, 0.16, 0.21}},
	{100, [3]Resistance{0.18, 0.16, 0.22}},
	{300, [3]Resistance{0.18, 0.16, 0.23}},
}

// AirTableSource is where the table of air layers comes from.
func AirTableSource() q.Source {
	return q.Source{Text: "EN ISO 6946:2007 table 2 (2017 table 8)", Status: q.Secondary}
}

// TableAirLayer is the resistance of an unventilated air layer between ordinary building faces (emissivity 0.8 and
// more), interpolated in R between the rows. Thickness 0 to 300 mm.
func TableAirLayer(thickness q.MM, d Direction) (Resistance, error) {
	if thickness < 0 || thickness > MaxAirLayer {
		return 0, fmt.Errorf("air layer of %d mm: %w (0 to %d mm)", thickness, ErrRange, MaxAirLayer)
	}
	i := 1
	for airTable[i].thickness < thickness {
		i++
	}
	low, high := airTable[i-1], airTable[i]
	f := Resistance(thickness-low.thickness) / Resistance(high.thickness-low.thickness)
	return low.r[d] + f*(high.r[d]-low.r[d]), nil
}

// AirLayer is an unventilated air layer for the formula of annex D.2.
type AirLayer struct {
	Thickness     q.MM
	Direction     Direction
	Emissivity    [2]q.Ratio    // of the two faces; 0.9 for ordinary surfaces
	Mean          q.Temperature // mean temperature of the layer; 10 °C in the table
	Difference    float64       // K across the layer; at most 5 gives the constant coefficients
	NarrowestSide q.Length      // the smaller of width and length; 0: not stated, taken as wide
}

const stefanBoltzmann = 5.67e-8 // W/(m²·K⁴)

// Resistance is R = 1/(ha + E·hr0), annex D.2 (formula seen in two public implementations). The layer must be at most
// 300 mm and thinner than a tenth of its other sides (from memory); a smaller void needs another formula.
func (a AirLayer) Resistance() (Resistance, error) {
	if a.Thickness < 0 || a.Thickness > MaxAirLayer {
		return 0, fmt.Errorf("air layer of %d mm: %w (0 to %d mm)", a.Thickness, ErrRange, MaxAirLayer)
	}
	if a.NarrowestSide > 0 && a.Thickness.Metres() > 0.1*a.NarrowestSide {
		return 0, fmt.Errorf("air layer of %d mm in a space %v m wide is a void, not a layer: %w", a.Thickness, float64(a.NarrowestSide), ErrRange)
	}
	for _, e := range a.Emissivity {
		if !(e > 0 && e <= 1) {
			return 0, fmt.Errorf("emissivity %v: %w (above 0, at most 1)", float64(e), ErrRange)
		}
	}
	k := float64(a.Mean) + 273.15
	if !(k >= 173 && k <= 373) || !(math.Abs(a.Difference) <= 100) {
		return 0, fmt.Errorf("air layer at %v °C with %v K across: %w", float64(a.Mean), a.Difference, ErrRange)
	}
	if a.Thickness == 0 {
		return 0, nil
	}
	e := 1 / (1/float64(a.Emissivity[0]) + 1/float64(a.Emissivity[1]) - 1)
	return Resistance(1 / (a.convection() + e*4*stefanBoltzmann*k*k*k)), nil
}

// convection is ha, the coefficient of conduction and convection in W/(m²·K), tables D.1 and D.2.
func (a AirLayer) convection() float64 {
	d, dt := float64(a.Thickness.Metres()), math.Abs(a.Difference)
	var ha float64
	switch {
	case a.Direction == Horizontal && dt <= 5:
		ha = 1.25
	case a.Direction == Upward && dt <= 5:
		ha = 1.95
	case a.Direction == Downward && dt <= 5:
		ha = 0.12 * math.Pow(d, -0.44)
	case a.Direction == Horizontal:
		ha = 0.73 * math.Cbrt(dt)
	case a.Direction == Upward:
		ha = 1.14 * math.Cbrt(dt)
	default:
		ha = 0.09 * math.Pow(dt, 0.187) * math.Pow(d, -0.44)
	}
	return max(ha, 0.025/d)
}
