package bill_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"lapwork/generator/calc/bill"
	q "lapwork/generator/quantity"
)

// Worked by hand: 7 packs at 24.90 are 174.30; 95 minutes at 56.00 an hour are 88.666..., rounded 88.67.
func TestMoneyByHand(t *testing.T) {
	if sum, err := bill.Charge(7, 2490); err != nil || sum != 17430 {
		t.Errorf("7 at 24.90: %d, %v", sum, err)
	}
	if sum, err := bill.Wage(95, 5600); err != nil || sum != 8867 {
		t.Errorf("95 min at 56.00: %d, %v", sum, err)
	}
}

func TestMoneyRefused(t *testing.T) {
	for _, c := range []struct {
		packs int
		each  int64
	}{{-1, 1}, {1, -1}, {2, bill.MaxMoney}} {
		if sum, err := bill.Charge(c.packs, c.each); err == nil {
			t.Errorf("%d packs at %d cost %d", c.packs, c.each, sum)
		}
	}
	for _, c := range []struct {
		time q.Minutes
		hour int64
	}{{-1, 100}, {q.Minutes(math.NaN()), 100}, {q.Minutes(math.Inf(1)), 100}, {60, -1}, {120, bill.MaxMoney}} {
		if sum, err := bill.Wage(c.time, c.hour); err == nil {
			t.Errorf("%v minutes at %d cost %d", float64(c.time), c.hour, sum)
		}
	}
}

// Two charges at one price are the charge of both; a wage is never off by more than half a hundredth.
func TestMoneyLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.IntRange(0, 5000).Draw(t, "a"), rapid.IntRange(0, 5000).Draw(t, "b")
		each := rapid.Int64Range(0, 1_000_000).Draw(t, "each")
		x, errX := bill.Charge(a, each)
		y, errY := bill.Charge(b, each)
		both, err := bill.Charge(a+b, each)
		if errX != nil || errY != nil || err != nil || x+y != both {
			t.Fatalf("%d + %d is not %d: %v %v %v", x, y, both, errX, errY, err)
		}
		time := rapid.IntRange(0, 1_000_000).Draw(t, "minutes")
		wage, err := bill.Wage(q.Minutes(time), each)
		if twice := 120*wage - 2*int64(time)*each; err != nil || twice > 60 || twice < -60 {
			t.Fatalf("%d min at %d an hour cost %d: %v", time, each, wage, err)
		}
	})
}
