package rolls

import "slices"

// choice is a column of the relaxation that could be fixed: a pattern, or a split if pat is empty.
type choice struct {
	pat   pattern
	split int // index, or -1
	x     float64
}

// choices lists the patterns and splits in use, in the order of the basis columns.
func (ms *master) choices() []choice {
	var out []choice
	for r, j := range ms.lp.basis {
		c, x := ms.lp.cols[j], ms.lp.x[r]
		if x < 1e-5 || ms.lp.off[j] {
			continue
		}
		switch c.kind {
		case patternCol:
			out = append(out, choice{c.pat, -1, x})
		case splitCol:
			out = append(out, choice{split: c.ref, x: x})
		}
	}
	slices.SortFunc(out, compareChoices)
	return out
}

func compareChoices(a, b choice) int {
	if a.split != b.split {
		return a.split - b.split
	}
	if a.pat.t != b.pat.t {
		return a.pat.t - b.pat.t
	}
	return slices.CompareFunc(a.pat.cuts, b.pat.cuts, func(x, y count) int {
		if x.item != y.item {
			return x.item - y.item
		}
		return y.n - x.n
	})
}

// clone copies the master so that something can be fixed in the copy.
func (ms *master) clone() *master {
	c := *ms
	c.lp = ms.lp.clone()
	ms.s.w.spend(5000 + ms.lp.m*ms.lp.m + 8*len(ms.lp.cols)) // 5000: what a node costs apart from its arithmetic
	c.d = slices.Clone(ms.d)
	c.supply = slices.Clone(ms.supply)
	c.done = slices.Clone(ms.done)
	c.splits = slices.Clone(ms.splits)
	return &c
}

// take lowers the residual by one use of a choice, without the pieces that are no longer open; false if nothing is left.
func (ms *master) take(c choice) bool {
	m := ms.s.m
	if c.split >= 0 {
		s := m.splits[c.split]
		if ms.d[s.whole] <= 0 {
			return false
		}
		ms.splits[c.split]++
		ms.d[s.whole]--
		ms.d[s.a]++
		ms.d[s.b]++
		ms.cost += m.jointCost
		return true
	}
	if ms.supply[c.pat.t] == 0 {
		return false
	}
	avail := m.available(ms.d, ms.split)
	p := pattern{t: c.pat.t}
	for _, k := range c.pat.cuts {
		if n := min(k.n, avail[k.item]); n > 0 {
			p.cuts = append(p.cuts, count{k.item, n})
		}
	}
	if len(p.cuts) == 0 {
		return false
	}
	subtract(ms.d, p)
	ms.supply[p.t]--
	ms.cost += m.types[p.t].cost
	ms.done = append(ms.done, p)
	return true
}

// reopen makes the basis feasible for the residual left by take, and bars columns that cut more than is open. If the
// arithmetic fails it starts over with the columns that still fit.
func (ms *master) reopen() {
	l := &ms.lp
	ms.setRHS()
	l.values()
	bar := ms.barred()
	for j, b := range bar {
		l.off[j] = b && l.place[j] < 0
	}
	if !l.dual() && !ms.s.w.out() {
		ms.restart(bar)
		return
	}
	copy(l.off, bar)
	ms.shrink()
	l.prices()
}

// barred lists the columns that cannot be part of a plan for the residual.
func (ms *master) barred() []bool {
	avail := ms.s.m.available(ms.d, ms.split)
	bar := make([]bool, len(ms.lp.cols))
	ms.s.w.spend(8 * len(bar))
	for j, c := range ms.lp.cols {
		switch c.kind {
		case patternCol:
			bar[j] = ms.supply[c.pat.t] == 0 || slices.ContainsFunc(c.pat.cuts, func(k count) bool { return k.n > avail[k.item] })
		case splitCol:
			bar[j] = !ms.split || ms.d[ms.s.m.splits[c.ref].whole] <= 0
		}
	}
	return bar
}

func (ms *master) restart(bar []bool) {
	next := newMaster(ms.s, ms.d, ms.supply, ms.split)
	for j, c := range ms.lp.cols {
		if c.kind == patternCol && !bar[j] && len(c.pat.cuts) > 1 {
			next.addPattern(c.pat)
		}
	}
	next.cost, next.done, next.splits = ms.cost, ms.done, ms.splits
	*ms = *next
}

// shrink drops the rows of items that are done, once they are many: a row whose surplus is in the basis leaves with it,
// and the inverse of what remains is the same inverse without that row and column.
func (ms *master) shrink() {
	l := &ms.lp
	avail := ms.s.m.available(ms.d, ms.split)
	dropRow, dropPlace := make([]bool, l.m), make([]bool, l.m)
	n := 0
	for place, j := range l.basis {
		if c := l.cols[j]; c.kind == surplusCol && avail[c.ref] == 0 && ms.d[c.ref] == 0 {
			dropRow[c.rows[0]], dropPlace[place] = true, true
			n++
		}
	}
	if n*5 < l.m || n == l.m {
		return
	}
	ms.drop(dropRow, dropPlace, l.m-n)
}

func (ms *master) drop(dropRow, dropPlace []bool, m int) {
	l := &ms.lp
	next := simplex{m: m, y: make([]float64, m), alpha: make([]float64, m), w: l.w, since: l.since}
	newRow := make([]int, l.m)
	var items []int
	for r, gone := range dropRow {
		newRow[r] = -1
		if !gone {
			newRow[r] = len(items)
			items = append(items, ms.items[r])
			next.rhs = append(next.rhs, l.rhs[r])
		}
	}
	for place, gone := range dropPlace {
		if gone {
			continue
		}
		for r, v := range l.row(place) {
			if !dropRow[r] {
				next.inv = append(next.inv, v)
			}
		}
		next.x = append(next.x, l.x[place])
	}
	at := make([]int, len(l.cols))
	for j, c := range l.cols {
		at[j] = -1
		if moved, ok := c.moved(newRow, l.off[j] && l.place[j] < 0); ok {
			at[j] = next.add(moved)
			next.off[at[j]] = l.off[j]
		}
	}
	for place, j := range l.basis {
		if !dropPlace[place] {
			next.place[at[j]] = len(next.basis)
			next.basis = append(next.basis, at[j])
		}
	}
	ms.items, ms.lp = items, next
	ms.renumber(newRow)
}

// moved is the column in the new rows; ok is false if it is barred or stands in a dropped row only.
func (c *column) moved(newRow []int, barred bool) (*column, bool) {
	if barred {
		return nil, false
	}
	n := *c
	n.rows, n.vals = nil, nil
	for k, r := range c.rows {
		if newRow[r] >= 0 {
			n.rows = append(n.rows, newRow[r])
			n.vals = append(n.vals, c.vals[k])
		}
	}
	return &n, len(n.rows) > 0
}

func (ms *master) renumber(newRow []int) {
	ms.rowOf, ms.supRow = slices.Clone(ms.rowOf), slices.Clone(ms.supRow)
	for _, rows := range [][]int{ms.rowOf, ms.supRow} {
		for k, r := range rows {
			if r >= 0 {
				rows[k] = newRow[r]
			}
		}
	}
}
