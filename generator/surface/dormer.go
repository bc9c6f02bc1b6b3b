package surface

import (
	"math"

	"lapwork/generator/geometry"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// dormer is a dormer that fits its slope.
type dormer struct {
	*job.Dormer
	no      int               // its place in the room's list, from 1
	outline []geometry.Vertex // in plan, counter-clockwise; sides: left cheek, back, right cheek, front
	sill    float64           // the slope's height at the front, over the floor, mm
}

// dormerSides are the parts that stand on the sides of the outline; nothing stands at the back, where top and slope meet.
var dormerSides = [...]Part{LeftCheek, "", RightCheek, Front}

func (b *builder) carveDormers() {
	for i, d := range b.room.Dormers {
		if !b.checkDormer(i+1, d) {
			continue
		}
		s := b.room.Ceiling.Slopes[d.Slope-1]
		at := b.alongSlope(d.Slope)
		back := float64(d.Height-s.Height) / math.Tan(float64(s.Pitch)*math.Pi/180)
		from, to, front := float64(d.From), float64(d.To), float64(d.Depth)
		kept := dormer{Dormer: d, no: i + 1, sill: float64(s.Height) + rise(s, d.Depth),
			outline: []geometry.Vertex{at(from, front), at(from, back), at(to, back), at(to, front)}}
		if b.overlapsDormer(kept) {
			continue
		}
		if !b.env.Carve(b.planeOf(d.Slope), kept.outline, len(b.planes)+len(b.dormers)) {
			b.fault(orPos(d.Pos, b.room.Pos), "check from, to, depth and height against the slope; its ceiling may not stand above the room's",
				"dormer %d reaches %.0f mm in from the wall and leaves slope %d", i+1, back, d.Slope)
			continue
		}
		b.dormers = append(b.dormers, kept)
	}
}

// checkDormer reports what can be told from a dormer's figures and its slope's.
func (b *builder) checkDormer(no int, d *job.Dormer) bool {
	pos := orPos(d.Pos, b.room.Pos)
	if d.Slope < 1 || d.Slope > len(b.room.Ceiling.Slopes) || b.planeOf(d.Slope) < 0 {
		b.fault(pos, "give the number of the slope it stands in", "dormer %d stands in slope %d, which the room does not have", no, d.Slope)
		return false
	}
	s := b.room.Ceiling.Slopes[d.Slope-1]
	if d.To-d.From < 100 || d.Depth < 0 || d.From < 0 {
		b.fault(pos, "from and to are measured along the slope's wall from its left end, seen from inside, depth inwards", "dormer %d is not at least 100 mm wide or stands outside", no)
		return false
	}
	sill := q.MM(math.Round(float64(s.Height) + rise(s, d.Depth)))
	slack := q.MM(math.Ceil(1 + rise(s, 1))) // both figures are rounded to the millimetre
	if d.Sill != 0 && (d.Sill > sill+slack || d.Sill < sill-slack) {
		in := float64(d.Sill-s.Height) / rise(s, 1)
		b.fault(pos, "the front's lower edge lies on the slope: "+lengthHint(sill, in),
			"dormer %d: its front %d mm in from the wall meets the slope at %d mm, not at the sill's %d mm", no, d.Depth, sill, d.Sill)
		return false
	}
	if d.Height < sill+100 {
		b.fault(pos, "height is the dormer ceiling's height over the floor", "dormer %d: its ceiling at %d mm is not 100 mm over its front's lower edge at %d mm", no, d.Height, sill)
		return false
	}
	return true
}

// overlapsDormer reports a dormer that is not clear of an earlier one in the same slope.
func (b *builder) overlapsDormer(d dormer) bool {
	for _, o := range b.dormers {
		if o.Slope != d.Slope || d.From > o.To+10 || o.From > d.To+10 {
			continue
		}
		backs := func(x dormer) float64 { return geometry.Distance(x.outline[0], x.outline[1]) }
		if float64(d.Depth) > float64(o.Depth)+backs(o)+10 || float64(o.Depth) > float64(d.Depth)+backs(d)+10 {
			continue
		}
		b.fault(orPos(d.Pos, b.room.Pos), "leave 10 mm between them, or state them as one dormer", "dormers %d and %d overlap or touch", o.no, d.no)
		return true
	}
	return false
}

// alongSlope gives plan points by their distance along a slope's edge, from its left end as seen from inside, and inwards.
func (b *builder) alongSlope(slope int) func(along, in float64) geometry.Vertex {
	from, to := b.ends(b.side(b.room.Ceiling.Slopes[slope-1].Edge))
	x, in := edgeAxes(from, to)
	return func(u, d float64) geometry.Vertex {
		return geometry.Vertex{X: float64(to.X) + u*x.X + d*in.X, Y: float64(to.Y) + u*x.Y + d*in.Y}
	}
}

// edgeAxes gives, for a side that runs counter-clockwise, the unit vectors to the right as seen from inside and inwards.
func edgeAxes(from, to geometry.Point) (right, in geometry.Vertex) {
	dx, dy := float64(from.X-to.X), float64(from.Y-to.Y)
	l := math.Hypot(dx, dy)
	return geometry.Vertex{X: dx / l, Y: dy / l}, geometry.Vertex{X: dy / l, Y: -dx / l}
}

// partAt says which part stands on the edge from u to v of the dormer's outline.
func (d dormer) partAt(u, v geometry.Vertex) Part {
	mid := geometry.Vertex{X: (u.X + v.X) / 2, Y: (u.Y + v.Y) / 2}
	best, part := math.Inf(1), Part("")
	for i, a := range d.outline {
		e := d.outline[(i+1)%len(d.outline)]
		l := geometry.Distance(a, e)
		off := math.Abs((e.X-a.X)*(mid.Y-a.Y)-(e.Y-a.Y)*(mid.X-a.X)) / l
		if off < best {
			best, part = off, dormerSides[i]
		}
	}
	return part
}
