package rolls

import (
	"cmp"
	"fmt"
	"slices"

	q "lapwork/generator/quantity"
)

// Certificate is a lower bound that anybody can check. Every strip (and split piece) of a length has a weight >= 0. For
// each roll type one bounded knapsack gives K_t, the most weight it can hold. A joint sheds at most
// G = max(weight of strip - weights of its two pieces). The rolls and joints of any plan must hold the weight of all
// strips; so no plan costs less than the cheapest numbers n_t <= s_t with sum of n_t K_t + joints G >= sum of d_i w_i.
type Certificate struct {
	Scale   int64 // weight per smallest coin in a dual bound; 1 where weights are lengths. The check does not need it
	Weights []Weight
}

// Weight is the weight of all strips, or of all split pieces, of one length.
type Weight struct {
	Length q.MM
	Part   bool // of split pieces
	Value  int64
}

// maxWeight keeps sums over MaxPieces inside 64 bits.
const maxWeight = 100 * dearest

// level gives strips of one length that differ in their splits the least of their weights, as a Certificate does.
func (m *model) level(weight []int64) []int64 {
	w := slices.Clone(weight)
	for i := 1; i < len(w); i++ {
		if a, b := m.items[i-1], m.items[i]; a.length == b.length && a.part == b.part && w[i-1] < w[i] {
			w[i] = w[i-1]
		}
	}
	for i := len(w) - 2; i >= 0; i-- {
		if a, b := m.items[i], m.items[i+1]; a.length == b.length && a.part == b.part && w[i+1] < w[i] {
			w[i] = w[i+1]
		}
	}
	return w
}

func certificateOf(m *model, weight []int64, scale int64) Certificate {
	c := Certificate{Scale: scale}
	for i, it := range m.items {
		c.Weights = append(c.Weights, Weight{it.length, it.part, weight[i]})
	}
	c.Weights = slices.Compact(c.Weights)
	return c
}

// holds gives the most weight on a roll of each type, by the same table that a check of the certificate uses.
func (m *model) holds(weight []int64) []int64 {
	avail := m.available(m.demand(), true)
	var pieces []weighted
	for i, it := range m.items {
		pieces = append(pieces, weighted{it.size, avail[i], weight[i]})
	}
	size := 0
	for _, t := range m.types {
		size = max(size, t.size)
	}
	most := heaviest(pieces, size)
	k := make([]int64, len(m.types))
	for t, typ := range m.types {
		k[t] = most(q.MM(typ.size))
	}
	return k
}

// CheckCertificate computes the bound that the weights prove for the instance, by a plain table and without the search.
func CheckCertificate(in Instance, c Certificate) (int64, error) {
	if err := in.check(); err != nil {
		return 0, err
	}
	weight, err := c.byPiece()
	if err != nil {
		return 0, err
	}
	l := in.load(weight)
	most := heaviest(l.pieces, in.longest())
	rolls := []coverItem{{l.gain, in.JointCost, l.strips}}
	for _, r := range in.Rolls {
		supply := r.Supply
		if supply == Unlimited {
			supply = 2 * l.strips
		}
		rolls = append(rolls, coverItem{most(r.Length), r.Cost, supply})
	}
	bound, ok := minCover(l.need, rolls)
	if !ok {
		return 0, &InputError{"the rolls do not hold the weight of the strips"}
	}
	return bound, nil
}

// pieceKind is what a weight belongs to.
type pieceKind struct {
	length q.MM
	part   bool
}

func (c Certificate) byPiece() (map[pieceKind]int64, error) {
	weight := map[pieceKind]int64{}
	for _, w := range c.Weights {
		k := pieceKind{w.Length, w.Part}
		if _, twice := weight[k]; twice || w.Value < 0 || w.Value > maxWeight {
			return nil, &InputError{fmt.Sprintf("weight %d of %d mm", w.Value, w.Length)}
		}
		weight[k] = w.Value
	}
	return weight, nil
}

// load is an instance in weights.
type load struct {
	pieces []weighted
	need   int64 // weight of all strips
	gain   int64 // most that a joint sheds
	strips int
}

func (in Instance) load(weight map[pieceKind]int64) load {
	l := load{}
	avail := map[pieceKind]int{}
	for _, d := range in.Demands {
		whole := pieceKind{d.Length, false}
		avail[whole] += d.Count
		l.strips += d.Count
		l.need += int64(d.Count) * weight[whole]
		for _, s := range canonicalSplits(d.Splits) {
			a, b := pieceKind{s.A, true}, pieceKind{s.B, true}
			avail[a] += d.Count
			avail[b] += d.Count
			l.gain = max(l.gain, weight[whole]-weight[a]-weight[b])
		}
	}
	for k, n := range avail {
		l.pieces = append(l.pieces, weighted{int(k.length), n, weight[k]})
	}
	slices.SortFunc(l.pieces, func(a, b weighted) int {
		return cmp.Or(cmp.Compare(a.length, b.length), cmp.Compare(a.weight, b.weight), cmp.Compare(a.n, b.n))
	})
	return l
}

func (in Instance) longest() int {
	n := 0
	for _, r := range in.Rolls {
		n = max(n, int(r.Length))
	}
	return n
}

// weighted is n pieces of one length and weight.
type weighted struct {
	length, n int
	weight    int64
}

// heaviest fills the table of the bounded knapsack up to longest and gives the most weight on a roll of a length.
func heaviest(pieces []weighted, longest int) func(q.MM) int64 {
	unit := 0
	for _, p := range pieces {
		unit = int(gcd(q.MM(unit), q.MM(p.length)))
	}
	unit = max(unit, 1)
	most := make([]int64, longest/unit+1)
	for _, p := range pieces {
		size := p.length / unit
		if p.weight == 0 {
			continue
		}
		chunks(min(p.n, (len(most)-1)/size), func(k int) bool {
			for c := len(most) - 1; c >= k*size; c-- {
				most[c] = max(most[c], most[c-k*size]+int64(k)*p.weight)
			}
			return true
		})
	}
	return func(l q.MM) int64 { return most[int(l)/unit] }
}
