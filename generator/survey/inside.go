package survey

import (
	"fmt"
	"math"

	"lapwork/generator/geometry"
	q "lapwork/generator/quantity"
)

// inside cuts a spot to the outline of its surface, where that is no rectangle: the bounding box of what lies on it, if
// that does. It is false where the outline runs through it. Walls are cut by their height at the spot.
func (r *Room) inside(p spot) (spot, bool) {
	regions := r.outlines(p.in)
	if regions == nil || p.w <= 0 || p.h <= 0 {
		return p, regions == nil
	}
	for _, region := range regions {
		on := common([]geometry.Region{region}, plain([]geometry.Polygon{geometry.Rect(p.x, p.y, p.w, p.h)}))
		if len(on) == 0 {
			continue
		}
		box := on[0].Outer.Bounds()
		for shrink := q.MM(0); shrink <= 2; shrink++ { // rounding of slanting borders
			c := p
			c.x, c.y, c.w, c.h = box.Min.X+shrink, box.Min.Y+shrink, box.Width()-2*shrink, box.Height()-2*shrink
			if c.w > 2 && c.h > 2 && region.Holds(geometry.Rect(c.x+1, c.y+1, c.w-2, c.h-2)) {
				return c, true
			}
		}
	}
	return p, false
}

// outlines are the pieces of a slope, the ceiling or the floor in their own coordinates; nil for a wall.
func (r *Room) outlines(in string) []geometry.Region {
	var slope int
	box := r.Footprint.Bounds()
	flat := func(v geometry.Vertex) geometry.Point {
		return geometry.Point{X: q.MM(math.Round(v.X)) - box.Min.X, Y: q.MM(math.Round(v.Y)) - box.Min.Y}
	}
	wanted := -1 // of the slopes, from 0; −1: the flat ceiling
	switch {
	case in == "floor":
		var p geometry.Polygon
		for _, c := range r.Footprint {
			p = append(p, geometry.Point{X: c.X - box.Min.X, Y: c.Y - box.Min.Y})
		}
		return []geometry.Region{{Outer: p}}
	case in == "ceiling":
	default:
		if n, err := fmt.Sscanf(in, "slope %d", &slope); n != 1 || err != nil {
			return nil
		}
		wanted = slope - 1
		flat = r.onSlope(r.Slopes[wanted])
	}
	out := []geometry.Region{}
	env := r.measure()
	for _, c := range env.Cells() {
		if r.slopeOf(c.Tag) != wanted {
			continue
		}
		var p geometry.Polygon
		for _, n := range c.Loop {
			p = append(p, flat(env.Vertex(n)))
		}
		if p.Clockwise() {
			p = p.Reversed()
		}
		out = append(out, geometry.Region{Outer: p})
	}
	return out
}

// onSlope gives plan points in the coordinates of a slope: from the left end of its wall as seen from inside, and up.
func (r *Room) onSlope(s Slope) func(geometry.Vertex) geometry.Point {
	a, b := r.side(s.Edge)
	from, to := at(a), at(b)
	dir, long := to.Minus(from).Unit(), to.Minus(from).Length()
	in := Vec{-dir.Y, dir.X, 0}
	cos := math.Cos(float64(s.Pitch) * math.Pi / 180)
	return func(v geometry.Vertex) geometry.Point {
		d := Vec{v.X / 1000, v.Y / 1000, 0}.Minus(from)
		return geometry.Point{X: millimetres(long - d.Dot(dir)), Y: millimetres(d.Dot(in) / cos)}
	}
}
