package assess

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"lapwork/generator/calc/rolls"
	q "lapwork/generator/quantity"
	"lapwork/generator/sorting"
)

// AsMeasured gives the length that a piece is to be cut to since it was measured on site; ok is false where nobody measured
// it, or measured it against another drawing.
type AsMeasured func(*Layout, CutPiece) (cut q.MM, ok bool)

// recut cuts the deliveries again with the pieces that were measured on site. What is hung where stays as it was laid out,
// and with it every junction and check: only lengths, rolls and what is bought follow. A delivery keeps its plan where all
// pieces still fit their rolls; where they do not, as little as possible moves.
func (c Context) recut(ctx context.Context, laid *Laid) error {
	laid.sheets = laid.drawn
	lengths := c.lengths(laid)
	if len(lengths) == 0 {
		return nil
	}
	laid.sheets = map[string][]SheetOrder{}
	k := c.newCutter(nil)
	deliveries, _ := c.batches()
	after := map[string]CutPiece{}
	for _, d := range deliveries {
		sheets := laid.drawn[d.ID]
		pieces, extra := remeasured(sheets, lengths), lastRoll(sheets)
		for i, drawn := range sheets {
			s, err := k.again(ctx, d, drawn, pieces[i], &extra)
			if err != nil {
				return fmt.Errorf("delivery %s, strips as measured: %w", d.ID, err)
			}
			laid.sheets[d.ID] = append(laid.sheets[d.ID], s)
			for _, p := range s.Pieces {
				after[p.ID] = p
			}
		}
	}
	for _, l := range laid.Layouts {
		for i, p := range l.Cuts {
			l.Cuts[i] = after[p.ID]
		}
	}
	return nil
}

// lengths gives the pieces that were measured and are not cut as drawn, by id. A piece longer than every roll of its width is
// none of them: it stays as drawn until somebody decides where to join it.
func (c Context) lengths(laid *Laid) map[string]q.MM {
	out := map[string]q.MM{}
	if c.Measured == nil {
		return out
	}
	k := c.newCutter(nil)
	for _, l := range laid.Layouts {
		for _, p := range l.Cuts {
			cut, ok := c.Measured(l, p)
			if ok && cut > 0 && cut != p.Cut && cut <= k.longest(p.RollWidth) {
				out[p.ID] = cut
			}
		}
	}
	return out
}

// longest is the longest roll of a width that can be bought.
func (k *cutter) longest(width q.MM) q.MM {
	most := q.MM(0)
	for _, r := range k.stock(width) {
		if r.Leftover == "" {
			most = max(most, r.Length)
		}
	}
	return most
}

func lastRoll(sheets []SheetOrder) int {
	last := 0
	for _, s := range sheets {
		for _, r := range s.Rolls {
			last = max(last, r.No)
		}
	}
	return last
}

// again cuts the sheet of one width of a delivery from pieces as measured. Rolls keep their numbers; further ones count on
// from extra.
func (k *cutter) again(ctx context.Context, d *Delivery, drawn SheetOrder, pieces []CutPiece, extra *int) (SheetOrder, error) {
	plan, how := k.kept(drawn, pieces), PlanKept
	switch {
	case plan == nil:
		how = PlanSolved
		solved, err := k.cutRolls(ctx, drawn.Width, fromRolls(pieces), nil, 0, 0)
		if err != nil {
			return SheetOrder{}, err
		}
		plan = &solved
	case otherRolls(drawn, *plan):
		how = PlanMended
	case !slices.ContainsFunc(pieces, func(p CutPiece) bool { return p.Longer != 0 }):
		how = PlanDrawn
	}
	out := k.order(d, drawn.Width, pieces, *plan, numbersFor(drawn, *plan, extra))
	out.How = how
	sorting.StableFunc(out.Rolls, func(a, b Roll) int { return cmp.Compare(a.No, b.No) })
	return out, nil
}

// remeasured gives the pieces of a delivery, width by width, with their lengths as measured. Where a rip does not hold what is
// cut from it any more, it is found anew which pieces feed which, over all widths.
func remeasured(sheets []SheetOrder, lengths map[string]q.MM) [][]CutPiece {
	out := make([][]CutPiece, len(sheets))
	broken := false
	var all []CutPiece
	for i, s := range sheets {
		out[i] = resized(s.Pieces, lengths)
		for _, p := range out[i] {
			broken = broken || p.Longer > 0 && p.OffcutOf != "" || p.Longer < 0 && len(p.Feeds) > 0
			p.OffcutOf, p.Feeds = "", nil
			all = append(all, p)
		}
	}
	if !broken {
		return out
	}
	all = feed(all)
	for i := range out {
		out[i], all = all[:len(out[i])], all[len(out[i]):]
	}
	return out
}

// resized gives pieces with their lengths as measured, those that their rips feed too.
func resized(pieces []CutPiece, lengths map[string]q.MM) []CutPiece {
	out := slices.Clone(pieces)
	for i, p := range out {
		if cut, ok := lengths[p.ID]; ok {
			out[i].Longer, out[i].Cut = cut-p.Cut, cut
		}
		out[i].Feeds = resized(p.Feeds, lengths)
	}
	return out
}

// kept is the plan as drawn with the pieces' lengths as they are now, mended where a roll does not hold its pieces any more;
// nil: that cannot be, or other pieces come from rolls than drawn.
func (k *cutter) kept(drawn SheetOrder, pieces []CutPiece) *rolls.Plan {
	byID := map[string]CutPiece{}
	for i, p := range pieces {
		byID[p.ID] = p
		if (p.OffcutOf == "") != (drawn.Pieces[i].OffcutOf == "") {
			return nil
		}
	}
	plan := drawn.Plan
	plan.Cuts = slices.Clone(plan.Cuts)
	for i := range plan.Cuts {
		cut := &plan.Cuts[i]
		length, ok := k.lengthNow(drawn.Width, drawn.Rolls[i])
		if !ok {
			return nil
		}
		cut.Length, cut.Remainder = length, length
		cut.Pieces = slices.Clone(cut.Pieces)
		for n, p := range cut.Pieces {
			cut.Pieces[n].Length = byID[p.ID].Cut
			cut.Remainder -= byID[p.ID].Cut
		}
	}
	if !mend(plan.Cuts, func(id string) bool { return byID[id].Longer != 0 }) {
		return nil
	}
	return &plan
}

// lengthNow is the length of a roll of a plan: a rest of an earlier delivery may have become another. ok is false where it is
// used up.
func (k *cutter) lengthNow(width q.MM, r Roll) (length q.MM, ok bool) {
	if !r.Leftover {
		return r.Length, true
	}
	for _, left := range k.left {
		if left.Width == width && left.Leftover == r.Name && left.Count > 0 {
			return left.Length, true
		}
	}
	return 0, false
}

// mend moves pieces out of rolls that do not hold theirs into the rest of others: from each the smallest piece that is
// enough, one that nobody measured before one that somebody has, into the shortest rest that takes it. It reports false where
// that does not do.
func mend(cuts []rolls.Cut, settled func(id string) bool) bool {
	for i := range cuts {
		from := &cuts[i]
		if from.Remainder >= 0 {
			continue
		}
		piece, to := -1, -1
		for n, p := range from.Pieces {
			if p.Length < -from.Remainder {
				continue
			}
			rest := shortestRest(cuts, i, p.Length)
			if rest >= 0 && (piece < 0 || cmp.Or(number01(settled(p.ID))-number01(settled(from.Pieces[piece].ID)), cmp.Compare(p.Length, from.Pieces[piece].Length)) < 0) {
				piece, to = n, rest
			}
		}
		if piece < 0 {
			return false
		}
		p := from.Pieces[piece]
		from.Pieces = slices.Delete(from.Pieces, piece, piece+1)
		from.Remainder += p.Length
		cuts[to].Pieces = append(cuts[to].Pieces, p)
		cuts[to].Remainder -= p.Length
	}
	return true
}

// shortestRest is the roll other than one whose rest holds a length and is the shortest that does; -1: none.
func shortestRest(cuts []rolls.Cut, but int, length q.MM) int {
	best := -1
	for i, c := range cuts {
		if i != but && c.Remainder >= length && (best < 0 || c.Remainder < cuts[best].Remainder) {
			best = i
		}
	}
	return best
}

// otherRolls says whether a piece comes from another roll than drawn.
func otherRolls(drawn SheetOrder, plan rolls.Plan) bool {
	for i, cut := range plan.Cuts {
		if len(cut.Pieces) != len(drawn.Rolls[i].Cuts) {
			return true
		}
	}
	return false
}

// numbersFor gives each roll of a plan the number of the drawn roll of its length with which it shares most sheet, so that what
// is pencilled on a roll stays true; the others count on from extra.
func numbersFor(drawn SheetOrder, plan rolls.Plan, extra *int) func() int {
	number := make([]int, len(plan.Cuts))
	type pair struct {
		cut, roll int
		shared    q.MM
	}
	var pairs []pair
	for i, cut := range plan.Cuts {
		for n, r := range drawn.Rolls {
			if r.Name == cut.Roll {
				pairs = append(pairs, pair{i, n, shared(cut, r)})
			}
		}
	}
	sorting.StableFunc(pairs, func(a, b pair) int {
		return cmp.Or(cmp.Compare(b.shared, a.shared), cmp.Compare(a.cut, b.cut), cmp.Compare(a.roll, b.roll))
	})
	taken := map[int]bool{}
	for _, p := range pairs {
		if number[p.cut] == 0 && !taken[p.roll] {
			number[p.cut], taken[p.roll] = drawn.Rolls[p.roll].No, true
		}
	}
	next := 0
	return func() int {
		next++
		if number[next-1] == 0 {
			*extra++
			number[next-1] = *extra
		}
		return number[next-1]
	}
}

// shared is how much sheet a roll of a plan and a drawn one have in common.
func shared(cut rolls.Cut, r Roll) q.MM {
	sum := q.MM(0)
	for _, p := range cut.Pieces {
		if slices.ContainsFunc(r.Cuts, func(c CutPiece) bool { return c.ID == p.ID }) {
			sum += p.Length
		}
	}
	return sum
}
