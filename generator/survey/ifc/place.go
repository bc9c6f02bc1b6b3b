package ifc

import "lapwork/generator/survey"

type vec = survey.Vec

// matrix takes points of a local system to the system it stands in: x, y and z are the images of the axes (with their
// scale), o is the origin, in metres.
type matrix struct{ x, y, z, o vec }

var identity = matrix{x: vec{X: 1}, y: vec{Y: 1}, z: vec{Z: 1}}

func (m matrix) dir(v vec) vec { return m.x.Times(v.X).Plus(m.y.Times(v.Y)).Plus(m.z.Times(v.Z)) }
func (m matrix) at(v vec) vec  { return m.dir(v).Plus(m.o) }

// times is m after n: first n, then m.
func (m matrix) times(n matrix) matrix {
	return matrix{m.dir(n.x), m.dir(n.y), m.dir(n.z), m.at(n.o)}
}

func (m matrix) loop(in []vec) []vec {
	out := make([]vec, len(in))
	for i, v := range in {
		out[i] = m.at(v)
	}
	return out
}

func (m matrix) polys(in []survey.Poly) []survey.Poly {
	out := make([]survey.Poly, len(in))
	for i, p := range in {
		out[i].Loop = m.loop(p.Loop)
		for _, h := range p.Holes {
			out[i].Holes = append(out[i].Holes, m.loop(h))
		}
	}
	return out
}

// maxChain bounds chains of references: placements, mapped items and boolean operands refer to each other; a file may do so in a circle.
const maxChain = 400

// geometry builds points, placements and bodies of one file, in metres.
type geometry struct {
	*store
	units  units
	placed map[uint64]matrix
	said   map[uint64]bool // records that have been reported
	path   map[uint64]bool // forms being built, to find circles
	work   int             // faces made for the product in hand
}

// once is true the first time a record is to be reported.
func (g *geometry) once(r record) bool {
	if g.said[r.id] {
		return false
	}
	g.said[r.id] = true
	return true
}

// point reads an IfcCartesianPoint, two or three coordinates.
func (g *geometry) point(v value) vec {
	r, ok := g.get(v)
	if !ok {
		return vec{}
	}
	return g.coordinates(r.arg(0))
}

func (g *geometry) coordinates(v value) vec {
	return vec{X: v.at(0).num, Y: v.at(1).num, Z: v.at(2).num}.Times(g.units.length)
}

// direction reads an IfcDirection as a unit vector; ok is false where none is given or it has no length.
func (g *geometry) direction(v value) (d vec, ok bool) {
	r, ok := g.get(v)
	if !ok {
		return vec{}, false
	}
	d = vec{X: r.arg(0).at(0).num, Y: r.arg(0).at(1).num, Z: r.arg(0).at(2).num}.Unit()
	return d, d.Length() > 0.5
}

// axes reads an IfcAxis2Placement2D or 3D, or an IfcAxis1Placement; what is not there is the identity.
func (g *geometry) axes(v value) matrix {
	r, ok := g.get(v)
	if !ok {
		return identity
	}
	m := identity
	m.o = g.point(r.arg(0))
	if r.kind == "IFCAXIS2PLACEMENT2D" {
		if x, ok := g.direction(r.arg(1)); ok {
			m.x, m.y = x, vec{X: -x.Y, Y: x.X}
		}
		return m
	}
	if z, ok := g.direction(r.arg(1)); ok {
		m.z = z
	}
	x, ok := g.direction(r.arg(2))
	if !ok {
		x = vec{X: 1}
	}
	m.orthogonal(x)
	return m
}

// orthogonal sets x to the part of a wanted direction at right angles to z, and y to match.
func (m *matrix) orthogonal(wanted vec) {
	x := wanted.Minus(m.z.Times(wanted.Dot(m.z)))
	if x.Length() < 1e-9 { // along z: any other axis
		x = vec{X: m.z.Z, Y: m.z.X, Z: m.z.Y}
		x = x.Minus(m.z.Times(x.Dot(m.z)))
	}
	m.x = x.Unit()
	m.y = m.z.Cross(m.x)
}

// placement gives the world system of an IfcLocalPlacement, its whole chain multiplied.
func (g *geometry) placement(v value) matrix { return g.chain(v, 0) }

func (g *geometry) chain(v value, depth int) matrix {
	r, ok := g.get(v)
	if !ok {
		return identity
	}
	if m, ok := g.placed[r.id]; ok {
		return m
	}
	if depth > maxChain || r.kind != "IFCLOCALPLACEMENT" {
		if g.once(r) {
			g.openf(r, "compare the place of the parts that hang on it with the drawings", "this placement cannot be read; what hangs on it is read as standing at the origin")
		}
		return identity
	}
	m := g.chain(r.arg(0), depth+1).times(g.axes(r.arg(1)))
	g.placed[r.id] = m
	return m
}

// operator reads an IfcCartesianTransformationOperator2D or 3D with its scale factors.
func (g *geometry) operator(v value) matrix {
	r, ok := g.get(v)
	if !ok {
		return identity
	}
	m := identity
	m.o = g.point(r.arg(2))
	scale := func(v value, or float64) float64 {
		if v.kind == number && v.num != 0 {
			return v.num
		}
		return or
	}
	sx := scale(r.arg(3), 1)
	sy, sz := sx, sx
	x, okX := g.direction(r.arg(0))
	y, okY := g.direction(r.arg(1))
	switch r.kind {
	case "IFCCARTESIANTRANSFORMATIONOPERATOR2D", "IFCCARTESIANTRANSFORMATIONOPERATOR2DNONUNIFORM":
		if okX {
			m.x, m.y = x, vec{X: -x.Y, Y: x.X}
		}
		if okY && y.Dot(m.y) < 0 { // a mirror
			m.y = m.y.Times(-1)
		}
		sy = scale(r.arg(4), sx)
	default:
		if z, ok := g.direction(r.arg(4)); ok {
			m.z = z
		}
		if !okX {
			x = vec{X: 1}
		}
		m.orthogonal(x)
		if okY && y.Dot(m.y) < 0 {
			m.y = m.y.Times(-1)
		}
		if r.kind == "IFCCARTESIANTRANSFORMATIONOPERATOR3DNONUNIFORM" {
			sy, sz = scale(r.arg(5), sx), scale(r.arg(6), sx)
		}
	}
	m.x, m.y, m.z = m.x.Times(sx), m.y.Times(sy), m.z.Times(sz)
	return m
}
