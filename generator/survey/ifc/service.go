package ifc

import (
	"maps"
	"math"
	"slices"
	"strings"

	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
	"lapwork/generator/survey"
)

// pastFace is how far a service's body has to reach to both sides of a face to pass it, in metres.
const pastFace = 0.005

// placeServices makes a penetration wherever a pipe, duct, cable or outlet passes a face with no room behind it. A part
// and a fitting that meet at the face give one.
func (b *builder) placeServices() {
	var unplaced int
	faces := b.faceGrid()
	b.store.all(func(r record) {
		body := b.shape(r, b.placement(r.arg(5)))
		if len(body) == 0 {
			unplaced++
			b.notef(r, "%q has no body that can be read; where it passes the envelope is not known", r.arg(2).word)
			return
		}
		low, top := box(body)
		for _, i := range faces.near(low, top, 0) {
			f := b.b.Faces[i]
			if len(f.Spaces) == 1 && f.Behind != survey.Inside && f.Behind != survey.Nothing {
				b.cross(r, body, f)
			}
		}
	}, slices.Sorted(maps.Keys(services))...)
	if unplaced > 0 {
		b.found.Openf(diag.Pos{File: b.file}, "", "look for them on the drawings", "%d parts of services have no body that can be read", unplaced)
	}
}

// cross adds a penetration where a body passes a face.
func (b *builder) cross(r record, body []survey.Poly, f *survey.Face) {
	n := f.Poly.AreaVector().Unit()
	m := matrix{z: n, o: f.Poly.Loop[0]}
	m.orthogonal(vec{X: 1})
	if math.Abs(n.X) > 0.9 {
		m.orthogonal(vec{Y: 1})
	}
	on := plane{n, n.Dot(m.o)}
	section := cut(body, on)
	if len(section) < 3 {
		return
	}
	pts := flatten([]survey.Poly{{Loop: section}}, m)
	low, top := box([]survey.Poly{{Loop: pts}})
	at := m.at(low.Plus(top).Times(0.5))
	if !covers(f.Poly.Loop, at, n) {
		return
	}
	for _, p := range f.Penetrations {
		if p.At.Minus(at).Length() < 0.03 {
			return
		}
	}
	p := &survey.Penetration{ID: r.arg(0).word, Name: r.arg(2).word, Item: b.item(r), At: at, Pos: b.pos(r.at)}
	w, h := top.X-low.X, top.Y-low.Y
	if round(pts, low, top) {
		p.Diameter = q.MMOf(q.Length((w + h) / 2))
	} else {
		p.Width, p.Height = q.MMOf(q.Length(w)), q.MMOf(q.Length(h))
	}
	f.Penetrations = append(f.Penetrations, p)
}

// cut gives the points where a body's edges pass a plane; none where the body does not reach past it on both sides.
func cut(body []survey.Poly, on plane) []vec {
	var out []vec
	var below, above float64
	for _, p := range body {
		for i, v := range p.Loop {
			w := p.Loop[(i+1)%len(p.Loop)]
			a, c := on.off(v), on.off(w)
			below, above = min(below, a), max(above, a)
			if a > 0 && c <= 0 || a <= 0 && c > 0 {
				out = append(out, v.Plus(w.Minus(v).Times(a/(a-c))))
			}
		}
	}
	if below > -pastFace || above < pastFace {
		return nil
	}
	return out
}

// round says whether a section is a circle: as wide as high, and nothing near the corners of its box.
func round(pts []vec, low, top vec) bool {
	w, h := top.X-low.X, top.Y-low.Y
	if math.Abs(w-h) > 0.05*max(w, h) {
		return false
	}
	mid, far := low.Plus(top).Times(0.5), 0.0
	for _, p := range pts {
		far = max(far, p.Minus(mid).Length())
	}
	return far < 0.55*max(w, h)
}

// item is the job format's word for a service: by its kind, by the kind of its type (IFC2X3), by words in its name.
func (b *builder) item(r record) string {
	if w := services[r.kind]; w != "" {
		return w
	}
	kind := strings.TrimSuffix(b.kindOfRef(b.rel.kind[r.id]), "TYPE")
	if w := services[kind]; w != "" {
		return w
	}
	name := strings.ToLower(r.arg(2).word + " " + r.arg(4).word)
	for _, w := range []struct{ in, item string }{{"duct", "duct"}, {"cable", "cable"}, {"conduit", "conduit"}, {"outlet", "back-box"}, {"socket", "back-box"},
		{"soil", "soil-pipe"}, {"vent", "vent-pipe"}, {"flue", "flue"}, {"lamp", "luminaire"}, {"light", "luminaire"}} {
		if strings.Contains(name, w.in) {
			return w.item
		}
	}
	return "pipe"
}
