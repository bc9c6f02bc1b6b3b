package strips

import (
	"cmp"
	"math/bits"
)

// cost is what strips take: total cut length in mm, pieces, tape in fine units, seams off their backing, seams too near to
// those of the next surface, and the price in 1/unit of the money unit where the objective is priced.
type cost struct {
	length, pieces  int64
	tape            fine
	unbacked, close int64
	price           wide
}

// wide is an unsigned 128-bit sum.
type wide struct{ hi, lo uint64 }

func (w wide) plus(o wide) wide {
	lo, carry := bits.Add64(w.lo, o.lo, 0)
	hi, _ := bits.Add64(w.hi, o.hi, carry)
	return wide{hi, lo}
}

func product(a, b int64) wide {
	hi, lo := bits.Mul64(uint64(a), uint64(b))
	return wide{hi, lo}
}

func (c cost) plus(o cost) cost {
	return cost{c.length + o.length, c.pieces + o.pieces, c.tape + o.tape, c.unbacked + o.unbacked, c.close + o.close, c.price.plus(o.price)}
}

// compare orders costs: price (all equal unless priced), length, pieces, tape, seams off their
// backing, seams too near.
func (c cost) compare(o cost) int {
	return cmp.Or(cmp.Compare(c.price.hi, o.price.hi), cmp.Compare(c.price.lo, o.price.lo), cmp.Compare(c.length, o.length),
		cmp.Compare(c.pieces, o.pieces), cmp.Compare(c.tape, o.tape), cmp.Compare(c.unbacked, o.unbacked),
		cmp.Compare(c.close, o.close))
}

// price adds the price by the objective's rates.
func (o Objective) price(c cost, unit fine) cost {
	if o.priced {
		c.price = product(c.length*unit, o.rates.SheetPerMM).
			plus(product(c.pieces*unit, o.rates.PerPiece)).plus(product(c.tape, o.rates.TapePerMM))
	}
	return c
}
