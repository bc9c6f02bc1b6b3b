package assess

import (
	"cmp"
	"slices"

	q "lapwork/generator/quantity"
)

// leastOffcut is the narrowest and shortest offcut that anything is cut from. Common practice, no source.
const leastOffcut q.MM = 100

// offcut is what ripping a piece leaves, or what is left of that.
type offcut struct {
	of            int // index of the piece that was ripped
	width, length q.MM
}

// feed finds the pieces that can be cut from the rips of others: the longest first, each from the narrowest offcut that
// holds it, of its own room before others. What it leaves lengthwise and beside it can feed further pieces. It gives all
// pieces again, those that feed others with their Feeds, those fed with OffcutOf, in the order given.
func feed(pieces []CutPiece) []CutPiece {
	out := slices.Clone(pieces)
	order := make([]int, len(out))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(out[b].Cut, out[a].Cut), cmp.Compare(out[b].Width, out[a].Width), cmp.Compare(out[a].ID, out[b].ID))
	})
	var open []offcut
	for _, i := range order {
		p := &out[i]
		if k := fitting(open, out, *p); k >= 0 {
			o := open[k]
			p.OffcutOf = out[o.of].ID
			out[o.of].Feeds = append(out[o.of].Feeds, *p)
			open = slices.Delete(open, k, k+1)
			open = keep(open, offcut{o.of, o.width, o.length - p.Cut})
			open = keep(open, offcut{o.of, o.width - p.Width, p.Cut})
			continue
		}
		open = keep(open, offcut{i, p.RollWidth - p.Width, p.Cut})
	}
	return out
}

// keep adds an offcut that is worth keeping.
func keep(open []offcut, o offcut) []offcut {
	if min(o.width, o.length) < leastOffcut {
		return open
	}
	return append(open, o)
}

// fitting is the index of the best offcut for a piece; -1: none holds it.
func fitting(open []offcut, pieces []CutPiece, p CutPiece) int {
	best := -1
	for k, o := range open {
		if o.width < p.Width || o.length < p.Cut {
			continue
		}
		if best < 0 || better(o, open[best], pieces, p) < 0 {
			best = k
		}
	}
	return best
}

func better(a, b offcut, pieces []CutPiece, p CutPiece) int {
	far := func(o offcut) int { return number01(pieces[o.of].Surface.Room != p.Surface.Room) }
	return cmp.Or(far(a)-far(b), cmp.Compare(a.width, b.width), cmp.Compare(a.length, b.length), cmp.Compare(pieces[a.of].ID, pieces[b.of].ID))
}
