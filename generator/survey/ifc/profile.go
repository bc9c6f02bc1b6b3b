package ifc

import (
	"math"

	"lapwork/generator/survey"
)

// profile gives the closed areas of a profile in its plane (z = 0), outlines counter-clockwise, holes clockwise.
func (g *geometry) profile(v value, depth int) []survey.Poly {
	r, ok := g.get(v)
	if !ok || depth > maxChain {
		return nil
	}
	switch r.kind {
	case "IFCARBITRARYCLOSEDPROFILEDEF":
		return region(g.curve(r.arg(2), depth))
	case "IFCARBITRARYPROFILEDEFWITHVOIDS":
		var holes [][]vec
		for _, h := range r.arg(3).items {
			holes = append(holes, g.curve(h, depth))
		}
		return region(g.curve(r.arg(2), depth), holes...)
	case "IFCDERIVEDPROFILEDEF", "IFCMIRROREDPROFILEDEF":
		m := g.operator(r.arg(3))
		if r.kind == "IFCMIRROREDPROFILEDEF" {
			m = matrix{x: vec{X: -1}, y: vec{Y: 1}, z: vec{Z: 1}}
		}
		var out []survey.Poly
		for _, p := range m.polys(g.profile(r.arg(2), depth+1)) {
			out = append(out, region(p.Loop, p.Holes...)...)
		}
		return out
	case "IFCCOMPOSITEPROFILEDEF":
		var out []survey.Poly
		for _, p := range r.arg(2).items {
			out = append(out, g.profile(p, depth+1)...)
		}
		return out
	}
	outer, holes := g.shaped(r)
	if outer == nil {
		g.unread(r)
		return nil
	}
	m := g.axes(r.arg(2))
	for i := range holes {
		holes[i] = m.loop(holes[i])
	}
	return region(m.loop(outer), holes...)
}

// shaped reads profiles given by their dimensions, centred on their position. Fillets of steel sections are left out:
// they change no outline that a membrane meets.
func (g *geometry) shaped(r record) (outer []vec, holes [][]vec) {
	d := func(i int) float64 { return r.arg(i).num * g.units.length }
	switch r.kind {
	case "IFCRECTANGLEPROFILEDEF":
		return rectangle(d(3), d(4)), nil
	case "IFCROUNDEDRECTANGLEPROFILEDEF":
		return rounded(d(3), d(4), d(5)), nil
	case "IFCRECTANGLEHOLLOWPROFILEDEF":
		return rectangle(d(3), d(4)), [][]vec{rectangle(d(3)-2*d(5), d(4)-2*d(5))}
	case "IFCCIRCLEPROFILEDEF":
		return ellipse(d(3), d(3)), nil
	case "IFCCIRCLEHOLLOWPROFILEDEF":
		return ellipse(d(3), d(3)), [][]vec{ellipse(d(3)-d(4), d(3)-d(4))}
	case "IFCELLIPSEPROFILEDEF":
		return ellipse(d(3), d(4)), nil
	case "IFCTRAPEZIUMPROFILEDEF": // bottom width, top width, height, offset of the top's left corner
		x, y := d(3)/2, d(5)/2
		return flat(-x, -y, x, -y, -x+d(6)+d(4), y, -x+d(6), y), nil
	case "IFCLSHAPEPROFILEDEF": // depth along y, width along x, thickness
		w, h, t := d(4), d(3), d(5)
		if w == 0 {
			w = h
		}
		return shifted(flat(0, 0, w, 0, w, t, t, t, t, h, 0, h), w/2, h/2), nil
	case "IFCTSHAPEPROFILEDEF": // depth, flange width, web, flange
		h, b, tw, tf := d(3)/2, d(4)/2, d(5)/2, d(6)
		return flat(-tw, -h, tw, -h, tw, h-tf, b, h-tf, b, h, -b, h, -b, h-tf, -tw, h-tf), nil
	case "IFCUSHAPEPROFILEDEF": // depth, flange width, web, flange; open towards +x
		h, b, tw, tf := d(3), d(4), d(5), d(6)
		return shifted(flat(0, 0, b, 0, b, tf, tw, tf, tw, h-tf, b, h-tf, b, h, 0, h), b/2, h/2), nil
	case "IFCISHAPEPROFILEDEF": // overall width, overall depth, web, flange
		b, h, tw, tf := d(3)/2, d(4)/2, d(5)/2, d(6)
		return flat(-b, -h, b, -h, b, -h+tf, tw, -h+tf, tw, h-tf, b, h-tf, b, h, -b, h, -b, h-tf, -tw, h-tf, -tw, -h+tf, -b, -h+tf), nil
	}
	return nil, nil
}

func rectangle(w, h float64) []vec { return flat(-w/2, -h/2, w/2, -h/2, w/2, h/2, -w/2, h/2) }

func ellipse(rx, ry float64) []vec {
	pts := conic{m: identity, rx: rx, ry: ry}.arc(0, 2*math.Pi)
	return pts[:len(pts)-1]
}

// rounded is a rectangle with quarter circles for corners.
func rounded(w, h, radius float64) []vec {
	if radius <= 0 || radius > min(w, h)/2 {
		return rectangle(w, h)
	}
	var out []vec
	for i, sign := range [][2]float64{{1, 1}, {-1, 1}, {-1, -1}, {1, -1}} {
		m := identity
		m.o = vec{X: sign[0] * (w/2 - radius), Y: sign[1] * (h/2 - radius)}
		out = append(out, conic{m: m, rx: radius, ry: radius}.arc(float64(i)*math.Pi/2, float64(i+1)*math.Pi/2)...)
	}
	return out
}

// flat makes points from x, y pairs.
func flat(xy ...float64) []vec {
	out := make([]vec, 0, len(xy)/2)
	for i := 0; i+1 < len(xy); i += 2 {
		out = append(out, vec{X: xy[i], Y: xy[i+1]})
	}
	return out
}

func shifted(in []vec, x, y float64) []vec {
	for i := range in {
		in[i] = in[i].Minus(vec{X: x, Y: y})
	}
	return in
}

// region makes one area of an outline and its holes, turned the right way; none where the outline encloses nothing.
func region(outer []vec, holes ...[]vec) []survey.Poly {
	p := survey.Poly{Loop: turned(tidy(outer), 1)}
	if p.Loop == nil {
		return nil
	}
	for _, h := range holes {
		if h = turned(tidy(h), -1); h != nil {
			p.Holes = append(p.Holes, h)
		}
	}
	return []survey.Poly{p}
}

// turned makes a plane loop counter-clockwise (1) or clockwise (-1); nil where it encloses nothing.
func turned(loop []vec, way float64) []vec {
	a := survey.Poly{Loop: loop}.AreaVector().Z * way
	switch {
	case math.Abs(a) < 1e-9 || math.IsNaN(a):
		return nil
	case a < 0:
		return backwards(loop)
	}
	return loop
}

// same is how close points count as one, in metres.
const same = 1e-5

// tidy drops points that repeat the one before, and a last point that repeats the first.
func tidy(loop []vec) []vec {
	out := make([]vec, 0, len(loop))
	for _, v := range loop {
		if len(out) == 0 || out[len(out)-1].Minus(v).Length() > same {
			out = append(out, v)
		}
	}
	for len(out) > 1 && out[0].Minus(out[len(out)-1]).Length() <= same {
		out = out[:len(out)-1]
	}
	return out
}
