package ifc

import (
	"math"

	"lapwork/generator/survey"
)

// boolean reads an IfcBooleanResult or IfcBooleanClippingResult: Operator, FirstOperand, SecondOperand.
func (g *geometry) boolean(r record, depth int) []survey.Poly {
	a := outward(g.operand(r.arg(1), nil, depth+1))
	b := outward(g.operand(r.arg(2), a, depth+1))
	if len(a) == 0 {
		if x, ok := g.get(r.arg(1)); !ok && g.once(r) {
			g.openf(r, "check the part", "the operand #%d is not in the file", r.arg(1).id)
		} else if ok && halfSpace(x.kind) && g.once(x) {
			g.openf(x, "check the part", "a half space is the first operand; the result has no end and was left out")
		}
		return nil
	}
	operator := r.arg(0).word
	if operator != "UNION" && operator != "INTERSECTION" && operator != "DIFFERENCE" {
		g.openf(r, "check the part", "the operator %q is not known; only the first operand was read", operator)
		return a
	}
	out, ok := combine(operator, a, b)
	if !ok && g.once(r) {
		g.openf(r, "check the part against the drawings", "the operation needs more than %d pieces and was not finished", maxCells)
	}
	return out
}

func halfSpace(kind string) bool {
	return kind == "IFCHALFSPACESOLID" || kind == "IFCPOLYGONALBOUNDEDHALFSPACE" || kind == "IFCBOXEDHALFSPACE"
}

// operand reads a body, or a half space cut down to what can touch the first operand.
func (g *geometry) operand(v value, first []survey.Poly, depth int) []survey.Poly {
	r, ok := g.get(v)
	if !ok || !halfSpace(r.kind) {
		return g.solid(v, depth)
	}
	if len(first) == 0 {
		return nil
	}
	surface, ok := g.get(r.arg(0))
	if !ok || surface.kind != "IFCPLANE" {
		g.unread(surface)
		return nil
	}
	m := g.axes(surface.arg(0))
	if r.arg(1).word == "T" { // the material lies on the side the normal points away from
		m.y, m.z = m.y.Times(-1), m.z.Times(-1)
	}
	reach := span(first, m.o) + 1
	// The half space as a box: its face in the plane, and far enough behind it.
	half := m.polys(prism(region(rectangle(2*reach, 2*reach)), vec{Z: reach}))
	if r.kind != "IFCPOLYGONALBOUNDEDHALFSPACE" {
		return half
	}
	p := g.axes(r.arg(2))
	reach += span(first, p.o)
	bounds := region(g.curve(r.arg(3), depth))
	column := matrix{p.x, p.y, p.z, p.at(vec{Z: -reach})}.polys(prism(bounds, vec{Z: 2 * reach}))
	out, _ := combine("INTERSECTION", outward(column), outward(half))
	return out
}

// span is how far the corners of a body lie from a point at most.
func span(body []survey.Poly, o vec) float64 {
	var far float64
	for _, f := range body {
		for _, v := range f.Loop {
			far = max(far, v.Minus(o).Length())
		}
	}
	return far
}

// volume is what outward faces enclose, m³, reckoned from a corner.
func volume(body []survey.Poly) float64 {
	var sum float64
	for _, f := range body {
		sum += f.Loop[0].Minus(body[0].Loop[0]).Dot(f.AreaVector()) / 3
	}
	return sum
}

// open is how far a body is from closing: the length of the sum of its area vectors, against their summed lengths.
func open(body []survey.Poly) float64 {
	var sum vec
	var all float64
	for _, f := range body {
		v := f.AreaVector()
		sum = sum.Plus(v)
		all += v.Length()
	}
	if all == 0 {
		return 0
	}
	return sum.Length() / all
}

// outward turns a body's faces round where they enclose a negative volume.
func outward(body []survey.Poly) []survey.Poly {
	if len(body) == 0 || !(volume(body) < 0) {
		return body
	}
	out := make([]survey.Poly, len(body))
	for i, f := range body {
		out[i] = facing(f)
	}
	return out
}

// planArea is the area of the faces that look down, in plan, m².
func planArea(body []survey.Poly) float64 {
	var a float64
	for _, f := range body {
		a -= math.Min(0, f.AreaVector().Z)
	}
	return a
}
