package assess

import (
	"context"
	"fmt"
	"math"
	"slices"

	"lapwork/generator/calc/rolls"
	"lapwork/generator/calc/strips"
	q "lapwork/generator/quantity"
)

// What an end joint is weighed with, and where one is put. Common practice, no source.
const (
	jointWorth  q.MM = 2000 // without prices: it must save more than this length of roll
	leastJoined q.MM = 600  // no shorter part
	mostPlaces       = 6    // places tried on one piece
	joinWork         = 400_000_000
)

// join makes pieces of two where that buys less sheet: strips are joined only on members or boarding, neighbouring strips
// never on the same one, and pieces that rips feed stay whole. The plan changes only where the delivery buys less with it.
func (k *cutter) join(ctx context.Context, layouts []*Layout, plan batchPlan) (batchPlan, error) {
	byID := map[string]*Layout{}
	for _, l := range layouts {
		byID[string(l.Surface.ID)] = l
	}
	for _, w := range plan.widths {
		whole := plan.rolls[w]
		if !k.mayJoin(w, plan.pieces[w], whole) {
			continue
		}
		splits, places, err := splitsOf(layouts, plan.pieces[w])
		if err != nil {
			return plan, err
		}
		joined, err := k.cutRolls(ctx, w, fromRolls(plan.pieces[w]), splits, k.jointCost(layouts, w), joinWork)
		if err != nil {
			return plan, err
		}
		if joined.Cost >= whole.Cost || len(joined.Joints) == 0 {
			continue
		}
		trial := divide(layouts, joined, places)
		next, err := k.plan(ctx, pointers(trial))
		if err != nil {
			return plan, err
		}
		if next.bought.rolls >= plan.bought.rolls {
			continue
		}
		for i, l := range layouts {
			*l = trial[i]
		}
		plan = next
	}
	return plan, nil
}

// mayJoin says whether fewer or shorter rolls could hold the pieces at all: their length must fit rolls that cost less.
func (k *cutter) mayJoin(width q.MM, pieces []CutPiece, plan rolls.Plan) bool {
	var need q.MM
	for _, p := range fromRolls(pieces) {
		need += p.Cut
	}
	cheapest := math.Inf(1) // per mm
	priced := allPriced(k.stock(width))
	for _, r := range k.stock(width) {
		switch {
		case r.Leftover != "":
			need -= r.Length * q.MM(max(1, r.Count))
		case priced && r.Price != nil:
			cheapest = min(cheapest, float64(r.Price.Amount)/float64(r.Length))
		default:
			cheapest = min(cheapest, 1)
		}
	}
	least := max(0, float64(need)*cheapest)
	// The least that the rolls can cost is a sum of whole rolls; the dearest single saving is one roll of any length.
	return float64(plan.Cost)-least >= k.smallestStep(width)
}

// smallestStep is the least by which two sums of roll prices can differ, as far as single rolls tell.
func (k *cutter) smallestStep(width q.MM) float64 {
	var costs []int64
	for _, r := range instance(k.stock(width), nil, nil).Rolls {
		if r.Cost > 0 {
			costs = append(costs, r.Cost)
		}
	}
	step := int64(0)
	for i, a := range costs {
		for _, b := range append([]int64{0}, costs[:i]...) {
			if d := max(a-b, b-a); d > 0 && (step == 0 || d < step) {
				step = d
			}
		}
	}
	return float64(max(1, step))
}

// jointCost is what one end joint is weighed with: tape and labour across the roll's width and one piece more, or without
// prices a length of roll.
func (k *cutter) jointCost(layouts []*Layout, width q.MM) int64 {
	for _, l := range layouts {
		if rates, ok := k.money.of(l.Surface, width, l.Direction); ok && allPriced(k.stock(width)) {
			return int64(math.Round(rates.tape*float64(width) + rates.piece))
		}
	}
	if allPriced(k.stock(width)) {
		r := k.stock(width)
		last := r[len(r)-1]
		return int64(math.Round(float64(last.Price.Amount) / float64(last.Length) * float64(jointWorth)))
	}
	return int64(jointWorth)
}

// splitsOf lists where each piece of a width that is cut from a roll may be joined.
func splitsOf(layouts []*Layout, pieces []CutPiece) (map[string][]rolls.Split, map[string][]strips.Place, error) {
	splits, places := map[string][]rolls.Split{}, map[string][]strips.Place{}
	whole := map[string]bool{}
	for _, p := range pieces {
		whole[p.ID] = p.OffcutOf != "" || len(p.Feeds) > 0
	}
	for _, l := range layouts {
		all, err := strips.Places(l.Problem, l.Layout, leastJoined)
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w", l.Surface.ID, err)
		}
		next := 0
		for _, st := range l.Strips {
			for i := range st.Pieces {
				id := l.Cuts[next].ID
				next++
				if feeds, known := whole[id]; !known || feeds {
					continue
				}
				places[id] = l.jointPlaces(all, st, i)
				for _, x := range places[id] {
					splits[id] = append(splits[id], rolls.Split{A: x.First, B: x.Second})
				}
			}
		}
	}
	return splits, places, nil
}

// jointPlaces gives a few of the places of one piece: for strips with even and odd numbers other members, so that joints of
// neighbours never meet, and clear of the joints that they have already (R-LAP-3).
func (l *Layout) jointPlaces(all []strips.Place, st strips.Strip, piece int) []strips.Place {
	var open []strips.Place
	for _, x := range all {
		if x.Strip == st.No && x.Piece == piece && x.First < st.Pieces[piece].Cut && x.Second < st.Pieces[piece].Cut &&
			l.member(x.At)%2 == st.No%2 && l.clearOfJoints(st.No, x.At) {
			open = append(open, x)
		}
	}
	if len(open) <= mostPlaces {
		return open
	}
	var few []strips.Place
	for i := range mostPlaces {
		few = append(few, open[i*(len(open)-1)/(mostPlaces-1)])
	}
	return few
}

// member counts the places for joints up to one, in steps of at least stagger.
func (l *Layout) member(at q.MM) int {
	n, last := 0, q.MM(math.MinInt32)
	sorted := slices.Sorted(slices.Values(l.Problem.JointAt))
	for _, x := range sorted {
		if x > at {
			break
		}
		if x-last >= stagger {
			n, last = n+1, x
		}
	}
	if at != last {
		return -1 - n // between two members that count: never for either
	}
	return n
}

// clearOfJoints says whether the neighbouring strips have no end joint near.
func (l *Layout) clearOfJoints(no int, at q.MM) bool {
	for _, st := range l.Strips {
		if st.No < no-1 || st.No > no+1 {
			continue
		}
		for _, j := range st.Joints {
			if max(j.At-at, at-j.At) < stagger {
				return false
			}
		}
	}
	return true
}

// divide gives the layouts with the joints of a plan.
func divide(layouts []*Layout, plan rolls.Plan, places map[string][]strips.Place) []Layout {
	at := map[string]strips.Place{}
	for _, j := range plan.Joints {
		for _, x := range places[j.ID] {
			if x.First == j.Split.A && x.Second == j.Split.B {
				at[j.ID] = x
				break
			}
		}
	}
	out := make([]Layout, len(layouts))
	for i, l := range layouts {
		out[i] = *l
		for _, p := range l.Cuts {
			if x, ok := at[p.ID]; ok {
				out[i].Joined = append(out[i].Joined, x)
			}
		}
		if len(out[i].Joined) > 0 {
			out[i].Layout = strips.Divide(l.Problem, l.Layout, out[i].Joined)
			out[i].Cuts = cuts(&out[i])
		}
	}
	return out
}

// Saved says whether an end joint was made because it saves sheet, not because a piece would be too long.
func (l *Layout) Saved(strip int, j strips.Joint) bool {
	return slices.ContainsFunc(l.Joined, func(x strips.Place) bool { return x.Strip == strip && x.At == j.At })
}
