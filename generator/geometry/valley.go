package geometry

// mostTerms bounds what slopes one over the other, on walls that meet in valleys, can multiply to.
const mostTerms = 64

// Valleys tells which planes over a footprint count together. sides gives for each plane the side it rises from, from 0;
// -1 for a level one. Where two sides with planes meet at a corner that points into the room, the ceiling is as high as
// the higher of the two: they meet in a valley. Everywhere else the lowest plane counts. So the ceiling is the lowest of
// terms, and a term the highest of its planes. The footprint is counter-clockwise and passes Check. ok is false where
// planes one over the other on such sides multiply to more than 64 terms.
func Valleys(footprint Polygon, sides []int) (terms [][]int, ok bool) {
	bySide := make([][]int, len(footprint))
	for plane, s := range sides {
		if s >= 0 {
			bySide[s] = append(bySide[s], plane)
		}
	}
	done := make([]bool, len(footprint))
	for plane, s := range sides {
		switch {
		case s < 0:
			terms = append(terms, []int{plane})
		case !done[s]:
			run := valleyRun(footprint, bySide, s)
			for _, r := range run {
				done[r] = true
			}
			more, fits := choose(bySide, run)
			if !fits {
				return nil, false
			}
			terms = append(terms, more...)
		}
	}
	return terms, true
}

// valleyRun gives the sides in a row, s among them, that carry planes and meet at corners that point into the room. Some
// corner of every footprint points out, so a run has two ends.
func valleyRun(footprint Polygon, bySide [][]int, s int) []int {
	n := len(footprint)
	joined := func(a int) bool { // side a and the next
		b := (a + 1) % n
		p, q, r := footprint[a], footprint[b], footprint[(b+1)%n]
		turn := int64(q.X-p.X)*int64(r.Y-q.Y) - int64(q.Y-p.Y)*int64(r.X-q.X)
		return turn < 0 && len(bySide[a]) > 0 && len(bySide[b]) > 0
	}
	for joined((s + n - 1) % n) {
		s = (s + n - 1) % n
	}
	run := []int{s}
	for joined(s) {
		s = (s + 1) % n
		run = append(run, s)
	}
	return run
}

// choose gives every choice of one plane a side. Over one side the lowest plane counts, and the highest of lowest values
// is the lowest of the highest values over all choices.
func choose(bySide [][]int, run []int) (terms [][]int, ok bool) {
	if len(run) == 1 {
		for _, plane := range bySide[run[0]] {
			terms = append(terms, []int{plane})
		}
		return terms, true
	}
	terms = [][]int{nil}
	for _, s := range run {
		var next [][]int
		for _, t := range terms {
			for _, plane := range bySide[s] {
				next = append(next, append(t[:len(t):len(t)], plane))
			}
		}
		if terms = next; len(terms) > mostTerms {
			return nil, false
		}
	}
	return terms, true
}

// height is the height of the planes' highest over a plan point.
func (e *Envelope) height(term []int, x, y float64) float64 {
	high := e.planes[term[0]].At(x, y)
	for _, k := range term[1:] {
		high = max(high, e.planes[k].At(x, y))
	}
	return high
}

// highest is the plane of a term that is the highest over a cell which none of the lines between them crosses.
func (e *Envelope) highest(term []int, c Cell) int {
	best, bestSum := term[0], e.sum(term[0], c)
	for _, k := range term[1:] {
		if s := e.sum(k, c); s > bestSum+onLine*float64(len(c.Loop)) {
			best, bestSum = k, s
		}
	}
	return best
}

func (e *Envelope) sum(plane int, c Cell) float64 {
	var sum float64
	for _, v := range c.Loop {
		sum += e.planes[plane].At(e.verts[v].X, e.verts[v].Y)
	}
	return sum
}

// separate divides all cells along the lines where planes of a term are as high as each other.
func (e *Envelope) separate(term []int) {
	for i, a := range term {
		for _, b := range term[:i] {
			p, o := e.planes[a], e.planes[b]
			d := divider{picks: func(Cell) bool { return true }, value: make([]float64, len(e.verts))}
			for n, v := range e.verts {
				d.value[n] = p.At(v.X, v.Y) - o.At(v.X, v.Y)
			}
			d.direction = func(Cell) (dx, dy float64) { return -(p.GY - o.GY), p.GX - o.GX }
			e.divide(d)
		}
	}
}
