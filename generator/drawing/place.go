package drawing

import "math"

// Labels look for a free place outwards from the wanted one. Text is never covered; the way there and what would be
// untidy have a price in pixels, and the cheapest place wins.
const (
	softPrice   = 50.0 // covers a mark
	linePrice   = 35.0 // covers a leader or dimension line
	crossPrice  = 60.0 // its own leader crosses text or another leader
	keepPrice   = 55.0 // leaves the part it belongs to
	slideFactor = 0.5  // a way along the part is worth half
	ringStep    = 6.0
	ringCount   = 60
	spokes      = 16
)

// find gives the cheapest free box for the label. There always is one: below everything else.
func (b *board) find(l label, w, h float64) Box {
	wanted := b.clampInto(boxAt(l.at, w, h), l)
	if box, ok := b.cheapest(l, wanted); ok {
		return box
	}
	if box, ok := b.below(l, wanted); ok {
		return box
	}
	low := b.limit.Y1
	for _, t := range b.texts {
		low = math.Max(low, t.Y1)
	}
	return wanted.move(Pt{0, low - wanted.Y0 + 1})
}

// cheapest searches inside the limit.
func (b *board) cheapest(l label, wanted Box) (Box, bool) {
	best, least := wanted, math.Inf(1)
	try := func(box Box, way float64) {
		if way < least && b.limit.Holds(box) && b.free(box) {
			if cost := way + b.untidy(box, l, least-way); cost < least {
				best, least = box, cost
			}
		}
	}
	try(wanted, 0)
	length := math.Hypot(l.slide.X, l.slide.Y)
	for d := ringStep; d <= length && d*slideFactor < least; d += ringStep {
		try(wanted.move(times(l.slide, d/length)), d*slideFactor)
		try(wanted.move(times(l.slide, -d/length)), d*slideFactor)
	}
	for ring := 1; ring <= ringCount && radius(ring) < least; ring++ {
		for s := range spokes {
			try(wanted.move(spoke(ring, s)), radius(ring))
		}
	}
	return best, !math.IsInf(least, 0)
}

// below searches as near as can be, the foot of the figure giving way.
func (b *board) below(l label, wanted Box) (Box, bool) {
	for ring := range ringCount {
		for s := range spokes {
			box := wanted.move(spoke(ring, s))
			if box.X0 >= b.limit.X0 && box.X1 <= b.limit.X1 && b.free(box) {
				return box, true
			}
		}
	}
	return wanted, false
}

func radius(ring int) float64 {
	if ring > 20 {
		return ringStep * (20 + 2.5*float64(ring-20))
	}
	return ringStep * float64(ring)
}

func spoke(ring, s int) Pt { return times(directions[s], radius(ring)) }

// directions are those in which labels look for a place.
var directions = func() (all [spokes]Pt) {
	for s := range all {
		sin, cos := math.Sincos(2 * math.Pi * float64(s) / spokes)
		all[s] = Pt{cos, sin}
	}
	return all
}()

// clampInto moves the box into what the label belongs to, as far as it fits there.
func (b *board) clampInto(box Box, l label) Box {
	in := b.limit
	if l.keep != nil {
		in = *l.keep
	}
	dx := math.Max(in.X0-box.X0, math.Min(0, in.X1-box.X1))
	dy := math.Max(in.Y0-box.Y0, math.Min(0, in.Y1-box.Y1))
	if box.width() > in.width() {
		dx = b.limit.X0 - box.X0
		if l.keep != nil {
			dx = 0
		}
	}
	if box.height() > in.height() {
		dy = 0
	}
	return box.move(Pt{dx, dy})
}

func (b *board) free(box Box) bool {
	for _, t := range b.texts {
		if box.Overlaps(t) {
			return false
		}
	}
	return true
}

// untidy is the price of a box: what it covers and what its leader crosses. It need not be exact once it reaches most.
func (b *board) untidy(box Box, l label, most float64) float64 {
	price := 0.0
	if l.keep != nil && !l.keep.Holds(box) {
		price += keepPrice
	}
	if price >= most {
		return price
	}
	for _, s := range b.soft {
		if box.Overlaps(s) {
			price += softPrice
			break
		}
	}
	for _, line := range b.lines {
		if box.crossedBy(line[0], line[1]) {
			price += linePrice
			break
		}
	}
	if l.target != nil && price < most && b.leaderCrosses(box.nearest(*l.target), *l.target) {
		price += crossPrice
	}
	return price
}

func (b *board) leaderCrosses(from, to Pt) bool {
	for _, t := range b.texts {
		if t.crossedBy(from, to) {
			return true
		}
	}
	for _, line := range b.lines {
		if segmentsCross(from, to, line[0], line[1]) {
			return true
		}
	}
	return false
}

func segmentsCross(a, b, c, d Pt) bool {
	ab, cd := sub(b, a), sub(d, c)
	s1, s2 := cross(ab, sub(c, a)), cross(ab, sub(d, a))
	s3, s4 := cross(cd, sub(a, c)), cross(cd, sub(b, c))
	return s1*s2 < 0 && s3*s4 < 0
}
