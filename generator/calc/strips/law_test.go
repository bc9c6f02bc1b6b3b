package strips

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"lapwork/generator/geometry"
	q "lapwork/generator/quantity"
)

// lay gives the layout; ok is false where none exists or nothing is left to cover.
func lay(t *rapid.T, p Problem) (Layout, bool) {
	l, err := Lay(p, LeastLength())
	var none *InfeasibleError
	var invalid *InvalidError
	switch {
	case err == nil:
		return l, true
	case errors.As(err, &none):
		return l, false
	case errors.As(err, &invalid) && invalid.Faults[0].Msg == "nothing is left to cover":
		return l, false
	}
	t.Fatalf("%v", err)
	return l, false
}

// same compares objective values; metres of tape to a thousandth of a millimetre, since slopes with an irrational length put
// corners on a raster of 4e-9 mm.
func same(a, b Layout) bool {
	return a.Length == b.Length && a.Pieces == b.Pieces && math.Abs(float64(a.Tape()-b.Tape())) < 1e-6
}

// Every point of the surface that is not in an opening lies in a piece; laps, backing and piece lengths hold; areas add up.
func TestLawsOfOneLayout(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := limited(t, supported(t, anySurface(t)))
		l, ok := lay(t, p)
		if !ok {
			return
		}
		checkLaps(t, p, l)
		checkPieces(t, p, l)
		checkCover(t, p, l)
		if sum := l.CoverDomain + l.LapInDomain + l.OutsideDomain; math.Abs(float64(sum-l.SheetUsed)) > 1e-9 {
			t.Errorf("areas: %v + %v + %v = %v, used %v", l.CoverDomain, l.LapInDomain, l.OutsideDomain, sum, l.SheetUsed)
		}
		b, err := BoundsOf(p)
		if err != nil || len(l.Strips) < b.Strips || float64(l.Length) < float64(b.Length)*1000-1e-6 {
			t.Errorf("%d strips, %d mm; bounds %+v, %v", len(l.Strips), l.Length, b, err)
		}
	})
}

func checkLaps(t *rapid.T, p Problem, l Layout) {
	for i, s := range l.Strips[1:] {
		if lap := l.Strips[i].At + p.RollWidth - s.At; lap != s.Lap || lap < p.Lap || s.At <= l.Strips[i].At {
			t.Errorf("strip %d laps %d, reported %d, least %d", s.No, lap, s.Lap, p.Lap)
		}
		on := p.SeamAnywhere
		for _, v := range p.SeamAt {
			on = on || max(s.At-v, v-s.At) <= p.SeamTol
		}
		if !on {
			t.Errorf("seam at %d lies on no batten", s.At)
		}
	}
}

func checkPieces(t *rapid.T, p Problem, l Layout) {
	length, pieces := q.MM(0), 0
	for _, s := range l.Strips {
		joint := 0
		for i, piece := range s.Pieces {
			length, pieces = length+piece.Cut, pieces+1
			if p.MaxPiece > 0 && piece.Cut > p.MaxPiece {
				t.Errorf("piece of %d, longest %d", piece.Cut, p.MaxPiece)
			}
			if d := piece.To - piece.From - piece.Cut; d < -2 || d > 1 { // each of three is rounded
				t.Errorf("piece %v", piece)
			}
			if i == 0 || s.Pieces[i-1].To < piece.From+5 { // a stop; joints overlap by 10 at least
				continue
			}
			if joint >= len(s.Joints) || max(s.Pieces[i-1].To-piece.From-p.EndJointLap, piece.From-s.Pieces[i-1].To+p.EndJointLap) > 1 {
				t.Errorf("pieces %v and %v overlap without a joint of %d", s.Pieces[i-1], piece, p.EndJointLap)
			}
			joint++
		}
		if joint != len(s.Joints) {
			t.Errorf("%d joints, %d overlaps", len(s.Joints), joint)
		}
	}
	if length != l.Length || pieces != l.Pieces {
		t.Errorf("%d mm in %d pieces, reported %d in %d", length, pieces, l.Length, l.Pieces)
	}
	if p.MaxPiece == 0 && l.JointTape != 0 || len(l.Strips) == 1 && l.SeamTape != 0 {
		t.Errorf("tape %v and %v", l.SeamTape, l.JointTape)
	}
}

// checkCover looks at points of the surface: each is in a hole or in a piece without its allowances.
func checkCover(t *rapid.T, p Problem, l Layout) {
	var wide, high q.MM
	for _, c := range p.Outline {
		wide, high = max(wide, c.X), max(high, c.Y)
	}
	for i := range q.MM(23) {
		for k := range q.MM(19) {
			x, y := float64(wide*i)/22+0.31, float64(high*k)/18+0.17
			if !hasPoint(p.Outline, x, y) {
				continue
			}
			gone := false
			for _, h := range p.Holes {
				gone = gone || hasPoint(h.Outline, x, y)
			}
			if !gone && !covered(p, l, x, y) {
				t.Errorf("(%v, %v) is bare: %+v", x, y, l.Strips)
			}
		}
	}
}

func covered(p Problem, l Layout, u, v float64) bool {
	if p.Direction == Upright {
		u, v = v, u
	}
	for _, s := range l.Strips {
		for _, piece := range s.Pieces {
			if float64(s.At) <= v && v <= float64(s.At+p.RollWidth) && float64(piece.From)-0.5 <= u && u <= float64(piece.To)+0.5 {
				return true
			}
		}
	}
	return false
}

// hasPoint is the even-odd rule.
func hasPoint(ring geometry.Polygon, x, y float64) bool {
	in := false
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		ax, ay, bx, by := float64(a.X), float64(a.Y), float64(b.X), float64(b.Y)
		if (ay > y) != (by > y) && x < ax+(y-ay)*(bx-ax)/(by-ay) {
			in = !in
		}
	}
	return in
}

// Moving a surface, changing its axes and mirroring it along the strips changes nothing that counts; nor does the sense of rotation.
func TestLawsOfSymmetry(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anySurface(t)
		l, ok := lay(t, p)
		if !ok {
			return
		}
		dx, dy := within(t, -5000, 5000, "move x"), within(t, -5000, 5000, "move y")
		shifted := mapped(p, func(c geometry.Point) geometry.Point { return geometry.Point{X: c.X + dx, Y: c.Y + dy} })
		swapped := mapped(p, func(c geometry.Point) geometry.Point { return geometry.Point{X: c.Y, Y: c.X} })
		swapped.Direction = Upright - p.Direction
		mirrored := mapped(p, func(c geometry.Point) geometry.Point {
			if p.Direction == Level {
				return geometry.Point{X: -c.X, Y: c.Y}
			}
			return geometry.Point{X: c.X, Y: -c.Y}
		})
		back := p // the corners the other way round
		n := len(p.Outline)
		back.Outline, back.Turns = nil, nil
		for i := range n {
			back.Outline = append(back.Outline, p.Outline[n-1-i])
			if p.Turns != nil {
				back.Turns = append(back.Turns, p.Turns[(2*n-2-i)%n])
			}
		}
		for name, other := range map[string]Problem{"moved": shifted, "swapped": swapped, "mirrored": mirrored, "backwards": back} {
			if m, ok := lay(t, other); !ok || !same(l, m) {
				t.Errorf("%s: %d mm, %d, %v against %d mm, %d, %v", name, m.Length, m.Pieces, m.Tape(), l.Length, l.Pieces, l.Tape())
			}
		}
	})
}

// Nothing panics: whatever the numbers, Lay answers with a layout or a typed error, and the corners of a layout are finite.
func TestLawOfErrors(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		most := rapid.SampledFrom([]int{4, 50, 3000, 200_000, math.MaxInt / 2}).Draw(t, "most")
		point := rapid.Custom(func(t *rapid.T) geometry.Point {
			return geometry.Point{X: within(t, -most, most, "x"), Y: within(t, -most, most, "y")}
		})
		p := Problem{Outline: rapid.SliceOfN(point, 0, 7).Draw(t, "outline"), RollWidth: within(t, -1, 2*int(MaxWidth), "width"),
			Lap: within(t, -1, 200, "lap"), EndAllowance: within(t, -1, 100, "allowance"), StopGap: within(t, 0, most, "gap"),
			EndJointLap: within(t, -1, 200, "joint"), MaxPiece: within(t, 0, 9000, "piece"), JointAnywhere: rapid.Bool().Draw(t, "joints"),
			SeamAnywhere: rapid.Bool().Draw(t, "seams"), Raster: within(t, -1, 900, "raster"), StartAtEdge: rapid.Bool().Draw(t, "edge"),
			Direction: Direction(rapid.IntRange(0, 2).Draw(t, "direction"))}
		for range p.Outline {
			p.Turns = append(p.Turns, within(t, 0, 900, "turn"))
		}
		for range rapid.IntRange(0, 2).Draw(t, "holes") {
			p.Holes = append(p.Holes, Hole{rapid.SliceOfN(point, 0, 6).Draw(t, "hole"), within(t, 0, 900, "in")})
		}
		l, err := Lay(p, LeastCost(Rates{MaxRate, MaxPieceRate, MaxRate}))
		var none *InfeasibleError
		var invalid *InvalidError
		switch {
		case err == nil:
			if l.Price <= 0 || l.Length <= 0 || math.IsNaN(float64(l.Tape())) || l.Tape() < 0 {
				t.Errorf("price %d, length %d, tape %v", l.Price, l.Length, l.Tape())
			}
		case !errors.As(err, &none) && !errors.As(err, &invalid):
			t.Errorf("got %v", err)
		}
	})
}

// What can only help helps, what can only hurt does.
func TestLawsOfChange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := supported(t, anySurface(t))
		l, ok := lay(t, p)
		if !ok {
			return
		}
		worse := func(a, b Layout) bool { // a worse than b in the objective, noise of slopes aside
			return !same(a, b) && (a.Length > b.Length || a.Length == b.Length && (a.Pieces > b.Pieces || a.Pieces == b.Pieces && a.Tape() > b.Tape()))
		}
		free := p
		free.SeamAnywhere = true
		if m, ok := lay(t, free); !ok || worse(m, l) {
			t.Errorf("seams anywhere: %d mm, %v against %d, %v", m.Length, m.Tape(), l.Length, l.Tape())
		}
		uncut := p
		uncut.MaxPiece = 0
		if m, ok := lay(t, uncut); !ok || worse(m, l) || m.JointTape != 0 {
			t.Errorf("any length of piece: %d mm, %v against %d, %v", m.Length, m.Tape(), l.Length, l.Tape())
		}
		lapped := p
		if lapped.Lap += within(t, 1, 50, "more lap"); lapped.Lap <= p.RollWidth-MinStep {
			if m, ok := lay(t, lapped); ok && m.Length < l.Length {
				t.Errorf("more lap: %d mm against %d", m.Length, l.Length)
			}
		}
		through, pierced := p, p
		through.StopGap, through.MaxPiece = 0, 0
		pierced = through
		pierced.Holes = append(pierced.Holes[:len(p.Holes):len(p.Holes)], anyHole(t, 300, 300))
		a, okA := lay(t, through)
		if b, okB := lay(t, pierced); okA && okB && b.Length > a.Length {
			t.Errorf("one more opening: %d mm against %d", b.Length, a.Length)
		}
	})
}

// On a plain wall a wider roll never takes more strips.
func TestLawOfWidth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := sheet(wall(within(t, 100, 9000, "w"), within(t, 100, 6000, "h")))
		p.RollWidth = within(t, 300, 2000, "roll")
		a, okA := lay(t, p)
		p.RollWidth += within(t, 1, 1000, "wider")
		b, okB := lay(t, p)
		if !okA || !okB || len(b.Strips) > len(a.Strips) || len(a.Strips) != a.MinStrips {
			t.Errorf("%d strips, wider %d, bound %d", len(a.Strips), len(b.Strips), a.MinStrips)
		}
	})
}

// The positions tried give what every millimetre gives, by length and by price; the price is least, and the length of the least
// length is.
func TestLawOfCandidates(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := limited(t, supported(t, anySurface(t)))
		rates := Rates{rapid.Int64Range(0, 50).Draw(t, "sheet"), rapid.Int64Range(0, 9000).Draw(t, "piece"), rapid.Int64Range(0, 30).Draw(t, "tape")}
		every := p
		every.Raster = 1
		l, ok := lay(t, p)
		m, okM := lay(t, every)
		if ok != okM || gist(l) != gist(m) {
			t.Fatalf("by length: %v\nevery millimetre: %v", gist(l), gist(m))
		}
		if !ok {
			return
		}
		cheap, err := Lay(p, LeastCost(rates))
		cheapest, errE := Lay(every, LeastCost(rates))
		if err != nil || errE != nil || gist(cheap) != gist(cheapest) {
			t.Fatalf("by price: %v %v\nevery millimetre: %v %v", gist(cheap), err, gist(cheapest), errE)
		}
		price := float64(rates.SheetPerMM)*float64(l.Length) + float64(rates.PerPiece)*float64(l.Pieces) + float64(rates.TapePerMM)*float64(l.Tape())*1000
		if float64(cheap.Price) > price+0.5 || cheap.Length < l.Length {
			t.Errorf("price %d for %d mm, against %v for %d mm", cheap.Price, cheap.Length, price, l.Length)
		}
	})
}

// gist is what two equal layouts share.
func gist(l Layout) [4]any {
	var at []q.MM
	for _, s := range l.Strips {
		at = append(at, s.At)
	}
	return [4]any{l.Length, l.Pieces, l.Tape(), fmt.Sprint(at)}
}

// Staples: no stretch has them further apart than asked.
func TestLawOfStaples(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anySurface(t)
		f := Framing{Lines: []q.MM{within(t, -10, 3000, "line")}, Level: rapid.Bool().Draw(t, "level"), Spacing: within(t, 50, 300, "spacing"), EdgeSpacing: 100}
		got, err := StaplesOn(p.Outline, p.Holes, f)
		var invalid *InvalidError
		if errors.As(err, &invalid) && invalid.Faults[0].Msg == "nothing is left to cover" {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		low, high := extremes(p.Outline, f.Level)
		if f.Lines[0] <= low || f.Lines[0] >= high {
			if got.OnLines != 0 {
				t.Errorf("%d staples on a line along the border", got.OnLines)
			}
			return
		}
		// The clear length of the line by counting points half a millimetre beside it; one point may be lost at each end.
		clear, crossed := 0, 0
		was := false
		for i := range 6000 {
			x, y := float64(f.Lines[0])+1e-4, float64(i)+0.5
			if f.Level {
				x, y = y, x
			}
			in := hasPoint(p.Outline, x, y)
			for _, h := range p.Holes {
				in = in && !hasPoint(h.Outline, x, y)
			}
			if in {
				clear++
			}
			if in && !was {
				crossed++
			}
			was = in
		}
		if least := float64(clear-crossed) / float64(f.Spacing); float64(got.OnLines) < least || got.OnEdges < len(p.Outline)*2 {
			t.Errorf("%+v on a clear length of about %d mm", got, clear)
		}
	})
}

// extremes gives the least and the largest x, or y.
func extremes(ring geometry.Polygon, y bool) (low, high q.MM) {
	low, high = math.MaxInt, math.MinInt
	for _, c := range ring {
		if y {
			c.X = c.Y
		}
		low, high = min(low, c.X), max(high, c.X)
	}
	return low, high
}
