package survey

import (
	"fmt"
	"math"

	"lapwork/generator/diag"
	"lapwork/generator/geometry"
	q "lapwork/generator/quantity"
	"lapwork/generator/sorting"
)

// Gap is a stretch where the boundary of the heated volume ends in a room and goes on in no other.
type Gap struct {
	Room    *Room
	Between string // the two surfaces that meet there
	Length  q.Length
}

// border is an edge of a room between a surface that bounds the heated volume and one that does not: the boundary has to
// go on in a neighbouring room.
type border struct {
	room    *Room
	between string
	a, b    Vec
}

// layerEdges follows the boundary over all rooms. It needs rooms in their places, so lists without plan are not looked at.
func (s *surveyor) layerEdges() {
	var all []border
	placed := false
	for _, r := range s.Rooms {
		placed = placed || r.Basis != FromShape || r.Space.Shape.Placed
		if r.Heated {
			all = append(all, r.borders()...)
		}
	}
	if !placed {
		return
	}
	perRoom := map[*Room]float64{}
	for i, e := range all {
		long := e.b.Minus(e.a).Length()
		open := long - covered(e, all, i)
		s.Closed += q.Length(long - open)
		if open > 0.1 {
			s.Gaps = append(s.Gaps, Gap{e.room, e.between, q.Length(open)})
			perRoom[e.room] += open
		}
	}
	for _, r := range s.Rooms {
		if sum := perRoom[r]; sum > 0 {
			var where []string
			for _, g := range s.Gaps {
				if g.Room == r {
					where = append(where, fmt.Sprintf("%s, %.2f m", g.Between, float64(g.Length)))
				}
			}
			s.Found.Openf(r.Space.Pos, string(r.ID), "see what lies behind these surfaces and correct their faces in the job",
				"room %s (%s): the layer ends at an edge and goes on in no neighbouring room (%s)", r.ID, r.Name, some(where))
		}
	}
}

// borders are the edges of a room's boundary.
func (r *Room) borders() []border {
	env := r.measure()
	up := func(v geometry.Vertex) Vec { return Vec{v.X / 1000, v.Y / 1000, r.floor + v.Z/1000} }
	var out []border
	add := func(k, o Kind, nameK, nameO string, a, b Vec) {
		if k.Bounds() != o.Bounds() && b.Minus(a).Length() > 0.05 {
			out = append(out, border{r, nameK + " and " + nameO, a, b})
		}
	}
	n := len(r.Footprint)
	for i := range r.Footprint {
		a, b := at(r.Footprint[i]), at(r.Footprint[(i+1)%n])
		a.Z, b.Z = r.floor, r.floor
		wall, before := fmt.Sprintf("wall %d", i+1), fmt.Sprintf("wall %d", (i+n-1)%n+1)
		top := a
		top.Z += r.over(a) / 1000
		add(r.Walls[(i+n-1)%n], r.Walls[i], before, wall, a, top)
		if max(r.over(a), r.over(b)) > 1 {
			add(r.Walls[i], r.Floor, wall, "floor", a, b)
		}
	}
	owner := map[[2]int]int{}
	for _, c := range env.Cells() {
		for k, u := range c.Loop {
			owner[[2]int{u, c.Loop[(k+1)%len(c.Loop)]}] = c.Tag
		}
	}
	for _, c := range env.Cells() {
		kind, name := r.cell(c.Tag)
		for k, u := range c.Loop {
			v := c.Loop[(k+1)%len(c.Loop)]
			a, b := env.Vertex(u), env.Vertex(v)
			if side, ok := env.Side(u, v); ok {
				if max(a.Z, b.Z) > 1 {
					add(r.Walls[side], kind, fmt.Sprintf("wall %d", side+1), name, up(a), up(b))
				} else {
					add(kind, r.Floor, name, "floor", up(a), up(b))
				}
			} else if other, ok := owner[[2]int{v, u}]; ok && other > c.Tag {
				next, nextName := r.cell(other)
				add(kind, next, name, nextName, up(a), up(b))
			}
		}
	}
	return out
}

// cell is the surface over a cell of the envelope.
func (r *Room) cell(tag int) (Kind, string) {
	if i := r.slopeOf(tag); i >= 0 {
		return r.Slopes[i].Kind, fmt.Sprintf("slope %d", i+1)
	}
	return r.Ceiling, "ceiling"
}

// covered is the length of an edge beside which another room's boundary ends too: parallel, no farther off than a wall or
// floor is deep. Ends may fall short by half of that, as where an inside wall meets the outer one.
func covered(e border, all []border, self int) float64 {
	dir, long := e.b.Minus(e.a).Unit(), e.b.Minus(e.a).Length()
	var spans [][2]float64
	for i, o := range all {
		if i == self || o.room == e.room {
			continue
		}
		other := o.b.Minus(o.a).Unit()
		if dir.Cross(other).Length() > 0.1 {
			continue
		}
		d := o.a.Minus(e.a)
		if d.Minus(dir.Times(d.Dot(dir))).Length() > wallDeep {
			continue
		}
		t0, t1 := d.Dot(dir), o.b.Minus(e.a).Dot(dir)
		t0, t1 = max(0, min(t0, t1)-wallDeep/2), min(long, max(t0, t1)+wallDeep/2)
		if t1 > t0 {
			spans = append(spans, [2]float64{t0, t1})
		}
	}
	sorting.Func(spans, func(a, b [2]float64) int { return int(math.Copysign(1, a[0]-b[0])) })
	sum, end := 0.0, 0.0
	for _, sp := range spans {
		if sp[1] > end {
			sum += sp[1] - max(end, sp[0])
			end = sp[1]
		}
	}
	return sum
}

func (s *surveyor) top() diag.Pos { return diag.Pos{File: s.Source.Name} }
