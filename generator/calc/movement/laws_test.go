package movement_test

import (
	"errors"
	"math"
	"testing"

	"lapwork/generator/calc/movement"
	_ "lapwork/generator/lawtest"
	q "lapwork/generator/quantity"

	"pgregory.net/rapid"
)

// Damper air makes wetter wood.
func TestEquilibriumRisesWithHumidity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := q.Temperature(rapid.Float64Range(-10, 60).Draw(t, "t"))
		rh := rapid.Float64Range(0, 0.99).Draw(t, "rh")
		low, errLow := movement.Equilibrium(at, q.Ratio(rh))
		high, errHigh := movement.Equilibrium(at, q.Ratio(rh+0.01))
		if errLow != nil || errHigh != nil || low >= high || low < 0 || high > 45 {
			t.Fatalf("%v at %v, %v a step damper", low, rh, high)
		}
	})
}

// Shrinking and swelling back by the shrinkage formula ends where it began, and nothing moves above fibre saturation.
func TestThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.Float64Range(0.01, 1).Draw(t, "d")
		s := movement.Shrinkage(rapid.Float64Range(1, 12).Draw(t, "s"))
		a := movement.Moisture(rapid.Float64Range(0, 30).Draw(t, "a"))
		b := movement.Moisture(rapid.Float64Range(0, 30).Draw(t, "b"))
		out, err := movement.ByShrinkage(q.Length(d), s, a, b, 30)
		if err != nil {
			t.Fatal(err)
		}
		back, err := movement.ByShrinkage(q.Length(d+float64(out)), s, b, a, 30)
		if err != nil || math.Abs(float64(out+back)) > 1e-12 {
			t.Fatalf("%v there, %v back (%v)", out, back, err)
		}
		wet, err := movement.ByShrinkage(q.Length(d), s, 31, 60, 30)
		if err != nil || wet != 0 {
			t.Fatalf("moves %v above fibre saturation (%v)", wet, err)
		}
	})
}

// Cutting a piece in two changes nothing, and more movement never asks for a smaller loop.
func TestFoldAdds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := movement.Piece{Dimension: q.MM(rapid.IntRange(2, 800).Draw(t, "mm")), Coefficient: 0.0025,
			From: movement.Moisture(rapid.Float64Range(5, 25).Draw(t, "from")), To: movement.Moisture(rapid.Float64Range(5, 25).Draw(t, "to"))}
		a, b := p, p
		a.Dimension = p.Dimension / 2
		b.Dimension = p.Dimension - a.Dimension
		whole, err := movement.Joint{Pieces: []movement.Piece{p}}.Size()
		cut, err2 := movement.Joint{Pieces: []movement.Piece{a, b}, Deflection: 2}.Size()
		if err != nil || err2 != nil || cut.Movement != whole.Movement+2 || cut.Loop < whole.Loop {
			t.Fatalf("whole %+v, cut %+v", whole, cut)
		}
	})
}

func TestOutOfRangeIsAnError(t *testing.T) {
	for name, call := range map[string]func() error{
		"hot":         func() error { _, err := movement.Equilibrium(101, 0.5); return err },
		"nan":         func() error { _, err := movement.Equilibrium(20, q.Ratio(math.NaN())); return err },
		"coefficient": func() error { _, _, err := movement.ByCoefficient(1, 0.5, 8, 9); return err },
		"dimension":   func() error { _, _, err := movement.ByCoefficient(-1, 0.002, 8, 9); return err },
		"moisture":    func() error { _, err := movement.ByShrinkage(1, 5, -1, 9, 30); return err },
		"shrinkage":   func() error { _, err := movement.ByShrinkage(1, 0, 8, 9, 30); return err },
		"deflection":  func() error { _, err := movement.Joint{Deflection: -1}.Size(); return err },
	} {
		if err := call(); !errors.Is(err, movement.ErrRange) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
