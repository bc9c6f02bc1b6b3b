// Package quantity holds the typed quantities every other package computes with. Values are in SI base units; whole
// millimetres stand beside them wherever a ceiling orders material, because a ceiling of metres in floating point
// miscounts exact fits. Text is made from quantities in one place only (format.go).
package quantity

// MM is a length in whole millimetres. Geometry, strips and rolls count in it.
type MM int

// Length is a length in metres.
type Length float64

// Area is an area in square metres.
type Area float64

// Volume is a volume in cubic metres.
type Volume float64

// Temperature is a Celsius temperature.
type Temperature float64

// Pressure is a pressure, or a pressure difference, in pascals.
type Pressure float64

// SdValue is a vapour diffusion-equivalent air layer thickness in metres. It is no length one could cut.
type SdValue float64

// AirFlow is a volume flow in cubic metres per second.
type AirFlow float64

// AirChangeRate is an air change rate in 1/h, the unit of every limit that names it.
type AirChangeRate float64

// AirPermeability is a flow per area at a stated pressure in m³/(h·m²), the unit of every limit that names it.
type AirPermeability float64

// Ratio is a share of one: 0.08 is 8 %.
type Ratio float64

// Minutes is a labour time in person-minutes.
type Minutes float64

// Mass is a mass in kilograms.
type Mass float64

// Irradiance is heat by radiation on an area, W/m².
type Irradiance float64

// Degrees is an angle in degrees, as slopes and corners are stated.
type Degrees float64

// Metres gives the length in metres.
func (m MM) Metres() Length { return Length(m) / 1000 }

// MMOf rounds a length to the nearest whole millimetre.
func MMOf(l Length) MM {
	if l < 0 {
		return MM(l*1000 - 0.5)
	}
	return MM(l*1000 + 0.5)
}

// Times gives the area of a rectangle.
func (l Length) Times(w Length) Area { return Area(float64(l) * float64(w)) }

// Times gives the volume of a prism of this base.
func (a Area) Times(h Length) Volume { return Volume(float64(a) * float64(h)) }
