package svg

import (
	"math"

	"lapwork/generator/drawing"
)

const (
	unseen   = 0.1 // pixels: a point so near to the line of its neighbours changes nothing for the eye
	thinFrom = 8   // points: shorter lines are mostly corners
)

// thinned leaves out the points of a long line that lie on it anyway, as those of a year of days do: of each stretch it
// keeps the point that is farthest off, until none is farther than the eye can see (Douglas and Peucker's method).
func thinned(points []drawing.Pt) []drawing.Pt {
	if len(points) < thinFrom {
		return points
	}
	keep := make([]bool, len(points))
	keep[0], keep[len(points)-1] = true, true
	stretches := [][2]int{{0, len(points) - 1}}
	for len(stretches) > 0 {
		s := stretches[len(stretches)-1]
		stretches = stretches[:len(stretches)-1]
		if at, off := farthestOff(points, s[0], s[1]); off > unseen {
			keep[at] = true
			stretches = append(stretches, [2]int{s[0], at}, [2]int{at, s[1]})
		}
	}
	out := make([]drawing.Pt, 0, len(points))
	for i, p := range points {
		if keep[i] {
			out = append(out, p)
		}
	}
	return out
}

// farthestOff finds the point between two others that lies farthest off the stretch from one to the other, in pixels.
func farthestOff(points []drawing.Pt, from, to int) (at int, off float64) {
	a, b := points[from], points[to]
	dx, dy := b.X-a.X, b.Y-a.Y
	length := math.Hypot(dx, dy)
	for i := from + 1; i < to; i++ {
		x, y := points[i].X-a.X, points[i].Y-a.Y
		along := 0.0
		if length > 0 {
			along = math.Max(0, math.Min(1, (x*dx+y*dy)/(length*length)))
		}
		if d := math.Hypot(x-along*dx, y-along*dy); d > off {
			at, off = i, d
		}
	}
	return at, off
}
