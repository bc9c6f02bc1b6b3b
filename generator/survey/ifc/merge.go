package ifc

import (
	"cmp"
	"math"
	"slices"

	"lapwork/generator/sorting"
	"lapwork/generator/survey"
)

// merge joins pieces that lie in one plane and touch: what a boolean operation cut up, triangles of one face, and faces
// that a drawing program divided.
func merge(cells []cell) []survey.Poly {
	var groups [][]cell
	var out []survey.Poly
	for _, c := range cells {
		i := slices.IndexFunc(groups, func(g []cell) bool { return g[0].on.matches(c) })
		if i < 0 {
			groups = append(groups, nil)
			i = len(groups) - 1
		}
		groups[i] = append(groups[i], c)
	}
	for _, g := range groups {
		loops := make([][]vec, len(g))
		for i, c := range g {
			loops[i] = c.loop
		}
		out = append(out, join(loops, g[0].on.n)...)
	}
	return out
}

// flatWithin is how far, in metres, corners of joined faces may lie off their common plane.
const flatWithin = 1e-4

// matches says whether a cell lies in the plane and looks the same way.
func (p plane) matches(c cell) bool {
	if p.n.Dot(c.on.n) < 0.99999 {
		return false
	}
	for _, v := range c.loop {
		if math.Abs(p.off(v)) > flatWithin {
			return false
		}
	}
	return true
}

// faces gives the faces of a body, those in one plane joined. Bodies with very many faces stay as they are.
func faces(body []survey.Poly) []survey.Poly {
	if len(body) > 4000 {
		return body
	}
	var groups [][]survey.Poly
	var planes []plane
	for _, f := range body {
		v := f.AreaVector()
		if !(v.Length() > 1e-8) {
			continue
		}
		c := cell{f.Loop, plane{n: v.Unit()}}
		c.on.d = c.on.n.Dot(f.Loop[0])
		i := slices.IndexFunc(planes, func(p plane) bool { return p.matches(c) })
		if i < 0 {
			groups, planes = append(groups, nil), append(planes, c.on)
			i = len(planes) - 1
		}
		groups[i] = append(groups[i], f)
	}
	var out []survey.Poly
	for i, g := range groups {
		if len(g) == 1 {
			out = append(out, g[0])
			continue
		}
		var loops [][]vec
		for _, f := range g {
			loops = append(append(loops, f.Loop), f.Holes...)
		}
		out = append(out, join(loops, planes[i].n)...)
	}
	return out
}

// joiner holds the corners of one plane, those in one place as one.
type joiner struct {
	pts  []vec
	grid map[[3]int64][]int
}

// cellSize of the grid corners are looked up in; joinWithin is how close corners count as one, in metres.
const (
	cellSize   = 0.01
	joinWithin = 5e-5
)

func (j *joiner) number(v vec) int {
	at := [3]int64{int64(math.Floor(v.X / cellSize)), int64(math.Floor(v.Y / cellSize)), int64(math.Floor(v.Z / cellSize))}
	for dx := int64(-1); dx <= 1; dx++ {
		for dy := int64(-1); dy <= 1; dy++ {
			for dz := int64(-1); dz <= 1; dz++ {
				for _, i := range j.grid[[3]int64{at[0] + dx, at[1] + dy, at[2] + dz}] {
					if j.pts[i].Minus(v).Length() < joinWithin {
						return i
					}
				}
			}
		}
	}
	j.pts = append(j.pts, v)
	j.grid[at] = append(j.grid[at], len(j.pts)-1)
	return len(j.pts) - 1
}

// join gives the outlines of loops in one plane together: edges that run there and back vanish.
func join(loops [][]vec, n vec) []survey.Poly {
	j := &joiner{grid: map[[3]int64][]int{}}
	var edges [][2]int
	for _, l := range loops {
		ids := make([]int, len(l))
		for i, v := range l {
			ids[i] = j.number(v)
		}
		for i, a := range ids {
			if b := ids[(i+1)%len(ids)]; a != b {
				edges = append(edges, [2]int{a, b})
			}
		}
	}
	count := map[[2]int]int{}
	for _, e := range edges {
		for _, part := range j.divided(e) {
			if back := [2]int{part[1], part[0]}; count[back] > 0 {
				count[back]--
			} else {
				count[part]++
			}
		}
	}
	var outer, holes [][]vec
	for _, loop := range j.trace(count, n) {
		if len(loop) < 3 {
			continue
		}
		switch a := (survey.Poly{Loop: loop}).AreaVector().Dot(n); {
		case a > 1e-8:
			outer = append(outer, loop)
		case a < -1e-8:
			holes = append(holes, loop)
		}
	}
	return nest(outer, holes, n)
}

// divided cuts an edge at corners that lie on it.
func (j *joiner) divided(e [2]int) [][2]int {
	a, b := j.pts[e[0]], j.pts[e[1]]
	d := b.Minus(a)
	length := d.Length()
	type stop struct {
		at float64
		id int
	}
	stops := []stop{{0, e[0]}, {length, e[1]}}
	for i, p := range j.pts {
		if i == e[0] || i == e[1] {
			continue
		}
		t := p.Minus(a).Dot(d) / length
		if t > 0 && t < length && p.Minus(a).Minus(d.Times(t/length)).Length() < joinWithin {
			stops = append(stops, stop{t, i})
		}
	}
	sorting.Func(stops, func(x, y stop) int { return cmp.Compare(x.at, y.at) })
	out := make([][2]int, 0, len(stops)-1)
	for i := 1; i < len(stops); i++ {
		out = append(out, [2]int{stops[i-1].id, stops[i].id})
	}
	return out
}

// trace follows the edges that are left into loops, taking the sharpest left turn where several go on, and drops corners
// that lie on a straight line.
func (j *joiner) trace(count map[[2]int]int, n vec) [][]vec {
	next := map[int][]int{}
	for e, c := range count {
		for range c {
			next[e[0]] = append(next[e[0]], e[1])
		}
	}
	starts := make([]int, 0, len(next))
	for v := range next {
		slices.Sort(next[v])
		starts = append(starts, v)
	}
	slices.Sort(starts)
	var out [][]vec
	for _, start := range starts {
		for len(next[start]) > 0 {
			ids := []int{start}
			at, from := start, -1
			for {
				to := j.turn(next, from, at, n)
				if to < 0 || to == start {
					break
				}
				ids = append(ids, to)
				from, at = at, to
			}
			out = append(out, j.straight(ids))
		}
	}
	return out
}

// turn takes one edge out of a corner; -1 where none is left.
func (j *joiner) turn(next map[int][]int, from, at int, n vec) int {
	list := next[at]
	if len(list) == 0 {
		return -1
	}
	best := 0
	if from >= 0 && len(list) > 1 {
		came := j.pts[at].Minus(j.pts[from])
		sharpest := math.Inf(-1)
		for i, to := range list {
			d := j.pts[to].Minus(j.pts[at])
			if a := math.Atan2(came.Cross(d).Dot(n), came.Dot(d)); a > sharpest {
				best, sharpest = i, a
			}
		}
	}
	to := list[best]
	next[at] = slices.Delete(list, best, best+1)
	return to
}

// straight drops corners between two edges of one direction.
func (j *joiner) straight(ids []int) []vec {
	pts := make([]vec, len(ids))
	for i, id := range ids {
		pts[i] = j.pts[id]
	}
	for i := 0; i < len(pts) && len(pts) > 3; {
		a, b, c := pts[(i+len(pts)-1)%len(pts)], pts[i], pts[(i+1)%len(pts)]
		d := c.Minus(a)
		if l := d.Length(); l > 0 && b.Minus(a).Cross(d).Length()/l < joinWithin && b.Minus(a).Dot(c.Minus(b)) > 0 {
			pts = slices.Delete(pts, i, i+1)
			continue
		}
		i++
	}
	return pts
}

// nest gives each hole to the smallest outline that holds it.
func nest(outer, holes [][]vec, n vec) []survey.Poly {
	out := make([]survey.Poly, len(outer))
	for i, o := range outer {
		out[i].Loop = o
	}
	for _, h := range holes {
		best, area := -1, math.Inf(1)
		for i, o := range outer {
			if a := (survey.Poly{Loop: o}).AreaVector().Length(); a < area && covers(o, h[0], n) {
				best, area = i, a
			}
		}
		if best >= 0 {
			out[best].Holes = append(out[best].Holes, h)
		}
	}
	return out
}

// covers says whether a point in a loop's plane lies inside it or on its border.
func covers(loop []vec, p, n vec) bool {
	m := matrix{z: n}
	m.orthogonal(vec{X: 1})
	x, y := p.Dot(m.x), p.Dot(m.y)
	in := false
	for i, a := range loop {
		b := loop[(i+1)%len(loop)]
		if along := b.Minus(a); along.Length() > 0 {
			t := min(1, max(0, p.Minus(a).Dot(along)/along.Dot(along)))
			if p.Minus(a.Plus(along.Times(t))).Length() < joinWithin {
				return true
			}
		}
		ax, ay, bx, by := a.Dot(m.x), a.Dot(m.y), b.Dot(m.x), b.Dot(m.y)
		if (ay > y) != (by > y) && x < ax+(y-ay)/(by-ay)*(bx-ax) {
			in = !in
		}
	}
	return in
}
