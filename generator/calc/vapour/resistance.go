package vapour

import (
	"fmt"

	q "lapwork/generator/quantity"
)

// Permeability is a vapour permeability in kg/(m·s·Pa).
type Permeability float64

// Resistance is a vapour resistance in m²·s·Pa/kg.
type Resistance float64

// StillAir is δ0, the permeability of still air of EN ISO 13788: 2e-10 kg/(m·s·Pa). Other texts use 1.9e-10 to 2.0e-10;
// mixing them shifts every mass by the same share.
const StillAir Permeability = 2e-10

// The units in which a vapour resistance is declared, in m²·s·Pa/kg.
const (
	MegaNewtonSecondPerGram Resistance = 1e9    // 1 MN·s/g, 0.2 m of sd
	PAM                     Resistance = 4.80e8 // mmHg·m²·h/g, SBi 224 annex A table 22
)

// Perm is one US perm as a permeance in kg/(m²·s·Pa). SBi 224 prints 5.71e-11, the standards institute 5.72e-11.
const Perm = 5.72e-11

// Of gives the resistance that sd stands for: R = sd/δ0, 5e9 m²·s·Pa/kg for a metre with δ0 = 2e-10.
func Of(sd q.SdValue, delta0 Permeability) Resistance {
	return Resistance(float64(sd) / float64(delta0))
}

// Sd gives the equivalent air layer thickness of a resistance, m.
func (r Resistance) Sd(delta0 Permeability) q.SdValue { return q.SdValue(float64(r) * float64(delta0)) }

// SdOfPerms gives the equivalent air layer thickness of a permeance in US perms, which must be above zero.
func SdOfPerms(perms float64, delta0 Permeability) (q.SdValue, error) {
	if err := checkPositive("permeance", perms); err != nil {
		return 0, err
	}
	return Resistance(1 / (perms * Perm)).Sd(delta0), nil
}

// Share is a part of an area and the sd of what fills it.
type Share struct {
	Fraction q.Ratio
	Sd       q.SdValue
}

// Parallel is the sd of parts side by side, 1/Σ(f/sd): the harmonic mean, since a leak in a vapour layer works in
// parallel to the rest (German textbook rule, secondary). It knows diffusion only; air that flows through the leak
// carries far more. The fractions must sum to one, within 1e-6, and every sd be above zero.
func Parallel(parts []Share) (q.SdValue, error) {
	var sum, flow float64
	for _, p := range parts {
		if err := checkPositive("sd in m", float64(p.Sd)); err != nil {
			return 0, err
		}
		if err := checkShare(p.Fraction); err != nil {
			return 0, fmt.Errorf("fraction: %w", err)
		}
		sum += float64(p.Fraction)
		flow += float64(p.Fraction) / float64(p.Sd)
	}
	if sum < 1-1e-6 || sum > 1+1e-6 {
		return 0, fmt.Errorf("fractions sum to %v, not to 1: %w", sum, ErrRange)
	}
	return q.SdValue(1 / flow), nil
}
