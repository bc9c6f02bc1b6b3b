package ifc

import "math"

// sagitta is how far a chord may lie off its arc, in metres; maxChords bounds the pieces of a full circle.
const (
	sagitta   = 0.0002
	maxChords = 144
)

// curve gives a curve as points in its own system. What cannot be read is reported and gives none.
func (g *geometry) curve(v value, depth int) []vec {
	r, ok := g.get(v)
	if !ok || depth > maxChain {
		return nil
	}
	switch r.kind {
	case "IFCPOLYLINE":
		return g.points(r.arg(0))
	case "IFCCOMPOSITECURVE", "IFC2DCOMPOSITECURVE", "IFCBOUNDARYCURVE", "IFCOUTERBOUNDARYCURVE":
		return g.composite(r, depth)
	case "IFCTRIMMEDCURVE":
		return g.trimmed(r)
	case "IFCCIRCLE", "IFCELLIPSE":
		e := g.conic(r)
		pts := e.arc(0, 2*math.Pi)
		return pts[:len(pts)-1]
	case "IFCINDEXEDPOLYCURVE":
		return g.indexed(r)
	}
	g.unread(r)
	return nil
}

func (g *geometry) points(v value) []vec {
	out := make([]vec, len(v.items))
	for i, p := range v.items {
		out[i] = g.point(p)
	}
	return out
}

// composite joins segments; SameSense F runs a segment backwards. Ends that lie within a millimetre are one point.
func (g *geometry) composite(r record, depth int) []vec {
	var out []vec
	for _, v := range r.arg(0).items {
		seg, ok := g.get(v)
		if !ok {
			continue
		}
		pts := g.curve(seg.arg(2), depth+1)
		if len(pts) == 0 {
			return nil
		}
		if seg.arg(1).word == "F" {
			pts = backwards(pts)
		}
		if len(out) > 0 && out[len(out)-1].Minus(pts[0]).Length() < 0.001 {
			pts = pts[1:]
		}
		out = append(out, pts...)
	}
	if n := len(out); n > 2 && out[0].Minus(out[n-1]).Length() < 0.001 {
		out = out[:n-1]
	}
	return out
}

func backwards(in []vec) []vec {
	out := make([]vec, len(in))
	for i, v := range in {
		out[len(in)-1-i] = v
	}
	return out
}

// conic is a circle or an ellipse in its system.
type conic struct {
	m      matrix
	rx, ry float64
}

func (g *geometry) conic(r record) conic {
	e := conic{m: g.axes(r.arg(0)), rx: r.arg(1).num * g.units.length}
	e.ry = e.rx
	if r.kind == "IFCELLIPSE" {
		e.ry = r.arg(2).num * g.units.length
	}
	return e
}

// arc gives points from one angle to another, both included.
func (e conic) arc(from, to float64) []vec {
	n := chords(max(math.Abs(e.rx), math.Abs(e.ry)), to-from)
	out := make([]vec, n+1)
	for i := range out {
		sin, cos := math.Sincos(from + (to-from)*float64(i)/float64(n))
		out[i] = e.m.at(vec{X: e.rx * cos, Y: e.ry * sin})
	}
	return out
}

// chords says into how many pieces an arc is cut.
func chords(radius, angle float64) int {
	full := 12.0
	if radius > sagitta {
		full = max(full, math.Pi/math.Acos(1-min(1, sagitta/radius)))
	}
	n := math.Ceil(min(full, maxChords) * math.Abs(angle) / (2 * math.Pi))
	if !(n >= 1) {
		return 1
	}
	return int(min(n, maxChords))
}

// angle is a point's parameter on the conic.
func (e conic) angle(p vec) float64 {
	d := p.Minus(e.m.o)
	return math.Atan2(d.Dot(e.m.y)/nonzero(e.ry), d.Dot(e.m.x)/nonzero(e.rx))
}

func nonzero(v float64) float64 {
	if v == 0 {
		return 1
	}
	return v
}

// trimmed reads an IfcTrimmedCurve over a circle, an ellipse or a line, trimmed by points or parameters.
func (g *geometry) trimmed(r record) []vec {
	basis, ok := g.get(r.arg(0))
	if !ok {
		g.unread(r)
		return nil
	}
	switch basis.kind {
	case "IFCCIRCLE", "IFCELLIPSE":
		e := g.conic(basis)
		trim := func(v value) float64 {
			p, t := g.trim(v)
			if p != nil && (t == nil || r.arg(4).word == "CARTESIAN") {
				return e.angle(*p)
			}
			if t == nil {
				return 0
			}
			return *t * g.units.angle
		}
		from, to := trim(r.arg(1)), trim(r.arg(2))
		if r.arg(3).word == "F" { // backwards round the circle
			return backwards(e.arc(to, upTo(to, from)))
		}
		return e.arc(from, upTo(from, to))
	case "IFCLINE":
		o := g.point(basis.arg(0))
		along, okV := g.get(basis.arg(1))
		d, _ := g.direction(along.arg(0))
		if okV {
			d = d.Times(along.arg(1).num * g.units.length)
		}
		trim := func(v value) vec {
			p, t := g.trim(v)
			switch {
			case p != nil:
				return *p
			case t != nil:
				return o.Plus(d.Times(*t))
			}
			return o
		}
		return []vec{trim(r.arg(1)), trim(r.arg(2))}
	}
	g.unread(basis)
	return nil
}

// upTo is the angle equal to to that lies up to one turn after from.
func upTo(from, to float64) float64 {
	turn := math.Mod(to-from, 2*math.Pi)
	if turn <= 1e-9 {
		turn += 2 * math.Pi
	}
	return from + turn
}

// trim reads a trimming select: a point, a parameter, or both.
func (g *geometry) trim(v value) (p *vec, t *float64) {
	for _, x := range v.items {
		switch x.kind {
		case ref:
			at := g.point(x)
			p = &at
		case typed, number:
			n := x.plain().num
			t = &n
		}
	}
	return p, t
}

// indexed reads an IfcIndexedPolyCurve: segments of lines and three-point arcs by index into a point list.
func (g *geometry) indexed(r record) []vec {
	all, ok := g.get(r.arg(0))
	if !ok {
		g.unread(r)
		return nil
	}
	at := func(v value) vec { return g.coordinates(all.arg(0).at(int(v.num) - 1)) }
	if r.arg(1).kind != list {
		out := make([]vec, len(all.arg(0).items))
		for i, c := range all.arg(0).items {
			out[i] = g.coordinates(c)
		}
		return out
	}
	var out []vec
	for _, seg := range r.arg(1).items {
		ix := seg.plain()
		pts := make([]vec, len(ix.items))
		for i, v := range ix.items {
			pts[i] = at(v)
		}
		if seg.word == "IFCARCINDEX" && len(pts) == 3 {
			pts = through(pts[0], pts[1], pts[2])
		}
		if len(out) > 0 && len(pts) > 0 {
			pts = pts[1:]
		}
		out = append(out, pts...)
	}
	return out
}

// through gives the arc through three points; the chord where they lie on a line.
func through(a, b, c vec) []vec {
	n := b.Minus(a).Cross(c.Minus(a))
	area2 := n.Dot(n)
	if area2 < 1e-18 {
		return []vec{a, b, c}
	}
	ab, ac := b.Minus(a), c.Minus(a)
	o := a.Plus(n.Cross(ab).Times(ac.Dot(ac)).Plus(ac.Cross(n).Times(ab.Dot(ab))).Times(1 / (2 * area2)))
	e := conic{m: matrix{z: n.Unit(), o: o}}
	e.rx = a.Minus(o).Length()
	e.ry = e.rx
	e.m.x = a.Minus(o).Unit()
	e.m.y = e.m.z.Cross(e.m.x)
	return e.arc(0, upTo(0, e.angle(c)))
}
