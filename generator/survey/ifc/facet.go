package ifc

import "lapwork/generator/survey"

// shell reads the faces of an IfcClosedShell, IfcOpenShell or IfcConnectedFaceSet.
func (g *geometry) shell(v value) []survey.Poly {
	r, ok := g.get(v)
	if !ok {
		return nil
	}
	var out []survey.Poly
	for _, f := range r.arg(0).items {
		face, ok := g.get(f)
		if !ok || g.work > maxFaces {
			continue
		}
		g.work++
		out = append(out, g.face(face)...)
	}
	return out
}

// face reads an IfcFace: an outer bound and inner ones. Orientation F runs a bound backwards.
func (g *geometry) face(r record) []survey.Poly {
	if r.kind == "IFCADVANCEDFACE" || r.kind == "IFCFACESURFACE" {
		if s, ok := g.get(r.arg(1)); ok && s.kind != "IFCPLANE" {
			g.unread(s)
			return nil
		}
	}
	var outer []vec
	var inner [][]vec
	for _, b := range r.arg(0).items {
		bound, ok := g.get(b)
		if !ok {
			continue
		}
		loop := tidy(g.bound(bound.arg(0)))
		if bound.arg(1).word == "F" {
			loop = backwards(loop)
		}
		switch {
		case len(loop) < 3:
		case bound.kind == "IFCFACEOUTERBOUND" || outer == nil && len(r.arg(0).items) == 1:
			outer = loop
		default:
			inner = append(inner, loop)
		}
	}
	if outer == nil {
		outer, inner = largest(inner)
	}
	if outer == nil {
		return nil
	}
	return []survey.Poly{{Loop: outer, Holes: inner}}
}

// largest takes the loop with the largest area for the outline, where a face names none.
func largest(loops [][]vec) (outer []vec, inner [][]vec) {
	best := -1
	var area float64
	for i, l := range loops {
		if a := (survey.Poly{Loop: l}).AreaVector().Length(); a > area {
			best, area = i, a
		}
	}
	for i, l := range loops {
		if i == best {
			outer = l
		} else {
			inner = append(inner, l)
		}
	}
	return outer, inner
}

// bound reads an IfcPolyLoop, or an IfcEdgeLoop with straight edges.
func (g *geometry) bound(v value) []vec {
	r, ok := g.get(v)
	if !ok {
		return nil
	}
	switch r.kind {
	case "IFCPOLYLOOP":
		return g.points(r.arg(0))
	case "IFCEDGELOOP":
		var out []vec
		for _, e := range r.arg(0).items {
			oriented, ok := g.get(e)
			edge, ok2 := g.get(oriented.arg(2))
			if !ok || !ok2 {
				return nil
			}
			if edge.kind == "IFCEDGECURVE" {
				if c, ok := g.get(edge.arg(2)); ok && c.kind != "IFCLINE" && c.kind != "IFCPOLYLINE" {
					g.unread(c)
					return nil
				}
			}
			start := edge.arg(0)
			if oriented.arg(3).word == "F" {
				start = edge.arg(1)
			}
			vertex, ok := g.get(start)
			if !ok {
				return nil
			}
			out = append(out, g.point(vertex.arg(0)))
		}
		return out
	}
	g.unread(r)
	return nil
}

// corners reads an IfcCartesianPointList3D.
func (g *geometry) corners(v value) []vec {
	r, ok := g.get(v)
	if !ok {
		return nil
	}
	out := make([]vec, len(r.arg(0).items))
	for i, c := range r.arg(0).items {
		out[i] = g.coordinates(c)
	}
	return out
}

// pick gives the points with the numbers of a list (from 1), through a second list of numbers where there is one.
func pick(pts []vec, numbers, through value) []vec {
	var out []vec
	for _, n := range numbers.items {
		i := int(n.num)
		if through.kind == list {
			i = int(through.at(i - 1).num)
		}
		if i >= 1 && i <= len(pts) {
			out = append(out, pts[i-1])
		}
	}
	return tidy(out)
}

// faceSet reads an IfcPolygonalFaceSet: Coordinates, Closed, Faces, PnIndex.
func (g *geometry) faceSet(r record) []survey.Poly {
	pts := g.corners(r.arg(0))
	var out []survey.Poly
	for _, v := range r.arg(2).items {
		f, ok := g.get(v)
		if !ok {
			continue
		}
		p := survey.Poly{Loop: pick(pts, f.arg(0), r.arg(3))}
		for _, h := range f.arg(1).items {
			if hole := pick(pts, h, r.arg(3)); len(hole) > 2 {
				p.Holes = append(p.Holes, hole)
			}
		}
		if len(p.Loop) > 2 {
			out = append(out, p)
		}
	}
	return out
}

// triangles reads an IfcTriangulatedFaceSet: Coordinates, Normals, Closed, CoordIndex, PnIndex.
func (g *geometry) triangles(r record) []survey.Poly {
	pts := g.corners(r.arg(0))
	var out []survey.Poly
	for _, t := range r.arg(3).items {
		if loop := pick(pts, t, r.arg(4)); len(loop) == 3 {
			out = append(out, survey.Poly{Loop: loop})
		}
	}
	return out
}
