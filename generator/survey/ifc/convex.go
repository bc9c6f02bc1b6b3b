package ifc

import (
	"math"
	"slices"

	"lapwork/generator/sorting"
	"lapwork/generator/survey"
)

// convex cuts faces into convex pieces: a plane convex face stays whole, any other becomes triangles.
func convex(faces []survey.Poly) []cell {
	var out []cell
	for _, f := range faces {
		v := f.AreaVector()
		if !(v.Length() > 1e-10) {
			continue
		}
		on := plane{n: v.Unit()}
		on.d = on.n.Dot(f.Loop[0])
		if len(f.Holes) == 0 && bulges(f.Loop, on.n) && on.holds(f.Loop) {
			out = append(out, cell{f.Loop, on})
			continue
		}
		for _, t := range triangulate(f, on.n) {
			if n := t[1].Minus(t[0]).Cross(t[2].Minus(t[0])); n.Length() > 1e-10 {
				n = n.Unit()
				out = append(out, cell{t, plane{n, n.Dot(t[0])}})
			}
		}
	}
	return out
}

// holds says whether a loop lies in the plane up to rounding.
func (p plane) holds(loop []vec) bool {
	for _, v := range loop {
		if math.Abs(p.off(v)) > onPlane/10 {
			return false
		}
	}
	return true
}

// snapTo is how far, in metres, corners are moved onto the planes of another body. Faces meant to lie in one plane then do
// so exactly; left a hair apart, each body would judge the other's face differently.
const snapTo = 2e-5

// snap moves the corners of a body that lie close to planes of another onto them.
func snap(body []survey.Poly, to []cell) []survey.Poly {
	var planes []plane
	for _, c := range to {
		if !slices.Contains(planes, c.on) {
			planes = append(planes, c.on)
		}
	}
	loop := func(in []vec) []vec {
		out := slices.Clone(in)
		for i := range out {
			for range 3 { // as many planes as can meet in a corner
				for _, p := range planes {
					if off := p.off(out[i]); off != 0 && math.Abs(off) < snapTo {
						out[i] = out[i].Minus(p.n.Times(off))
					}
				}
			}
		}
		return out
	}
	out := make([]survey.Poly, len(body))
	for i, f := range body {
		out[i].Loop = loop(f.Loop)
		for _, h := range f.Holes {
			out[i].Holes = append(out[i].Holes, loop(h))
		}
	}
	return out
}

// bulges says whether a loop turns left at every corner, seen against its normal.
func bulges(loop []vec, n vec) bool {
	for i, b := range loop {
		a, c := loop[(i+len(loop)-1)%len(loop)], loop[(i+1)%len(loop)]
		if b.Minus(a).Cross(c.Minus(b)).Dot(n) < -1e-9 {
			return false
		}
	}
	return true
}

// triangulate cuts a face into triangles: holes are joined to the outline by bridges, then ears are cut off.
func triangulate(f survey.Poly, n vec) [][]vec {
	m := matrix{z: n}
	m.orthogonal(vec{X: 1})
	uv := func(v vec) [2]float64 { return [2]float64{v.Dot(m.x), v.Dot(m.y)} }
	loop := slices.Clone(f.Loop)
	holes := slices.Clone(f.Holes)
	for i, h := range holes {
		if (survey.Poly{Loop: h}).AreaVector().Dot(n) > 0 {
			holes[i] = backwards(h)
		}
	}
	// From the right: a bridge to the outline then crosses no hole that is still to come.
	rightmost := func(h []vec) float64 {
		x := math.Inf(-1)
		for _, v := range h {
			x = max(x, uv(v)[0])
		}
		return x
	}
	sorting.StableFunc(holes, func(a, b []vec) int {
		if rightmost(a) > rightmost(b) {
			return -1
		}
		return 1
	})
	for _, h := range holes {
		loop = bridge(loop, h, uv)
	}
	return ears(loop, uv)
}

// bridge joins a hole to a loop between the closest pair of corners that see each other.
func bridge(loop, hole []vec, uv func(vec) [2]float64) []vec {
	bestI, bestJ, best := 0, 0, math.Inf(1)
	for j, h := range hole {
		for i, v := range loop {
			if d := v.Minus(h).Length(); d < best && !blocked(uv(v), uv(h), loop, uv) && !blocked(uv(v), uv(h), hole, uv) {
				bestI, bestJ, best = i, j, d
			}
		}
	}
	out := append([]vec{}, loop[:bestI+1]...)
	out = append(out, hole[bestJ:]...)
	out = append(out, hole[:bestJ+1]...)
	return append(out, loop[bestI:]...)
}

func blocked(a, b [2]float64, loop []vec, uv func(vec) [2]float64) bool {
	for i, v := range loop {
		c, d := uv(v), uv(loop[(i+1)%len(loop)])
		if cross2(a, b, c)*cross2(a, b, d) < -1e-18 && cross2(c, d, a)*cross2(c, d, b) < -1e-18 {
			return true
		}
	}
	return false
}

func cross2(a, b, c [2]float64) float64 {
	return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
}

// ears cuts triangles off a loop that hold no other corner. Where rounding leaves none, the flattest corner goes.
func ears(loop []vec, uv func(vec) [2]float64) [][]vec {
	var out [][]vec
	p := make([][2]float64, len(loop))
	for i, v := range loop {
		p[i] = uv(v)
	}
	for len(loop) > 3 {
		best, bestArea := -1, math.Inf(1)
		cut := -1
		for i := range loop {
			a, c := (i+len(loop)-1)%len(loop), (i+1)%len(loop)
			area := cross2(p[a], p[i], p[c])
			if math.Abs(area) < bestArea {
				best, bestArea = i, math.Abs(area)
			}
			if area > 1e-12 && !holds(p, a, i, c) {
				cut = i
				break
			}
		}
		if cut < 0 {
			cut = best
		}
		a, c := (cut+len(loop)-1)%len(loop), (cut+1)%len(loop)
		if cross2(p[a], p[cut], p[c]) > 1e-12 {
			out = append(out, []vec{loop[a], loop[cut], loop[c]})
		}
		loop, p = slices.Delete(loop, cut, cut+1), slices.Delete(p, cut, cut+1)
	}
	if cross2(p[0], p[1], p[2]) > 1e-12 {
		out = append(out, loop)
	}
	return out
}

// holds says whether a triangle of corners holds another corner, or one on its long side; corners in the same place as
// its own do not count (bridges double them).
func holds(p [][2]float64, a, b, c int) bool {
	for i, v := range p {
		if v == p[a] || v == p[b] || v == p[c] {
			continue
		}
		if i != a && i != b && i != c && cross2(p[a], p[b], v) >= -1e-12 && cross2(p[b], p[c], v) >= -1e-12 && cross2(p[c], p[a], v) >= -1e-12 {
			return true
		}
	}
	return false
}
