package assess

import (
	"cmp"
	"context"
	"slices"

	"lapwork/generator/calc/rolls"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// delivery decides what is open on the surfaces of one delivery and cuts its rolls from the stock.
func (k *cutter) delivery(ctx context.Context, d *Delivery, layouts []*Layout, m *surface.Model) ([]SheetOrder, error) {
	if err := k.chooseWidths(ctx, layouts); err != nil {
		return nil, err
	}
	layouts, err := k.runOver(ctx, layouts)
	if err != nil {
		return nil, err
	}
	k.meet(layouts, m)
	for _, l := range layouts {
		l.Cuts = cuts(l)
	}
	plan, err := k.plan(ctx, layouts)
	if err != nil {
		return nil, err
	}
	if plan, err = k.join(ctx, layouts, plan); err != nil {
		return nil, err
	}
	if err = k.search(&plan); err != nil {
		return nil, err
	}
	plan.mark(layouts)
	return k.settle(d, layouts, plan), nil
}

// batchPlan is the cutting of a delivery: the pieces of each width, and the rolls they come from.
type batchPlan struct {
	widths []q.MM
	pieces map[q.MM][]CutPiece // all of them, each with what its rip feeds
	rolls  map[q.MM]rolls.Plan
	bought spent
}

// spent is what a delivery buys and cuts: in money where all prices are known, else in sheet.
type spent struct {
	wide   int   // surfaces with a lap wider than the setting
	rolls  int64 // price of the rolls bought, or their area in mm²
	work   int64 // price of seams and cuts
	sheet  q.Area
	pieces int
	tape   q.Length
}

func (s spent) compare(o spent) int {
	return cmp.Or(cmp.Compare(s.wide, o.wide), cmp.Compare(s.rolls+s.work, o.rolls+o.work), cmp.Compare(s.sheet, o.sheet), cmp.Compare(s.pieces, o.pieces),
		cmp.Compare(s.tape, o.tape))
}

// plan cuts the pieces of layouts from rolls and from each other's rips.
func (k *cutter) plan(ctx context.Context, layouts []*Layout) (batchPlan, error) {
	out := batchPlan{pieces: map[q.MM][]CutPiece{}, rolls: map[q.MM]rolls.Plan{}}
	var pieces []CutPiece
	for _, l := range layouts {
		pieces = append(pieces, l.Cuts...)
		out.bought.work += l.Cost.Seams + l.Cost.Cuts
		out.bought.sheet += l.SheetUsed
		out.bought.pieces += l.Pieces
		out.bought.tape += l.Tape()
		out.bought.wide += number01(l.WideLap())
	}
	for _, p := range feed(pieces) {
		if out.pieces[p.RollWidth] == nil {
			out.widths = append(out.widths, p.RollWidth)
		}
		out.pieces[p.RollWidth] = append(out.pieces[p.RollWidth], p)
	}
	slices.Sort(out.widths)
	for _, w := range out.widths {
		plan, err := k.cutRolls(ctx, w, fromRolls(out.pieces[w]), nil, 0, 0)
		if err != nil {
			return out, err
		}
		out.rolls[w] = plan
	}
	k.worth(&out)
	return out, nil
}

// worth prices the rolls of a plan: their money where every roll and seam has a price, else the area that is bought and
// nothing else. Money of one width and sheet of another have no sum.
func (k *cutter) worth(p *batchPlan) {
	priced := k.allKnown(p.widths)
	p.bought.rolls = 0
	for _, w := range p.widths {
		if priced {
			p.bought.rolls += p.rolls[w].Cost
			continue
		}
		for _, cut := range p.rolls[w].Cuts {
			if cut.Cost > 0 {
				p.bought.rolls += int64(w) * int64(cut.Length)
			}
		}
	}
	if !priced {
		p.bought.work = 0
	}
}

// fromRolls leaves out the pieces that are cut from rips.
func fromRolls(pieces []CutPiece) []CutPiece {
	return slices.DeleteFunc(slices.Clone(pieces), func(p CutPiece) bool { return p.OffcutOf != "" })
}

// mark puts what was found for each piece into its layout's cut list.
func (p batchPlan) mark(layouts []*Layout) {
	byID := map[string]CutPiece{}
	for _, pieces := range p.pieces {
		for _, x := range pieces {
			byID[x.ID] = x
		}
	}
	for _, l := range layouts {
		for i := range l.Cuts {
			l.Cuts[i] = byID[l.Cuts[i].ID]
		}
	}
}

// mostWidths bounds the sets of widths that are tried: all of them up to four widths, single widths beyond.
const mostWidths = 4

// chooseWidths lets the widths of a delivery compete: each set of widths, every surface with its best choice among them,
// by what the delivery buys, without laps wider than the setting where that can be. A width that is best on one surface is not worth a roll of its own for that alone.
func (k *cutter) chooseWidths(ctx context.Context, layouts []*Layout) error {
	var widths []q.MM
	for _, l := range layouts {
		for _, o := range append([]Choice{l.Choice}, l.Others...) {
			if !o.barred && !slices.Contains(widths, o.RollWidth) {
				widths = append(widths, o.RollWidth)
			}
		}
	}
	if len(widths) < 2 {
		return nil
	}
	var best []Layout
	var least spent
	tried := map[string]bool{}
	for _, set := range subsets(widths) {
		trial, key := choose(layouts, set)
		if tried[key] {
			continue
		}
		tried[key] = true
		plan, err := k.plan(ctx, pointers(trial))
		if err != nil {
			return err
		}
		if best == nil || plan.bought.compare(least) < 0 {
			best, least = trial, plan.bought
		}
	}
	for i, l := range layouts {
		*l = best[i]
	}
	return nil
}

// choose gives the layouts with each surface's best choice among some widths, and a key that tells choices apart.
func choose(layouts []*Layout, widths []q.MM) ([]Layout, string) {
	out := make([]Layout, len(layouts))
	key := make([]byte, 0, 2*len(layouts))
	for i, l := range layouts {
		out[i] = *l
		out[i].Others = slices.Clone(l.Others)
		all := append([]Choice{l.Choice}, l.Others...)
		for _, o := range all {
			if !o.barred && slices.Contains(widths, o.RollWidth) {
				out[i].take(o.RollWidth)
				break
			}
		}
		out[i].Cuts = cuts(&out[i])
		key = append(key, byte(out[i].RollWidth), byte(out[i].RollWidth>>8))
	}
	return out, string(key)
}

func pointers(layouts []Layout) []*Layout {
	out := make([]*Layout, len(layouts))
	for i := range layouts {
		out[i] = &layouts[i]
	}
	return out
}

// subsets gives every set of up to four widths, the single ones and all together of more.
func subsets(widths []q.MM) [][]q.MM {
	var out [][]q.MM
	if len(widths) > mostWidths {
		for _, w := range widths {
			out = append(out, []q.MM{w})
		}
		return append(out, widths)
	}
	for set := 1; set < 1<<len(widths); set++ {
		var one []q.MM
		for i, w := range widths {
			if set>>i&1 == 1 {
				one = append(one, w)
			}
		}
		out = append(out, one)
	}
	return out
}
