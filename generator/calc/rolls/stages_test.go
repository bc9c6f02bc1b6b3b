package rolls

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"

	q "lapwork/generator/quantity"
)

func freeMeter() *meter { return &meter{ctx: context.Background(), most: math.MaxInt64} }

// minCover is the cheapest of all numbers of items that cover the need.
func TestMinCover(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var items []coverItem
		for range rapid.IntRange(0, 4).Draw(t, "items") {
			items = append(items, coverItem{int64(rapid.IntRange(0, 9).Draw(t, "gain")), int64(rapid.IntRange(0, 9).Draw(t, "cost")),
				rapid.IntRange(0, 4).Draw(t, "supply")})
		}
		need := int64(rapid.IntRange(-3, 60).Draw(t, "need"))
		want := int64(math.MaxInt64)
		var all func(k int, need, cost int64)
		all = func(k int, need, cost int64) {
			if need <= 0 {
				want = min(want, cost)
			}
			if k == len(items) {
				return
			}
			for n := range int64(items[k].supply) + 1 {
				all(k+1, need-n*items[k].gain, cost+n*items[k].cost)
			}
		}
		all(0, need, 0)
		got, ok := minCover(need, items)
		if ok != (want != math.MaxInt64) || (ok && got != want) {
			t.Fatalf("need %d of %v: %d %v, trial finds %d", need, items, got, ok, want)
		}
	})
}

// The ladder gives the next sum of prices: every sum below is ruled out by a plain table.
func TestLadder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := &model{}
		for range rapid.IntRange(1, 3).Draw(t, "types") {
			m.types = append(m.types, rollType{cost: int64(rapid.IntRange(1, 40).Draw(t, "cost"))})
		}
		reach := make([]bool, 400)
		reach[0] = true
		for c := range reach {
			for _, typ := range m.types {
				if c >= int(typ.cost) && reach[c-int(typ.cost)] {
					reach[c] = true
				}
			}
		}
		l := m.ladder()
		for _, c := range rapid.SliceOfN(rapid.IntRange(0, 300), 1, 5).Draw(t, "costs") {
			want := c
			for !reach[want] {
				want++
			}
			if got := l.atLeast(int64(c)); got != int64(want) {
				t.Fatalf("at least %d: %d, want %d", c, got, want)
			}
		}
	})
}

// By hand (a known case without the integer round-up property): 44 x2, 33 x3, 12 x6 on 132. The fullest roll is
// 2*33 + 5*12 = 126, and 259 over 126 is more than 2 rolls, though 259 over 132 is less.
func TestFillByHand(t *testing.T) {
	m, err := newModel(Instance{Rolls: []Roll{{Length: 132, Cost: 1, Supply: Unlimited}},
		Demands: []Demand{{Length: 44, Count: 2}, {Length: 33, Count: 3}, {Length: 12, Count: 6}}})
	if err != nil {
		t.Fatal(err)
	}
	if f := m.fills(freeMeter()); f[0] != 126 {
		t.Errorf("fullest roll %d, want 126", f[0])
	}
}

// A filler fills as far as a plain table says is possible, with pieces that are there, from either end.
func TestFiller(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, size := drawModel(t)
		d := m.demand()
		f := filler{m: m, w: freeMeter(), shortFirst: rapid.Bool().Draw(t, "short first")}
		var pieces []weighted
		for i, it := range m.items {
			pieces = append(pieces, weighted{it.size, d[i], int64(it.size)})
		}
		want := heaviest(pieces, size)(q.MM(size))
		p := pattern{cuts: f.best(size, d)}
		subtract(d, p)
		for _, n := range d {
			if n < 0 {
				t.Fatalf("%v uses more than there is", p)
			}
		}
		if got := int64(m.used(p)); got != want {
			t.Fatalf("filled to %d of %d, possible is %d", got, size, want)
		}
	})
}

// The pricer finds the heaviest roll of each type whenever it is above the threshold: the plain table agrees.
func TestPricer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, size := drawModel(t)
		m.types = []rollType{{size: size, supply: 1}, {size: size * 2 / 3, supply: 1}}
		d := m.demand()
		weight := make([]int64, len(d))
		var pieces []weighted
		for i := range weight {
			weight[i] = int64(rapid.IntRange(0, 30).Draw(t, "weight"))
			pieces = append(pieces, weighted{m.items[i].size, d[i], weight[i]})
		}
		threshold := []int64{int64(rapid.IntRange(0, 60).Draw(t, "a")), int64(rapid.IntRange(0, 60).Draw(t, "b"))}
		most := heaviest(pieces, size)
		p := pricer{m: m, w: freeMeter()}
		got := p.price(weight, d, []int{1, 1}, threshold)
		for k, typ := range m.types {
			if want := max(threshold[k], most(q.MM(typ.size))); got.most[k] != want || !got.exact {
				t.Fatalf("type %d: %d, want %d", k, got.most[k], want)
			}
		}
		for _, pat := range got.found {
			v := int64(0)
			for _, c := range pat.cuts {
				v += int64(c.n) * weight[c.item]
				if c.n > d[c.item] {
					t.Fatalf("%v cuts more than there is", pat)
				}
			}
			if v <= threshold[pat.t] || m.used(pat) > m.types[pat.t].size {
				t.Fatalf("%v weighs %d on %d, threshold %d", pat, v, m.types[pat.t].size, threshold[pat.t])
			}
		}
	})
}

// drawModel draws pieces in units of 1 and the size of a roll.
func drawModel(t *rapid.T) (*model, int) {
	in := Instance{Demands: []Demand{{Length: 1, Count: rapid.IntRange(0, 2).Draw(t, "ones")}}}
	for range rapid.IntRange(1, 6).Draw(t, "lengths") {
		in.Demands = append(in.Demands, Demand{Length: q.MM(rapid.IntRange(2, 90).Draw(t, "length")), Count: rapid.IntRange(1, 5).Draw(t, "count")})
	}
	m := &model{unit: 1}
	m.addDemands(in.Demands)
	for i := range m.items {
		m.items[i].size = int(m.items[i].length)
	}
	return m, rapid.IntRange(1, 300).Draw(t, "size")
}

// relaxed runs column generation to its end and gives the value in the smallest coin.
func relaxed(t *rapid.T, ms *master) float64 {
	for {
		if !ms.lp.primal() {
			t.Fatal("the simplex gave up")
		}
		found, _ := ms.priceOut()
		if len(found) == 0 {
			break
		}
		for _, p := range found {
			ms.addPattern(p)
		}
	}
	v := 0.0
	for r, j := range ms.lp.basis {
		v += ms.lp.cost(j) * ms.lp.x[r]
	}
	return v * float64(ms.s.m.maxCost)
}

// The relaxation after fixing patterns one by one has the value of a relaxation built from scratch: the warm start of
// the simplex, the barring of columns and the dropping of rows lose nothing. Tolerance: the demands are shifted by up to
// 1e-6 in each row; a piece's price is at most offCost times the dearest roll, a roll's at most that of its 10 pieces.
func TestWarmStart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawInstance(t, 7, 9, rapid.Bool().Draw(t, "splits"))
		m, err := newModel(in)
		if err != nil || len(m.types) == 0 {
			t.Skip("nothing to cut from")
		}
		s := newSolver(m, freeMeter())
		ms := newMaster(s, m.demand(), m.supply(), true)
		for range 6 {
			warm := relaxed(t, ms)
			cold := relaxed(t, newMaster(s, ms.d, ms.supply, true))
			tolerance := 1e-6 * 10 * offCost * float64(m.maxCost) * float64(len(m.items)+len(m.types))
			if math.Abs(warm-cold) > tolerance {
				t.Fatalf("warm %v, cold %v", warm, cold)
			}
			choices := ms.choices()
			if len(choices) == 0 || !ms.take(choices[0]) {
				return
			}
			ms.reopen()
		}
	})
}
