package strips

import (
	"testing"

	"pgregory.net/rapid"

	"lapwork/generator/geometry"
	q "lapwork/generator/quantity"
)

// A wall of 9.00 x 1.40 m with studs every 0.60 m and one strip, by hand: cut 9.00 + 2 x 0.05 = 9.10. Divided at the stud at
// 4.80 with a lap of 0.10: 4.80 + 0.05 + 0.05 = 4.90 and 9.00 - 4.80 + 0.05 + 0.05 = 4.30, together 0.10 more; the tape
// runs over the wall's height, 1.40.
func TestDivideByHand(t *testing.T) {
	p := sheet(wall(9000, 1400))
	p.EndJointLap, p.JointAt = 100, every(600, 9000)
	l, err := Lay(p, LeastLength())
	if err != nil || l.Length != 9100 {
		t.Fatal(l.Length, err)
	}
	places, err := Places(p, l, 600)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range places {
		if x.At == 4800 {
			d := Divide(p, l, []Place{x})
			s := d.Strips[0]
			if x.First != 4900 || x.Second != 4300 || x.Tape != 1.4 || d.Length != 9200 || d.Pieces != 2 || d.JointTape != 1.4 ||
				s.Pieces[0] != (Piece{-50, 4850, 4900}) || s.Pieces[1] != (Piece{4750, 9050, 4300}) {
				t.Errorf("%+v: %+v", x, d)
			}
			return
		}
	}
	t.Errorf("no place at 4800: %+v", places)
}

// However the pieces are divided, the layout stays one: pieces overlap by the lap at joints, everything is covered, every
// joint lies on its backing, the areas add up.
func TestLawOfDivision(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := supported(t, anySurface(t))
		l, ok := lay(t, p)
		if !ok {
			return
		}
		places, err := Places(p, l, 100)
		if err != nil {
			t.Fatal(err)
		}
		var take []Place
		for _, x := range places {
			taken := false
			for _, y := range take {
				taken = taken || x.Strip == y.Strip && x.Piece == y.Piece
			}
			if !taken && rapid.Bool().Draw(t, "divide") {
				take = append(take, x)
			}
		}
		d := Divide(p, l, take)
		checkCover(t, p, d)
		checkJoints(t, p, d)
		length, pieces := q.MM(0), 0
		for _, s := range d.Strips {
			for _, piece := range s.Pieces {
				length, pieces = length+piece.Cut, pieces+1
			}
		}
		// Each of the two pieces is rounded up, so a division may take a millimetre more than the lap.
		more := length - l.Length - q.MM(len(take))*p.EndJointLap
		if length != d.Length || pieces != d.Pieces || more < -q.MM(len(take)) || more > q.MM(len(take)) {
			t.Errorf("%d mm in %d pieces, reported %d in %d; %d before", length, pieces, d.Length, d.Pieces, l.Length)
		}
		if sum := float64(d.CoverDomain + d.LapInDomain + d.OutsideDomain - d.SheetUsed); sum > 1e-9 || sum < -1e-9 {
			t.Errorf("areas are off by %v", sum)
		}
	})
}

// No end joint lies off its backing.
func checkJoints(t *rapid.T, p Problem, l Layout) {
	for _, s := range l.Strips {
		for _, j := range s.Joints {
			on := p.JointAnywhere
			for _, at := range p.JointAt {
				on = on || at == j.At
			}
			if !on {
				t.Errorf("strip %d has an end joint at %d, where nothing backs it", s.No, j.At)
			}
		}
	}
}

// Seam tape is the union of the laps on the surface: the cells of 10 mm of the zone of least lap that lie on it, counted
// along the strip where any of the zone does. Everything drawn lies on the 10 mm raster, so that counting is exact.
func TestLawOfTape(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := 10*within(t, 30, 300, "w"), 10*within(t, 30, 250, "h")
		p := Problem{Outline: wall(w, h), RollWidth: 10 * within(t, 20, 150, "width"), EndAllowance: 50, SeamAnywhere: true, Raster: 10,
			Direction: Direction(rapid.IntRange(0, 1).Draw(t, "direction"))}
		p.Lap = 10 * within(t, 1, int(p.RollWidth/10)-3, "lap")
		for range rapid.IntRange(0, 3).Draw(t, "openings") {
			x, y := 10*within(t, 1, int(w)/10-12, "x"), 10*within(t, 1, int(h)/10-12, "y")
			p.Holes = append(p.Holes, Hole{Outline: moved(wall(10*within(t, 5, 11, "dx"), 10*within(t, 5, 11, "dy")), x, y)})
		}
		l, ok := lay(t, p)
		if !ok {
			return
		}
		long := w
		if p.Direction == Upright {
			long = h
		}
		var want q.MM
		for _, s := range l.Strips[1:] {
			for u := q.MM(5); u < long; u += 10 {
				for v := s.At + 5; v < s.At+p.Lap; v += 10 {
					if bare(p, float64(u), float64(v)) {
						continue
					}
					want += 10
					break
				}
			}
		}
		if got := float64(l.SeamTape)*1000 - float64(want); got > 1e-6 || got < -1e-6 {
			t.Errorf("seam tape %v, the laps are %d mm long", l.SeamTape, want)
		}
	})
}

// bare says that no sheet is needed at a point given along and across the strips.
func bare(p Problem, u, v float64) bool {
	x, y := u, v
	if p.Direction == Upright {
		x, y = v, u
	}
	if !hasPoint(p.Outline, x, y) {
		return true
	}
	for _, h := range p.Holes {
		if hasPoint(h.Outline, x, y) {
			return true
		}
	}
	return false
}

// A surface cut in two along the strips, the lower part's sheet running on by the lap, takes no less sheet in
// all: the two layouts together are one of the whole. Cut across the strips, each
// part of a plain wall needs the same strips again and two allowances more.
func TestLawOfTwoParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := within(t, 300, 3000, "w"), within(t, 400, 2500, "h")
		c := within(t, 100, int(h)-100, "cut")
		top := within(t, 0, 1500, "ridge")
		p := Problem{RollWidth: within(t, 200, 1600, "width"), EndAllowance: within(t, 0, 60, "allowance"), SeamAnywhere: true}
		p.Lap = within(t, 1, min(150, int(p.RollWidth-MinStep)), "lap")
		gable := func(low q.MM) geometry.Polygon {
			out := geometry.Polygon{{X: 0, Y: low}, {X: w, Y: low}, {X: w, Y: h}}
			if top > 0 {
				out = append(out, geometry.Point{X: w / 2, Y: h + top})
			}
			return append(out, geometry.Point{X: 0, Y: h})
		}
		of := func(outline geometry.Polygon, turns ...q.MM) Layout {
			part := p
			part.Outline, part.Turns = outline, turns
			l, ok := lay(t, part)
			if !ok {
				t.Fatal("no layout")
			}
			return l
		}
		whole, lower, upper := of(gable(0)), of(wall(w, c), 0, 0, p.Lap, 0), of(gable(c))
		if lower.Length+upper.Length < whole.Length {
			t.Errorf("in two: %d + %d mm, whole %d mm", lower.Length, upper.Length, whole.Length)
		}
		plain, left, right := of(wall(w, h)), of(wall(w/2, h)), of(moved(wall(w-w/2, h), w/2, 0))
		if left.Length+right.Length < plain.Length {
			t.Errorf("left and right: %d + %d mm, whole %d mm", left.Length, right.Length, plain.Length)
		}
	})
}

// Seams keep clear of those of the next surface where that costs nothing. A wall of 2.58 m takes two strips of 1.50 m with
// a seam anywhere from 1.08 to 1.40 m; 1.40 is too near to the neighbour's 1.40, the first that is not is 1.10.
func TestKeepClear(t *testing.T) {
	p := sheet(wall(4000, 2580))
	p.KeepClear, p.ClearBy = []q.MM{1400}, 300
	l, err := Lay(p, LeastLength())
	if err != nil || len(l.Strips) != 2 || l.Strips[1].At != 1100 {
		t.Fatalf("%+v %v", l.Strips, err)
	}
	plain := p
	plain.KeepClear = nil
	if m, err := Lay(plain, LeastLength()); err != nil || m.Length != l.Length || m.SeamTape != l.SeamTape || m.Strips[1].At != 1400 {
		t.Errorf("%+v %v", m.Strips, err)
	}
}
