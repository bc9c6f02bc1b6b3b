package surface

import (
	"fmt"
	"math"

	"lapwork/generator/geometry"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// panel is a face of the room's solid before it is cut into connected surfaces.
type panel struct {
	role   Role
	edge   int
	slope  int
	dormer *dormer
	part   Part
	pitch  q.Degrees
	face   *job.Face
	axes   geometry.Axes
}

// id and name of the panel's first piece, without the room.
func (p panel) label() (id, name string) {
	switch {
	case p.dormer != nil && p.part == Top:
		return fmt.Sprintf("D%d-C1", p.dormer.no), fmt.Sprintf("dormer %d top", p.dormer.no)
	case p.dormer != nil:
		n := map[Part]int{Front: 1, LeftCheek: 2, RightCheek: 3}[p.part]
		return fmt.Sprintf("D%d-W%d", p.dormer.no, n), fmt.Sprintf("dormer %d %s", p.dormer.no, p.part)
	case p.role == Slope:
		return fmt.Sprintf("S%d", p.slope), fmt.Sprintf("slope %d", p.slope)
	case p.role == Ceiling:
		return "C1", "ceiling"
	case p.role == Floor:
		return "F1", "floor"
	}
	return fmt.Sprintf("%s%d", p.role.Letter(), p.edge), fmt.Sprintf("wall %d", p.edge)
}

func (b *builder) add(p panel) int {
	b.faces = append(b.faces, p)
	return b.solid.Face(p.axes, p.role == Ceiling)
}

// panels makes the faces of the solid in the order of ids: walls, slopes, ceiling, dormers, floor.
func (b *builder) panels() {
	r, n := b.room, len(b.outline)
	b.at.wall = make([]int, n)
	for edge := 1; edge <= n; edge++ {
		side := b.side(edge)
		from, to := b.ends(side)
		right, _ := edgeAxes(from, to)
		b.at.wall[side] = b.add(panel{role: b.wallRole(side), edge: edge, pitch: 90, face: b.wallFace(edge),
			axes: geometry.Axes{Origin: b.high(to, 0), X: right, Y: up}})
	}
	for i, s := range r.Ceiling.Slopes {
		from, to := b.ends(b.side(s.Edge))
		right, in := edgeAxes(from, to)
		sin, cos := math.Sincos(float64(s.Pitch) * math.Pi / 180)
		b.at.slope = append(b.at.slope, b.add(panel{role: Slope, edge: s.Edge, slope: i + 1, pitch: s.Pitch, face: b.slopeFace(i),
			axes: geometry.Axes{Origin: b.high(to, float64(s.Height)), X: right,
				Y: geometry.Vertex{X: in.X * cos, Y: in.Y * cos, Z: sin}}}))
	}
	box := b.outline.Bounds()
	plan := func(height float64) geometry.Axes {
		return geometry.Axes{Origin: b.high(box.Min, height), X: geometry.Vertex{X: 1}, Y: geometry.Vertex{Y: 1}}
	}
	b.flat = b.add(panel{role: Ceiling, face: &r.CeilingFace, axes: plan(float64(r.Ceiling.Height))})
	for i := range b.dormers {
		b.dormerPanels(&b.dormers[i], plan)
	}
	b.floor = b.add(panel{role: Floor, face: &r.Floor, axes: plan(0)})
}

// dormerPanels adds front, left cheek, right cheek and top, in this order.
func (b *builder) dormerPanels(d *dormer, plan func(float64) geometry.Axes) {
	edge := b.room.Ceiling.Slopes[d.Slope-1].Edge
	right, in := edgeAxes(b.ends(b.side(edge)))
	out := geometry.Vertex{X: -in.X, Y: -in.Y}
	wall := func(part Part, face *job.Face, corner int, x geometry.Vertex) int {
		o := d.outline[corner]
		o.Z = float64(b.base()) + d.sill
		return b.add(panel{role: Wall, edge: edge, dormer: d, part: part, pitch: 90, face: face,
			axes: geometry.Axes{Origin: o, X: x, Y: up}})
	}
	b.at.dormer = append(b.at.dormer, wall(Front, &d.Front, 0, right))
	wall(LeftCheek, &d.Cheeks, 1, out)
	wall(RightCheek, &d.Cheeks, 3, in)
	b.add(panel{role: Ceiling, edge: edge, dormer: d, part: Top, face: &d.Top, axes: plan(float64(d.Height))})
}

var up = geometry.Vertex{Z: 1}

// high is a plan point at a height over the room's floor.
func (b *builder) high(p geometry.Point, height float64) geometry.Vertex {
	return geometry.Vertex{X: float64(p.X), Y: float64(p.Y), Z: float64(b.base()) + height}
}

// wallRole tells walls by what the ceiling does over their edge: a slope of their own rises from it, or it is not level.
func (b *builder) wallRole(side int) Role {
	low, high := math.Inf(1), math.Inf(-1)
	for _, c := range b.env.Cells() {
		for i, u := range c.Loop {
			v := c.Loop[(i+1)%len(c.Loop)]
			if s, ok := b.env.Side(u, v); !ok || s != side {
				continue
			}
			if own := b.slopeUnder(c.Tag); own > 0 && b.side(b.room.Ceiling.Slopes[own-1].Edge) == side {
				return KneeWall
			}
			for _, z := range []float64{b.env.Vertex(u).Z, b.env.Vertex(v).Z} {
				low, high = min(low, z), max(high, z)
			}
		}
	}
	if high-low > 1 {
		return Gable
	}
	return Wall
}

// slopeUnder is the slope a cell belongs to, also where a dormer stands in it; 0 for the flat ceiling.
func (b *builder) slopeUnder(tag int) int {
	if d := tag - len(b.planes); d >= 0 {
		return b.dormers[d].Slope
	}
	return b.slopeOf[tag]
}

func (b *builder) wallFace(edge int) *job.Face {
	for _, w := range b.room.Walls {
		if w.Edge == edge {
			return &w.Face
		}
	}
	b.fault(b.room.Pos, "add it under walls", "nothing is said about wall %d", edge)
	return &job.Face{}
}

func (b *builder) slopeFace(i int) *job.Face {
	for _, f := range b.room.Slopes {
		if f.Slope == i+1 {
			return &f.Face
		}
	}
	b.fault(b.room.Pos, "add it under slopes", "nothing is said about slope %d", i+1)
	return &job.Face{}
}
