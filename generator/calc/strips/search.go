package strips

import (
	"cmp"
	"math/bits"
	"slices"

	q "lapwork/generator/quantity"
)

// cost is what strips take: total cut length in mm, pieces, tape in fine units, seams off their backing, and the price in
// 1/unit of the money unit where the objective is priced.
type cost struct {
	length, pieces int64
	tape           fine
	unbacked       int64
	price          wide
}

// wide is an unsigned 128-bit sum.
type wide struct{ hi, lo uint64 }

func (w wide) plus(o wide) wide {
	lo, carry := bits.Add64(w.lo, o.lo, 0)
	hi, _ := bits.Add64(w.hi, o.hi, carry)
	return wide{hi, lo}
}

func product(a, b int64) wide {
	hi, lo := bits.Mul64(uint64(a), uint64(b))
	return wide{hi, lo}
}

func (c cost) plus(o cost) cost {
	return cost{c.length + o.length, c.pieces + o.pieces, c.tape + o.tape, c.unbacked + o.unbacked, c.price.plus(o.price)}
}

// compare orders costs: price (all equal unless priced), length, pieces, tape, seams off their backing.
func (c cost) compare(o cost) int {
	return cmp.Or(cmp.Compare(c.price.hi, o.price.hi), cmp.Compare(c.price.lo, o.price.lo), cmp.Compare(c.length, o.length),
		cmp.Compare(c.pieces, o.pieces), cmp.Compare(c.tape, o.tape), cmp.Compare(c.unbacked, o.unbacked))
}

// priced adds the price by the objective's rates.
func (o Objective) price(c cost, unit fine) cost {
	if o.priced {
		c.price = product(c.length*unit, o.rates.SheetPerMM).
			plus(product(c.pieces*unit, o.rates.PerPiece)).plus(product(c.tape, o.rates.TapePerMM))
	}
	return c
}

// search is the shortest path over positions.
type search struct {
	*layer
	objective Objective
	backing   bool // seams off their backing are allowed but counted
	seamAt    []q.MM
	first     q.MM // the largest position of the first strip: the lower edge of D
	end       q.MM // the least position of the last strip
}

// state is the best way on from a strip: its cost up to the far edge, and the next strip.
type state struct {
	cost cost
	at   q.MM
	next int // index of the next strip's state, -1 at the last strip
}

// best gives the positions of the best arrangement and its cost. Positions are walked from the far edge; the window of
// places for the next strip is kept as a queue in which costs rise, so its front is the best, the largest among equals.
func (s *search) best() (at []q.MM, total cost, ok bool) {
	places := s.places()
	states := make([]state, 0, len(places))
	queue := make([]int, 0, len(places)) // states for the next strip with their seam added to cost
	seamed := make([]cost, 0, len(places))
	found := -1
	for i := len(places) - 1; i >= 0; i-- {
		v := places[i]
		for len(queue) > 0 && states[queue[0]].at > v+s.p.RollWidth-s.p.Lap {
			queue = queue[1:]
		}
		last := v >= s.end
		if !last && len(queue) == 0 {
			continue
		}
		own, feasible := s.cost(v)
		if !feasible {
			continue
		}
		st := state{s.objective.price(own, s.d.unit), v, -1}
		if !last {
			st.next = queue[0]
			st.cost = st.cost.plus(seamed[st.next])
		}
		if v <= s.first && (!s.p.StartAtEdge || v == s.first) && (found < 0 || st.cost.compare(states[found].cost) < 0) {
			found = len(states)
		}
		states = append(states, st)
		with, allowed := s.seamed(st)
		seamed = append(seamed, with)
		if !allowed {
			continue
		}
		for len(queue) > 0 && seamed[queue[len(queue)-1]].compare(with) > 0 {
			queue = queue[:len(queue)-1]
		}
		queue = append(queue, len(states)-1)
	}
	if found < 0 {
		return nil, cost{}, false
	}
	for i := found; i >= 0; i = states[i].next {
		at = append(at, states[i].at)
	}
	return at, states[found].cost, true
}

// seamed adds the seam of a strip that is not the first; allowed is false off the backing.
func (s *search) seamed(st state) (with cost, allowed bool) {
	var seam cost
	if !s.backed(st.at) {
		if !s.backing {
			return cost{}, false
		}
		seam.unbacked = 1
	}
	seam.tape = s.seam(st.at)
	return st.cost.plus(s.objective.price(seam, s.d.unit)), true
}

// backed says whether a seam may lie at v.
func (s *search) backed(v q.MM) bool {
	if s.p.SeamAnywhere {
		return true
	}
	i, found := slices.BinarySearch(s.seamAt, v)
	return found || i < len(s.seamAt) && s.seamAt[i]-v <= s.p.SeamTol || i > 0 && v-s.seamAt[i-1] <= s.p.SeamTol
}

// places gives the positions worth trying, rising: all that touch D, on the raster if there is one, or the candidates.
func (s *search) places() []q.MM {
	low, high := s.first-s.p.RollWidth+1, s.d.ceilMM(s.d.vmax)-1
	if s.p.StartAtEdge {
		low = s.first
	}
	high = max(high, s.first)
	step := q.MM(1)
	if s.p.Raster > 0 {
		step = s.p.Raster
		low = s.first - (s.first-low)/step*step
	} else if s.d.level {
		if few := s.candidates(low, high); few != nil {
			return few
		}
	}
	out := make([]q.MM, 0, (high-low)/step+1)
	for v := low; v <= high; v += step {
		out = append(out, v)
	}
	return out
}

// candidates gives the positions chained by tight laps to a place where a strip's cost can change, or nothing where
// every millimetre is fewer. Between such places a strip's cost is constant, and an arrangement can be shifted until some
// strip of each chain of tight laps stands on the border of its stretch. Where gaps stop strips or pieces are joined the
// places themselves may be dearer than the millimetres beside them, so those count too.
func (s *search) candidates(low, high q.MM) []q.MM {
	step := s.p.RollWidth - s.p.Lap
	base := []q.MM{s.first, s.first - s.p.RollWidth + 1}
	for _, c := range s.d.corners {
		v := s.d.floorMM(c)
		base = append(base, v, v-s.p.RollWidth, v-s.p.Lap)
	}
	if s.p.StopGap > 0 || s.p.MaxPiece > 0 {
		for _, b := range base[:len(base):len(base)] {
			base = append(base, b-1, b+1)
		}
	}
	if !s.p.SeamAnywhere {
		for _, v := range s.seamAt {
			base = append(base, v-s.p.SeamTol, v+s.p.SeamTol)
		}
	}
	for i, b := range base { // the smallest place of the chain inside
		base[i] = b - q.MM(floorDiv(int64(b-low), int64(step)))*step
	}
	slices.Sort(base)
	base = slices.Compact(base)
	if len(base)*int((high-low)/step+1) > int(high-low) {
		return nil
	}
	var out []q.MM
	for _, b := range base {
		for v := b; v <= high; v += step {
			out = append(out, v)
		}
	}
	slices.Sort(out)
	return out
}
