package thermal

import (
	"fmt"
	"math"

	q "lapwork/generator/quantity"
)

// Fixing is a kind of metal fixing that pierces an insulation layer.
type Fixing struct {
	Layer  q.Length     // d0: thickness of the insulation
	Depth  q.Length     // d1: length of the fixing in it, along the fixing; 0: through the whole layer
	Lambda Conductivity // of the fixing
	Area   q.Area       // cross section of one fixing
	PerM2  float64      // fixings per m²
}

// Correction is ΔUf = α·λf·Af·nf/d0·(R1/RT)², α = 0.8·d1/d0, annex F of EN ISO 6946:2017 (annex D of 2007; α and the first
// factors seen in public texts, the squared ratio from memory). layer is R1, the resistance of the insulation pierced;
// total is RT without bridges. Not for fixings between metal faces.
func (f Fixing) Correction(layer, total Resistance) (Transmittance, error) {
	depth := f.Depth
	if depth == 0 {
		depth = f.Layer
	}
	if !(f.Layer > 0) || !(depth > 0) || !(f.Lambda > 0) || !(f.Area >= 0) || !(f.PerM2 >= 0) {
		return 0, fmt.Errorf("fixing %+v: %w", f, ErrRange)
	}
	share, err := squaredShare(layer, total)
	if err != nil {
		return 0, err
	}
	u := 0.8 * float64(depth/f.Layer) * float64(f.Lambda) * float64(f.Area) * f.PerM2 / float64(f.Layer) * share
	if math.IsInf(u, 1) || math.IsNaN(u) {
		return 0, fmt.Errorf("fixing %+v: %w", f, ErrRange)
	}
	return Transmittance(u), nil
}

// Gaps is how well insulation fills its place.
type Gaps uint8

// The levels of air gaps, annex F.2.
const (
	NoGaps        Gaps = iota // no gaps, or minor ones that do not matter: ΔU″ = 0
	GapsThrough               // gaps through the insulation, no circulation on the warm side: 0.01
	GapsCirculate             // gaps, and air circulates on the warm side: 0.04
)

// Correction is ΔUg = ΔU″·(R1/RT)² with ΔU″ = 0, 0.01 or 0.04 W/(m²·K) (levels seen in public texts, the squared ratio
// from memory). layer is the resistance of the insulation with the gaps.
func (g Gaps) Correction(layer, total Resistance) (Transmittance, error) {
	if g > GapsCirculate {
		return 0, fmt.Errorf("level of gaps %d: %w", g, ErrRange)
	}
	share, err := squaredShare(layer, total)
	return Transmittance([...]float64{0, 0.01, 0.04}[g] * share), err
}

func squaredShare(layer, total Resistance) (float64, error) {
	if !(layer >= 0 && total > 0 && layer <= total) || math.IsInf(float64(total), 1) {
		return 0, fmt.Errorf("layer of %v in a total of %v m²·K/W: %w", float64(layer), float64(total), ErrRange)
	}
	f := float64(layer / total)
	return f * f, nil
}

// Corrected is U with its corrections, and whether they were needed: together under 3 % of U they may be dropped.
type Corrected struct {
	U          Transmittance
	Correction Transmittance
	Share      q.Ratio // of the uncorrected U
	MayDrop    bool
}

// DropBelow is the share of U under which corrections may be dropped.
const DropBelow q.Ratio = 0.03

// Correct adds corrections to U. The sum is always given; MayDrop says that the standard lets it go.
func (u Transmittance) Correct(corrections ...Transmittance) Corrected {
	c := Corrected{U: u}
	for _, d := range corrections {
		c.Correction += d
	}
	c.U += c.Correction
	if u > 0 {
		c.Share = q.Ratio(c.Correction / u)
	}
	c.MayDrop = c.Share < DropBelow
	return c
}
