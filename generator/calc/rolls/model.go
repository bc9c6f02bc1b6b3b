package rolls

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	q "lapwork/generator/quantity"
	"lapwork/generator/sorting"
)

// item is all strips of one length with the same splits, or all split pieces of one length.
type item struct {
	size   int // in units of the model
	count  int // strips demanded; 0 for split pieces
	part   bool
	length q.MM
	ids    []string
	splits []int // of a strip: indices into model.splits
}

// split is the choice to make one strip of item whole from a piece of item a and one of item b.
type split struct {
	whole, a, b int
	raw         Split
}

// rollType is all rolls that are equal for the search.
type rollType struct {
	size   int // in units, rounded down
	cost   int64
	supply int // never Unlimited: at most one roll for each piece
	rolls  []Roll
}

// model is an instance in canonical order and units: nothing in it depends on the order of the input.
type model struct {
	unit      q.MM
	items     []item // longest first, strips before split pieces of one length
	types     []rollType
	splits    []split
	jointCost int64
	minKept   q.MM
	maxCost   int64 // of a roll or joint, at least 1
}

// count is n pieces of one item.
type count struct{ item, n int }

// pattern is one roll cut: items in ascending index, that is longest first.
type pattern struct {
	t    int
	cuts []count
}

// solution is a plan in terms of the model. Patterns repeat as often as they are cut.
type solution struct {
	pats   []pattern
	splits []int // how often each split is made; nil for none
	cost   int64
}

func newModel(in Instance) (*model, error) {
	m := &model{jointCost: in.JointCost, minKept: in.MinKept, maxCost: 1}
	m.addDemands(in.Demands)
	if len(m.items) > MaxLengths {
		return nil, &SizeError{"different lengths", int64(len(m.items)), MaxLengths}
	}
	m.unit = 0
	for _, it := range m.items {
		m.unit = gcd(m.unit, it.length)
	}
	m.unit = max(m.unit, 1)
	for i := range m.items {
		m.items[i].size = int(m.items[i].length / m.unit)
	}
	m.addTypes(in.Rolls)
	if len(m.splits) > 0 {
		m.maxCost = max(m.maxCost, m.jointCost)
	}
	return m, nil
}

func gcd(a, b q.MM) q.MM {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// canonicalSplits sorts the splits and drops those that cut the same two lengths.
func canonicalSplits(in []Split) []Split {
	s := slices.Clone(in)
	sorting.Func(s, func(x, y Split) int {
		return cmp.Or(cmp.Compare(max(x.A, x.B), max(y.A, y.B)), cmp.Compare(min(x.A, x.B), min(y.A, y.B)), cmp.Compare(x.A, y.A))
	})
	return slices.CompactFunc(s, func(x, y Split) bool {
		return max(x.A, x.B) == max(y.A, y.B) && min(x.A, x.B) == min(y.A, y.B)
	})
}

// addDemands makes the items of the strips and of their split pieces, and connects them.
func (m *model) addDemands(demands []Demand) {
	merged := mergeDemands(demands)
	parts := map[q.MM]bool{}
	for _, d := range merged {
		m.items = append(m.items, item{count: d.Count, length: d.Length, ids: d.IDs})
		for _, s := range d.Splits {
			parts[s.A], parts[s.B] = true, true
		}
	}
	for length := range parts { // lengths differ, so the order is settled by the sort
		m.items = append(m.items, item{part: true, length: length})
	}
	sorting.StableFunc(m.items, byLength)
	at := map[q.MM]int{}
	var wholes []int // in the order of merged
	for i, it := range m.items {
		if it.part {
			at[it.length] = i
		} else {
			wholes = append(wholes, i)
		}
	}
	for k, d := range merged {
		for _, s := range d.Splits {
			w := &m.items[wholes[k]]
			w.splits = append(w.splits, len(m.splits))
			m.splits = append(m.splits, split{wholes[k], at[s.A], at[s.B], s})
		}
	}
}

// mergeDemands joins demands of one length with the same splits; longest first, marks sorted.
func mergeDemands(demands []Demand) []Demand {
	byKey := map[string]*Demand{}
	for _, d := range demands {
		if d.Count == 0 {
			continue
		}
		splits := canonicalSplits(d.Splits)
		key := fmt.Sprint(d.Length, splits)
		g := byKey[key]
		if g == nil {
			g = &Demand{Length: d.Length, Splits: splits}
			byKey[key] = g
		}
		g.Count += d.Count
		g.IDs = append(g.IDs, d.IDs...)
	}
	var merged []Demand
	for _, key := range slices.Sorted(maps.Keys(byKey)) {
		slices.Sort(byKey[key].IDs)
		merged = append(merged, *byKey[key])
	}
	sorting.StableFunc(merged, func(a, b Demand) int { return cmp.Compare(b.Length, a.Length) })
	return merged
}

// byLength orders longest first, strips before split pieces; the sort is stable for strips that differ in splits only.
func byLength(a, b item) int {
	part := func(i item) int {
		if i.part {
			return 1
		}
		return 0
	}
	return cmp.Or(cmp.Compare(b.length, a.length), cmp.Compare(part(a), part(b)))
}

// addTypes merges rolls that are equal for the search and drops those on which nothing fits.
func (m *model) addTypes(rolls []Roll) {
	smallest, pieces := 0, 0
	for _, it := range m.items {
		smallest = it.size // items are sorted
		pieces += 2 * it.count
	}
	sorted := slices.Clone(rolls)
	sorting.Func(sorted, func(a, b Roll) int {
		return cmp.Or(cmp.Compare(b.Length, a.Length), cmp.Compare(a.Cost, b.Cost), cmp.Compare(a.Name, b.Name))
	})
	for _, r := range sorted {
		size := int(r.Length / m.unit)
		if size < smallest || r.Supply == 0 {
			continue
		}
		if r.Supply == Unlimited || r.Supply > pieces {
			r.Supply = pieces
		}
		i := slices.IndexFunc(m.types, func(t rollType) bool { return t.size == size && t.cost == r.Cost })
		if i < 0 {
			i = len(m.types)
			m.types = append(m.types, rollType{size: size, cost: r.Cost})
		}
		m.types[i].supply = min(pieces, m.types[i].supply+r.Supply)
		m.types[i].rolls = append(m.types[i].rolls, r)
		m.maxCost = max(m.maxCost, r.Cost)
	}
}

// demand gives the number of strips of each item.
func (m *model) demand() []int {
	d := make([]int, len(m.items))
	for i, it := range m.items {
		d[i] = it.count
	}
	return d
}

// supply gives the number of rolls of each type.
func (m *model) supply() []int {
	s := make([]int, len(m.types))
	for t, typ := range m.types {
		s[t] = typ.supply
	}
	return s
}

// available is the most pieces of each item that a plan for demand d can use: where strips may still be split, a split
// piece as often as one of its strips is open.
func (m *model) available(d []int, canSplit bool) []int {
	a := make([]int, len(d))
	for i, n := range d {
		a[i] = max(0, n)
	}
	for _, s := range m.splits {
		if n := d[s.whole]; n > 0 && canSplit {
			a[s.a] += n
			a[s.b] += n
		}
	}
	return a
}

// length is the total of the strips in units.
func (m *model) length(d []int) int64 {
	sum := int64(0)
	for i, n := range d {
		sum += int64(max(0, n)) * int64(m.items[i].size)
	}
	return sum
}

// used is the length of a pattern in units.
func (m *model) used(p pattern) int {
	sum := 0
	for _, c := range p.cuts {
		sum += c.n * m.items[c.item].size
	}
	return sum
}
