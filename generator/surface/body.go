package surface

import (
	"fmt"
	"slices"

	"lapwork/generator/geometry"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// levels of a plan vertex in the solid; dormers follow from 0 up.
const (
	atFloor = -2
	atSlope = -1
)

// assemble makes the closed solid: cells above, the floor below, walls round the footprint, and upright steps where a
// dormer's top stands over the slope.
func (b *builder) assemble() {
	made := map[[2]int]int{}
	vertex := func(v, level int) int {
		key := [2]int{v, level}
		n, ok := made[key]
		if !ok {
			p := b.env.Vertex(v)
			switch {
			case level == atFloor:
				p.Z = 0
			case level >= 0:
				p.Z = float64(b.dormers[level].Height)
			}
			p.Z += float64(b.base())
			n = b.solid.Vertex(p)
			made[key] = n
		}
		return n
	}
	for i := range b.outline { // first, so that welding keeps the footprint's corners where they are
		vertex(i, atFloor)
	}
	for _, c := range b.env.Cells() {
		b.solid.Ring(b.faceOver(c.Tag), b.reversed(c, vertex)...)
		for i, u := range c.Loop {
			b.upright(c, u, c.Loop[(i+1)%len(c.Loop)], vertex)
		}
	}
	b.solid.Weld()
}

// reversed is a cell's loop at the height of its ceiling, as seen from below.
func (b *builder) reversed(c geometry.Cell, vertex func(v, level int) int) []int {
	var loop []int
	for _, v := range c.Loop {
		loop = append(loop, vertex(v, b.level(c.Tag)))
	}
	slices.Reverse(loop)
	return loop
}

// upright adds what stands on the edge from u to v of a cell: the wall below it, the step up to a dormer's top.
func (b *builder) upright(c geometry.Cell, u, v int, vertex func(v, level int) int) {
	level := b.level(c.Tag)
	if level >= 0 {
		d := b.dormers[level]
		offset := slices.Index([]Part{Front, LeftCheek, RightCheek, Top, ""}, d.partAt(b.env.Vertex(u), b.env.Vertex(v)))
		// Edges between two pieces of one top get their step from both sides, and the two cancel. At the back top and
		// slope meet, and welding leaves nothing of the step; it is booked on the top.
		offset = min(offset, 3)
		b.solid.Ring(b.at.dormer[level]+offset, vertex(u, level), vertex(v, level), vertex(v, atSlope), vertex(u, atSlope))
	}
	if side, ok := b.env.Side(u, v); ok {
		b.solid.Ring(b.at.wall[side], vertex(u, atSlope), vertex(v, atSlope), vertex(v, atFloor), vertex(u, atFloor))
		b.solid.Edge(b.floor, vertex(u, atFloor), vertex(v, atFloor))
	}
}

// level is a cell's level in the solid.
func (b *builder) level(tag int) int { return max(atSlope, tag-len(b.planes)) }

func (b *builder) faceOver(tag int) int {
	switch {
	case tag >= len(b.planes):
		return b.at.dormer[tag-len(b.planes)] + 3
	case b.slopeOf[tag] == 0:
		return b.flat
	}
	return b.at.slope[b.slopeOf[tag]-1]
}

// surfaces reads surfaces and edges off the solid.
func (b *builder) surfaces() ([]*Surface, []Edge) {
	var all []*Surface
	var sides []side
	for f, p := range b.faces {
		for i, part := range b.solid.Parts(f) {
			s := b.surface(p, i, part)
			all = append(all, s)
			n := 0
			for _, loop := range part.Loops {
				for k, u := range loop {
					sides = append(sides, side{surface: s, rank: len(all), n: n, u: u, v: loop[(k+1)%len(loop)], mirror: p.role == Ceiling})
					n++
				}
			}
		}
	}
	return all, b.edges(sides)
}

func (b *builder) surface(p panel, piece int, part geometry.Part) *Surface {
	id, name := p.label()
	switch {
	case piece > 0 && p.role == Ceiling && p.dormer == nil:
		id, name = fmt.Sprintf("C%d", piece+1), fmt.Sprintf("ceiling %d", piece+1)
	case piece > 0:
		id, name = fmt.Sprintf("%s.%d", id, piece+1), fmt.Sprintf("%s.%d", name, piece+1)
	}
	s := &Surface{
		ID: job.SurfaceID(string(b.room.ID) + "-" + id), Room: b.room, Role: p.role, Face: p.face, Name: name,
		Frame:   Frame{Origin: metres(p.axes.Origin), X: unit(p.axes.X), Y: unit(p.axes.Y)},
		Outline: part.Region.Outer, Holes: part.Region.Holes,
		PlanEdge: p.edge, SlopeNo: p.slope, Pitch: p.pitch, Part: p.part, Gross: part.Area, Net: part.Area,
	}
	if p.dormer != nil {
		s.Dormer = p.dormer.Dormer
		if p.part == Top {
			s.PlanEdge = 0
		}
	}
	s.properties()
	return s
}

func metres(v geometry.Vertex) [3]float64 { return [3]float64{v.X / 1000, v.Y / 1000, v.Z / 1000} }

// unit adds zero so that no minus zero reaches a printed frame.
func unit(v geometry.Vertex) [3]float64 { return [3]float64{v.X + 0, v.Y + 0, v.Z + 0} }

func millimetres(v [3]float64) q.MM { return q.MMOf(q.Length(length(v))) }
