package assess

import (
	"math"

	"lapwork/generator/calc/strips"
	"lapwork/generator/geometry"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// stagger is how far end joints of neighbouring strips, and seams of two surfaces that end on their common edge, stay
// apart, so that no four sheets lie in one point (R-LAP-3). Common practice, no source.
const stagger q.MM = 300

// Meeting is a seam that ends on an edge within stagger of a seam of the surface behind the edge.
type Meeting struct {
	Edge  string // junction id
	Strip int    // the seam lies at the start of this strip
	Other *surface.Surface
	Apart q.MM
}

// meet lays the surfaces of a batch again so that their seams keep clear of those of the neighbours laid before, where that
// costs nothing, and notes what still comes near.
func (k *cutter) meet(layouts []*Layout, m *surface.Model) {
	laid := map[*surface.Surface]*Layout{}
	for _, l := range layouts {
		edges := m.Room(l.Surface.Room).Edges
		l.Problem.KeepClear, l.Problem.ClearBy = nil, stagger
		for _, e := range edges {
			l.Problem.KeepClear = append(l.Problem.KeepClear, l.across(e, laid)...)
		}
		if len(l.Problem.KeepClear) > 0 {
			k.layAgain(l)
		}
		laid[l.Surface] = l
		for _, e := range edges {
			l.meetings(e, laid)
		}
	}
}

// layAgain lays a surface by the same objective as before.
func (k *cutter) layAgain(l *Layout) {
	objective := strips.LeastLength()
	if rates, ok := k.money.of(l.Surface, l.RollWidth, l.Direction); ok && l.Cost.Known {
		objective = strips.LeastCost(rates.strips())
	}
	if again, backing, err := k.known.lay(l.Problem, objective); err == nil {
		l.Layout, l.Backing = again, backing
	}
}

// neighbour is the layout on the other side of an edge of l's surface; nil where there is none or it is not laid yet.
func (l *Layout) neighbour(e surface.Edge, laid map[*surface.Surface]*Layout) *Layout {
	switch l.Surface {
	case e.A:
		return laid[e.B]
	case e.B:
		return laid[e.A]
	}
	return nil
}

// across gives, in the coordinate across l's strips that they are solved in, where the seams of the neighbour end on an edge that l's seams end
// on too.
func (l *Layout) across(e surface.Edge, laid map[*surface.Surface]*Layout) []q.MM {
	o := l.neighbour(e, laid)
	if o == nil || o == l {
		return nil
	}
	var out []q.MM
	for _, st := range o.Strips {
		if st.Lap == 0 {
			continue
		}
		p, ok := o.seamEnd(e, o.Across(st.At))
		if !ok {
			continue
		}
		if _, ends := l.seamEnd(e, l.acrossAt(p)); ends {
			out = append(out, l.Across(l.acrossAt(p)))
		}
	}
	return out
}

// meetings notes the seams of l that end near those of a neighbour laid before.
func (l *Layout) meetings(e surface.Edge, laid map[*surface.Surface]*Layout) {
	for _, at := range l.across(e, laid) {
		for _, st := range l.Strips {
			if apart := max(st.At-at, at-st.At); st.Lap > 0 && apart < stagger {
				l.Meets = append(l.Meets, Meeting{e.ID, st.No, l.neighbour(e, laid).Surface, apart})
			}
		}
	}
}

// seamEnd is where a seam at v across the strips crosses an edge of the surface, in space; ok is false where it does not.
func (l *Layout) seamEnd(e surface.Edge, v q.MM) (at [3]float64, ok bool) {
	n := e.SideA
	if l.Surface == e.B {
		n = e.SideB
	}
	from, to := l.Surface.Side(n)
	a, b := from.Y, to.Y
	if l.Direction == strips.Upright {
		a, b = from.X, to.X
	}
	if a == b || v < min(a, b) || v > max(a, b) {
		return at, false
	}
	t := float64(v-a) / float64(b-a)
	mid := geometry.Point{X: from.X + q.MM(math.Round(t*float64(to.X-from.X))), Y: from.Y + q.MM(math.Round(t*float64(to.Y-from.Y)))}
	return l.Surface.Frame.Space(mid), true
}

// acrossAt is a point in space in l's coordinate across its strips.
func (l *Layout) acrossAt(p [3]float64) q.MM {
	axis := l.Surface.Frame.Y
	if l.Direction == strips.Upright {
		axis = l.Surface.Frame.X
	}
	sum := 0.0
	for i := range p {
		sum += (p[i] - l.Surface.Frame.Origin[i]) * axis[i]
	}
	return q.MM(math.Round(sum * 1000))
}
