package strips

// fine is a length in 1/unit of a millimetre, unit being the domain's own.
type fine = int64

// edge is a straight piece of a ring, from left to right in u, with the sense the ring runs in.
type edge struct {
	u0, v0, u1, v1 fine
	rising         int // +1: the ring's inside lies above (v larger), -1: below
	ring           int // 0 the outline, 1.. the holes
}

// domain is a plane set cut into trapezoids, each between a lower and an upper edge.
type domain struct {
	unit  fine
	slack fine // what rounding up ignores; 0 while the scale is exact
	level bool // all edges run along u or v, on whole millimetres
	edges []edge
	traps []trapezoid

	umin, umax, vmin, vmax fine
	corners                []fine // v of every corner, for the positions to try
}

// newDomain builds the set inside the first ring and outside the others.
func newDomain(rings [][]point) (*domain, error) {
	if err := reach(rings); err != nil {
		return nil, err
	}
	cross := crossings(rings)
	d := &domain{}
	d.pickUnit(rings, cross)
	events := make([]fine, 0, 4*len(rings)+len(cross))
	for _, u := range cross {
		events = append(events, d.scale(u))
	}
	for r, ring := range rings {
		for i, p := range ring {
			n := ring[(i+1)%len(ring)]
			e := edge{d.scale(p.u), d.scale(p.v), d.scale(n.u), d.scale(n.v), 1, r}
			events = append(events, e.u0)
			d.corners = append(d.corners, e.v0)
			if e.u0 > e.u1 {
				e = edge{e.u1, e.v1, e.u0, e.v0, -1, r}
			}
			if e.u0 < e.u1 {
				d.edges = append(d.edges, e)
			}
		}
	}
	d.cut(events, len(rings))
	return d, d.frame()
}

// reach refuses corners that mitres threw far away, before they meet fixed-point numbers.
func reach(rings [][]point) error {
	limit := float64(maxPlace + 2*MaxExtent)
	for _, ring := range rings {
		for _, p := range ring {
			if u, v := near(p.u), near(p.v); max(u, -u, v, -v) > limit {
				return tooSharp()
			}
		}
	}
	return nil
}

func tooSharp() error {
	var c checker
	c.add("Turns", "turn less over the edges at sharp corners, or split the surface", "the turned edges reach too far")
	return c.err()
}

// frame measures the box round the set and refuses one that mitres made too large.
func (d *domain) frame() error {
	if len(d.traps) == 0 {
		var c checker
		c.add("Holes", "check the openings", "nothing is left to cover")
		return c.err()
	}
	d.umin, d.umax, d.vmin, d.vmax = d.traps[0].u0, d.traps[0].u1, d.traps[0].low0, d.traps[0].high0
	for _, t := range d.traps {
		d.umin, d.umax = min(d.umin, t.u0), max(d.umax, t.u1)
		d.vmin, d.vmax = min(d.vmin, t.low0, t.low1), max(d.vmax, t.high0, t.high1)
	}
	limit := fine(MaxExtent) * d.unit
	if d.umax-d.umin > limit || d.vmax-d.vmin > limit {
		return tooSharp()
	}
	return nil
}
