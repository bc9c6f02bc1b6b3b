package strips

import (
	"lapwork/generator/geometry"
	q "lapwork/generator/quantity"
)

// Framing says where sheet is stapled: on lines across the surface and along the edges of its outline.
type Framing struct {
	Lines       []q.MM // stud, rafter or joist centres; x for upright lines, y for level ones
	Level       bool   // the lines run along x
	Spacing     q.MM   // along a line, at most
	EdgeSpacing q.MM   // along the outline, at most
}

// Staples is how many staples a surface takes.
type Staples struct{ OnLines, OnEdges int }

// Total is all of them.
func (s Staples) Total() int { return s.OnLines + s.OnEdges }

// StaplesOn counts staples: ceil(length/spacing)+1 on each clear stretch of each line strictly inside the outline, and the same
// along each edge of the outline. A line on the edge of an opening counts on its far side. Where an opening stands on the
// outline, as a door does, the line's foot there takes the one staple of a stretch without length.
func StaplesOn(outline geometry.Polygon, holes []Hole, f Framing) (Staples, error) {
	p := Problem{Outline: outline, Holes: holes, Direction: Level}
	for i := range p.Holes {
		if p.Holes[i].TurnIn != 0 { // the framing stops at the opening itself
			p.Holes = clearOpenings(p.Holes)
			break
		}
	}
	if f.Level {
		p.Direction = Upright
	}
	if err := f.check(p); err != nil {
		return Staples{}, err
	}
	d, err := cover(p)
	if err != nil {
		return Staples{}, err
	}
	var out Staples
	for _, x := range sorted(f.Lines) {
		if u := fine(x) * d.unit; d.umin < u && u < d.umax {
			for _, s := range d.column(u) {
				out.OnLines += stretch(s.to-s.from-d.slack, fine(f.Spacing)*d.unit)
			}
			out.OnLines += d.feet(u)
		}
	}
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		out.OnEdges += sloping(int64(b.X-a.X), int64(b.Y-a.Y), int64(f.EdgeSpacing))
	}
	return out, nil
}

func (f Framing) check(p Problem) error {
	var c checker
	c.shapes(p)
	c.within("Spacing", f.Spacing, 10, MaxExtent)
	c.within("EdgeSpacing", f.EdgeSpacing, 10, MaxExtent)
	c.backing("Lines", f.Lines)
	return c.err()
}

func clearOpenings(holes []Hole) []Hole {
	out := make([]Hole, len(holes))
	for i, h := range holes {
		out[i] = Hole{Outline: h.Outline}
	}
	return out
}

// column gives the stretches of the domain just right of u.
func (d *domain) column(u fine) []span {
	var out []span
	for _, t := range d.traps {
		if t.u0 <= u && u < t.u1 {
			out = append(out, span{d.edges[t.low].at(u, toNearest), d.edges[t.high].at(u, toNearest)})
		}
	}
	return merged(out)
}

// feet counts the places just right of u where an opening stands on the outline's edge.
func (d *domain) feet(u fine) int {
	n := 0
	for _, o := range d.edges {
		if o.ring != 0 || u < o.u0 || o.u1 <= u {
			continue
		}
		for _, h := range d.edges {
			if h.ring > 0 && h.rising == o.rising && h.u0 <= u && u < h.u1 && h.at(u, toNearest) == o.at(u, toNearest) {
				n++
			}
		}
	}
	return n
}

// stretch is ceil(length/spacing)+1.
func stretch(length, spacing fine) int { return int(-floorDiv(-length, spacing)) + 1 }

// sloping is ceil(sqrt(dx²+dy²)/spacing)+1 without a rounded root.
func sloping(dx, dy, spacing int64) int {
	low, high := int64(0), abs(dx)/spacing+abs(dy)/spacing+2
	for low < high {
		if mid := (low + high) / 2; mid*mid*spacing*spacing >= dx*dx+dy*dy {
			high = mid
		} else {
			low = mid + 1
		}
	}
	return int(low) + 1
}
