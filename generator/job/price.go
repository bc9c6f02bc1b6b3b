package job

import (
	"fmt"
	"slices"

	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

// Price is money for one roll, pack or hour; never invented.
type Price struct {
	Amount   int64  // in hundredths of the currency's unit
	Currency string // ISO 4217
}

// String writes an amount and its currency: "129.00 EUR".
func (p Price) String() string {
	return p.Figure() + " " + p.Currency
}

// Figure writes the amount alone: "129.00".
func (p Price) Figure() string {
	sign, amount := "", p.Amount
	if amount < 0 {
		sign, amount = "-", -amount
	}
	return fmt.Sprintf("%s%d.%02d", sign, amount/100, amount%100)
}

// Rates are prices and pace as the job, or else the firm, states them. Nothing here is ever invented: what is not stated
// is nil, zero or missing, and is named as missing wherever it would stand. Prices of rolls stand with the stock.
type Rates struct {
	Hour  *Price      // of one fitter
	Pace  q.Ratio     // the firm's minutes over the statements' typical minutes; 0 = 1
	Packs []PackPrice // of one pack each, at most one a component
	Note  string      // whose prices they are and since when; empty: not stated
	Pos   diag.Pos    `hash:"ignore"`
}

// PackPrice is the price of one pack of a component.
type PackPrice struct {
	Component ComponentID
	Price     Price
	Pos       diag.Pos `hash:"ignore"`
}

// Pack gives the price of a pack of a component; ok is false where nobody stated one.
func (r Rates) Pack(id ComponentID) (price Price, ok bool) {
	for _, p := range r.Packs {
		if p.Component == id {
			return p.Price, true
		}
	}
	return Price{}, false
}

// Over gives the rates as a job states them, with what the job leaves out from the firm's own.
func (r Rates) Over(firm Rates) Rates {
	out := r
	if out.Hour == nil {
		out.Hour = firm.Hour
	}
	if out.Pace == 0 {
		out.Pace = firm.Pace
	}
	if out.Note == "" {
		out.Note = firm.Note
	}
	if out.Pos == (diag.Pos{}) {
		out.Pos = firm.Pos
	}
	out.Packs = slices.Clone(r.Packs)
	for _, p := range firm.Packs {
		if _, own := r.Pack(p.Component); !own {
			out.Packs = append(out.Packs, p)
		}
	}
	return out
}

// RollPrice gives the price of a bought roll of the stock; ok is false where nobody stated one.
func (j *Job) RollPrice(id ComponentID, width, length q.MM) (price Price, ok bool) {
	for _, s := range j.Stock {
		if s.Component == id && s.Width == width && s.Length == length && s.Leftover == "" && s.Price != nil {
			return *s.Price, true
		}
	}
	return Price{}, false
}

// Currency gives the currency of the job's prices; empty where it states none. A job whose prices are in two currencies is
// refused when it is loaded.
func (j *Job) Currency() string {
	for _, p := range j.prices() {
		return p.Price.Currency
	}
	return ""
}

// TwoCurrencies gives a price in another currency than an earlier one of the job, and that earlier one; ok is false where
// all are in one.
func (j *Job) TwoCurrencies() (earlier, other PackPrice, ok bool) {
	all := j.prices()
	for _, p := range all {
		if p.Price.Currency != all[0].Price.Currency {
			return all[0], p, true
		}
	}
	return PackPrice{}, PackPrice{}, false
}

// prices lists every price of the job with its place.
func (j *Job) prices() []PackPrice {
	var out []PackPrice
	if j.Rates.Hour != nil {
		out = append(out, PackPrice{Price: *j.Rates.Hour, Pos: j.Rates.Pos})
	}
	out = append(out, j.Rates.Packs...)
	for _, s := range j.Stock {
		if s.Price != nil {
			out = append(out, PackPrice{s.Component, *s.Price, s.Pos})
		}
	}
	return out
}
