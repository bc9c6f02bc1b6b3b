package drawing

import "math"

// Box is an upright rectangle of a figure in pixels, Y down.
type Box struct{ X0, Y0, X1, Y1 float64 }

func boxAt(middle Pt, w, h float64) Box {
	return Box{middle.X - w/2, middle.Y - h/2, middle.X + w/2, middle.Y + h/2}
}

// Overlaps tells whether two boxes share more than an edge.
func (b Box) Overlaps(c Box) bool {
	const touch = 0.01
	return b.X0 < c.X1-touch && c.X0 < b.X1-touch && b.Y0 < c.Y1-touch && c.Y0 < b.Y1-touch
}

// Holds tells whether c lies inside b.
func (b Box) Holds(c Box) bool {
	const touch = 0.01
	return c.X0 >= b.X0-touch && c.Y0 >= b.Y0-touch && c.X1 <= b.X1+touch && c.Y1 <= b.Y1+touch
}

func (b Box) grow(d float64) Box { return Box{b.X0 - d, b.Y0 - d, b.X1 + d, b.Y1 + d} }
func (b Box) move(d Pt) Box      { return Box{b.X0 + d.X, b.Y0 + d.Y, b.X1 + d.X, b.Y1 + d.Y} }

// snapped moves the box to whole pixels.
func (b Box) snapped() Box {
	x, y := math.Round(b.X0), math.Round(b.Y0)
	return Box{x, y, x + b.width(), y + b.height()}
}

func (b Box) middle() Pt           { return Pt{(b.X0 + b.X1) / 2, (b.Y0 + b.Y1) / 2} }
func (b Box) width() float64       { return b.X1 - b.X0 }
func (b Box) height() float64      { return b.Y1 - b.Y0 }
func (b Box) corners() []Pt        { return []Pt{{b.X0, b.Y0}, {b.X1, b.Y0}, {b.X1, b.Y1}, {b.X0, b.Y1}} }
func (b Box) holdsPoint(p Pt) bool { return p.X >= b.X0 && p.X <= b.X1 && p.Y >= b.Y0 && p.Y <= b.Y1 }

func (b Box) join(c Box) Box {
	return Box{min(b.X0, c.X0), min(b.Y0, c.Y0), max(b.X1, c.X1), max(b.Y1, c.Y1)}
}

// nearest is the point of the box's rim, or of the box, that lies closest to p.
func (b Box) nearest(p Pt) Pt {
	return Pt{max(b.X0, min(p.X, b.X1)), max(b.Y0, min(p.Y, b.Y1))}
}

// crossedBy tells whether the segment a-c passes through the box.
func (b Box) crossedBy(a, c Pt) bool {
	if max(a.X, c.X) <= b.X0 || min(a.X, c.X) >= b.X1 || max(a.Y, c.Y) <= b.Y0 || min(a.Y, c.Y) >= b.Y1 {
		return false
	}
	_, _, ok := clipSegment(a, c, b)
	return ok
}

// clipSegment gives the part of a-c inside the box (Liang and Barsky's method); ok is false when there is none.
func clipSegment(a, c Pt, b Box) (Pt, Pt, bool) {
	t0, t1 := 0.0, 1.0
	d := sub(c, a)
	for _, side := range [4][2]float64{{-d.X, a.X - b.X0}, {d.X, b.X1 - a.X}, {-d.Y, a.Y - b.Y0}, {d.Y, b.Y1 - a.Y}} {
		p, room := side[0], side[1]
		switch {
		case p == 0 && room <= 0:
			return a, c, false
		case p < 0:
			t0 = math.Max(t0, room/p)
		case p > 0:
			t1 = math.Min(t1, room/p)
		}
	}
	if t0 >= t1 {
		return a, c, false
	}
	return lerp(a, c, t0), lerp(a, c, t1), true
}

func boundsOf(points []Pt) Box {
	if len(points) == 0 {
		return Box{}
	}
	b := Box{points[0].X, points[0].Y, points[0].X, points[0].Y}
	for _, p := range points[1:] {
		b = b.join(Box{p.X, p.Y, p.X, p.Y})
	}
	return b
}

func sub(a, b Pt) Pt             { return Pt{a.X - b.X, a.Y - b.Y} }
func add(a, b Pt) Pt             { return Pt{a.X + b.X, a.Y + b.Y} }
func times(a Pt, k float64) Pt   { return Pt{a.X * k, a.Y * k} }
func lerp(a, b Pt, t float64) Pt { return Pt{a.X + (b.X-a.X)*t, a.Y + (b.Y-a.Y)*t} }
func dist(a, b Pt) float64       { return math.Hypot(a.X-b.X, a.Y-b.Y) }
func dot(a, b Pt) float64        { return a.X*b.X + a.Y*b.Y }
func cross(a, b Pt) float64      { return a.X*b.Y - a.Y*b.X }
func normal(a, b Pt) Pt          { u := unit(a, b); return Pt{-u.Y, u.X} }
func unit(a, b Pt) Pt {
	l := dist(a, b)
	if l == 0 {
		return Pt{1, 0}
	}
	return Pt{(b.X - a.X) / l, (b.Y - a.Y) / l}
}

// inside tells whether p lies in the closed outline, by the even-odd rule.
func inside(p Pt, outline []Pt) bool {
	in := false
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}

// onSegment is the point of the segment a-b nearest to p.
func onSegment(p, a, b Pt) Pt {
	l := dot(sub(b, a), sub(b, a))
	if l == 0 {
		return a
	}
	return lerp(a, b, max(0, min(1, dot(sub(p, a), sub(b, a))/l)))
}

func toSegment(p, a, b Pt) float64 { return dist(p, onSegment(p, a, b)) }

// clearing is how far p lies inside the outline from its rim; negative outside.
func clearing(p Pt, outline []Pt) float64 {
	d := math.Inf(1)
	for i, a := range outline {
		d = min(d, toSegment(p, a, outline[(i+1)%len(outline)]))
	}
	if !inside(p, outline) {
		return -d
	}
	return d
}

// heart is a point well inside the outline: the best of a grid, the middle preferred.
func heart(outline []Pt) Pt {
	b := boundsOf(outline)
	best, bestD := b.middle(), clearing(b.middle(), outline)*1.15
	const n = 12
	for i := 1; i < n; i++ {
		for j := 1; j < n; j++ {
			p := Pt{b.X0 + b.width()*float64(i)/n, b.Y0 + b.height()*float64(j)/n}
			if min(p.X-b.X0, b.X1-p.X, p.Y-b.Y0, b.Y1-p.Y) <= bestD {
				continue // the rim is no farther off than the box
			}
			if d := clearing(p, outline); d > bestD {
				best, bestD = p, d
			}
		}
	}
	return best
}

// clipOutline cuts an outline to a box (Sutherland and Hodgman's method).
func clipOutline(outline []Pt, b Box) []Pt {
	sides := []struct {
		at Pt
		n  Pt
	}{{Pt{b.X0, b.Y0}, Pt{1, 0}}, {Pt{b.X1, b.Y1}, Pt{-1, 0}}, {Pt{b.X0, b.Y0}, Pt{0, 1}}, {Pt{b.X1, b.Y1}, Pt{0, -1}}}
	for _, s := range sides {
		var out []Pt
		for i, p := range outline {
			next := outline[(i+1)%len(outline)]
			dp, dn := dot(sub(p, s.at), s.n), dot(sub(next, s.at), s.n)
			if dp >= 0 {
				out = append(out, p)
			}
			if (dp > 0) != (dn > 0) && dp != dn && dp != 0 && dn != 0 {
				out = append(out, lerp(p, next, dp/(dp-dn)))
			}
		}
		outline = out
	}
	return outline
}
