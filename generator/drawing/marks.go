package drawing

import "math"

// The marks look alike in sections, strip layouts and the legend. All take points of the figure.

var (
	sheetStyle    = Style{Name: "sheet", Stroke: SheetInk, Width: sheetWidth}
	tapeBand      = Style{Name: "tape", Stroke: TapeInk, Width: 1.25, Fill: Ground}
	tapeTicks     = Style{Name: "tape-ticks", Stroke: TapeInk, Width: tapeWidth, Dash: "1.5 5.5"}
	beadStyle     = Style{Name: "bead", Fill: TapeInk, Stroke: Ground, Width: 1}
	adhesiveStyle = Style{Name: "adhesive", Stroke: TapeInk, Width: 3, Dash: "11 3 2.5 3"}
	primerStyle   = Style{Name: "primer", Stroke: TapeInk, Width: 3, Dash: "0.1 5.5", Round: true}
	membraneStyle = Style{Name: "membrane", Stroke: TapeInk, Width: 5}
	brushStyle    = Style{Name: "membrane-brush", Stroke: Ground, Width: 2, Dash: "3 3"}
	collarStyle   = Style{Name: "collar", Stroke: TapeInk, Width: 2}
	stapleStyle   = Style{Name: "staple", Stroke: Black, Width: 3}
	screwShaft    = Style{Name: "screw", Stroke: Black, Width: 2.5}
	screwThread   = Style{Name: "screw-thread", Stroke: Black, Width: 6, Dash: "1 3"}
	lapStyle      = Style{Name: "lap", Stroke: SheetInk, Width: fineWidth, Fill: Shade, Hatch: LapHatch}
	memberStyle   = Style{Name: "member", Stroke: Quiet, Width: fineWidth}
	openingStyle  = Style{Name: "opening", Stroke: Black, Width: seenWidth, Fill: Ground}
	crossStyle    = Style{Name: "opening-cross", Stroke: Quiet, Width: fineWidth}
	fineStyle     = Style{Name: "dimension", Stroke: Black, Width: fineWidth}
	tickStyle     = Style{Name: "dimension-tick", Stroke: Black, Width: 1.5}
)

const (
	tapeWidth = 8.0
	beadSize  = 4.5
)

func (b *board) tape(path []Pt) {
	left, right := offset(path, tapeWidth/2), offset(path, -tapeWidth/2)
	for i := len(right) - 1; i >= 0; i-- {
		left = append(left, right[i])
	}
	b.shape(tapeBand, true, left...)
	b.shape(tapeTicks, false, path...)
}

func (b *board) membrane(path []Pt) {
	b.shape(membraneStyle, false, path...)
	b.shape(brushStyle, false, path...)
}

// collar draws steps along the path: up and down by four pixels every ten.
func (b *board) collar(path []Pt) {
	const half, rise = 5.0, 3.5
	var out []Pt
	side := 1.0
	for i := 1; i < len(path); i++ {
		a, c := path[i-1], path[i]
		n, u, l := normal(a, c), unit(a, c), dist(a, c)
		for d := 0.0; d < l && len(out) < 2000; d += 2 * half {
			e := math.Min(d+2*half, l)
			out = append(out, add(add(a, times(u, d)), times(n, side*rise)), add(add(a, times(u, e)), times(n, side*rise)))
			side = -side
		}
	}
	b.shape(collarStyle, false, out...)
}

// fold draws a loop that leaves the sheet at p towards d.
func (b *board) fold(p, d Pt) {
	l := math.Hypot(d.X, d.Y)
	if l == 0 {
		d, l = Pt{0, -1}, 1
	}
	if l < 18 {
		d = times(d, 18/l)
	}
	side := times(Pt{-d.Y, d.X}, 0.6)
	back := times(d, -0.1)
	b.shape(Style{Name: "fold", Stroke: SheetInk, Width: sheetWidth - 0.5, Fill: Ground, Smooth: true}, true,
		add(p, back), add(add(p, times(d, 0.75)), side), add(p, times(d, 1.25)), sub(add(p, times(d, 0.75)), side))
}

func (b *board) staple(p, along Pt) {
	u := unit(Pt{}, along)
	n := Pt{-u.Y, u.X}
	b.shape(stapleStyle, false, sub(p, times(n, 7)), add(p, times(n, 7)))
	b.shape(stapleStyle, false, add(sub(p, times(n, 7)), times(u, -3)), add(sub(p, times(n, 7)), times(u, 3)))
}

func (b *board) screw(head, tip Pt) {
	n := times(normal(head, tip), 5)
	b.shape(Style{Name: "screw", Stroke: Black, Width: 3.5}, false, add(head, n), sub(head, n))
	b.shape(screwShaft, false, head, tip)
	b.shape(screwThread, false, lerp(head, tip, 0.45), tip)
}

// dimension draws a dimension line with oblique ticks.
func (b *board) dimension(from, to Pt) {
	u := unit(from, to)
	t := times(Pt{u.X - u.Y, u.X + u.Y}, 5)
	b.shape(fineStyle, false, sub(from, times(u, 4)), add(to, times(u, 4)))
	for _, p := range [2]Pt{from, to} {
		b.shape(tickStyle, false, sub(p, t), add(p, t))
	}
}

// offset moves a path sideways, corners mitred up to twice the distance.
func offset(path []Pt, d float64) []Pt {
	out := make([]Pt, 0, len(path))
	for i, p := range path {
		switch {
		case len(path) < 2:
			out = append(out, p)
		case i == 0:
			out = append(out, add(p, times(normal(p, path[1]), d)))
		case i == len(path)-1:
			out = append(out, add(p, times(normal(path[i-1], p), d)))
		default:
			out = append(out, add(p, mitre(path[i-1], p, path[i+1], d)))
		}
	}
	return out
}

func mitre(a, p, c Pt, d float64) Pt {
	n1, n2 := normal(a, p), normal(p, c)
	sum := add(n1, n2)
	if l := dot(sum, sum); l > 0.5 {
		return times(sum, 2*d/l)
	}
	return times(n1, d)
}

// endJoint marks an end joint on its member, with a pointer at its lower end.
func (b *board) endJoint(a, c Pt) {
	b.shape(Style{Name: "end-joint", Stroke: TapeInk, Width: 3, Dash: "7 3"}, false, a, c)
	low := a
	if c.Y > a.Y {
		low = c
	}
	b.shape(Style{Name: "end-joint-mark", Fill: TapeInk}, true, low, Pt{low.X - 6, low.Y + 10}, Pt{low.X + 6, low.Y + 10})
}

// hole draws a penetration with its collar.
func (b *board) hole(at Pt, r float64) {
	b.circle(Style{Name: "hole", Stroke: Black, Width: seenWidth, Fill: Ground}, at, r)
	b.circle(Style{Name: "hole-collar", Stroke: TapeInk, Width: seenWidth, Dash: "3 2"}, at, r+3)
}
