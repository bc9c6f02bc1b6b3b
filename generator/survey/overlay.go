package survey

import (
	"cmp"
	"math"
	"slices"

	"lapwork/generator/geometry"
	q "lapwork/generator/quantity"
	"lapwork/generator/sorting"
)

// overlay lays sets of regions over each other and gives the part of the plane that keep chooses by which sets a point is
// in. Corners are whole millimetres; a side runs through every corner of another that lies within a millimetre of it, so
// that borders which nearly coincide do. Loops that rounding leaves open are dropped, so a result may lack slivers, never
// gain area.
func overlay(keep func(in []bool) bool, sets ...[]geometry.Region) []geometry.Region {
	o := overlaying{}
	for _, set := range sets {
		var copied []geometry.Region
		for _, r := range set {
			c := geometry.Region{Outer: slices.Clone(r.Outer)}
			for _, h := range r.Holes {
				c.Holes = append(c.Holes, slices.Clone(h))
			}
			copied = append(copied, c)
		}
		o.sets = append(o.sets, copied)
	}
	o.weld()
	for range 3 { // rounded crossings may come to lie on further sides
		if !o.refine() {
			break
		}
	}
	return regionsOf(o.trace(o.borders(keep)))
}

// union joins polygons.
func union(polys []geometry.Polygon) []geometry.Region {
	return overlay(func(in []bool) bool { return in[0] }, plain(polys))
}

// common is what two sets share.
func common(a, b []geometry.Region) []geometry.Region {
	return overlay(func(in []bool) bool { return in[0] && in[1] }, a, b)
}

// without is a less b.
func without(a, b []geometry.Region) []geometry.Region {
	return overlay(func(in []bool) bool { return in[0] && !in[1] }, a, b)
}

func plain(polys []geometry.Polygon) []geometry.Region {
	var out []geometry.Region
	for _, p := range polys {
		if len(p) > 2 {
			out = append(out, geometry.Region{Outer: p})
		}
	}
	return out
}

func areaOf(rs []geometry.Region) float64 {
	sum := 0.0
	for _, r := range rs {
		sum += float64(r.Area())
	}
	return sum
}

type stretch [2]geometry.Point

type overlaying struct{ sets [][]geometry.Region }

// polygons calls visit for every outline and hole.
func (o *overlaying) polygons(visit func(*geometry.Polygon)) {
	for _, set := range o.sets {
		for i := range set {
			visit(&set[i].Outer)
			for k := range set[i].Holes {
				visit(&set[i].Holes[k])
			}
		}
	}
}

// weld joins corners that are a millimetre apart along an axis; the first met stays.
func (o *overlaying) weld() {
	kept := map[geometry.Point]geometry.Point{}
	o.polygons(func(p *geometry.Polygon) {
		for i, c := range *p {
			to, ok := kept[c]
			for _, d := range [...]geometry.Point{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}} {
				n := geometry.Point{X: c.X + d.X, Y: c.Y + d.Y}
				if k, met := kept[n]; !ok && met && k == n {
					to, ok = n, true
				}
			}
			if !ok {
				to = c
			}
			kept[c] = to
			(*p)[i] = to
		}
	})
}

func (o *overlaying) sides() []stretch {
	var out []stretch
	o.polygons(func(p *geometry.Polygon) {
		for i, a := range *p {
			if b := (*p)[(i+1)%len(*p)]; a != b {
				out = append(out, stretch{a, b})
			}
		}
	})
	return out
}

// refine leads sides through the corners of others that lie on them and through crossings; it says whether any changed.
func (o *overlaying) refine() bool {
	sides := o.sides()
	changed := false
	o.polygons(func(p *geometry.Polygon) {
		var out geometry.Polygon
		for i, a := range *p {
			b := (*p)[(i+1)%len(*p)]
			on := cuts(stretch{a, b}, sides)
			changed = changed || len(on) > 0
			out = append(append(out, a), on...)
		}
		*p = out
	})
	return changed
}

// cuts are the points of other sides on a side, between its ends, in order.
func cuts(s stretch, sides []stretch) []geometry.Point {
	var on []geometry.Point
	for _, t := range sides {
		if s == t || !near(s, t) {
			continue
		}
		for _, p := range t {
			if onStretch(p, s) {
				on = append(on, p)
			}
		}
		if at, ok := geometry.Meet(s[0], s[1], t[0], t[1]); ok && at != s[0] && at != s[1] {
			on = append(on, at)
		}
	}
	sorting.Func(on, func(a, b geometry.Point) int { return cmp.Compare(along(a, s), along(b, s)) })
	return slices.Compact(on)
}

// pieces are all sides, each once, the lesser end first, in order.
func (o *overlaying) pieces() []stretch {
	out := o.sides()
	for i, s := range out {
		if a, b := s[0], s[1]; a.X > b.X || a.X == b.X && a.Y > b.Y {
			out[i] = stretch{b, a}
		}
	}
	sorting.Func(out, func(a, b stretch) int {
		return cmp.Or(cmp.Compare(a[0].X, b[0].X), cmp.Compare(a[0].Y, b[0].Y), cmp.Compare(a[1].X, b[1].X), cmp.Compare(a[1].Y, b[1].Y))
	})
	return slices.Compact(out)
}

func near(s, t stretch) bool {
	return min(s[0].X, s[1].X) <= max(t[0].X, t[1].X)+1 && min(t[0].X, t[1].X) <= max(s[0].X, s[1].X)+1 &&
		min(s[0].Y, s[1].Y) <= max(t[0].Y, t[1].Y)+1 && min(t[0].Y, t[1].Y) <= max(s[0].Y, s[1].Y)+1
}

func onStretch(p geometry.Point, s stretch) bool {
	t := along(p, s)
	return t > 0 && t < along(s[1], s) && geometry.FromLine(p, s[0], s[1]) <= 0.001
}

func along(p geometry.Point, s stretch) int64 {
	return int64(p.X-s[0].X)*int64(s[1].X-s[0].X) + int64(p.Y-s[0].Y)*int64(s[1].Y-s[0].Y)
}

// borders are the pieces with kept plane on one side only, directed so that it is on their left.
func (o *overlaying) borders(keep func([]bool) bool) []stretch {
	var out []stretch
	for _, s := range o.pieces() {
		dx, dy := float64(s[1].X-s[0].X), float64(s[1].Y-s[0].Y)
		l := math.Hypot(dx, dy)
		if l == 0 {
			continue
		}
		mx, my := float64(s[0].X+s[1].X)/2, float64(s[0].Y+s[1].Y)/2
		const off = 0.01 // mm: nothing else comes so near a piece but at its ends
		left := keep(o.in(mx-dy/l*off, my+dx/l*off))
		right := keep(o.in(mx+dy/l*off, my-dx/l*off))
		switch {
		case left && !right:
			out = append(out, s)
		case right && !left:
			out = append(out, stretch{s[1], s[0]})
		}
	}
	return out
}

// in says which sets hold a point.
func (o *overlaying) in(x, y float64) []bool {
	out := make([]bool, len(o.sets))
	for i, set := range o.sets {
		for _, r := range set {
			if !holds(r.Outer, x, y) {
				continue
			}
			out[i] = out[i] || !slices.ContainsFunc(r.Holes, func(h geometry.Polygon) bool { return holds(h, x, y) })
		}
	}
	return out
}

func holds(p geometry.Polygon, x, y float64) bool {
	inside := false
	for i, a := range p {
		b := p[(i+1)%len(p)]
		ax, ay, bx, by := float64(a.X), float64(a.Y), float64(b.X), float64(b.Y)
		if (ay > y) != (by > y) && x < ax+(y-ay)/(by-ay)*(bx-ax) {
			inside = !inside
		}
	}
	return inside
}

// trace joins directed pieces to loops; at a corner with several ways on it keeps to the left, so that parts which only
// touch stay apart.
func (o *overlaying) trace(pieces []stretch) []geometry.Polygon {
	from := map[geometry.Point][]int{}
	for i, s := range pieces {
		from[s[0]] = append(from[s[0]], i)
	}
	used := make([]bool, len(pieces))
	var loops []geometry.Polygon
	for i := range pieces {
		if used[i] {
			continue
		}
		var loop geometry.Polygon
		for at := i; at >= 0 && !used[at]; at = leftmost(pieces, from[pieces[at][1]], at, used) {
			used[at] = true
			loop = append(loop, pieces[at][0])
			if pieces[at][1] == pieces[i][0] {
				loops = append(loops, loop)
				break
			}
		}
	}
	return loops
}

// leftmost is the way on that turns most to the left; −1 for none.
func leftmost(pieces []stretch, ways []int, from int, used []bool) int {
	best, angle := -1, math.Inf(-1)
	s := pieces[from]
	in := math.Atan2(float64(s[1].Y-s[0].Y), float64(s[1].X-s[0].X))
	for _, w := range ways {
		if used[w] {
			continue
		}
		t := pieces[w]
		turn := math.Remainder(math.Atan2(float64(t[1].Y-t[0].Y), float64(t[1].X-t[0].X))-in, 2*math.Pi)
		if turn > angle {
			best, angle = w, turn
		}
	}
	return best
}

// regionsOf sorts loops into outlines with their holes, greatest first, straight corners taken out.
func regionsOf(loops []geometry.Polygon) []geometry.Region {
	var out []geometry.Region
	var holes []geometry.Polygon
	for _, l := range loops {
		l = tidy(l, 0)
		switch twice := l.TwiceArea(); {
		case len(l) < 3 || twice == 0:
		case twice > 0:
			out = append(out, geometry.Region{Outer: l})
		default:
			holes = append(holes, l)
		}
	}
	sorting.StableFunc(out, func(a, b geometry.Region) int { return cmp.Compare(b.Outer.TwiceArea(), a.Outer.TwiceArea()) })
	for _, h := range holes {
		for i := len(out) - 1; i >= 0; i-- { // the smallest that holds it
			if inner(h, out[i].Outer) {
				out[i].Holes = append(out[i].Holes, h)
				break
			}
		}
	}
	return out
}

// inner says whether a hole lies in an outline: its corners may touch it, the middle of a side does not.
func inner(h, outer geometry.Polygon) bool {
	for i, a := range h {
		b := h[(i+1)%len(h)]
		x, y := float64(a.X+b.X)/2, float64(a.Y+b.Y)/2
		if !onBorder(outer, x, y) {
			return holds(outer, x, y)
		}
	}
	return false
}

func onBorder(p geometry.Polygon, x, y float64) bool {
	at := geometry.Point{X: q.MM(math.Round(x)), Y: q.MM(math.Round(y))}
	for i, a := range p {
		if geometry.FromLine(at, a, p[(i+1)%len(p)]) <= 0.001 {
			return true
		}
	}
	return false
}

// tidy takes out corners that repeat, lie within slack millimetres of the line between their neighbours (1 mm at least
// where slack is more than 0), end a side shorter than 5 mm, or tip a spike. Slack 0 takes out exactly straight ones only.
func tidy(p geometry.Polygon, slack float64) geometry.Polygon {
	p = slices.Clone(p)
	for changed := true; changed && len(p) > 2; {
		changed = false
		for i := 0; i < len(p) && len(p) > 2; i++ {
			a, b, c := p[(i+len(p)-1)%len(p)], p[i], p[(i+1)%len(p)]
			if needless(a, b, c, slack) {
				p = slices.Delete(p, i, i+1)
				changed = true
				i--
			}
		}
	}
	return p
}

func needless(a, b, c geometry.Point, slack float64) bool {
	abx, aby := float64(b.X-a.X), float64(b.Y-a.Y)
	bcx, bcy := float64(c.X-b.X), float64(c.Y-b.Y)
	if abx == 0 && aby == 0 || bcx == 0 && bcy == 0 {
		return true
	}
	turn := math.Abs(abx*bcy - aby*bcx)
	if turn == 0 {
		return true
	}
	if slack == 0 {
		return false
	}
	if math.Hypot(abx, aby) < 5 {
		return true
	}
	base := math.Hypot(float64(c.X-a.X), float64(c.Y-a.Y))
	return base > 0 && turn/base <= slack && abx*bcx+aby*bcy > 0
}
