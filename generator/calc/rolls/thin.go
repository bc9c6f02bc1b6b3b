package rolls

import "slices"

// thinning: on a large delivery with several pieces to a roll, most rolls can be filled without any rest from pieces
// drawn evenly over all lengths. What is left is a small delivery of the same mixture, which has the whole slack of the
// large one and is solved by diving. It spares the linear program of some hundred lengths.

// thinKeep is about the number of pieces left for diving, thinPasses the number of drawings tried, thinAttempts that of
// attempts at one roll.
const (
	thinKeep     = 100
	thinPasses   = 12
	thinAttempts = 8
)

// thin tries to better the best plan by thinning.
func (s *solver) thin() {
	d, splits, ok := s.forced()
	pieces := 0
	for _, n := range d {
		pieces += n
	}
	if !ok || pieces < thinKeep*3/2 || len(s.m.types) == 0 {
		return
	}
	for pass := 0; pass < thinPasses && !s.closed() && !s.w.out(); pass++ {
		for _, x := range s.mixes(s.m.length(d), s.m.supply(), s.cost()-1, 2) {
			t := thinner{s: s, d: slices.Clone(d), pieces: pieces, seed: uint64(pass)*0x9e3779b97f4a7c15 + 1}
			t.room, t.keep = 3.5+float64(pass%2), thinKeep*(1+pass%3)/2
			t.slack = -s.m.length(d)
			for _, r := range x.rolls {
				t.slack += s.fill[r]
			}
			t.start = t.mean()
			if t.draw(x.rolls) {
				s.dive(t.residual(splits), pass)
			}
		}
	}
}

// thinner is one drawing.
type thinner struct {
	s      *solver
	d      []int
	pieces int
	slack  int64 // length that may still be wasted
	done   []pattern
	seed   uint64
	room   float64 // mean pieces that a roll is filled with by choice, not drawn
	keep   int     // pieces left for diving
	start  float64 // mean length of a piece before anything was drawn
}

// draw fills rolls, shortest first, until few pieces are left; false if it wasted more than the slack.
func (t *thinner) draw(down []int) bool {
	for k := len(down) - 1; k >= 0 && t.pieces > t.keep; k-- {
		p := t.roll(down[k])
		t.slack -= t.s.fill[down[k]] - int64(t.s.m.used(p))
		if t.slack < 0 || t.s.w.out() {
			return false
		}
		if len(p.cuts) > 0 {
			t.done = append(t.done, p)
		}
	}
	return true
}

// roll fills one roll as far as possible, in some attempts. Among full ones it looks for pieces longer than the mean if
// the mean of what is left has grown, else shorter ones, so that the mixture stays the same to the end.
func (t *thinner) roll(typ int) pattern {
	full := int(t.s.fill[typ])
	long := t.mean() >= t.start
	var best pattern
	bestUsed, bestFits := -1, false
	for k := range thinAttempts {
		t.s.f.shortFirst = k%2 == 0 != long
		p := t.attempt(typ)
		t.s.f.shortFirst = false
		used, fits := t.s.m.used(p), t.longer(p) == long
		if used > bestUsed || (used == bestUsed && fits && !bestFits) {
			best, bestUsed, bestFits = p, used, fits
		}
		if (bestUsed >= full && bestFits) || t.s.w.out() {
			break
		}
	}
	for _, c := range best.cuts {
		t.d[c.item] -= c.n
		t.pieces -= c.n
	}
	return best
}

// mean is the mean length of what is left, in units.
func (t *thinner) mean() float64 { return float64(t.s.m.length(t.d)) / float64(max(1, t.pieces)) }

// longer reports that the pieces of a pattern are longer than the mean of what is left.
func (t *thinner) longer(p pattern) bool {
	n := 0
	for _, c := range p.cuts {
		n += c.n
	}
	return float64(t.s.m.used(p)) >= t.mean()*float64(n)
}

// attempt draws pieces until room for some mean pieces is left and fills that; it leaves the demand as it was.
func (t *thinner) attempt(typ int) pattern {
	m := t.s.m
	p := pattern{t: typ}
	rest := m.types[typ].size
	mean := t.mean()
	for float64(rest) > mean*t.room && t.pieces > 0 {
		i := t.pick()
		if m.items[i].size > rest {
			break
		}
		t.take(&p, count{i, 1})
		rest -= m.items[i].size
	}
	for _, c := range t.s.f.best(rest, t.d) {
		t.take(&p, c)
	}
	for _, c := range p.cuts {
		t.d[c.item] += c.n
		t.pieces += c.n
	}
	slices.SortFunc(p.cuts, func(a, b count) int { return a.item - b.item })
	return p
}

func (t *thinner) take(p *pattern, c count) {
	p.cuts = addCount(p.cuts, c)
	t.d[c.item] -= c.n
	t.pieces -= c.n
}

// pick gives the item of a piece drawn evenly from all open pieces, by a fixed sequence of numbers.
func (t *thinner) pick() int {
	t.seed = t.seed*6364136223846793005 + 1442695040888963407
	n := int((t.seed >> 33) % uint64(t.pieces))
	for i, k := range t.d {
		if n -= max(0, k); n < 0 {
			return i
		}
	}
	return len(t.d) - 1
}

// residual is the relaxation of what is left.
func (t *thinner) residual(splits []int) *master {
	s := t.s
	supply := s.m.supply()
	for _, p := range t.done {
		supply[p.t]--
	}
	ms := newMaster(s, t.d, supply, false)
	ms.splits = slices.Clone(splits)
	ms.done = t.done
	ms.cost = s.m.solution(nil, splits).cost + s.m.costOf(t.done)
	return ms
}
