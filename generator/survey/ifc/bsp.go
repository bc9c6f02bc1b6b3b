package ifc

import "lapwork/generator/survey"

// plane is the points p with n·p = d; n has length 1.
type plane struct {
	n vec
	d float64
}

func (p plane) off(v vec) float64 { return p.n.Dot(v) - p.d }

// cell is a convex piece of a face with its plane.
type cell struct {
	loop []vec
	on   plane
}

// onPlane is how far off a plane a corner still counts as on it, in metres.
const onPlane = 1e-6

// maxCells bounds the pieces a boolean operation may make.
const maxCells = 100_000

// nothing is the volume, in m³, below which the result of an operation is only the rounding of faces that touch.
const nothing = 1e-5

// tree divides space by the planes of a body's faces; a leaf behind the last plane is inside. Building and clipping
// follow the usual scheme of solids as binary space partitions (Thibault and Naylor 1987, from memory).
type tree struct {
	on          plane
	front, back *tree
}

// split cuts a cell by a plane and hands the pieces on.
func (p plane) split(c cell, level, front, back func(cell)) {
	off := make([]float64, len(c.loop))
	var above, below bool
	for i, v := range c.loop {
		off[i] = p.off(v)
		above, below = above || off[i] > onPlane, below || off[i] < -onPlane
	}
	switch {
	case !above && !below:
		level(c)
	case !below:
		front(c)
	case !above:
		back(c)
	default:
		var f, b []vec
		for i, v := range c.loop {
			j := (i + 1) % len(c.loop)
			if off[i] >= -onPlane {
				f = append(f, v)
			}
			if off[i] <= onPlane {
				b = append(b, v)
			}
			if off[i] > onPlane && off[j] < -onPlane || off[i] < -onPlane && off[j] > onPlane {
				at := v.Plus(c.loop[j].Minus(v).Times(off[i] / (off[i] - off[j])))
				f, b = append(f, at), append(b, at)
			}
		}
		if len(f) > 2 {
			front(cell{f, c.on})
		}
		if len(b) > 2 {
			back(cell{b, c.on})
		}
	}
}

// grow adds cells to a tree. It works down a list rather than by calling itself, since trees of long bodies are deep.
func (t *tree) grow(cells []cell, left *int) {
	type task struct {
		t     *tree
		cells []cell
	}
	for todo := []task{{t, cells}}; len(todo) > 0 && *left > 0; {
		now := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if len(now.cells) == 0 {
			continue
		}
		if now.t.on == (plane{}) {
			now.t.on = now.cells[0].on
		}
		var front, back []cell
		keep := func(cell) {} // it is what the plane stands for
		for _, c := range now.cells {
			now.t.on.split(c, keep, func(c cell) { front = append(front, c) }, func(c cell) { back = append(back, c) })
		}
		*left -= len(now.cells)
		if len(front) > 0 {
			if now.t.front == nil {
				now.t.front = &tree{}
			}
			todo = append(todo, task{now.t.front, front})
		}
		if len(back) > 0 {
			if now.t.back == nil {
				now.t.back = &tree{}
			}
			todo = append(todo, task{now.t.back, back})
		}
	}
}

// part sorts pieces of cells by whether they lie inside or outside the tree's body. What lies on a face goes with inside
// or outside by whether it looks the same way as the face, as sameWay says.
func (t *tree) part(cells []cell, sameInside, oppositeInside bool, left *int) (inside, outside []cell) {
	type task struct {
		t     *tree
		cells []cell
	}
	for todo := []task{{t, cells}}; len(todo) > 0 && *left > 0; {
		now := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		var front, back []cell
		for _, c := range now.cells {
			level := func(c cell) {
				toBack := oppositeInside
				if c.on.n.Dot(now.t.on.n) > 0 {
					toBack = sameInside
				}
				if toBack {
					back = append(back, c)
				} else {
					front = append(front, c)
				}
			}
			now.t.on.split(c, level, func(c cell) { front = append(front, c) }, func(c cell) { back = append(back, c) })
		}
		*left -= len(now.cells)
		if now.t.front == nil {
			outside = append(outside, front...)
		} else if len(front) > 0 {
			todo = append(todo, task{now.t.front, front})
		}
		if now.t.back == nil {
			inside = append(inside, back...)
		} else if len(back) > 0 {
			todo = append(todo, task{now.t.back, back})
		}
	}
	return inside, outside
}

// partition builds the tree of a body.
func partition(cells []cell, left *int) *tree {
	t := &tree{}
	t.grow(cells, left)
	return t
}

// combine joins two bodies: "UNION", "INTERSECTION" or "DIFFERENCE" (the first without the second). ok is false where it
// would take too many pieces.
func combine(operator string, a, b []survey.Poly) (out []survey.Poly, ok bool) {
	left := maxCells
	ca, cb := convex(a), convex(b)
	if len(ca) == 0 || len(cb) == 0 {
		switch operator {
		case "INTERSECTION":
			return nil, true
		case "DIFFERENCE":
			return a, true
		}
		return append(a, b...), true
	}
	cb = convex(snap(b, ca))
	ca = convex(snap(a, cb))
	ta, tb := partition(ca, &left), partition(cb, &left)
	var cells []cell
	switch operator {
	case "DIFFERENCE":
		_, keep := tb.part(ca, true, false, &left)
		cut, _ := ta.part(cb, false, false, &left)
		cells = append(keep, turnedCells(cut)...)
	case "INTERSECTION":
		keepA, _ := tb.part(ca, true, false, &left)
		keepB, _ := ta.part(cb, false, false, &left)
		cells = append(keepA, keepB...)
	default:
		_, keepA := tb.part(ca, false, true, &left)
		_, keepB := ta.part(cb, true, true, &left)
		cells = append(keepA, keepB...)
	}
	if out = merge(cells); len(out) > 0 && volume(out) < nothing {
		out = nil
	}
	return out, left > 0
}

func turnedCells(in []cell) []cell {
	out := make([]cell, len(in))
	for i, c := range in {
		out[i] = cell{backwards(c.loop), plane{c.on.n.Times(-1), -c.on.d}}
	}
	return out
}
