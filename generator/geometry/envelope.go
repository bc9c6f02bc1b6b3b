package geometry

import (
	"math"

	q "lapwork/generator/quantity"
)

// Plane is a ceiling plane: its height in mm over plan point (x, y), also in mm, is Z + GX·x + GY·y.
type Plane struct{ Z, GX, GY float64 }

// Flat is the level plane at a height.
func Flat(height q.MM) Plane { return Plane{Z: float64(height)} }

// Rising is the plane that has a height along the line from a to b and rises to the left of it. The pitch is from the
// level, above 0 and below 90 degrees.
func Rising(a, b Point, height q.MM, pitch q.Degrees) Plane {
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	t := math.Tan(float64(pitch)*math.Pi/180) / math.Hypot(dx, dy)
	p := Plane{GX: -dy * t, GY: dx * t}
	p.Z = float64(height) - p.GX*float64(a.X) - p.GY*float64(a.Y)
	return p
}

// At is the plane's height over a plan point, in mm.
func (p Plane) At(x, y float64) float64 { return p.Z + p.GX*x + p.GY*y }

// Same says whether two planes agree to a thousandth of a millimetre over the footprint.
func (p Plane) Same(o Plane, footprint Polygon) bool {
	for _, c := range footprint {
		if math.Abs(p.At(float64(c.X), float64(c.Y))-o.At(float64(c.X), float64(c.Y))) > 1e-3 {
			return false
		}
	}
	return true
}

// Envelope is a ceiling of planes over a footprint: a partition of the footprint into cells, each under one plane (its tag
// is the plane's index). Cells that meet share vertices by number. Z of a vertex is the ceiling's height.
type Envelope struct {
	mesh
	planes    []Plane
	terms     [][]int // the lowest counts; a term is as high as the highest of its planes
	footprint Polygon
}

// NewEnvelope divides a footprint by the lowest of the planes; where terms are given (see Valleys), by the lowest of
// these. The footprint is counter-clockwise and passes Check; there is at least one plane. Of planes that agree the first
// keeps the cells.
func NewEnvelope(footprint Polygon, planes []Plane, terms ...[]int) *Envelope {
	if len(terms) == 0 {
		for k := range planes {
			terms = append(terms, []int{k})
		}
	}
	outline := make([]Vertex, len(footprint))
	for i, p := range footprint {
		outline[i] = Vertex{X: float64(p.X), Y: float64(p.Y)}
	}
	e := &Envelope{mesh: *newMesh(outline, terms[0][0]), planes: planes, terms: terms, footprint: footprint}
	e.first(terms[0])
	for _, t := range terms[1:] {
		e.lower(t)
	}
	return e
}

// first lays the first term over the footprint.
func (e *Envelope) first(term []int) {
	e.separate(term)
	for i, c := range e.cells {
		e.cells[i].Tag = e.highest(term, c)
	}
	for i, v := range e.verts {
		e.verts[i].Z = e.height(term, v.X, v.Y)
	}
	if len(term) > 1 {
		e.merge()
	}
}

// lower takes a term into the envelope.
func (e *Envelope) lower(term []int) {
	e.separate(term)
	for _, k := range term {
		e.lowerPlane(term, k)
	}
	for i, v := range e.verts {
		e.verts[i].Z = min(v.Z, e.height(term, v.X, v.Y))
	}
	e.merge()
}

// lowerPlane gives plane k what lies above it, where it is the highest of its term.
func (e *Envelope) lowerPlane(term []int, k int) {
	p := e.planes[k]
	d := divider{picks: func(c Cell) bool { return len(term) == 1 || e.highest(term, c) == k }, value: make([]float64, len(e.verts))}
	for i, v := range e.verts {
		d.value[i] = p.At(v.X, v.Y) - v.Z
	}
	d.direction = func(c Cell) (dx, dy float64) {
		o := e.planes[c.Tag]
		return -(p.GY - o.GY), p.GX - o.GX
	}
	for i, s := range e.divide(d) {
		if s < 0 {
			e.cells[i].Tag = k
		}
	}
}

// merge joins cells of one tag that touch along an edge.
func (e *Envelope) merge() {
	byTag := map[int][][2]int{}
	var order []int
	for _, c := range e.cells {
		if _, seen := byTag[c.Tag]; !seen {
			order = append(order, c.Tag)
		}
		for i, u := range c.Loop {
			byTag[c.Tag] = append(byTag[c.Tag], [2]int{u, c.Loop[(i+1)%len(c.Loop)]})
		}
	}
	e.cells = e.cells[:0]
	for _, tag := range order {
		for _, loop := range trace(byTag[tag], func(v int) (x, y float64) { return e.verts[v].X, e.verts[v].Y }) {
			e.cells = append(e.cells, Cell{Tag: tag, Loop: loop})
		}
	}
}

// Cells gives the cells in the order of their planes' first appearance.
func (e *Envelope) Cells() []Cell { return e.cells }

// Vertex gives a vertex by number.
func (e *Envelope) Vertex(v int) Vertex { return e.verts[v] }

// Side is the footprint side, from 0, that the edge from u to v lies on; ok is false inside the footprint.
func (e *Envelope) Side(u, v int) (side int, ok bool) {
	side, ok = e.side[[2]int{u, v}]
	return side, ok
}

// Area is a cell's area in plan.
func (m *mesh) Area(c Cell) q.Area {
	o := m.verts[c.Loop[0]] // reckoned from a corner, so that far coordinates lose no digits
	var twice float64
	for i, u := range c.Loop {
		a, b := minus(m.verts[u], o), minus(m.verts[c.Loop[(i+1)%len(c.Loop)]], o)
		twice += a.X*b.Y - b.X*a.Y
	}
	return q.Area(twice / 2e6)
}

// Volume is the volume between a cell and height 0 under the plane p: plan area times the height at the centroid.
func (e *Envelope) Volume(c Cell, p Plane) q.Volume {
	o := e.verts[c.Loop[0]]
	var sum float64
	for i, u := range c.Loop {
		a, b := e.verts[u], e.verts[c.Loop[(i+1)%len(c.Loop)]]
		twice := (a.X-o.X)*(b.Y-o.Y) - (b.X-o.X)*(a.Y-o.Y)
		sum += twice / 2 * p.At((o.X+a.X+b.X)/3, (o.Y+a.Y+b.Y)/3)
	}
	return q.Volume(sum / 1e9)
}
