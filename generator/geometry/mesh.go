package geometry

import (
	"cmp"
	"math"
	"slices"
)

// onLine is how near to zero a value counts as on the dividing line, in millimetres. It only absorbs the last digits of
// float64 (houses are below 1e6 mm, so 1e-6 mm is far above their rounding); what lies closer than a millimetre is
// brought together by Solid.Weld.
const onLine = 1e-6

// Vertex is a point of a mesh in millimetres, not yet rounded.
type Vertex struct{ X, Y, Z float64 }

// Cell is a face of a mesh: the vertices of its loop, counter-clockwise, and the tag of what it belongs to.
type Cell struct {
	Tag  int
	Loop []int
}

// mesh is a plane partition. Cells share vertices by number, so that neighbours stay neighbours whatever rounding does.
type mesh struct {
	verts []Vertex
	cells []Cell
	side  map[[2]int]int // directed boundary edge -> side of the outline, from 0
}

func newMesh(outline []Vertex, tag int) *mesh {
	m := &mesh{verts: slices.Clone(outline), side: make(map[[2]int]int, 2*len(outline))}
	loop := make([]int, len(outline))
	for i := range outline {
		loop[i] = i
		m.side[[2]int{i, (i + 1) % len(outline)}] = i
	}
	m.cells = []Cell{{Tag: tag, Loop: loop}}
	return m
}

// divider divides cells: value is linear over each cell and negative on the side that is cut off; direction is the
// direction of its zero line in a cell, with the negative side on the left.
type divider struct {
	picks     func(Cell) bool
	value     []float64 // by vertex
	direction func(Cell) (dx, dy float64)
}

func sign(v float64) int {
	switch {
	case v > onLine:
		return 1
	case v < -onLine:
		return -1
	}
	return 0
}

// divide splits the picked cells where d's value is zero. It gives for every cell of the mesh the side it now lies on:
// -1, 1, or 0 for cells that were not picked or lie flat on zero.
func (m *mesh) divide(d divider) []int {
	m.cutEdges(&d)
	var cells []Cell
	var sides []int
	for _, c := range m.cells {
		low, high := m.span(c, d)
		switch {
		case !d.picks(c) || low == 0 && high == 0:
			cells, sides = append(cells, c), append(sides, 0)
		case low == 0 || high == 0:
			cells, sides = append(cells, c), append(sides, low+high)
		default:
			for _, s := range []int{-1, 1} {
				for _, loop := range m.part(c, d, s) {
					cells, sides = append(cells, Cell{Tag: c.Tag, Loop: loop}), append(sides, s)
				}
			}
		}
	}
	m.cells = cells
	return sides
}

func (m *mesh) span(c Cell, d divider) (low, high int) {
	for _, v := range c.Loop {
		s := sign(d.value[v])
		low, high = min(low, s), max(high, s)
	}
	return low, high
}

// cutEdges puts a vertex on every edge that the zero line crosses, once for both neighbours.
func (m *mesh) cutEdges(d *divider) {
	cuts := map[[2]int]int{}
	for _, c := range m.cells {
		if !d.picks(c) {
			continue
		}
		for i, u := range c.Loop {
			v := c.Loop[(i+1)%len(c.Loop)]
			key := [2]int{min(u, v), max(u, v)}
			if _, done := cuts[key]; !done && sign(d.value[u])*sign(d.value[v]) < 0 {
				cuts[key] = m.cutEdge(u, v, d)
			}
		}
	}
	if len(cuts) == 0 {
		return
	}
	for n, c := range m.cells {
		loop := make([]int, 0, len(c.Loop)+2)
		for i, u := range c.Loop {
			v := c.Loop[(i+1)%len(c.Loop)]
			loop = append(loop, u)
			if w, ok := cuts[[2]int{min(u, v), max(u, v)}]; ok {
				loop = append(loop, w)
			}
		}
		m.cells[n].Loop = loop
	}
}

func (m *mesh) cutEdge(u, v int, d *divider) int {
	a, b := m.verts[u], m.verts[v]
	t := d.value[u] / (d.value[u] - d.value[v])
	w := len(m.verts)
	m.verts = append(m.verts, Vertex{a.X + t*(b.X-a.X), a.Y + t*(b.Y-a.Y), a.Z + t*(b.Z-a.Z)})
	d.value = append(d.value, 0)
	for _, e := range [][2]int{{u, v}, {v, u}} {
		if s, ok := m.side[e]; ok {
			delete(m.side, e)
			m.side[[2]int{e[0], w}], m.side[[2]int{w, e[1]}] = s, s
		}
	}
	return w
}

// part gives the loops of the part of c on side s. The outline's edges on that side are kept; what closes them runs along
// the zero line, all in one direction, and is found by balancing arrivals and departures from one end of the line to the
// other. That also takes in outline edges that lie on the line.
func (m *mesh) part(c Cell, d divider, s int) [][]int {
	var edges [][2]int
	balance := map[int]int{}
	var onZero []int
	for i, u := range c.Loop {
		v := c.Loop[(i+1)%len(c.Loop)]
		if sign(d.value[u]) == 0 && !slices.Contains(onZero, u) {
			onZero = append(onZero, u)
		}
		if sign(d.value[u]) == s || sign(d.value[v]) == s {
			edges = append(edges, [2]int{u, v})
			balance[u]--
			balance[v]++
		}
	}
	dx, dy := d.direction(c)
	if s > 0 {
		dx, dy = -dx, -dy
	}
	along := func(v int) float64 { return m.verts[v].X*dx + m.verts[v].Y*dy }
	slices.SortStableFunc(onZero, func(a, b int) int { return cmp.Compare(along(a), along(b)) })
	flow := 0
	for i := 0; i+1 < len(onZero); i++ {
		flow += balance[onZero[i]]
		for range flow {
			edges = append(edges, [2]int{onZero[i], onZero[i+1]})
		}
	}
	return trace(edges, func(v int) (x, y float64) { return m.verts[v].X, m.verts[v].Y })
}

// trace joins directed edges, the inside on their left, into simple loops. Edges that run there and back cancel. Loops
// that meet in one vertex stay apart.
func trace(edges [][2]int, at func(int) (x, y float64)) [][]int {
	edges = cancel(edges)
	out := map[int][]int{}
	for i, e := range edges {
		out[e[0]] = append(out[e[0]], i)
	}
	used := make([]bool, len(edges))
	var loops [][]int
	for i := range edges {
		var loop []int
		for e := i; e >= 0 && !used[e]; e = nextEdge(edges, out, used, e, at) {
			used[e] = true
			loop = append(loop, edges[e][0])
		}
		if len(loop) > 2 {
			loops = append(loops, loop)
		}
	}
	return loops
}

// nextEdge is the unused edge from e's end that comes first when turning clockwise from the way back; -1 if there is none.
func nextEdge(edges [][2]int, out map[int][]int, used []bool, e int, at func(int) (x, y float64)) int {
	if o := out[edges[e][1]]; len(o) == 1 {
		return o[0]
	}
	angle := func(from, to int) float64 {
		ax, ay := at(from)
		bx, by := at(to)
		return math.Atan2(by-ay, bx-ax)
	}
	back := angle(edges[e][1], edges[e][0])
	best, bestTurn := -1, math.Inf(1)
	for _, o := range out[edges[e][1]] {
		turn := math.Mod(back-angle(edges[o][0], edges[o][1])+4*math.Pi, 2*math.Pi)
		if turn == 0 {
			turn = 2 * math.Pi
		}
		if !used[o] && turn < bestTurn {
			best, bestTurn = o, turn
		}
	}
	return best
}

// cancel removes edges that run there and back, and edges of no length.
func cancel(edges [][2]int) [][2]int {
	count := make(map[[2]int]int, len(edges))
	for _, e := range edges {
		count[e]++
	}
	var kept [][2]int
	for _, e := range edges {
		back := [2]int{e[1], e[0]}
		switch {
		case e[0] == e[1]:
		case count[back] > 0 && count[e] > 0:
			count[back]--
			count[e]--
		case count[e] > 0:
			count[e]--
			kept = append(kept, e)
		}
	}
	return kept
}
