package survey

import (
	"math"

	"lapwork/generator/diag"
	"lapwork/generator/geometry"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// wallDeep is the greatest distance between the two faces of one wall or floor, in metres.
const wallDeep = 0.6

// parallel is how far two normals of one wall may differ, as the sine of the angle: 2 degrees.
const parallel = 0.035

// pair joins faces that say "another room" without saying which: faces of two rooms that lie parallel, no farther apart
// than a wall is thick, and cover each other. Each is divided where its counterparts end.
func (s *surveyor) pair() {
	var open, rest []*Face
	for _, f := range s.Building.Faces {
		if len(f.Spaces) == 1 && f.Behind == Inside {
			open = append(open, f)
		} else {
			rest = append(rest, f)
		}
	}
	if len(open) == 0 {
		return
	}
	var lone []string
	paired := 0
	for _, f := range open {
		pieces, alone := divide(f, open)
		rest = append(rest, pieces...)
		if len(pieces) > alone {
			paired++
		}
		if alone > 0 {
			lone = append(lone, f.ID)
		}
	}
	s.Building.Faces = rest
	if paired > 0 {
		s.Guessed = append(s.Guessed, Say("%s paired with those of the neighbouring rooms by their position", Things(paired, "inside face was", "inside faces were")))
	}
	if len(lone) > 0 {
		s.Found.Openf(diag.Pos{File: s.Source.Name}, "", "say in the job what lies behind the faces named ...-unpaired",
			"%d inside faces have no counterpart in another room, wholly or in part: what lies behind is not known, no layer was put there (%s)", len(lone), some(lone))
	}
}

// divide cuts a face by its counterparts. Pieces without one keep "another room"; alone counts them.
func divide(f *Face, among []*Face) (pieces []*Face, alone int) {
	p := planeOf(f.Poly)
	left := []geometry.Region{p.flatten(f.Poly)}
	whole := areaOf(left)
	for _, o := range among {
		if o == f || o.Spaces[0] == f.Spaces[0] || !p.faces(o.Poly) {
			continue
		}
		other := []geometry.Region{p.flatten(o.Poly)}
		both := common(left, other)
		if areaOf(both) < 0.02*whole && areaOf(both) < 0.1 {
			continue
		}
		for _, r := range both {
			pieces = append(pieces, f.piece(p.raise(r), o.Spaces[0]))
		}
		left = without(left, other)
	}
	if len(pieces) == 0 {
		return []*Face{f}, 1
	}
	for _, r := range left {
		if a := float64(r.Area()); a > 0.1 || a > 0.05*whole { // less is the wall's own thickness at its ends
			pieces = append(pieces, f.piece(p.raise(r), nil))
			alone++
		}
	}
	pieces[0].Openings, pieces[0].Penetrations = f.Openings, f.Penetrations
	return pieces, alone
}

// piece is a part of a face, against another space or still alone.
func (f *Face) piece(p Poly, other *Space) *Face {
	c := *f
	c.Poly, c.Openings, c.Penetrations, c.Spaces = p, nil, nil, f.Spaces[:1:1]
	if other != nil {
		c.Spaces = append(c.Spaces, other)
	}
	return &c
}

// flatPlane is a plane with axes in it, for work in two dimensions in whole millimetres.
type flatPlane struct{ at, u, v, n Vec }

// planeOf takes u level and v up the face where it is not level itself.
func planeOf(p Poly) flatPlane {
	n := p.vector().Unit()
	u := Vec{Z: 1}.Cross(n)
	if u.Length() < 0.01 {
		u = Vec{X: 1}.Minus(n.Times(n.X))
	}
	u = u.Unit()
	return flatPlane{at: p.Loop[0], u: u, v: n.Cross(u), n: n}
}

// faces says whether a face is parallel to the plane and no farther off than a wall is thick.
func (p flatPlane) faces(o Poly) bool {
	n := o.vector().Unit()
	return n.Cross(p.n).Length() < parallel && math.Abs(middle(o.Loop).Minus(p.at).Dot(p.n)) <= wallDeep
}

func (p flatPlane) flatten(f Poly) geometry.Region {
	flat := func(loop []Vec) geometry.Polygon {
		out := make(geometry.Polygon, len(loop))
		for i, v := range loop {
			d := v.Minus(p.at)
			out[i] = geometry.Point{X: millimetres(d.Dot(p.u)), Y: millimetres(d.Dot(p.v))}
		}
		return tidy(out, 0)
	}
	r := geometry.Region{Outer: flat(f.Loop)}
	for _, h := range f.Holes {
		r.Holes = append(r.Holes, flat(h))
	}
	return r
}

func (p flatPlane) raise(r geometry.Region) Poly {
	up := func(g geometry.Polygon) []Vec {
		out := make([]Vec, len(g))
		for i, c := range g {
			out[i] = p.at.Plus(p.u.Times(float64(c.X) / 1000)).Plus(p.v.Times(float64(c.Y) / 1000))
		}
		return out
	}
	out := Poly{Loop: up(r.Outer)}
	for _, h := range r.Holes {
		out.Holes = append(out.Holes, up(h))
	}
	return out
}

func millimetres(m float64) q.MM { return q.MM(math.Round(m * 1000)) }

// behind is what lies behind a face as seen from one of its spaces.
func (f *Face) behind(from *Space) job.Behind {
	if f.Behind == Nothing {
		return Nothing
	}
	if len(f.Spaces) == 2 {
		other := f.Spaces[0]
		if other == from {
			other = f.Spaces[1]
		}
		if other.Heated == NotHeated && !other.External {
			return job.Unheated
		}
		if other.External {
			return job.Outside
		}
		return job.Heated
	}
	return f.Behind
}
