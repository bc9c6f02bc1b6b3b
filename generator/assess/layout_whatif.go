package assess

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	q "lapwork/generator/quantity"
)

// whatIfWork limits the work on the rolls of a delivery in a width that is only tried, so that the table costs little even
// where the job itself takes long. Usual deliveries are proven with a hundredth of it.
const whatIfWork = 20_000_000

// WidthTally is the sheet of the whole job as laid, or with every surface in rolls of one width. Rolls are cut delivery by
// delivery, rests of earlier ones used up, as for the order.
type WidthTally struct {
	Width  q.MM // 0: as laid
	Kept   int  // surfaces that cannot be laid in it and stay as they are
	Pieces int
	Tape   q.Length // of laps and end joints, net
	Sheet  q.Area   // cut from rolls
	Rolls  int      // bought
	Bought q.Area   // of these rolls
	Proven bool     // no fewer, shorter or cheaper rolls hold the pieces of any delivery
	Known  bool     // whether Cost is known
	Cost   int64    // of the rolls bought, of seams and of cutting, in hundredths
}

// add counts one delivery.
func (t *WidthTally) add(layouts []*Layout, plan batchPlan, priced bool) {
	for _, l := range layouts {
		t.Pieces += l.Pieces
		t.Tape += l.Tape()
	}
	for _, w := range plan.widths {
		for _, p := range plan.pieces[w] {
			if p.OffcutOf == "" {
				t.Sheet += w.Metres().Times(p.Cut.Metres())
			}
		}
		for _, cut := range plan.rolls[w].Cuts {
			if cut.Cost > 0 {
				t.Rolls++
				t.Bought += w.Metres().Times(cut.Length.Metres())
			}
		}
		t.Proven = t.Proven && plan.rolls[w].Proven()
	}
	t.Known = t.Known && priced
	t.Cost += plan.bought.rolls + plan.bought.work
}

// whatIf sets the roll widths of the stock side by side: the job as laid, then everything in one width each, narrow first.
// Nil where there is one width only.
func (c Context) whatIf(ctx context.Context, k *cutter, deliveries []*Delivery, batch map[*Delivery][]*Layout) ([]WidthTally, error) {
	var widths []q.MM
	for _, d := range deliveries {
		for _, l := range batch[d] {
			for _, o := range append([]Choice{l.Choice}, l.Others...) {
				if l.HungWith == nil && !slices.Contains(widths, o.RollWidth) {
					widths = append(widths, o.RollWidth)
				}
			}
		}
	}
	if len(widths) < 2 {
		return nil, nil
	}
	slices.Sort(widths)
	out := []WidthTally{k.tally}
	for _, w := range widths {
		t, err := c.inWidth(ctx, k.money, w, deliveries, batch)
		if err != nil {
			return nil, err
		}
		out = append(out, t)
	}
	return out, nil
}

// inWidth cuts the whole job in rolls of one width, whether or not the job fixes another.
func (c Context) inWidth(ctx context.Context, money *pricing, width q.MM, deliveries []*Delivery, batch map[*Delivery][]*Layout) (WidthTally, error) {
	k := c.newCutter(money)
	k.work = whatIfWork
	k.tally.Width = width
	for _, d := range deliveries {
		var trial []*Layout
		for _, l := range batch[d] {
			if l.HungWith != nil {
				continue
			}
			one := *l
			if !one.force(width) {
				k.tally.Kept++
			}
			one.Cuts = cuts(&one)
			trial = append(trial, &one)
		}
		plan, err := k.plan(ctx, trial)
		if err == nil {
			plan, err = k.join(ctx, trial, plan)
		}
		if err != nil {
			return k.tally, fmt.Errorf("delivery %s in rolls of %d mm: %w", d.ID, width, err)
		}
		k.settle(d, trial, plan)
	}
	return k.tally, nil
}

// force makes the best choice of a width the chosen one, even where the job fixes another; false: there is none.
func (l *Layout) force(width q.MM) bool {
	if l.RollWidth == width {
		return true
	}
	i := slices.IndexFunc(l.Others, func(c Choice) bool { return c.RollWidth == width && !c.askew })
	if i >= 0 {
		l.Choice, l.Joined = l.Others[i], nil
	}
	return i >= 0
}

// settle makes the orders of a delivery's plan, takes its leftovers out of the stock and counts it.
func (k *cutter) settle(d *Delivery, layouts []*Layout, plan batchPlan) []SheetOrder {
	k.tally.add(layouts, plan, k.allKnown(plan.widths))
	last := 0
	number := func() int { last++; return last }
	var out []SheetOrder
	for _, w := range plan.widths {
		out = append(out, k.order(d, w, plan.pieces[w], plan.rolls[w], number))
	}
	return out
}

// allKnown says whether rolls, seams and cutting of these widths have prices.
func (k *cutter) allKnown(widths []q.MM) bool {
	return k.money != nil && !slices.ContainsFunc(widths, func(w q.MM) bool { return !allPriced(k.stock(w)) })
}

// limit is the most work on the rolls of one width.
func (k *cutter) limit(usual int64) int64 { return cmp.Or(k.work, usual) }

// Widths sets the roll widths of the stock side by side; nil where there is one only.
func (r *Results) Widths() []WidthTally { return r.besides }
