package bill

import (
	"fmt"
	"math"

	q "lapwork/generator/quantity"
)

// MaxMoney is the largest sum that is counted, in hundredths of a unit of money: beyond it whole hundredths are no longer
// exact in a float64, which spreadsheets use.
const MaxMoney = 1 << 53

// Charge gives what a number of packs costs at a price for each, in hundredths. Errors: a number below zero, a sum over
// MaxMoney.
func Charge(packs int, each int64) (int64, error) {
	if packs < 0 || each < 0 || packs > 0 && each > MaxMoney/int64(packs) {
		return 0, fmt.Errorf("bill: %d packs at %d", packs, each)
	}
	return int64(packs) * each, nil
}

// Wage gives what person-minutes cost at a price for the hour, in hundredths, rounded to the nearest. Errors: a time below
// zero or not a number, a sum over MaxMoney.
func Wage(time q.Minutes, hour int64) (int64, error) {
	sum := math.Round(float64(time) / 60 * float64(hour))
	if !(time >= 0) || hour < 0 || !(sum <= MaxMoney) {
		return 0, fmt.Errorf("bill: %v minutes at %d an hour", float64(time), hour)
	}
	return int64(sum), nil
}
