package strips

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"lapwork/generator/geometry"
	q "lapwork/generator/quantity"
)

// wall is a rectangle at the origin.
func wall(width, height q.MM) geometry.Polygon {
	return geometry.Polygon{{X: 0, Y: 0}, {X: width, Y: 0}, {X: width, Y: height}, {X: 0, Y: height}}
}

// every gives positions 0, pitch, 2 pitch ... up to end.
func every(pitch, end q.MM) []q.MM {
	var out []q.MM
	for x := q.MM(0); x <= end; x += pitch {
		out = append(out, x)
	}
	return out
}

// sheet is a roll of 1.50 m with a lap of 0.10, allowance 0.05, stop gap 0.60: the figures of the examples by hand.
func sheet(outline geometry.Polygon, turns ...q.MM) Problem {
	if turns == nil {
		turns = even(len(outline), 0)
	}
	return Problem{Outline: outline, Turns: turns, RollWidth: 1500, Lap: 100, EndAllowance: 50, StopGap: 600, EndJointLap: 100,
		SeamAnywhere: true}
}

// Worked by hand (metres). Source: our own arithmetic, the same surfaces as in testdata/layout.
func TestByHand(t *testing.T) {
	upright := func(p Problem, width q.MM, studs []q.MM) Problem {
		p.Direction, p.RollWidth, p.SeamAt, p.SeamAnywhere = Upright, width, studs, studs == nil
		return p
	}
	width := func(p Problem, w q.MM) Problem { p.RollWidth = w; return p }
	with := func(p Problem, x0, y0, x1, y1 q.MM) Problem {
		p.Holes = append(p.Holes, Hole{Outline: geometry.Polygon{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}})
		return p
	}
	through := func(p Problem) Problem { p.StopGap = 0; return p }
	long := sheet(wall(14000, 2600), 100, 100, 100, 100)
	long.MaxPiece, long.EndJointLap, long.JointAt = 8000, 150, every(625, 14000)
	plain, studs := wall(5400, 2500), every(600, 5400)
	turned := sheet(plain, 100, 100, 100, 100)
	gable := geometry.Polygon{{X: 0, Y: 0}, {X: 8000, Y: 0}, {X: 8000, Y: 2400}, {X: 4000, Y: 5400}, {X: 0, Y: 2400}}

	tests := []struct {
		name   string
		p      Problem
		strips int
		length q.MM
		pieces int
		tape   float64 // mm
		sheet  float64 // m²
	}{
		// n = ceil((2.50-0.10)/1.40) = 2; cut 5.40+2*0.05 = 5.50; 2*5.50 = 11.00; *1.50 = 16.50
		{"wall", sheet(plain), 2, 11000, 2, 5400, 16.5},
		// D 5.60 x 2.70; n = ceil(2.60/1.40) = 2; cut 5.70; 11.40*1.50 = 17.10
		{"turned over all edges", turned, 2, 11400, 2, 5600, 17.1},
		// n = ceil(2.40/2.90) = 1; 5.50*3.00 = 16.50
		{"3 m roll", width(sheet(plain), 3000), 1, 5500, 1, 0, 16.5},
		// n = ceil(2.40/1.25) = 2; 2*5.50*1.35 = 14.85
		{"1.35 m roll", width(sheet(plain), 1350), 2, 11000, 2, 5400, 14.85},
		// n = ceil(5.30/1.40) = ceil(3.786) = 4; 4*2.60 = 10.40; *1.50 = 15.60; tape 3*2.50
		{"upright, seams anywhere", upright(sheet(plain), 1500, nil), 4, 10400, 4, 7500, 15.6},
		// step floor(1.40/0.60)*0.60 = 1.20: seams 1.2 2.4 3.6 4.8 -> 5 strips, 13.00; *1.50 = 19.50; tape 4*2.50
		{"upright, seams on studs", upright(sheet(plain), 1500, studs), 5, 13000, 5, 10000, 19.5},
		// step floor(1.25/0.60)*0.60 = 1.20, also 5 strips; 13.00*1.35 = 17.55
		{"upright, 1.35 m, studs", upright(sheet(plain), 1350, studs), 5, 13000, 5, 10000, 17.55},
		// lap zone 1.30-1.40 lies inside the window 0.9-2.1: tape 5.60-1.20 = 4.40; lengths as turned
		{"window", with(turned, 2100, 900, 3300, 2100), 2, 11400, 2, 4400, 17.1},
		// lower band cut by the gap 0.9 >= 0.6: (0.7+0.1)+(4.0+0.1) = 4.90, upper 5.70; 10.60; tape 5.60-0.90 = 4.70
		{"door", with(sheet(plain, 0, 100, 100, 100), 600, 0, 1500, 2100), 2, 10600, 3, 4700, 15.9},
		// 3.0 m door: (1.6+0.1)*2 + 6.2+0.1 = 9.70 stopping, 6.3*2 = 12.60 run through (2.90 = 3.0-2*0.05 more); tape 6.2-3.0
		{"wide door, stop", with(sheet(wall(6000, 2600), 0, 100, 100, 100), 1500, 0, 4500, 2200), 2, 9700, 3, 3200, 14.55},
		{"wide door, through", through(with(sheet(wall(6000, 2600), 0, 100, 100, 100), 1500, 0, 4500, 2200)), 2, 12600, 2, 3200, 18.9},
		// extent 14.2, +0.10+0.15 = 14.45 a strip, 28.90; joints 1.50+1.40, seam 14.20: tape 17.10; *1.50 = 43.35
		{"14 m, pieces of 8 m", long, 2, 28900, 4, 17100, 43.35},
		// rows at 0 and 1.4: 8.0; at 2.8: 8-2*0.4*4/3 = 6.9333; at 4.2: 3.2. 8.100+8.100+7.034 (rounded up)+3.300 = 26.534;
		// tape 8.0+6.9333+3.2 = 18.1333; *1.50 = 39.801
		{"gable 3:4", sheet(gable), 4, 26534, 4, 18133 + 1.0/3, 39.801},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := Lay(tt.p, LeastLength())
			if err != nil {
				t.Fatal(err)
			}
			if len(got.Strips) != tt.strips || got.Length != tt.length || got.Pieces != tt.pieces {
				t.Errorf("%d strips, %d mm, %d pieces, want %d, %d, %d", len(got.Strips), got.Length, got.Pieces, tt.strips, tt.length, tt.pieces)
			}
			// Floating metres of a fraction on a common denominator: the last digits only.
			if math.Abs(float64(got.Tape())*1000-tt.tape) > 1e-6 || math.Abs(float64(got.SheetUsed)-tt.sheet) > 1e-9 {
				t.Errorf("tape %v, sheet %v, want %v mm, %v m²", got.Tape(), got.SheetUsed, tt.tape, tt.sheet)
			}
		})
	}
}

// The plain wall in full: rip 1.40+1.50-2.50 = 0.40 off the last strip, lap area 5.40*0.10 = 0.54, outside D: trims
// 2*2*0.05*1.50 = 0.30 and rip 0.40*5.40 = 2.16, together 2.46; 13.50+0.54+2.46 = 16.50. Staples: 8 studs x (ceil(2500/150)+1 = 18)
// = 144; edges 2*(54+1)+2*(25+1) = 162.
func ExampleLay() {
	p := sheet(wall(5400, 2500))
	l, err := Lay(p, LeastLength())
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range l.Strips {
		fmt.Printf("strip %d at %d: rip to %d, pieces %v, seam tape %.2f m\n", s.No, s.At, l.Rip(s), s.Pieces, s.SeamTape)
	}
	fmt.Printf("sheet %.2f = cover %.2f + lap %.2f + outside %.2f m²\n", l.SheetUsed, l.CoverDomain, l.LapInDomain, l.OutsideDomain)
	fmt.Printf("waste %.1f %%, offcuts %v\n", l.Waste()*100, l.Offcuts(300))
	staples, err := StaplesOn(p.Outline, nil, Framing{Lines: every(600, 5400), Spacing: 150, EdgeSpacing: 100})
	fmt.Println("staples", staples.OnLines, "+", staples.OnEdges, err)
	// Output:
	// strip 1 at 0: rip to 0, pieces [{-50 5450 5500}], seam tape 0.00 m
	// strip 2 at 1400: rip to 1100, pieces [{-50 5450 5500}], seam tape 5.40 m
	// sheet 16.50 = cover 13.50 + lap 0.54 + outside 2.46 m²
	// waste 18.2 %, offcuts [{2 400 5500}]
	// staples 144 + 162 <nil>
}

// Level on a 3 m roll: 5500*45 + 4000 = 251500. Upright on studs with 1.5 m: 13000*22 + 5*4000 + 10000*8 = 386000. Level with
// 1.5 m: 11000*22 + 2*4000 + 5400*8 = 293200.
func ExampleCompare() {
	level := sheet(wall(5400, 2500))
	wide, upright := level, level
	wide.RollWidth = 3000
	upright.Direction, upright.SeamAnywhere, upright.SeamAt = Upright, false, every(600, 5400)
	narrow := Rates{SheetPerMM: 22, PerPiece: 4000, TapePerMM: 8}
	c := Compare([]Option{
		{"upright 1.5 m", upright, narrow},
		{"level 1.5 m", level, narrow},
		{"level 3 m", wide, Rates{SheetPerMM: 45, PerPiece: 4000, TapePerMM: 8}},
	})
	for _, r := range c.Ranked {
		fmt.Println(r.Name, r.Layout.Price)
	}
	next, dearer, _ := c.Next()
	fmt.Println(next.Name, "costs", dearer, "more")
	// Output:
	// level 3 m 251500
	// level 1.5 m 293200
	// upright 1.5 m 386000
	// level 1.5 m costs 41700 more
}

// Studs at 0.90 under a roll of 0.90 lapped 0.10: steps of 0.80 never reach the next stud. n = ceil((3.60-0.10)/0.80) = 5 strips; the
// fourth seam can lie on the stud at 2.70 (= 3.60-0.90); then the three before lie in 0.30..0.80, 1.10..1.60 and 1.90..2.40, where no
// stud is (0.90, 1.80).
func ExampleInfeasibleError() {
	p := sheet(wall(3600, 2500))
	p.Direction, p.RollWidth, p.SeamAnywhere, p.SeamAt = Upright, 900, false, every(900, 3600)
	_, err := Lay(p, LeastLength())
	fmt.Println(err)
	var none *InfeasibleError
	if errors.As(err, &none) {
		fmt.Println(len(none.Backed.Strips), "strips,", len(none.Missing), "backing strips of", none.Missing[0].Length)
	}
	// Output:
	// no seam position lies within the roll width less the lap; add a backing strip of 2500 mm behind a seam at 800 mm and 2 more
	// 5 strips, 3 backing strips of 2500
}

// 9.0 m wall, pieces of 4.0 m, nothing to join on between 1.0 and 8.0: a piece of 4.0 can not bridge that.
func TestInfeasibleJoint(t *testing.T) {
	p := sheet(wall(9000, 1200))
	p.MaxPiece, p.JointAt = 4000, []q.MM{1000, 8000}
	_, err := Lay(p, LeastLength())
	var none *InfeasibleError
	if !errors.As(err, &none) || !none.Joints || none.Seams || none.Backed == nil {
		t.Fatalf("got %v", err)
	}
	// 9.10 + k*0.10 <= (k+1)*4.00 first for k = 2: from -0.05 to 3.95, joint at 3.90; 3.85 to 7.85, joint at 7.80.
	want := []Backing{{false, 3900, 1200}, {false, 7800, 1200}}
	if text(t, none.Missing) != text(t, want) || !strings.Contains(err.Error(), "1200 mm behind an end joint at 3900") {
		t.Errorf("%v, want %v: %v", none.Missing, want, err)
	}
}

// Two bands of 14.2 m in pieces of 8 m: joints at 6.25, 6.875 or 7.5 cost the same, so the second strip moves one stud on.
func TestStaggered(t *testing.T) {
	p := sheet(wall(14000, 2600), 100, 100, 100, 100)
	p.MaxPiece, p.EndJointLap, p.JointAt = 8000, 150, every(625, 14000)
	same, err := Lay(p, LeastLength())
	if err != nil {
		t.Fatal(err)
	}
	p.StaggerJoints = true
	apart, err := Lay(p, LeastLength())
	if err != nil {
		t.Fatal(err)
	}
	if same.Strips[0].Joints[0].At != same.Strips[1].Joints[0].At {
		t.Error("without staggering both joints take the smallest position")
	}
	if apart.Strips[0].Joints[0].At == apart.Strips[1].Joints[0].At {
		t.Error("staggered joints still lie on one stud")
	}
	if apart.Length != same.Length || apart.Tape() != same.Tape() {
		t.Error("staggering must cost nothing")
	}
}

func TestStartAtEdge(t *testing.T) {
	p := sheet(geometry.Polygon{{X: 0, Y: 0}, {X: 8000, Y: 0}, {X: 8000, Y: 2400}, {X: 4000, Y: 5400}, {X: 0, Y: 2400}}, 100, 100, 100, 100, 100)
	p.Direction, p.SeamAnywhere, p.SeamAt = Upright, false, every(600, 7800)
	free, err := Lay(p, LeastLength()) // testdata/layout, a13: the first strip starts 0.10 left of the turned edge
	if err != nil || free.Strips[0].At != -200 {
		t.Fatalf("first strip at %d, %v", free.Strips[0].At, err)
	}
	p.StartAtEdge = true
	held, err := Lay(p, LeastLength())
	if err != nil || held.Strips[0].At != -100 || held.Length <= free.Length {
		t.Errorf("first strip at %d, %d mm against %d, %v", held.Strips[0].At, held.Length, free.Length, err)
	}
}

// Everything wrong is named at once, and nothing panics or runs away.
func TestInvalid(t *testing.T) {
	bad := sheet(geometry.Polygon{{X: 0, Y: 0}, {X: 1000, Y: 1000}, {X: 1000, Y: 0}, {X: 0, Y: 1500}}, 1, 2, 3)
	bad.RollWidth, bad.Lap, bad.MaxPiece, bad.SeamTol, bad.Direction = 0, 2000, 10, -1, 9
	bad.Holes = []Hole{{Outline: wall(0, 10)}, {Outline: wall(100, 100), TurnIn: -5}}
	bad.JointAt = []q.MM{math.MaxInt64, math.MinInt64}
	_, err := Lay(bad, LeastCost(Rates{-1, 0, math.MaxInt64}))
	var invalid *InvalidError
	if !errors.As(err, &invalid) {
		t.Fatalf("got %v", err)
	}
	for _, field := range []string{"Outline", "Turns", "Holes[0]", "Holes[1]", "RollWidth", "Lap", "MaxPiece", "SeamTol", "Direction", "JointAt", "SheetPerMM", "TapePerMM"} {
		if !strings.Contains(err.Error(), field+":") {
			t.Errorf("%s is not named in %v", field, err)
		}
	}
	huge := sheet(wall(math.MaxInt64, math.MaxInt64))
	spike := sheet(geometry.Polygon{{X: 0, Y: 0}, {X: 90000, Y: 1}, {X: 0, Y: 2}}, 900, 900, 900)
	swallowed := sheet(wall(1000, 1000))
	swallowed.Holes = []Hole{{Outline: geometry.Polygon{{X: -10, Y: -10}, {X: 2000, Y: -10}, {X: 2000, Y: 2000}, {X: -10, Y: 2000}}}}
	back := sheet(geometry.Polygon{{X: 0, Y: 0}, {X: 1000, Y: 0}, {X: 500, Y: 0}, {X: 500, Y: 800}})
	for name, p := range map[string]Problem{"empty": {}, "huge": huge, "spike": spike, "swallowed": swallowed, "back": back} {
		if _, err := Lay(p, LeastLength()); !errors.As(err, &invalid) {
			t.Errorf("%s: got %v", name, err)
		}
	}
}
