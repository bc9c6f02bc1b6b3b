package geometry

import (
	"math"
	"slices"

	q "lapwork/generator/quantity"
	"lapwork/generator/sorting"
)

// weldWithin joins vertices that are no farther apart than this, in mm. Points farther apart than the square root of two
// stay apart when rounded to whole millimetres; a little more keeps a step of one millimetre at 45 degrees off the border.
const weldWithin = 1.45

// straight is how far off a line, in mm, a vertex still counts as on it: the edge was cut there and no more. It is small
// because corners of a fine arc lie off their neighbours' line by little and must stay.
const straight = 0.01

// Axes place a face's own plane in space, in mm: origin and two unit vectors at right angles.
type Axes struct{ Origin, X, Y Vertex }

// Solid is a body bounded by plane faces. A face is a set of directed edges, the face on their left as seen from inside
// the body; every edge of a closed body is used once in each direction.
type Solid struct {
	verts []Vertex
	faces []solidFace
}

type solidFace struct {
	axes   Axes
	mirror bool // axes look from outside the body
	edges  [][2]int
}

// Vertex adds a vertex.
func (s *Solid) Vertex(v Vertex) int {
	s.verts = append(s.verts, v)
	return len(s.verts) - 1
}

// At gives a vertex by number.
func (s *Solid) At(v int) Vertex { return s.verts[v] }

// Face adds a face. Axes normally make it counter-clockwise as seen from inside; mirror says that they look from outside.
func (s *Solid) Face(axes Axes, mirror bool) int {
	s.faces = append(s.faces, solidFace{axes: axes, mirror: mirror})
	return len(s.faces) - 1
}

// Ring adds the edges round a loop of vertices to a face.
func (s *Solid) Ring(face int, loop ...int) {
	f := &s.faces[face]
	for i, u := range loop {
		f.edges = append(f.edges, [2]int{u, loop[(i+1)%len(loop)]})
	}
}

// Edge adds one directed edge to a face.
func (s *Solid) Edge(face, u, v int) {
	s.faces[face].edges = append(s.faces[face].edges, [2]int{u, v})
}

// Weld joins vertices that lie within weldWithin of each other (the earlier one stays) and removes vertices that only
// interrupt a straight edge between two faces.
func (s *Solid) Weld() {
	to := make([]int, len(s.verts))
	for i, v := range s.verts {
		to[i] = i
		for j := range i {
			if to[j] == j && Distance(s.verts[j], v) <= weldWithin {
				to[i] = j
				break
			}
		}
	}
	for n := range s.faces {
		f := &s.faces[n]
		for i, e := range f.edges {
			f.edges[i] = [2]int{to[e[0]], to[e[1]]}
		}
		f.edges = cancel(f.edges)
	}
	s.straighten()
}

// straighten removes vertices with two neighbours only that lie on the line between them.
func (s *Solid) straighten() {
	near := make([][]int, len(s.verts))
	link := func(u, v int) {
		if !slices.Contains(near[u], v) {
			near[u] = append(near[u], v)
		}
	}
	for _, f := range s.faces {
		for _, e := range f.edges {
			link(e[0], e[1])
			link(e[1], e[0])
		}
	}
	for v := range near {
		if len(near[v]) != 2 || s.offLine(v, near[v][0], near[v][1]) > straight {
			continue
		}
		a, b := near[v][0], near[v][1]
		if slices.Contains(near[a], b) {
			continue // a triangle of its own
		}
		for n := range s.faces {
			s.faces[n].bypass(v)
		}
		near[a][slices.Index(near[a], v)] = b
		near[b][slices.Index(near[b], v)] = a
		near[v] = nil
	}
}

// bypass joins the edges into and out of a vertex.
func (f *solidFace) bypass(v int) {
	in := slices.IndexFunc(f.edges, func(e [2]int) bool { return e[1] == v })
	out := slices.IndexFunc(f.edges, func(e [2]int) bool { return e[0] == v })
	if in < 0 || out < 0 {
		return
	}
	f.edges[in][1] = f.edges[out][1]
	f.edges = slices.Delete(f.edges, out, out+1)
}

func (s *Solid) offLine(v, a, b int) float64 {
	p, o, e := s.verts[v], s.verts[a], s.verts[b]
	d := Distance(o, e)
	if d == 0 {
		return math.Inf(1)
	}
	c := cross(minus(p, o), minus(e, o))
	return math.Sqrt(dot3(c, c)) / d
}

// Part is a connected piece of a face: loops of vertex numbers, counter-clockwise in the face's axes (holes clockwise),
// the same loops in the face's axes rounded to mm, and the area before rounding.
type Part struct {
	Loops  [][]int // the outline, then the holes
	Region Region
	Area   q.Area
}

// Parts gives the connected pieces of a face, from the left, then from below in its axes.
func (s *Solid) Parts(face int) []Part {
	f := s.faces[face]
	edges := f.edges
	if f.mirror {
		edges = slices.Clone(edges)
		for i, e := range edges {
			edges[i] = [2]int{e[1], e[0]}
		}
	}
	at := func(v int) (x, y float64) { return f.axes.Project(s.verts[v]) }
	var parts []Part
	var holes [][]int
	for _, loop := range trace(edges, at) {
		loop = fromLowerLeft(loop, at)
		if area := signedArea(loop, at); area > 0 {
			parts = append(parts, Part{Loops: [][]int{loop}, Region: Region{Outer: rounded(loop, at)}, Area: q.Area(area / 1e6)})
		} else {
			holes = append(holes, loop)
		}
	}
	for _, h := range holes {
		p := holder(parts, rounded(h, at))
		if p == nil {
			continue
		}
		p.Loops = append(p.Loops, h)
		p.Region.Holes = append(p.Region.Holes, rounded(h, at))
		p.Area += q.Area(signedArea(h, at) / 1e6)
	}
	sorting.StableFunc(parts, func(a, b Part) int { return before(a.Region.Outer, b.Region.Outer) })
	return parts
}

// Project gives a point's coordinates in the plane of the axes.
func (a Axes) Project(v Vertex) (x, y float64) {
	d := minus(v, a.Origin)
	return dot3(d, a.X), dot3(d, a.Y)
}

// Normal is the direction X × Y.
func (a Axes) Normal() Vertex { return cross(a.X, a.Y) }
