package survey

import "math"

// body is what a space's form was taken from, faces turned outwards.
type body struct {
	faces  []Poly
	volume float64 // m³
	open   float64 // m² of faces missing, by the sum of area vectors
	closed bool
	fixed  repairs
}

// unnoticed is what may be missing of a body, in m², before gaps are looked for: rounding of coordinates.
const unnoticed = 0.001

// closesWithin is the share of a body's faces that may be missing before it counts as open.
const closesWithin = 0.005

// bodyOf cleans faces, turns them outwards, and sees whether they close. Where they do not, gaps are closed first.
func bodyOf(faces []Poly) body {
	clean, done := cleanFaces(faces)
	b := measure(clean)
	if !b.closed || b.open > unnoticed {
		if snapped, gap := closeGaps(clean); gap > 0 {
			tidied, more := cleanFaces(snapped)
			if c := measure(tidied); c.closed && c.open < b.open {
				b = c
				more.widestGap = gap
				done.add(more)
			}
		}
	}
	done.reversed += b.fixed.reversed
	b.fixed = done
	return b
}

func measure(faces []Poly) body {
	b := body{faces: make([]Poly, len(faces))}
	var all float64
	for i, f := range faces {
		if outwards(i, faces) {
			b.faces[i] = f
		} else {
			b.faces[i] = f.turned()
			b.fixed.reversed++
		}
		all += f.vector().Length()
	}
	b.volume, b.open = enclosed(b.faces)
	b.closed = len(faces) >= 4 && b.volume > 0.01 && b.open <= closesWithin*all
	return b
}

// outwards says whether a face's normal points out of the body: a ray from just before it along the normal crosses the
// other faces an even number of times. It starts off the middle, which symmetric bodies put on an edge of another face.
func outwards(i int, faces []Poly) bool {
	f := faces[i]
	n := f.vector().Unit()
	from := innerPoint(f, n).Plus(n.Times(1e-4))
	dir := n.Plus(Vec{0.0123, 0.0071, 0.0097}).Unit()
	crossings := 0
	for k, g := range faces {
		if k != i && crosses(from, dir, g) {
			crossings++
		}
	}
	return crossings%2 == 0
}

// innerPoint is a point inside a face: in one of its triangles.
func innerPoint(f Poly, n Vec) Vec {
	best, area := middle(f.Loop), 0.0
	for _, t := range triangles(f.Loop) {
		a := areaVector(t).Length()
		m := t[0].Times(0.38).Plus(t[1].Times(0.33)).Plus(t[2].Times(0.29))
		if a > area && !inHole(f, m, n) {
			best, area = m, a
		}
	}
	return best
}

func inHole(f Poly, p, n Vec) bool {
	for _, h := range f.Holes {
		if inLoop(h, p, n) {
			return true
		}
	}
	return false
}

// crosses says whether a ray meets a face.
func crosses(from, dir Vec, f Poly) bool {
	n := f.vector().Unit()
	d := dir.Dot(n)
	if math.Abs(d) < 1e-9 {
		return false
	}
	t := f.Loop[0].Minus(from).Dot(n) / d
	if t <= 0 {
		return false
	}
	at := from.Plus(dir.Times(t))
	return inLoop(f.Loop, at, n) && !inHole(f, at, n)
}

// inLoop says whether a point of a loop's plane lies inside, by the axis plane in which the loop is largest.
func inLoop(loop []Vec, p, n Vec) bool {
	flat := func(v Vec) (float64, float64) { return v.X, v.Y }
	switch x, y, z := math.Abs(n.X), math.Abs(n.Y), math.Abs(n.Z); {
	case x >= y && x >= z:
		flat = func(v Vec) (float64, float64) { return v.Y, v.Z }
	case y >= z:
		flat = func(v Vec) (float64, float64) { return v.Z, v.X }
	}
	px, py := flat(p)
	inside := false
	for i, a := range loop {
		ax, ay := flat(a)
		bx, by := flat(loop[(i+1)%len(loop)])
		if (ay > py) != (by > py) && px < ax+(py-ay)/(by-ay)*(bx-ax) {
			inside = !inside
		}
	}
	return inside
}
