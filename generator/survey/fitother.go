package survey

import (
	"fmt"
	"math"

	"lapwork/generator/geometry"
	"lapwork/generator/job"
)

// fromShape makes the room of a space whose form is given in figures.
func (s *surveyor) fromShape(sp *Space) []*Room {
	shape := sp.Shape
	var p geometry.Polygon
	for _, c := range shape.Corners {
		p = append(p, geometry.Point{X: millimetres(c.X), Y: millimetres(c.Y)})
	}
	turned := p.Clockwise()
	if turned {
		p = p.Reversed()
	}
	if p.Check() != nil {
		s.Found.Openf(sp.Pos, sp.ID, "correct its figures", "room %s: its corners make no outline; it was left out", sp.ID)
		return nil
	}
	wall := func(n int) int {
		if turned {
			return (2*len(p)-2-(n-1))%len(p) + 1
		}
		return n
	}
	z := 0.0
	if sp.Storey != nil {
		z = float64(sp.Storey.Level)
	}
	out := s.rooms(sp, []geometry.Polygon{p}, FromShape, z, func(rooms []*Room) Said {
		r := rooms[0]
		if r.Height = millimetres(float64(shape.Height)); r.Height == 0 && len(shape.Slopes) == 0 {
			r.Height = s.limits.UsualHeight
		}
		for _, x := range shape.Slopes {
			r.Slopes = append(r.Slopes, Slope{Edge: wall(x.Wall), Height: millimetres(float64(x.Height)), Pitch: x.Pitch})
		}
		return Said{}
	})
	for _, r := range out {
		r.Walls = make([]Kind, len(p))
		for i := range p {
			r.Walls[wall(i+1)-1] = Kind{WallPart, shape.Walls[i+1], nil}
		}
		r.Ceiling, r.Floor = Kind{CeilingPart, shape.Ceiling, nil}, Kind{FloorPart, shape.Floor, nil}
		for i := range r.Slopes {
			r.Slopes[i].Kind = Kind{SlopePart, behindOr(shape.Ceiling, job.Outside), nil}
		}
	}
	return out
}

func behindOr(b, or job.Behind) job.Behind {
	if b == Unknown {
		return or
	}
	return b
}

// fromOutline makes a prism of a floor outline and a height, the last way out.
func (s *surveyor) fromOutline(sp *Space) []*Room {
	outline, height, how := sp.Outline, float64(sp.Stated.Height), Say("its stated height")
	low, high := math.Inf(1), math.Inf(-1)
	var floors []Poly
	for _, f := range s.original[sp] {
		for _, v := range f.Poly.Loop {
			low, high = min(low, v.Z), max(high, v.Z)
		}
	}
	for _, f := range s.original[sp] {
		if n := f.Poly.vector().Unit(); math.Abs(n.Z) > flatFloor && middle(f.Poly.Loop).Z < (low+high)/2 {
			floors = append(floors, f.Poly)
		}
	}
	z := low
	if len(outline) > 2 {
		floors, z = []Poly{{Loop: cleanLoop(outline)}}, outline[0].Z
	}
	parts := s.footprints(sp, floors)
	area := 0.0
	for _, p := range parts {
		area += float64(p.Area())
	}
	switch {
	case height > 0:
	case sp.Stated.Volume > 0 && area > 0:
		height, how = float64(sp.Stated.Volume)/area, Say("its stated volume")
	case high > low:
		height, how = high-low, Say("the height of the faces round it")
	}
	if len(parts) == 0 || height <= 0 {
		s.Skipped = append(s.Skipped, Left{What: fmt.Sprintf("space %s, %s", sp.ID, nameOf(sp)), Reason: "neither a body, nor faces, nor an outline with a height give its form"})
		s.Found.Openf(sp.Pos, sp.ID, "draw it in the job, or export it with geometry", "space %s (%s) has no form that can be used; it was left out", sp.ID, nameOf(sp))
		return nil
	}
	s.Guessed = append(s.Guessed, Say("%s: a flat ceiling over its outline, by %s", nameOf(sp), how))
	return s.rooms(sp, parts, FromOutline, z, func(rooms []*Room) Said {
		for _, r := range rooms {
			r.Height = millimetres(height)
		}
		return Said{}
	})
}
