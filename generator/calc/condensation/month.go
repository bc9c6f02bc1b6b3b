package condensation

import (
	"fmt"
	"math"

	"lapwork/generator/calc/vapour"
)

// dry is the stock below which a plane counts as dry, kg/m²: a thousandth of a microgram, far below any figure shown.
const dry = 1e-12

// least is the rate below which a bend of the string counts as none, kg/(m²·s): 3e-5 g/m² in a month.
const least = 1e-14

// maxSteps bounds how often a month may be split; each step dries a plane.
const maxSteps = 5000

// balance is what a month did to the stocks.
type balance struct {
	first   profile   // with the stock held at the start of the month
	stock   []float64 // at its end, kg/m²
	in, out float64   // through the surfaces over the month, kg/m²
	made    float64   // water that clipping made, kg/m²
}

// run lets a month act on the stocks.
func (g grid) run(c climate, stock []float64, seconds float64, o Options) (balance, error) {
	first := g.profile(c, wetAt(stock), o.Delta0)
	b := balance{first: first, stock: append([]float64(nil), stock...)}
	var err error
	if o.MonthEnd == ClipStock {
		b.clip(first, seconds)
	} else {
		err = b.split(g, c, seconds, o.Delta0)
	}
	if err != nil {
		return balance{}, err
	}
	return b, b.closes(stock)
}

func wetAt(stock []float64) []bool {
	wet := make([]bool, len(stock))
	for i, s := range stock {
		wet[i] = s > dry
	}
	return wet
}

func (b *balance) clip(first profile, seconds float64) {
	b.in, b.out = first.in*seconds, first.out*seconds
	for i, rate := range first.rate {
		b.stock[i] += rate * seconds
		if b.stock[i] < 0 {
			b.made -= b.stock[i]
			b.stock[i] = 0
		}
	}
}

// split runs to the moment a plane dries, computes a new profile, and so on to the end of the month.
func (b *balance) split(g grid, c climate, seconds float64, delta0 vapour.Permeability) error {
	now := b.first
	for range maxSteps {
		step, until := seconds, -1
		for i, rate := range now.rate {
			if rate < -least && b.stock[i] > dry && b.stock[i]/-rate < step {
				step, until = b.stock[i]/-rate, i
			}
		}
		for i, rate := range now.rate {
			b.stock[i] = max(b.stock[i]+rate*step, 0)
		}
		b.in, b.out = b.in+now.in*step, b.out+now.out*step
		if until < 0 {
			return nil
		}
		b.stock[until] = 0
		seconds -= step
		now = g.profile(c, wetAt(b.stock), delta0)
	}
	return fmt.Errorf("%w: a month was split %d times", ErrBalance, maxSteps)
}

// closes asserts that the planes gained what came in and did not go out, besides what clipping made. Rounding is far
// below the 0.1 mg/m² allowed.
func (b *balance) closes(before []float64) error {
	gained, size := 0.0, math.Abs(b.in)+math.Abs(b.out)+b.made
	for i, s := range b.stock {
		gained += s - before[i]
		size += s
	}
	if miss := gained - (b.in - b.out) - b.made; !(math.Abs(miss) <= 1e-9*size+1e-7) {
		return fmt.Errorf("%w: %v kg/m² in a month", ErrBalance, miss)
	}
	return nil
}
