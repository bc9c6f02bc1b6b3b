package strips

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	q "lapwork/generator/quantity"
)

// reachable says by walking over every millimetre whether seams on the backing with laps from the least to most can get from
// a strip that starts at or before low to one that ends at or after high. It knows nothing of costs.
func reachable(p Problem, low, high, most q.MM) bool {
	backed := func(v q.MM) bool {
		return p.SeamAnywhere || slices.ContainsFunc(p.SeamAt, func(s q.MM) bool { return max(v-s, s-v) <= p.SeamTol })
	}
	at := map[q.MM]bool{}
	for v := low - p.RollWidth + 1; v < high; v++ {
		on := v <= low && (v == low || !p.StartAtEdge)
		if !on && backed(v) {
			for before := v - p.RollWidth + p.Lap; before <= v-p.RollWidth+most && before < v; before++ {
				on = on || at[before]
			}
		}
		if at[v] = on; on && v+p.RollWidth >= high {
			return true
		}
	}
	return false
}

// Where the backing allows an arrangement whose laps keep the limit, all laps keep it; where not, the best of all is taken, as
// without the limit. A limit that the best of all keeps changes nothing.
func TestLawOfTheWidestLap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := within(t, 200, 3000, "w"), within(t, 200, 3000, "h")
		p := Problem{Outline: wall(w, h), RollWidth: within(t, 120, 1500, "roll"), Lap: within(t, 1, 100, "lap"), EndAllowance: 50,
			Holes: []Hole{anyHole(t, w, h)}, SeamAnywhere: rapid.Bool().Draw(t, "anywhere"), StartAtEdge: rapid.Bool().Draw(t, "edge")}
		for v := within(t, 0, 600, "stud"); !p.SeamAnywhere && v < h; v += within(t, 20, 700, "pitch") {
			p.SeamAt = append(p.SeamAt, v)
		}
		free, ok := lay(t, p)
		if !ok {
			return
		}
		p.MaxLap = within(t, int(p.Lap), int(p.RollWidth), "widest lap")
		l, _ := lay(t, p)
		widest := func(l Layout) (most q.MM) {
			for _, s := range l.Strips {
				most = max(most, s.Lap)
			}
			return most
		}
		switch keeps := reachable(p, 0, h, p.MaxLap); { // the opening lies inside: all of the height is to be covered
		case keeps && widest(l) > p.MaxLap:
			t.Errorf("a lap of %d, at most %d is possible", widest(l), p.MaxLap)
		case (!keeps || widest(free) <= p.MaxLap) && gist(l) != gist(free):
			t.Errorf("%v, without a limit %v", gist(l), gist(free))
		case l.Length < free.Length:
			t.Errorf("%d mm, without a limit %d", l.Length, free.Length)
		}
	})
}

// Worked by hand: a surface of 3000 x 3000 in a roll of 1500 with a lap of 100, a window from 300 to 2700 across and 300 to
// 900 up. A seam whose lap of 100 lies beside the window, from 300 to 800 up, takes 600 of tape, any other 3000; three
// strips of 3000 are needed. So the second strip starts at 800 (the largest such place), the third at 800 + 1400 = 2200:
// tape 600 + 3000 = 3600, the lap of the second strip 0 + 1500 - 800 = 700. With at most 600 the first strip starts at
// 800 + 600 - 1500 = -100; where it must start on the edge the second starts at 900 at least, and the tape is 6000 with the
// largest places 1400 and 2800.
func TestWidestLapByHand(t *testing.T) {
	window := moved(wall(2400, 600), 300, 300)
	for _, want := range []struct {
		most   q.MM
		atEdge bool
		at     [3]q.MM
		tape   q.Length
	}{
		{0, false, [3]q.MM{0, 800, 2200}, 3.6}, {700, true, [3]q.MM{0, 800, 2200}, 3.6},
		{600, false, [3]q.MM{-100, 800, 2200}, 3.6}, {600, true, [3]q.MM{0, 1400, 2800}, 6},
	} {
		p := Problem{Outline: wall(3000, 3000), Holes: []Hole{{Outline: window}}, RollWidth: 1500, Lap: 100, SeamAnywhere: true,
			MaxLap: want.most, StartAtEdge: want.atEdge}
		l, err := Lay(p, LeastLength())
		if err != nil {
			t.Fatal(err)
		}
		if at := [3]q.MM{l.Strips[0].At, l.Strips[1].At, l.Strips[2].At}; at != want.at || l.SeamTape != want.tape {
			t.Errorf("at most %d: %v, tape %v; want %v, %v", want.most, at, l.SeamTape, want.at, want.tape)
		}
	}
}
