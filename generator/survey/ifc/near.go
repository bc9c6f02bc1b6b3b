package ifc

import (
	"cmp"
	"math"

	q "lapwork/generator/quantity"

	"lapwork/generator/diag"
)

func metres(v float64) q.Length { return q.Length(v) }

func compare(a, b float64) int { return cmp.Compare(a, b) }

// bearing is the angle, clockwise, from a direction of north in the plan to the plan's +Y.
func bearing(north vec) q.Degrees {
	d := math.Atan2(north.X, north.Y) * 180 / math.Pi
	return q.Degrees(math.Mod(360-d, 360))
}

// far is the distance from the origin, in metres, beyond which a plan is moved near it: coordinates of a national grid
// leave too few digits, and nobody can read them.
const far = 5000

// nearOrigin moves a plan that lies far off, and says by how much.
func (b *builder) nearOrigin() {
	var first *vec
	b.points(func(v *vec) {
		if first == nil {
			c := *v
			first = &c
		}
	})
	if first == nil || math.Abs(first.X) < far && math.Abs(first.Y) < far {
		return
	}
	d := vec{X: math.Round(first.X), Y: math.Round(first.Y)}
	b.points(func(v *vec) { *v = v.Minus(d) })
	b.found.Notef(diag.Pos{File: b.file}, "", "the model lies far from its origin; the plan was moved by %.0f m and %.0f m", -d.X, -d.Y)
}

// points visits every point of the building.
func (b *builder) points(visit func(*vec)) {
	loop := func(l []vec) {
		for i := range l {
			visit(&l[i])
		}
	}
	for _, s := range b.b.Spaces {
		for _, p := range s.Body {
			loop(p.Loop)
			for _, h := range p.Holes {
				loop(h)
			}
		}
		loop(s.Outline)
	}
	for _, f := range b.b.Faces {
		loop(f.Poly.Loop)
		for _, h := range f.Poly.Holes {
			loop(h)
		}
		for _, o := range f.Openings {
			loop(o.Loop)
		}
		for _, p := range f.Penetrations {
			visit(&p.At)
		}
	}
}
