package surface

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"lapwork/generator/geometry"
	q "lapwork/generator/quantity"
	"lapwork/generator/sorting"
)

// side is one side of a surface's outline, as vertices of the solid.
type side struct {
	surface *Surface
	rank    int // order of the surface in its room
	n       int // number of the side
	u, v    int
	mirror  bool // the outline runs clockwise as seen from inside
}

// inside gives the side's vertices with the surface on the left as seen from inside.
func (s side) inside() [2]int {
	if s.mirror {
		return [2]int{s.v, s.u}
	}
	return [2]int{s.u, s.v}
}

// edges pairs the sides of a room's surfaces: the neighbour runs the other way along the same two vertices.
func (b *builder) edges(sides []side) []Edge {
	waiting := map[[2]int][]side{}
	var found []Edge
	for _, s := range sides {
		d := s.inside()
		back := [2]int{d[1], d[0]}
		if w := waiting[back]; len(w) > 0 {
			waiting[back] = w[1:]
			found = append(found, b.edge3(w[0], &s))
			continue
		}
		waiting[d] = append(waiting[d], s)
	}
	for _, s := range sides {
		if slices.ContainsFunc(waiting[s.inside()], func(w side) bool { return w.surface == s.surface && w.n == s.n }) {
			found = append(found, b.edge3(s, nil))
		}
	}
	rank := map[*Surface]int{}
	for _, s := range sides {
		rank[s.surface] = s.rank
	}
	sorting.StableFunc(found, func(x, y Edge) int {
		return cmp.Or(cmp.Compare(rank[x.A], rank[y.A]), cmp.Compare(rank[x.B], rank[y.B]), cmp.Compare(x.SideA, y.SideA))
	})
	nameEdges(found)
	return found
}

// compareRole orders roles as in edge ids: walls, knee walls, gables, slopes, ceilings, floors.
func compareRole(a, b *Surface) int { return cmp.Compare(a.Role, b.Role) }

// edge3 is the edge where x meets y; y nil where x ends without a neighbour.
func (b *builder) edge3(x side, y *side) Edge {
	if y != nil && cmp.Or(compareRole(y.surface, x.surface), cmp.Compare(y.rank, x.rank)) < 0 {
		first, second := *y, x
		x, y = first, &second
	}
	e := Edge{A: x.surface, SideA: x.n, SideB: -1, From: metres(b.solid.At(x.u)), To: metres(b.solid.At(x.v))}
	along := minus(e.To, e.From)
	e.Length = millimetres(along)
	e.Level = math.Abs(along[2]) <= 0.001
	if y != nil {
		e.B, e.SideB = y.surface, y.n
		if x.mirror {
			along = minus(e.From, e.To)
		}
		e.AngleDeg = between(e.A.Inward(), e.B.Inward(), along)
	}
	e.Runs = []Run{{0, e.Length}}
	return e
}

// between is the angle on the room side of two planes with these inward normals, in degrees; along runs with the first
// plane on its left as seen from inside.
func between(a, b, along [3]float64) q.Degrees {
	l := length(along)
	t := [3]float64{along[0] / l, along[1] / l, along[2] / l}
	intoA := cross(a, t)
	intoB := cross(t, b) // for the second plane the edge runs the other way
	deg := math.Atan2(dot(intoB, a), dot(intoB, intoA)) * 180 / math.Pi
	if deg < -1e-6 {
		deg += 360
	}
	return q.Degrees(math.Round(math.Abs(deg)*1000) / 1000)
}

// nameEdges gives ids, with .2 and so on where two surfaces meet more than once. A second piece of a slope ends in .2 too;
// the id it gives to its own edge goes first.
func nameEdges(edges []Edge) {
	taken := map[string]bool{}
	for i := range edges {
		e := &edges[i]
		id := e.pair()
		if !taken[id] {
			e.ID, taken[id] = id, true
		}
	}
	for i := range edges {
		e := &edges[i]
		id := e.pair()
		for n := 2; e.ID == ""; n++ {
			if next := fmt.Sprintf("%s.%d", id, n); !taken[next] {
				e.ID, taken[next] = next, true
			}
		}
	}
}

// pair names the two surfaces, the second without its room.
func (e *Edge) pair() string {
	if e.B == nil {
		return string(e.A.ID) + "+"
	}
	return string(e.A.ID) + "+" + strings.TrimPrefix(string(e.B.ID), string(e.B.Room.ID)+"-")
}

// netRuns takes the openings that reach an edge out of its runs.
func (r *RoomShape) netRuns() {
	for i := range r.Edges {
		e := &r.Edges[i]
		gaps := e.gaps(e.A, e.SideA, false)
		if e.B != nil {
			gaps = append(gaps, e.gaps(e.B, e.SideB, e.againstB())...)
		}
		sorting.Func(gaps, func(a, b Run) int { return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To)) })
		e.Runs = e.Runs[:0]
		at := q.MM(0)
		for _, g := range append(gaps, Run{e.Length, e.Length}) {
			if g.From > at {
				e.Runs = append(e.Runs, Run{at, g.From})
			}
			at = max(at, g.To)
		}
	}
}

// againstB says whether B's side runs against the edge.
func (e *Edge) againstB() bool {
	from, _ := e.B.Side(e.SideB)
	at := e.B.Frame.Space(from)
	return length(minus(at, e.From)) > length(minus(at, e.To))
}

// gaps gives the stretches of the edge that openings of s reach, as distances from the edge's start.
func (e *Edge) gaps(s *Surface, n int, against bool) []Run {
	var gaps []Run
	from, to := s.Side(n)
	for _, o := range s.Openings {
		for i, a := range o.Outline {
			g, ok := shared(from, to, a, o.Outline[(i+1)%len(o.Outline)])
			if !ok {
				continue
			}
			if against {
				g = Run{e.Length - g.To, e.Length - g.From}
			}
			gaps = append(gaps, Run{max(0, g.From), min(e.Length, g.To)})
		}
	}
	return gaps
}

// shared is the stretch of from–to that a–b lies on within a millimetre.
func shared(from, to, a, b geometry.Point) (Run, bool) {
	dx, dy := float64(to.X-from.X), float64(to.Y-from.Y)
	l := math.Hypot(dx, dy)
	along := func(p geometry.Point) float64 { return (float64(p.X-from.X)*dx + float64(p.Y-from.Y)*dy) / l }
	off := func(p geometry.Point) float64 { return math.Abs(float64(p.X-from.X)*dy-float64(p.Y-from.Y)*dx) / l }
	if off(a) > 1 || off(b) > 1 {
		return Run{}, false
	}
	lo, hi := min(along(a), along(b)), max(along(a), along(b))
	lo, hi = max(lo, 0), min(hi, l)
	return Run{q.MM(math.Round(lo)), q.MM(math.Round(hi))}, hi-lo > 1
}
