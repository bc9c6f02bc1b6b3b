package ifc

import (
	"math"

	"lapwork/generator/survey"
)

// maxFaces bounds the faces of one product: mapped items can nest so that a short file asks for millions.
const maxFaces = 50_000

// unread reports a record whose type is not read, once.
func (g *geometry) unread(r record) {
	if g.once(r) {
		g.openf(r, "check the parts that use it against the drawings", "this form is not read")
	}
}

// solid gives the faces of a body in its own system, loops outward where the file keeps its own rules.
func (g *geometry) solid(v value, depth int) []survey.Poly {
	r, ok := g.get(v)
	if !ok || depth > maxChain || g.work > maxFaces {
		return nil
	}
	if g.path[r.id] {
		if g.once(r) {
			g.openf(r, "check the part", "the form refers to itself and was left out")
		}
		return nil
	}
	g.path[r.id] = true
	out := g.form(r, depth)
	delete(g.path, r.id)
	g.work += len(out) + 1
	if g.work > maxFaces && g.once(r) {
		g.openf(r, "simplify the part where it was drawn", "the part has more than %d faces; the rest of it was left out", maxFaces)
	}
	return out
}

func (g *geometry) form(r record, depth int) []survey.Poly {
	switch r.kind {
	case "IFCEXTRUDEDAREASOLID":
		return g.extrusion(r, depth)
	case "IFCSWEPTDISKSOLID", "IFCSWEPTDISKSOLIDPOLYGONAL":
		return g.tube(r, depth)
	case "IFCBLOCK":
		d := func(i int) float64 { return r.arg(i).num * g.units.length }
		base := flat(0, 0, d(1), 0, d(1), d(2), 0, d(2))
		return g.axes(r.arg(0)).polys(prism(region(base), vec{Z: d(3)}))
	case "IFCRIGHTCIRCULARCYLINDER":
		radius := r.arg(2).num * g.units.length
		return g.axes(r.arg(0)).polys(prism(region(ellipse(radius, radius)), vec{Z: r.arg(1).num * g.units.length}))
	case "IFCFACETEDBREP", "IFCADVANCEDBREP", "IFCFACETEDBREPWITHVOIDS", "IFCADVANCEDBREPWITHVOIDS":
		out := g.shell(r.arg(0))
		for _, void := range r.arg(1).items {
			out = append(out, g.shell(void)...)
		}
		return out
	case "IFCFACEBASEDSURFACEMODEL", "IFCSHELLBASEDSURFACEMODEL":
		var out []survey.Poly
		for _, s := range r.arg(0).items {
			out = append(out, g.shell(s)...)
		}
		return out
	case "IFCCLOSEDSHELL", "IFCOPENSHELL", "IFCCONNECTEDFACESET":
		return g.shell(value{kind: ref, id: r.id})
	case "IFCPOLYGONALFACESET":
		return g.faceSet(r)
	case "IFCTRIANGULATEDFACESET", "IFCTRIANGULATEDIRREGULARNETWORK":
		return g.triangles(r)
	case "IFCBOOLEANRESULT", "IFCBOOLEANCLIPPINGRESULT":
		return g.boolean(r, depth)
	case "IFCCSGSOLID":
		return g.solid(r.arg(0), depth+1)
	case "IFCMAPPEDITEM":
		return g.mapped(r, depth)
	}
	g.unread(r)
	return nil
}

// extrusion reads an IfcExtrudedAreaSolid; the direction is given in the system of its position.
func (g *geometry) extrusion(r record, depth int) []survey.Poly {
	d, ok := g.direction(r.arg(2))
	if !ok {
		d = vec{Z: 1}
	}
	return g.axes(r.arg(1)).polys(prism(g.profile(r.arg(0), depth+1), d.Times(r.arg(3).num*g.units.length)))
}

// prism is the body between areas in the plane z = 0 and their copy at d, outward.
func prism(areas []survey.Poly, d vec) []survey.Poly {
	if math.Abs(d.Z) < same {
		return nil
	}
	var out []survey.Poly
	for _, a := range areas {
		if d.Z < 0 {
			a = facing(a)
		}
		top := survey.Poly{Loop: moved(a.Loop, d)}
		for _, h := range a.Holes {
			top.Holes = append(top.Holes, moved(h, d))
		}
		out = append(out, facing(a), top)
		for _, loop := range append([][]vec{a.Loop}, a.Holes...) {
			for i, p := range loop {
				q := loop[(i+1)%len(loop)]
				out = append(out, survey.Poly{Loop: []vec{p, q, q.Plus(d), p.Plus(d)}})
			}
		}
	}
	return out
}

// facing is a face turned to the other side.
func facing(p survey.Poly) survey.Poly {
	out := survey.Poly{Loop: backwards(p.Loop)}
	for _, h := range p.Holes {
		out.Holes = append(out.Holes, backwards(h))
	}
	return out
}

func moved(loop []vec, d vec) []vec {
	out := make([]vec, len(loop))
	for i, v := range loop {
		out[i] = v.Plus(d)
	}
	return out
}

// tube reads a disk swept along a curve: a pipe or a cable. Each straight piece becomes a body of its own; what crosses a
// face needs no mitres.
func (g *geometry) tube(r record, depth int) []survey.Poly {
	path := tidy(g.curve(r.arg(0), depth+1))
	radius := r.arg(1).num * g.units.length
	var out []survey.Poly
	for i := 0; i+1 < len(path) && i < 1000; i++ {
		m := matrix{z: path[i+1].Minus(path[i]).Unit(), o: path[i]}
		m.orthogonal(vec{X: 1})
		out = append(out, m.polys(prism(region(ellipse(radius, radius)), vec{Z: path[i+1].Minus(path[i]).Length()}))...)
	}
	return out
}

// mapped reads an IfcMappedItem: the items of a shape used elsewhere, moved by an operator.
func (g *geometry) mapped(r record, depth int) []survey.Poly {
	source, ok := g.get(r.arg(0))
	shape, ok2 := g.get(source.arg(1))
	if !ok || !ok2 {
		return nil
	}
	m := g.operator(r.arg(1)).times(g.axes(source.arg(0)))
	var out []survey.Poly
	for _, item := range shape.arg(3).items {
		out = append(out, g.solid(item, depth+1)...)
	}
	return m.polys(out)
}
