package strips

import (
	"pgregory.net/rapid"

	"lapwork/generator/geometry"
	q "lapwork/generator/quantity"
)

// within draws a length.
func within(t *rapid.T, low, high int, name string) q.MM {
	return q.MM(rapid.IntRange(low, high).Draw(t, name))
}

// anySurface draws walls with odd millimetres, steps, a recess, slopes of any pitch, gables and panes, with openings inside.
func anySurface(t *rapid.T) Problem {
	w, h := within(t, 300, 3000, "w"), within(t, 300, 2500, "h")
	var outline geometry.Polygon
	a, b := within(t, 1, int(w)-1, "a"), within(t, 1, int(h)-1, "b")
	switch rapid.IntRange(0, 6).Draw(t, "shape") {
	case 0:
		outline = wall(w, h)
	case 1: // step
		outline = geometry.Polygon{{X: 0, Y: 0}, {X: w, Y: 0}, {X: w, Y: b}, {X: a, Y: b}, {X: a, Y: h}, {X: 0, Y: h}}
	case 2: // gable, not always symmetrical
		outline = geometry.Polygon{{X: 0, Y: 0}, {X: w, Y: 0}, {X: w, Y: b}, {X: a, Y: h}, {X: 0, Y: b}}
	case 3: // wall under a slope
		outline = geometry.Polygon{{X: 0, Y: 0}, {X: w, Y: 0}, {X: w, Y: h}, {X: a, Y: h}, {X: 0, Y: b}}
	case 4: // four-cornered pane, leaning
		outline = geometry.Polygon{{X: 0, Y: 0}, {X: w, Y: 0}, {X: w + a, Y: h}, {X: a / 2, Y: h}}
	case 5: // star: corners in eight directions from a middle
		for _, d := range []geometry.Point{{X: 3, Y: -1}, {X: 2, Y: 2}, {X: 1, Y: 3}, {X: -1, Y: 2}, {X: -3, Y: 1}, {X: -2, Y: -2}, {X: 0, Y: -3}, {X: 1, Y: -2}} {
			r := within(t, 50, 400, "radius")
			outline = append(outline, geometry.Point{X: 1200 + r*d.X, Y: 1200 + r*d.Y})
		}
	default: // arrow: not convex
		outline = geometry.Polygon{{X: 0, Y: 0}, {X: w, Y: h}, {X: 0, Y: 2 * h}, {X: w / 3, Y: h}}
	}
	p := Problem{Outline: outline, RollWidth: within(t, 200, 1600, "width"), EndAllowance: within(t, 0, 60, "allowance"),
		EndJointLap: within(t, 10, 150, "joint"), SeamAnywhere: true, Direction: Direction(rapid.IntRange(0, 1).Draw(t, "direction"))}
	p.Lap = within(t, 1, min(150, int(p.RollWidth-MinStep)), "lap")
	if rapid.Bool().Draw(t, "turned") {
		for range outline {
			p.Turns = append(p.Turns, within(t, 0, 120, "turn"))
		}
	}
	if rapid.Bool().Draw(t, "stops") {
		p.StopGap = max(1, 2*p.EndAllowance) + within(t, 0, 600, "gap")
	}
	for range rapid.IntRange(0, 2).Draw(t, "holes") {
		p.Holes = append(p.Holes, anyHole(t, w, h))
	}
	return p
}

func anyHole(t *rapid.T, w, h q.MM) Hole {
	x, y := within(t, 1, int(w)-100, "x"), within(t, 1, int(h)-100, "y")
	dx, dy := within(t, 50, max(51, int(w-x)-10), "dx"), within(t, 50, max(51, int(h-y)-10), "dy")
	hole := wall(dx, dy)
	if rapid.Bool().Draw(t, "round") { // eight corners
		hole = geometry.Polygon{{X: dx / 4, Y: 0}, {X: dx - dx/4, Y: 0}, {X: dx, Y: dy / 3}, {X: dx, Y: dy - dy/3}, {X: dx - dx/4, Y: dy}, {X: dx / 4, Y: dy}, {X: 0, Y: dy - dy/3}, {X: 0, Y: dy / 3}}
	}
	return Hole{moved(hole, x, y), within(t, 0, 40, "in")}
}

func moved(ring geometry.Polygon, dx, dy q.MM) geometry.Polygon {
	out := make(geometry.Polygon, len(ring))
	for i, p := range ring {
		out[i] = geometry.Point{X: p.X + dx, Y: p.Y + dy}
	}
	return out
}

// mapped moves every corner of the problem.
func mapped(p Problem, f func(geometry.Point) geometry.Point) Problem {
	ring := func(r geometry.Polygon) geometry.Polygon {
		out := make(geometry.Polygon, len(r))
		for i, c := range r {
			out[i] = f(c)
		}
		return out
	}
	p.Outline = ring(p.Outline)
	holes := p.Holes
	p.Holes = nil
	for _, h := range holes {
		p.Holes = append(p.Holes, Hole{ring(h.Outline), h.TurnIn})
	}
	return p
}

// supported adds studs and battens to join on, and a longest piece.
func supported(t *rapid.T, p Problem) Problem {
	for x := within(t, -200, 200, "stud"); x < 7000; x += within(t, 60, 400, "pitch") {
		p.JointAt = append(p.JointAt, x)
	}
	if rapid.Bool().Draw(t, "joined") {
		p.MaxPiece = p.EndJointLap + 2*p.EndAllowance + 100 + within(t, 400, 3000, "piece")
	}
	if rapid.Bool().Draw(t, "neighbour") {
		p.ClearBy = within(t, 1, 300, "clear")
		for v := within(t, -200, 400, "seam"); v < 4000; v += within(t, 200, 1500, "seams") {
			p.KeepClear = append(p.KeepClear, v)
		}
	}
	if rapid.Bool().Draw(t, "battens") {
		p.SeamAnywhere, p.SeamTol = false, within(t, 0, 15, "tolerance")
		for v := within(t, -200, 200, "batten"); v < 7000; v += within(t, 100, 300, "battens") {
			p.SeamAt = append(p.SeamAt, v)
		}
	}
	return p
}

// limited sometimes sets a widest lap.
func limited(t *rapid.T, p Problem) Problem {
	if rapid.Bool().Draw(t, "limited") {
		p.MaxLap = within(t, int(p.Lap), int(p.RollWidth), "widest lap")
	}
	return p
}
