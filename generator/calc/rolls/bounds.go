package rolls

// fills gives for each roll type the longest total that pieces can fill (f_t of bound 1).
func (m *model) fills(w *meter) []int64 {
	avail := m.available(m.demand(), true)
	size := 0
	for _, t := range m.types {
		size = max(size, t.size)
	}
	reach := newBitset(size)
	reach.set(0)
	for i := len(m.items) - 1; i >= 0; i-- { // small pieces fill every gap soonest
		it := m.items[i]
		chunks(min(avail[i], size/it.size), func(k int) bool {
			w.spend(len(reach))
			if k*it.size <= size {
				reach.orShift(reach, k*it.size)
			}
			return true
		})
	}
	f := make([]int64, len(m.types))
	for t, typ := range m.types {
		f[t] = int64(reach.highest(typ.size))
	}
	return f
}

// dearest is about the weight that the dearest roll has in dual certificates: fine enough that rounding the prices of
// 20 000 pieces down costs nothing, coarse enough for products with a length in 64 bits.
const dearest = 100_000_000_000

// coverBound is bound 1: the cheapest rolls whose fills sum to the length of the strips.
func (s *solver) coverBound() {
	weight := make([]int64, len(s.m.items))
	for i, it := range s.m.items {
		weight[i] = int64(it.size)
	}
	s.raise(weight, 1, s.fill, ByLength)
	s.lengthBound = s.bound
}

// raise takes a weight vector with the most that each roll type can hold of it, and lifts the bound if it shows more.
// Each roll covers at most its gain, each joint adds at most its own; the strips need all their weight covered.
func (s *solver) raise(weight []int64, scale int64, gain []int64, proof Proof) {
	weight = s.m.level(weight)
	bound, ok := s.m.weightBound(weight, gain, s.m.demand(), s.m.supply(), true)
	if !ok {
		s.infeasible = true
		return
	}
	if bound > s.bound {
		s.bound, s.proof = bound, proof
		s.cert = certificateOf(s.m, weight, scale)
	}
}

// weightBound is the least cost of rolls, and of joints if strips may still be split, that cover the weight of demand d.
func (m *model) weightBound(weight, gain []int64, d, supply []int, canSplit bool) (int64, bool) {
	need := int64(0)
	for i, n := range d {
		need += int64(n) * weight[i]
	}
	items := make([]coverItem, 0, len(m.types)+1)
	for t, typ := range m.types {
		items = append(items, coverItem{gain[t], typ.cost, supply[t]})
	}
	if g := m.jointGain(weight); g > 0 && canSplit {
		pieces := 0
		for _, n := range d {
			pieces += max(0, n)
		}
		items = append(items, coverItem{g, m.jointCost, pieces})
	}
	return minCover(need, items)
}

// jointGain is the most weight that a strip sheds by being joined.
func (m *model) jointGain(weight []int64) int64 {
	g := int64(0)
	for _, s := range m.splits {
		g = max(g, weight[s.whole]-weight[s.a]-weight[s.b])
	}
	return g
}

// weightBounds is bound 2 as weights: for a threshold k, pieces longer than R-k weigh a whole roll, pieces shorter than
// k nothing, the rest their length. Equal to the L2 bound of Martello and Toth (1990, ch. 8, from memory), so for one
// roll type only. Not with splits: a large piece may be cut.
func (s *solver) weightBounds() {
	if len(s.m.splits) > 0 || len(s.m.types) != 1 {
		return
	}
	size := s.m.types[0].size
	best, bestK := int64(0), 0
	for k := 1; 2*k <= size; k++ {
		if k > 1 && !s.isThreshold(k) {
			continue
		}
		sum := int64(0)
		for _, it := range s.m.items {
			sum += int64(it.count) * thresholdWeight(it.size, k, size)
		}
		s.w.spend(len(s.m.items))
		if sum > best {
			best, bestK = sum, k
		}
	}
	weight := make([]int64, len(s.m.items))
	for i, it := range s.m.items {
		weight[i] = thresholdWeight(it.size, bestK, size)
	}
	s.raise(weight, 1, []int64{int64(size)}, ByWeight)
}

// isThreshold reports that some piece is k-1 or size-k+1 long: only there the weights change.
func (s *solver) isThreshold(k int) bool {
	return s.sizes[k-1] || s.sizes[s.m.types[0].size-k+1]
}

// thresholdWeight is the weight of a piece for threshold k <= size/2 on rolls of size.
func thresholdWeight(piece, k, size int) int64 {
	switch {
	case piece > size-k:
		return int64(size)
	case piece < k:
		return 0
	}
	return int64(piece)
}
