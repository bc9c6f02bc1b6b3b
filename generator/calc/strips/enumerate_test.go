package strips

import (
	"errors"
	"testing"

	"pgregory.net/rapid"

	"lapwork/generator/geometry"
	q "lapwork/generator/quantity"
)

// cell is the raster of the enumerated surfaces: every corner, roll width, lap and position is a multiple of it, so a surface
// is a set of cells and nothing about it needs geometry.
const cell = 20

// picture is a surface as cells; cells[v][u] says whether the sheet must cover it. The box starts at cell (u0, v0).
type picture struct {
	cells  [][]bool
	u0, v0 int
}

// inside is the even-odd rule for the middle of a cell, for rings along the axes.
func inside(ring geometry.Polygon, u, v int) bool {
	in := false
	x, y := q.MM(u*cell+cell/2), q.MM(v*cell+cell/2)
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		if a.X == b.X && a.X > x && (a.Y > y) != (b.Y > y) {
			in = !in
		}
	}
	return in
}

// paint builds D by its definition: a cell is covered when a cell of the outline lies within the turn of it, both ways (the mitred
// offset of a right-angled outline), and not every cell within the hole's turn-in belongs to the hole.
func paint(p Problem, size int) picture {
	pic := picture{u0: -3, v0: -3}
	turn := int(p.Turns[0]) / cell
	within := func(ring geometry.Polygon, u, v, reach int, want bool) bool {
		for dv := -reach; dv <= reach; dv++ {
			for du := -reach; du <= reach; du++ {
				if inside(ring, u+du, v+dv) == want {
					return true
				}
			}
		}
		return false
	}
	for v := pic.v0; v < size+3; v++ {
		row := make([]bool, 0, size+6)
		for u := pic.u0; u < size+3; u++ {
			on := within(p.Outline, u, v, turn, true)
			for _, h := range p.Holes {
				on = on && within(h.Outline, u, v, int(h.TurnIn)/cell, false)
			}
			row = append(row, on)
		}
		pic.cells = append(pic.cells, row)
	}
	return pic
}

// columns says which columns have a covered cell in rows v to v+rows.
func (pic picture) columns(v, rows int) []bool {
	out := make([]bool, len(pic.cells[0]))
	for y := max(v, pic.v0); y < v+rows && y-pic.v0 < len(pic.cells); y++ {
		for i, on := range pic.cells[y-pic.v0] {
			out[i] = out[i] || on
		}
	}
	return out
}

// score is the objective in millimetres.
type score struct{ length, pieces, tape int }

func (a score) less(b score) bool {
	if a.length != b.length {
		return a.length < b.length
	}
	if a.pieces != b.pieces {
		return a.pieces < b.pieces
	}
	return a.tape < b.tape
}

// enumerator tries every arrangement on the raster.
type enumerator struct {
	p           Problem
	pic         picture
	low, high   int // first and one past the last row with a covered cell
	width, lap  int
	most        int // widest lap
	best        score
	at          []int
	found       bool
	stripScores map[int]*score
}

func count(on []bool) int {
	n := 0
	for _, x := range on {
		if x {
			n++
		}
	}
	return n * cell
}

// strip scores one band, nil where it can not be joined.
func (e *enumerator) strip(v int) *score {
	if s, ok := e.stripScores[v]; ok {
		return s
	}
	cols := e.pic.columns(v, e.width)
	var sum score
	result := &sum
	for i := 0; i < len(cols); i++ {
		if !cols[i] {
			continue
		}
		end := i + 1 // one past the run
		for k := end; k < len(cols); k++ {
			if cols[k] && (e.p.StopGap == 0 || (k-end)*cell < int(e.p.StopGap)) {
				end = k + 1
			} else if cols[k] {
				break
			}
		}
		run := e.run(v, (i+e.pic.u0)*cell, (end+e.pic.u0)*cell)
		if run == nil {
			result = nil
			break
		}
		sum = score{sum.length + run.length, sum.pieces + run.pieces, sum.tape + run.tape}
		i = end
	}
	e.stripScores[v] = result
	return result
}

// run tries every set of joints, the smaller sets first.
func (e *enumerator) run(v, from, to int) *score {
	whole := to - from + 2*int(e.p.EndAllowance)
	if e.p.MaxPiece == 0 || whole <= int(e.p.MaxPiece) {
		return &score{whole, 1, 0}
	}
	lap := int(e.p.EndJointLap)
	var best *score
	for set := 1; set < 1<<len(e.p.JointAt); set++ {
		start, joints, tape, fits := from-int(e.p.EndAllowance), 0, 0, true
		for i, u := range e.p.JointAt {
			if set>>i&1 == 0 {
				continue
			}
			fits = fits && int(u) > from && int(u) < to && int(u)+lap/2-start <= int(e.p.MaxPiece)
			start = int(u) - lap/2
			joints++
			tape += e.across(v, start/cell, (int(u)+lap/2)/cell)
		}
		fits = fits && to+int(e.p.EndAllowance)-start <= int(e.p.MaxPiece)
		if s := (score{whole + joints*lap, joints + 1, tape}); fits && (best == nil || s.pieces < best.pieces || s.pieces == best.pieces && s.tape < best.tape) {
			best = &s
		}
	}
	return best
}

// across counts the rows of the band with a covered cell in columns u0 to u1.
func (e *enumerator) across(v, u0, u1 int) int {
	rows := make([]bool, e.width)
	for i := range rows {
		y := v + i - e.pic.v0
		for u := u0 - e.pic.u0; u < u1-e.pic.u0; u++ {
			rows[i] = rows[i] || y >= 0 && y < len(e.pic.cells) && u >= 0 && u < len(e.pic.cells[y]) && e.pic.cells[y][u]
		}
	}
	return count(rows)
}

// walk goes through all arrangements from the strip at v on; larger positions first, so the first best is the canonical one.
func (e *enumerator) walk(at []int, sum score) {
	v := at[len(at)-1]
	own := e.strip(v)
	if own == nil {
		return
	}
	sum = score{sum.length + own.length, sum.pieces + own.pieces, sum.tape + own.tape}
	if v+e.width >= e.high {
		if !e.found || sum.less(e.best) {
			e.found, e.best, e.at = true, sum, append([]int(nil), at...)
		}
		return
	}
	for next := v + e.width - e.lap; next > v && next >= v+e.width-e.most; next-- {
		if e.allowed(next) {
			with := sum
			with.tape += count(e.pic.columns(next, e.lap))
			e.walk(append(at, next), with)
		}
	}
}

func (e *enumerator) allowed(v int) bool {
	for _, s := range e.p.SeamAt {
		if d := v*cell - int(s); max(d, -d) <= int(e.p.SeamTol) {
			return true
		}
	}
	return e.p.SeamAnywhere
}

// solve tries all arrangements with no lap wider than the widest, and where there is none, all.
func (e *enumerator) solve() {
	e.most = e.width
	if e.p.MaxLap > 0 {
		e.most = int(e.p.MaxLap) / cell
	}
	if e.try(); !e.found {
		e.most = e.width
		e.try()
	}
}

func (e *enumerator) try() {
	e.stripScores = map[int]*score{}
	e.low, e.high = 1<<30, -1<<30
	for i, row := range e.pic.cells {
		if count(row) > 0 {
			e.low, e.high = min(e.low, i+e.pic.v0), max(e.high, i+e.pic.v0+1)
		}
	}
	for v := e.low; v > e.low-e.width; v-- {
		e.walk([]int{v}, score{})
	}
}

// Source: complete enumeration of all positions, joint sets and seams of small surfaces drawn as cells, which shares no
// geometry and no search with the package.
func TestEnumeration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const size = 14
		p := smallSurface(t, size)
		e := &enumerator{p: p, pic: paint(p, size), width: int(p.RollWidth) / cell, lap: int(p.Lap) / cell}
		e.solve()
		got, err := Lay(p, LeastLength())
		if e.low > e.high {
			var invalid *InvalidError
			if !errors.As(err, &invalid) {
				t.Fatalf("nothing is left to cover, got %v", err)
			}
			return
		}
		if !e.found {
			var none *InfeasibleError
			if !errors.As(err, &none) {
				t.Fatalf("enumeration finds nothing, got %v", err)
			}
			return
		}
		if err != nil {
			t.Fatalf("enumeration finds %v, got %v", e.best, err)
		}
		if s := (score{int(got.Length), got.Pieces, int(float64(got.Tape())*1000 + 0.5)}); s != e.best {
			t.Fatalf("got %v, enumeration %v at %v cells", s, e.best, e.at)
		}
		for i, s := range got.Strips {
			if int(s.At) != e.at[i]*cell {
				t.Fatalf("strip %d at %d, enumeration %d", i+1, s.At, e.at[i]*cell)
			}
		}
	})
}

// smallSurface draws a right-angled outline between two profiles, with up to three openings that may touch, overlap or stick out.
func smallSurface(t *rapid.T, size int) Problem {
	n := rapid.IntRange(1, 4).Draw(t, "columns")
	var lower, upper geometry.Polygon
	x := 0
	low, high := 0, 0
	for i := range n {
		wide := rapid.IntRange(1, size/n).Draw(t, "wide")
		nextLow := rapid.IntRange(0, size/2-1).Draw(t, "low")
		nextHigh := rapid.IntRange(size/2, size).Draw(t, "high")
		if i > 0 && nextLow == low || nextHigh == high {
			nextLow, nextHigh = (low+1)%(size/2), size/2+(high+1-size/2)%(size/2)
		}
		low, high = nextLow, nextHigh
		x0, x1 := q.MM(x*cell), q.MM((x+wide)*cell)
		lower = append(lower, geometry.Point{X: x0, Y: q.MM(low * cell)}, geometry.Point{X: x1, Y: q.MM(low * cell)})
		upper = append(upper, geometry.Point{X: x0, Y: q.MM(high * cell)}, geometry.Point{X: x1, Y: q.MM(high * cell)})
		x += wide
	}
	for i := len(upper) - 1; i >= 0; i-- {
		lower = append(lower, upper[i])
	}
	multiple := func(low, high int, name string) q.MM { return q.MM(rapid.IntRange(low, high).Draw(t, name) * cell) }
	p := Problem{Outline: lower, Turns: even(len(lower), multiple(0, 2, "turn")), RollWidth: multiple(4, 9, "width"),
		Lap: multiple(1, 2, "lap"), EndAllowance: q.MM(rapid.IntRange(0, 20).Draw(t, "allowance")),
		StopGap: multiple(0, 4, "gap"), EndJointLap: 2 * multiple(1, 2, "joint"), Raster: cell}
	for range rapid.IntRange(0, 3).Draw(t, "holes") {
		x0, y0 := multiple(0, size-2, "x0"), multiple(0, size-2, "y0")
		x1, y1 := x0+multiple(1, 8, "dx"), y0+multiple(1, 8, "dy")
		// Whole multiples of the raster that leave something of the opening, or close it in one way at least.
		p.Holes = append(p.Holes, Hole{geometry.Polygon{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}, multiple(0, 2, "in")})
	}
	if rapid.Bool().Draw(t, "joined") {
		p.MaxPiece = p.EndJointLap + 2*p.EndAllowance + 100 + multiple(0, 5, "piece")
		for u := multiple(0, 3, "stud"); int(u) < size*cell && len(p.JointAt) < 8; u += multiple(1, 4, "pitch") {
			p.JointAt = append(p.JointAt, u)
		}
	}
	if rapid.Bool().Draw(t, "limited") {
		p.MaxLap = p.Lap + multiple(0, 4, "widest")
	}
	if p.SeamAnywhere = rapid.Bool().Draw(t, "anywhere"); !p.SeamAnywhere {
		for v := multiple(0, 3, "batten"); int(v) < size*cell; v += multiple(2, 6, "battens") {
			p.SeamAt = append(p.SeamAt, v)
		}
		p.SeamTol = multiple(0, 1, "tolerance")
	}
	return p
}
