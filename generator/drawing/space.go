package drawing

import "math"

func (p XYZ) tamed() XYZ          { return XYZ{tameValue(p.X), tameValue(p.Y), tameValue(p.Z)} }
func (p XYZ) minus(o XYZ) XYZ     { return XYZ{p.X - o.X, p.Y - o.Y, p.Z - o.Z} }
func (p XYZ) plus(o XYZ) XYZ      { return XYZ{p.X + o.X, p.Y + o.Y, p.Z + o.Z} }
func (p XYZ) by(k float64) XYZ    { return XYZ{p.X * k, p.Y * k, p.Z * k} }
func (p XYZ) dot(o XYZ) float64   { return p.X*o.X + p.Y*o.Y + p.Z*o.Z }
func (p XYZ) length() float64     { return math.Sqrt(p.dot(p)) }
func mix(a, b XYZ, t float64) XYZ { return a.plus(b.minus(a).by(t)) }

// plane is a face made ready for questions about space: its outline, its unit normal, and the outline dropped along
// the normal's largest part.
type plane struct {
	outline []XYZ
	normal  XYZ
	flat    []Pt
	axis    int // dropped: 0 X, 1 Y, 2 Z
	area    float64
	heart   XYZ // a point well inside the face
}

// newPlane makes a plane of an outline (Newell's normal); ok is false when it has no area.
func newPlane(outline []XYZ) (plane, bool) {
	p := plane{}
	for _, o := range outline {
		p.outline = append(p.outline, o.tamed())
	}
	var n XYZ
	for i, a := range p.outline {
		b := p.outline[(i+1)%len(p.outline)]
		n = n.plus(XYZ{(a.Y - b.Y) * (a.Z + b.Z), (a.Z - b.Z) * (a.X + b.X), (a.X - b.X) * (a.Y + b.Y)})
	}
	l := n.length()
	if len(outline) < 3 || l < 1 || math.IsInf(l, 0) {
		return p, false
	}
	p.normal, p.area = n.by(1/l), l/2
	switch x, y, z := math.Abs(n.X), math.Abs(n.Y), math.Abs(n.Z); {
	case x >= y && x >= z:
		p.axis = 0
	case y >= z:
		p.axis = 1
	default:
		p.axis = 2
	}
	for _, o := range p.outline {
		p.flat = append(p.flat, p.drop(o))
	}
	p.heart = p.lift(heart(p.flat))
	return p, true
}

func (p plane) drop(o XYZ) Pt {
	switch p.axis {
	case 0:
		return Pt{o.Y, o.Z}
	case 1:
		return Pt{o.X, o.Z}
	}
	return Pt{o.X, o.Y}
}

// lift is the point of the plane that drops to f.
func (p plane) lift(f Pt) XYZ {
	o, n := p.outline[0], p.normal
	switch p.axis {
	case 0:
		return XYZ{o.X - (n.Y*(f.X-o.Y)+n.Z*(f.Y-o.Z))/n.X, f.X, f.Y}
	case 1:
		return XYZ{f.X, o.Y - (n.X*(f.X-o.X)+n.Z*(f.Y-o.Z))/n.Y, f.Y}
	}
	return XYZ{f.X, f.Y, o.Z - (n.X*(f.X-o.X)+n.Y*(f.Y-o.Y))/n.Z}
}

// hit tells whether the ray from o along d meets the face, farther off than least.
func (p plane) hit(o, d XYZ, least float64) bool {
	slope := p.normal.dot(d)
	if math.Abs(slope) < 1e-9 {
		return false
	}
	t := p.outline[0].minus(o).dot(p.normal) / slope
	return t > least && inside(p.drop(o.plus(d.by(t))), p.flat)
}

// borders tells whether the segment a-b runs along the face's rim.
func (p plane) borders(a, b XYZ) bool {
	m := mix(a, b, 0.5)
	if math.Abs(m.minus(p.outline[0]).dot(p.normal)) > 3 {
		return false
	}
	f := p.drop(m)
	for i, c := range p.flat {
		if toSegment(f, c, p.flat[(i+1)%len(p.flat)]) < 3 {
			return true
		}
	}
	return false
}

// eye is a direction of view: a parallel projection from above.
type eye struct {
	right, down, to XYZ // right and down on the figure, and towards the eye, per mm
}

const eyeHeight = 30 * math.Pi / 180

func newEye(azimuth float64) eye {
	c, s := math.Cos(azimuth), math.Sin(azimuth)
	up, out := math.Sin(eyeHeight), math.Cos(eyeHeight)
	return eye{right: XYZ{-s, c, 0}, down: XYZ{c * up, s * up, -out}, to: XYZ{c * out, s * out, up}}
}

func (e eye) see(p XYZ) XY {
	p = p.tamed()
	return XY{p.dot(e.right), -p.dot(e.down)}
}
