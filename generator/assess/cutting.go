package assess

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"lapwork/generator/calc/rolls"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// leftovers counts, by the place of a leftover in the job's stock, how many of it earlier deliveries have used up.
type leftovers map[int]int

// stock gives the rolls of a width: the leftovers that are still there, then what can be bought; without any, rolls of
// the usual length. from names the place of each in the job's stock.
func (c Context) stock(width q.MM, used leftovers) (out []job.StockRoll, from []int) {
	bought := false
	for i, r := range c.Job.Stock {
		if !c.isSheet(r.Component) || r.Width != width {
			continue
		}
		if r.Leftover != "" {
			if r.Count = max(1, r.Count) - used[i]; r.Count <= 0 {
				continue
			}
		}
		out, from = append(out, r), append(from, i)
		bought = bought || r.Leftover == ""
	}
	if !bought {
		out, from = append(out, job.StockRoll{Component: c.component("sheet-main"), Width: width, Length: defaultLength}), append(from, -1)
	}
	return out, from
}

// cutRolls finds the rolls of one width. Unless every roll to be bought has a price, a roll costs its length, so that the
// least sheet is bought: millimetres and money have no sum.
func (c Context) cutRolls(ctx context.Context, width q.MM, pieces []CutPiece, number *int, used leftovers) (SheetOrder, error) {
	out := SheetOrder{Component: c.component("sheet-main"), Width: width, Pieces: pieces}
	stock, from := c.stock(width, used)
	in, article := instance(stock, pieces)
	plan, err := rolls.Solve(ctx, in, rolls.Limits{})
	if err != nil {
		return out, err
	}
	out.Plan = plan
	byID := map[string]CutPiece{}
	for _, p := range pieces {
		byID[p.ID] = p
		out.Area += width.Metres().Times(p.Cut.Metres())
	}
	bought := map[q.MM]int{}
	for _, cut := range plan.Cuts {
		*number++
		r := Roll{No: *number, Name: cut.Roll, Length: cut.Length, Leftover: cut.Cost == 0, Remainder: cut.Remainder}
		for _, p := range cut.Pieces {
			r.Cuts = append(r.Cuts, byID[p.ID])
		}
		if r.Leftover {
			i := slices.IndexFunc(in.Rolls, func(o rolls.Roll) bool { return o.Name == cut.Roll })
			used[from[i]]++
		} else {
			bought[cut.Length]++
		}
		out.Rolls = append(out.Rolls, r)
	}
	for length, n := range bought {
		out.Buy = append(out.Buy, RollCount{length, article[length], n})
	}
	slices.SortFunc(out.Buy, func(a, b RollCount) int { return cmp.Compare(a.Length, b.Length) })
	return out, nil
}

// instance states a delivery's sheet of one width as a cutting problem.
func instance(stock []job.StockRoll, pieces []CutPiece) (rolls.Instance, map[q.MM]string) {
	var in rolls.Instance
	article := map[q.MM]string{}
	priced := !slices.ContainsFunc(stock, func(r job.StockRoll) bool { return r.Leftover == "" && r.Price == nil })
	for i, r := range stock {
		roll := rolls.Roll{Name: fmt.Sprintf("%d m roll", r.Length/1000), Length: r.Length, Cost: int64(r.Length), Supply: rolls.Unlimited}
		if priced && r.Price != nil {
			roll.Cost = r.Price.Amount
		}
		if r.Leftover != "" {
			roll.Name, roll.Cost, roll.Supply = r.Leftover, 0, max(1, r.Count)
		} else {
			article[r.Length] = r.Article
		}
		if slices.ContainsFunc(in.Rolls, func(o rolls.Roll) bool { return o.Name == roll.Name }) {
			roll.Name = fmt.Sprintf("%s (%d)", roll.Name, i+1)
		}
		in.Rolls = append(in.Rolls, roll)
	}
	byLength := map[q.MM][]string{}
	for _, p := range pieces {
		byLength[p.Cut] = append(byLength[p.Cut], p.ID)
	}
	for length, ids := range byLength {
		in.Demands = append(in.Demands, rolls.Demand{Length: length, Count: len(ids), IDs: ids})
	}
	slices.SortFunc(in.Demands, func(a, b rolls.Demand) int { return cmp.Compare(b.Length, a.Length) })
	return in, article
}
