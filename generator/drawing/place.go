package drawing

import "math"

// The search for a free place goes outwards from the wanted one; each pass asks for less.
const (
	allClean = iota // inside the limit, off soft marks and leaders, own leader free
	offText         // inside the limit, off other text
	anywhere        // X inside the limit, off other text
	passCount
)

const (
	ringStep  = 6.0
	ringCount = 60
	spokes    = 16
)

// find gives the nearest free box for the label. There always is one: below everything else.
func (b *board) find(l label, w, h float64) Box {
	wanted := b.clampInto(boxAt(l.at, w, h), l)
	for pass := allClean; pass < passCount; pass++ {
		if pass < anywhere && b.free(wanted, l, pass) {
			return wanted
		}
		if box, ok := b.slideAlong(l, wanted, pass); ok {
			return box
		}
		if box, ok := b.spiral(l, wanted, pass); ok {
			return box
		}
	}
	low := b.limit.Y1
	for _, t := range b.texts {
		low = math.Max(low, t.Y1)
	}
	return wanted.move(Pt{0, low - wanted.Y0 + 1})
}

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

func (b *board) slideAlong(l label, wanted Box, pass int) (Box, bool) {
	length := math.Hypot(l.slide.X, l.slide.Y)
	if length == 0 {
		return wanted, false
	}
	for d := ringStep; d <= length; d += ringStep {
		for _, sign := range [2]float64{1, -1} {
			box := wanted.move(times(l.slide, sign*d/length))
			if b.free(box, l, pass) {
				return box, true
			}
		}
	}
	return wanted, false
}

func (b *board) spiral(l label, wanted Box, pass int) (Box, bool) {
	for ring := 1; ring <= ringCount; ring++ {
		r := ringStep * float64(ring)
		if ring > 20 {
			r = ringStep * (20 + 2.5*float64(ring-20))
		}
		for s := range spokes {
			a := 2 * math.Pi * float64(s) / spokes
			box := wanted.move(Pt{r * math.Cos(a), r * math.Sin(a)})
			if b.free(box, l, pass) {
				return box, true
			}
		}
	}
	return wanted, false
}

func (b *board) free(box Box, l label, pass int) bool {
	if box.X0 < b.limit.X0 || box.X1 > b.limit.X1 {
		return false
	}
	if pass < anywhere && !b.limit.Holds(box) {
		return false
	}
	if l.keep != nil && pass == allClean && !l.keep.Holds(box) {
		return false
	}
	for _, t := range b.texts {
		if box.Overlaps(t) {
			return false
		}
	}
	return pass != allClean || b.clean(box, l)
}

// clean tells whether the box keeps off soft marks and leaders, and its own leader off text.
func (b *board) clean(box Box, l label) bool {
	for _, s := range b.soft {
		if box.Overlaps(s) {
			return false
		}
	}
	for _, line := range b.lines {
		if box.crossedBy(line[0], line[1]) {
			return false
		}
	}
	if l.target == nil {
		return true
	}
	from := box.nearest(*l.target)
	for _, t := range b.texts {
		if t.crossedBy(from, *l.target) {
			return false
		}
	}
	for _, line := range b.lines {
		if segmentsCross(from, *l.target, line[0], line[1]) {
			return false
		}
	}
	return true
}

func segmentsCross(a, b, c, d Pt) bool {
	ab, cd := sub(b, a), sub(d, c)
	s1, s2 := cross(ab, sub(c, a)), cross(ab, sub(d, a))
	s3, s4 := cross(cd, sub(a, c)), cross(cd, sub(b, c))
	return s1*s2 < 0 && s3*s4 < 0
}
