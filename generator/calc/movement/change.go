package movement

import (
	"fmt"
	"math"

	q "lapwork/generator/quantity"
)

// The range of moisture content in which the coefficients of table 13-5 hold, %.
const (
	CoefficientFrom Moisture = 6
	CoefficientTo   Moisture = 14
)

// ByCoefficient is ΔD = D·C·(Mf−Mi), Wood Handbook ch. 13. Both moisture contents are clamped to 0 and fibre
// saturation. Exact says that both lie within 6 to 14 %, where the coefficients hold; outside it the shrinkage formula
// is better where S is known.
func ByCoefficient(d q.Length, c Coefficient, from, to Moisture) (change Change, exact bool, err error) {
	if err := check(d, from, to); err != nil {
		return 0, false, err
	}
	if !(c >= 0 && c <= 0.02) {
		return 0, false, fmt.Errorf("coefficient %v per %%: %w (0 to 0.02)", float64(c), ErrRange)
	}
	exact = min(from, to) >= CoefficientFrom && max(from, to) <= CoefficientTo
	from, to = clamp(from, FibreSaturation), clamp(to, FibreSaturation)
	return Change(float64(d) * float64(c) * float64(to-from)), exact, nil
}

// ByShrinkage is ΔD = D·(Mf−Mi)/(100·FSP/S − FSP + Mi), Wood Handbook ch. 13, for changes outside 6 to 14 %. d is the
// dimension at the first moisture content. Both are clamped to 0 and fsp.
func ByShrinkage(d q.Length, s Shrinkage, from, to, fsp Moisture) (Change, error) {
	if err := check(d, from, to); err != nil {
		return 0, err
	}
	if !(s > 0 && s <= 30) || !(fsp >= 15 && fsp <= 40) {
		return 0, fmt.Errorf("shrinkage %v %% with fibre saturation %v %%: %w", float64(s), float64(fsp), ErrRange)
	}
	from, to = clamp(from, fsp), clamp(to, fsp)
	return Change(float64(d) * float64(to-from) / (100*float64(fsp)/float64(s) - float64(fsp) + float64(from))), nil
}

// CoefficientOf is the coefficient that a shrinkage amounts to near 10 % moisture: C = 1/(100·FSP/S − FSP + 10), by
// which table 13-5 follows from table 4-3.
func CoefficientOf(s Shrinkage, fsp Moisture) (Coefficient, error) {
	change, err := ByShrinkage(1, s, 10, 11, fsp)
	return Coefficient(change), err
}

func clamp(m, fsp Moisture) Moisture { return min(max(m, 0), fsp) }

func check(d q.Length, from, to Moisture) error {
	if !(d >= 0) || math.IsInf(float64(d), 1) {
		return fmt.Errorf("dimension %v m: %w", float64(d), ErrRange)
	}
	for _, m := range []Moisture{from, to} {
		if !(m >= 0 && m <= 200) {
			return fmt.Errorf("moisture content %v %%: %w (0 to 200)", float64(m), ErrRange)
		}
	}
	return nil
}
