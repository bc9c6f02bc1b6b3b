package strips

import (
	"slices"

	q "lapwork/generator/quantity"
)

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
	cost   cost
	seamed cost // with the strip's own seam, for a strip that is not the first
	at     q.MM
	next   int // index of the next strip's state, -1 at the last strip
}

// walk is the way from the far edge back: all states so far, and those that may be the next strip, as a queue with falling positions
// and rising costs. Its front is the best next strip, among equals the largest.
type walk struct {
	states  []state
	allowed []bool // may be a next strip at all
	offered int    // states before this one have been offered
	queue   []int
}

// forget drops next strips that would lap too little.
func (w *walk) forget(beyond q.MM) {
	for len(w.queue) > 0 && w.states[w.queue[0]].at > beyond {
		w.queue = w.queue[1:]
	}
}

// offer makes the states down to a position possible next strips.
func (w *walk) offer(from q.MM) {
	for ; w.offered < len(w.states) && w.states[w.offered].at >= from; w.offered++ {
		if !w.allowed[w.offered] {
			continue
		}
		for n := len(w.queue); n > 0 && w.states[w.queue[n-1]].seamed.compare(w.states[w.offered].seamed) > 0; n-- {
			w.queue = w.queue[:n-1]
		}
		w.queue = append(w.queue, w.offered)
	}
}

// best gives the positions of the best arrangement and its cost: within the widest lap where there is one.
func (s *search) best() (at []q.MM, total cost, ok bool) {
	at, total, ok = s.shortest(s.p.RollWidth)
	if !ok || s.p.MaxLap == 0 || s.widest(at) <= s.p.MaxLap {
		return at, total, ok
	}
	if narrow, sum, ok := s.shortest(s.p.MaxLap); ok {
		return narrow, sum, true
	}
	return at, total, ok
}

// widest is the widest lap of an arrangement.
func (s *search) widest(at []q.MM) q.MM {
	var most q.MM
	for i := range at[:len(at)-1] {
		most = max(most, at[i]+s.p.RollWidth-at[i+1])
	}
	return most
}

// shortest is the shortest path with no lap wider than most.
func (s *search) shortest(most q.MM) (at []q.MM, total cost, ok bool) {
	places := s.places(most)
	w := walk{states: make([]state, 0, len(places)), allowed: make([]bool, 0, len(places)), queue: make([]int, 0, len(places))}
	found := -1
	for _, v := range slices.Backward(places) {
		w.offer(v + s.p.RollWidth - most)
		w.forget(v + s.p.RollWidth - s.p.Lap)
		st, feasible := s.onward(&w, v)
		if !feasible {
			continue
		}
		if s.starts(v) && (found < 0 || st.cost.compare(w.states[found].cost) < 0) {
			found = len(w.states)
		}
		w.allowed = append(w.allowed, s.addSeam(&st))
		w.states = append(w.states, st)
	}
	if found < 0 {
		return nil, cost{}, false
	}
	for i := found; i >= 0; i = w.states[i].next {
		at = append(at, w.states[i].at)
	}
	return at, w.states[found].cost, true
}

// starts says whether the first strip may lie at v.
func (s *search) starts(v q.MM) bool { return v == s.first || v < s.first && !s.p.StartAtEdge }

// onward is the best way on from a strip at v, if there is one.
func (s *search) onward(w *walk, v q.MM) (st state, feasible bool) {
	last := v >= s.end
	if !last && len(w.queue) == 0 {
		return state{}, false
	}
	own, feasible := s.cost(v)
	if !feasible {
		return state{}, false
	}
	st = state{cost: s.objective.price(own, s.d.unit), at: v, next: -1}
	if !last {
		st.next = w.queue[0]
		st.cost = st.cost.plus(w.states[st.next].seamed)
	}
	return st, true
}

// addSeam works out the cost with the seam; allowed is false off the backing.
func (s *search) addSeam(st *state) (allowed bool) {
	var seam cost
	if !s.backed(st.at) {
		if !s.backing {
			return false
		}
		seam.unbacked = 1
	}
	seam.tape, seam.close = s.seam(st.at), s.near(st.at)
	st.seamed = st.cost.plus(s.objective.price(seam, s.d.unit))
	return true
}
