package assess

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"lapwork/generator/calc/rolls"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
	"lapwork/generator/sorting"
)

// cutter cuts deliveries from rolls, one after the other: leftovers and what remains of earlier deliveries are used up
// first, each once.
type cutter struct {
	Context
	money *pricing
	left  []job.StockRoll // leftovers not yet used
	buy   []job.StockRoll // what can be bought
	over  []overCandidate // slopes whose strips may run down the knee wall
	work  int64           // most for the rolls of one width; 0: the usual
	tally WidthTally      // of the deliveries so far
}

// leastKept is the shortest rest of a roll that is kept for the next delivery. Common practice, no source.
const leastKept q.MM = 1000

func (c Context) newCutter(money *pricing) *cutter {
	k := &cutter{Context: c, money: money, tally: WidthTally{Proven: true, Known: true}}
	for _, r := range c.Job.Stock {
		switch {
		case !c.isSheet(r.Component):
		case r.Leftover == "":
			k.buy = append(k.buy, r)
		default:
			r.Count = max(1, r.Count)
			k.left = append(k.left, r)
		}
	}
	return k
}

// stock gives the rolls of a width: leftovers first, then what can be bought; without any, rolls of the usual length.
func (k *cutter) stock(width q.MM) []job.StockRoll {
	var out []job.StockRoll
	for _, r := range k.left {
		if r.Width == width && r.Count > 0 {
			out = append(out, r)
		}
	}
	bought := len(out)
	for _, r := range k.buy {
		if r.Width == width {
			out = append(out, r)
		}
	}
	if len(out) == bought {
		out = append(out, job.StockRoll{Component: k.component("sheet-main"), Width: width, Length: defaultLength})
	}
	return out
}

// cutRolls finds the rolls of one width for pieces that are cut from rolls.
func (k *cutter) cutRolls(ctx context.Context, width q.MM, pieces []CutPiece, splits map[string][]rolls.Split, joint int64, work int64) (rolls.Plan, error) {
	in := instance(k.stock(width), pieces, splits)
	in.JointCost, in.MinKept = joint, leastKept
	return rolls.Solve(ctx, in, rolls.Limits{Work: k.limit(work)})
}

// search goes on with the rolls of a plan that counted work has left unproven, for as long as the job's Search is open.
func (k *cutter) search(plan *batchPlan) error {
	for _, w := range plan.widths {
		known := plan.rolls[w]
		if k.Search == nil || known.Proven() || k.Search.Err() != nil {
			continue
		}
		in := instance(k.stock(w), fromRolls(plan.pieces[w]), nil)
		in.MinKept = leastKept
		more, err := rolls.Solve(k.Search, in, rolls.Limits{Work: math.MaxInt64 / 2})
		if err != nil {
			return err
		}
		if more.Cost < known.Cost || more.Cost == known.Cost && more.Bound > known.Bound {
			plan.rolls[w] = more
		}
	}
	k.worth(plan)
	return nil
}

// instance states a delivery's sheet of one width as a cutting problem. Unless every roll to be bought has a price, a roll
// costs its length, so that the least sheet is bought: millimetres and money have no sum.
func instance(stock []job.StockRoll, pieces []CutPiece, splits map[string][]rolls.Split) rolls.Instance {
	var in rolls.Instance
	priced := allPriced(stock)
	for i, r := range stock {
		roll := rolls.Roll{Name: fmt.Sprintf("%d m roll", r.Length/1000), Length: r.Length, Cost: int64(r.Length), Supply: rolls.Unlimited}
		if priced && r.Price != nil {
			roll.Cost = r.Price.Amount
		}
		if r.Leftover != "" {
			roll.Name, roll.Cost, roll.Supply = r.Leftover, 0, max(1, r.Count)
		}
		if slices.ContainsFunc(in.Rolls, func(o rolls.Roll) bool { return o.Name == roll.Name }) {
			roll.Name = fmt.Sprintf("%s (%d)", roll.Name, i+1)
		}
		in.Rolls = append(in.Rolls, roll)
	}
	type kind struct {
		length q.MM
		splits string
	}
	byKind := map[kind]*rolls.Demand{}
	for _, p := range pieces {
		key := kind{p.Cut, fmt.Sprint(splits[p.ID])}
		d := byKind[key]
		if d == nil {
			d = &rolls.Demand{Length: p.Cut, Splits: splits[p.ID]}
			byKind[key] = d
		}
		d.Count++
		d.IDs = append(d.IDs, p.ID)
	}
	for _, d := range byKind {
		in.Demands = append(in.Demands, *d)
	}
	sorting.Func(in.Demands, func(a, b rolls.Demand) int {
		return cmp.Or(cmp.Compare(b.Length, a.Length), cmp.Compare(a.IDs[0], b.IDs[0]))
	})
	return in
}

func allPriced(stock []job.StockRoll) bool {
	return !slices.ContainsFunc(stock, func(r job.StockRoll) bool { return r.Leftover == "" && r.Price == nil })
}

// order makes a width's order of its plan, its rolls numbered by number, takes the leftovers out of the stock and puts what remains into it.
func (k *cutter) order(d *Delivery, width q.MM, pieces []CutPiece, plan rolls.Plan, number func() int) SheetOrder {
	out := SheetOrder{Component: k.component("sheet-main"), Width: width, Pieces: pieces, Plan: plan, Priced: allPriced(k.stock(width))}
	byID := map[string]CutPiece{}
	for _, p := range pieces {
		byID[p.ID] = p
		area := width.Metres().Times(p.Cut.Metres())
		out.Area += area
		if p.OffcutOf != "" {
			out.Reused += area
		}
	}
	article := map[q.MM]string{}
	for _, r := range k.stock(width) {
		if r.Leftover == "" {
			article[r.Length] = r.Article
		}
	}
	bought := map[q.MM]int{}
	for _, cut := range plan.Cuts {
		r := Roll{No: number(), Name: cut.Roll, Length: cut.Length, Leftover: k.use(width, cut), Remainder: cut.Remainder}
		for _, p := range cut.Pieces {
			r.Cuts = append(r.Cuts, byID[p.ID])
		}
		if !r.Leftover {
			bought[cut.Length]++
		}
		out.Rolls = append(out.Rolls, r)
		if r.Remainder >= leastKept {
			k.left = append(k.left, job.StockRoll{Component: out.Component, Width: width, Length: r.Remainder, Count: 1,
				Leftover: k.say("rest of roll %d, %s", r.No, d.Name)})
		}
	}
	for length, n := range bought {
		out.Buy = append(out.Buy, RollCount{length, article[length], n})
	}
	sorting.Func(out.Buy, func(a, b RollCount) int { return cmp.Compare(a.Length, b.Length) })
	return out
}

// use takes a roll out of the leftovers; false: it is bought.
func (k *cutter) use(width q.MM, cut rolls.Cut) bool {
	for i, r := range k.left {
		if r.Width == width && r.Length == cut.Length && r.Leftover == cut.Roll && r.Count > 0 {
			k.left[i].Count--
			return true
		}
	}
	return false
}
