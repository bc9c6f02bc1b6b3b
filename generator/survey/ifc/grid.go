package ifc

import (
	"math"
	"slices"

	"lapwork/generator/survey"
)

// gridSize is the side of a grid's cells in plan, in metres; gridMost bounds how many cells one thing is entered in.
const (
	gridSize = 5.0
	gridMost = 4096
)

// grid finds things by their place in plan, so that work grows with the building and not with its square.
type grid struct {
	cells map[[2]int32][]int
	large []int // in too many cells to be entered
}

func newGrid() *grid { return &grid{cells: map[[2]int32][]int{}} }

// over gives the cells under a box; ok is false where there are too many, or the box is none.
func over(low, top vec) (from, to [2]int32, ok bool) {
	w, d := (top.X-low.X)/gridSize+1, (top.Y-low.Y)/gridSize+1
	if !(w*d < gridMost) || !(math.Abs(low.X)+math.Abs(low.Y) < 1e9) {
		return from, to, false
	}
	at := func(v vec) [2]int32 {
		return [2]int32{int32(math.Floor(v.X / gridSize)), int32(math.Floor(v.Y / gridSize))}
	}
	return at(low), at(top), true
}

// add enters thing i with its box.
func (g *grid) add(i int, low, top vec) {
	from, to, ok := over(low, top)
	if !ok {
		g.large = append(g.large, i)
		return
	}
	for x := from[0]; x <= to[0]; x++ {
		for y := from[1]; y <= to[1]; y++ {
			g.cells[[2]int32{x, y}] = append(g.cells[[2]int32{x, y}], i)
		}
	}
}

// near gives the things whose cells lie under a box made larger by a distance, in the order of their numbers.
func (g *grid) near(low, top vec, by float64) []int {
	d := vec{X: by, Y: by}
	from, to, ok := over(low.Minus(d), top.Plus(d))
	out := slices.Clone(g.large)
	if !ok {
		for _, l := range g.cells {
			out = append(out, l...)
		}
	} else {
		for x := from[0]; x <= to[0]; x++ {
			for y := from[1]; y <= to[1]; y++ {
				out = append(out, g.cells[[2]int32{x, y}]...)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// faceGrid enters the faces made so far.
func (b *builder) faceGrid() *grid {
	g := newGrid()
	for i, f := range b.b.Faces {
		low, top := box([]survey.Poly{f.Poly})
		g.add(i, low, top)
	}
	return g
}
