package rolls

import "slices"

// ladder lists the costs that a plan can have, as far as prices alone tell.
type ladder struct {
	prices []int64 // rolls and joints, without the free ones
	step   int64   // their greatest common divisor
	sums   bitset  // reachable sums in steps, as far as needed yet
}

// ladderSteps bounds the table of reachable sums.
const ladderSteps = 4_000_000

func (m *model) ladder() *ladder {
	l := &ladder{}
	for _, t := range m.types {
		if t.cost > 0 {
			l.prices = append(l.prices, t.cost)
		}
	}
	if len(m.splits) > 0 && m.jointCost > 0 {
		l.prices = append(l.prices, m.jointCost)
	}
	slices.Sort(l.prices)
	l.prices = slices.Compact(l.prices)
	for _, p := range l.prices {
		for b := p; b != 0; {
			l.step, b = b, l.step%b
		}
	}
	return l
}

// atLeast gives the smallest reachable sum of prices >= cost; a smaller one if the table would be too long.
func (l *ladder) atLeast(cost int64) int64 {
	if len(l.prices) == 0 || cost <= 0 {
		return max(cost, 0)
	}
	n := (cost-1)/l.step + 1
	top := n + l.prices[0]/l.step // some multiple of the smallest price lies in between
	if len(l.prices) == 1 || top > ladderSteps {
		return n * l.step
	}
	if int(top) >= 64*len(l.sums) {
		l.extend(min(2*int(top), ladderSteps))
	}
	for !l.sums.has(int(n)) {
		n++
	}
	return n * l.step
}

func (l *ladder) extend(top int) {
	l.sums = newBitset(top)
	top = 64*len(l.sums) - 1 // the table is complete to its last bit
	l.sums.set(0)
	for _, p := range l.prices {
		for d := int(p / l.step); d <= top; d *= 2 {
			l.sums.orShift(l.sums, d)
		}
	}
}
