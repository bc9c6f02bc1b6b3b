package strips

import (
	"cmp"

	"lapwork/generator/sorting"
)

// Option is one way to cover a surface: a roll width and direction with the prices that go with them.
type Option struct {
	Name    string
	Problem Problem
	Rates   Rates // sheet per millimetre of this roll's full width
}

// Ranked is an option that can be laid, at its least price.
type Ranked struct {
	Option int // its index
	Name   string
	Layout Layout
}

// Refused is an option that can not be laid, and why.
type Refused struct {
	Option int
	Name   string
	Err    error // *InvalidError or *InfeasibleError
}

// Comparison is all options, cheapest first.
type Comparison struct {
	Ranked  []Ranked
	Refused []Refused
}

// Compare lays every option at its least price and ranks them: price, then sheet used, pieces, tape, and the order given.
func Compare(options []Option) Comparison {
	var out Comparison
	for i, o := range options {
		l, err := Lay(o.Problem, LeastCost(o.Rates))
		if err != nil {
			out.Refused = append(out.Refused, Refused{i, o.Name, err})
			continue
		}
		out.Ranked = append(out.Ranked, Ranked{i, o.Name, l})
	}
	sorting.StableFunc(out.Ranked, func(a, b Ranked) int {
		return cmp.Or(cmp.Compare(a.Layout.Price, b.Layout.Price), cmp.Compare(a.Layout.SheetUsed, b.Layout.SheetUsed),
			cmp.Compare(a.Layout.Pieces, b.Layout.Pieces), cmp.Compare(a.Layout.Tape(), b.Layout.Tape()))
	})
	return out
}

// Next is the runner-up and how much dearer it is than the best; ok is false where there is none.
func (c Comparison) Next() (r Ranked, dearer int64, ok bool) {
	if len(c.Ranked) < 2 {
		return Ranked{}, 0, false
	}
	return c.Ranked[1], c.Ranked[1].Layout.Price - c.Ranked[0].Layout.Price, true
}
