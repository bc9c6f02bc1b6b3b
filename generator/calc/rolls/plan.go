package rolls

import (
	"cmp"
	"slices"

	q "lapwork/generator/quantity"
)

// plan turns the best solution into cuts with marks. Free rolls come first, then the longest; equal patterns stand
// together. Marks are dealt in order, joined strips last.
func (s *solver) plan() Plan {
	p := Plan{Cost: s.best.cost, Bound: min(s.bound, s.best.cost), Proof: s.proof, Certificate: s.cert, Work: s.w.used,
		Exhausted: s.exhausted, Aborted: s.w.aborted}
	m := s.m
	pats := slices.Clone(s.best.pats)
	slices.SortStableFunc(pats, func(a, b pattern) int {
		return cmp.Or(m.types[a.t].free()-m.types[b.t].free(), compareChoices(choice{pat: a}, choice{pat: b}))
	})
	deal := newDealer(m, s.best.splits)
	used := make([]int, len(m.types))
	for _, pat := range pats {
		r := m.types[pat.t].roll(used[pat.t])
		used[pat.t]++
		c := Cut{Roll: r.Name, Length: r.Length, Cost: r.Cost, Remainder: r.Length}
		for _, k := range pat.cuts {
			for range k.n {
				piece := deal.next(k.item)
				c.Pieces = append(c.Pieces, piece)
				c.Remainder -= piece.Length
			}
		}
		p.Cuts = append(p.Cuts, c)
	}
	p.Joints = deal.joints
	return p
}

// free is 0 for a type that costs nothing, else 1.
func (t rollType) free() int {
	if t.cost == 0 {
		return 0
	}
	return 1
}

// roll gives the n-th roll of a type, in the order of its lengths and names.
func (t rollType) roll(n int) Roll {
	for _, r := range t.rolls {
		if n < r.Supply {
			return r
		}
		n -= r.Supply
	}
	return t.rolls[len(t.rolls)-1]
}

// dealer hands out the marks of strips and split pieces.
type dealer struct {
	pieces [][]Piece // per item, in the order in which they are dealt
	joints []Joint
}

func newDealer(m *model, splits []int) *dealer {
	d := &dealer{pieces: make([][]Piece, len(m.items))}
	taken := make([]int, len(m.items))
	for k, n := range splits {
		taken[m.splits[k].whole] += n
	}
	next := make([]int, len(m.items))
	for i, it := range m.items {
		next[i] = it.count - taken[i]
		for n := range next[i] {
			d.pieces[i] = append(d.pieces[i], Piece{it.mark(n), it.length, Whole})
		}
	}
	for k, n := range splits {
		sp := m.splits[k]
		for range n {
			mark := m.items[sp.whole].mark(next[sp.whole])
			next[sp.whole]++
			d.joints = append(d.joints, Joint{mark, m.items[sp.whole].length, sp.raw})
			d.pieces[sp.a] = append(d.pieces[sp.a], Piece{mark, sp.raw.A, First})
			d.pieces[sp.b] = append(d.pieces[sp.b], Piece{mark, sp.raw.B, Second})
		}
	}
	return d
}

func (it item) mark(n int) string {
	if n < len(it.ids) {
		return it.ids[n]
	}
	return ""
}

func (d *dealer) next(i int) Piece {
	p := d.pieces[i][0]
	d.pieces[i] = d.pieces[i][1:]
	return p
}

// Remainders lists the remainders of at least minKept (and more than nothing), longest first.
func (p Plan) Remainders(minKept q.MM) []q.MM {
	var out []q.MM
	for _, c := range p.Cuts {
		if c.Remainder > 0 && c.Remainder >= minKept {
			out = append(out, c.Remainder)
		}
	}
	slices.SortFunc(out, func(a, b q.MM) int { return cmp.Compare(b, a) })
	return out
}
