package transient

import "math"

// block is one eliminated row of the block-tridiagonal system: correction = r + c · correction of the next node.
type block struct {
	c11, c12, c21, c22 float64
	r1, r2             float64
}

// correct solves one Newton step for all nodes and applies a share of it. The conductances (save those of films) are held at the present iterate, which keeps
// the matrix of the kind that gives no over-shoot between neighbours; potentials and storage are linearised in full.
// It returns false if a correction is not a number.
func (s *solver) correct(dt, share float64) bool {
	last := len(s.nodes) - 1
	carried := waterHeat
	if s.noLatent {
		carried = 0
	}
	var left, lower slopes // of the element before: at this node, and at the node before
	for i := 0; i <= last; i++ {
		n := &s.nodes[i]
		d11, d12 := n.wu, n.wt
		d21, d22 := carried*n.wu*n.t, n.heat+carried*(n.w+n.wt*n.t)
		r1, r2 := -n.restW, -n.restH
		var upper slopes
		if i == 0 {
			left = s.inside.slopes(dt, s.carried(s.now[tInside], n.t), n)
		}
		d11, d12, d21, d22 = d11+left.wu, d12+left.wt, d21+left.qu, d22+left.qt
		if i > 0 {
			// The lower block is minus what the node before lets through.
			l, done := &lower, &s.blocks[i-1]
			d11 -= l.wu*done.c11 + l.wt*done.c21
			d12 -= l.wu*done.c12 + l.wt*done.c22
			d21 -= l.qu*done.c11 + l.qt*done.c21
			d22 -= l.qu*done.c12 + l.qt*done.c22
			r1 += l.wu*done.r1 + l.wt*done.r2
			r2 += l.qu*done.r1 + l.qt*done.r2
		}
		own := slopes{}
		if i < last {
			own = s.elements[i].slopes(dt, n, &s.elements[i].first, 1)
			left = s.elements[i].slopes(dt, &s.nodes[i+1], &s.elements[i].second, -1)
			upper = left
		} else {
			own = s.outside.slopes(dt, s.carried(s.now[tOutside], n.t), n)
		}
		lower = own
		d11, d12, d21, d22 = d11+own.wu, d12+own.wt, d21+own.qu, d22+own.qt
		f := 1 / (d11*d22 - d12*d21)
		s.blocks[i] = block{
			f * (d22*upper.wu - d12*upper.qu), f * (d22*upper.wt - d12*upper.qt),
			f * (d11*upper.qu - d21*upper.wu), f * (d11*upper.qt - d21*upper.wt),
			f * (d22*r1 - d12*r2), f * (d11*r2 - d21*r1),
		}
	}
	return s.apply(share)
}

// slopes is how the outflow of water (w) and heat (q) of an element or a surface over a step changes with a node's u and
// T, counted away from that node.
type slopes struct{ wu, wt, qu, qt float64 }

// A film that opens as its moister face gets moister is part of the slope; the same at the drier face, where it feeds
// itself, is left to the next iterate.
func (e *element) slopes(dt float64, n *node, at *point, side float64) slopes {
	vu, vt := dt*e.gv*n.pu, dt*e.gv*n.pt
	if opens := side * e.drop * e.gvu; opens > 0 && n.u < 1 {
		vu += dt * opens
	}
	if !e.liquid {
		return slopes{vu, vt, vu * e.vapour, vt*e.vapour + dt*e.gh}
	}
	lu, lt := dt*e.gl*at.liquid.byHumidity, dt*e.gl*at.liquid.byTemperature
	return slopes{vu + lu, vt + lt, vu*e.vapour + lu*e.sensible, vt*e.vapour + lt*e.sensible + dt*e.gh}
}

func (e edge) slopes(dt, carried float64, n *node) slopes {
	vu, vt := dt*e.gv*n.pu, dt*e.gv*n.pt
	return slopes{vu, vt, vu * carried, vt*carried + dt*e.gh}
}

// carried is the heat that vapour between two temperatures takes along, J/kg.
func (s *solver) carried(a, b float64) float64 {
	if s.noLatent {
		return 0
	}
	return latentHeat + vapourHeat*(a+b)/2
}

// apply substitutes back and moves every node. A step across saturation is cut shortly behind it: on the other side
// the same number means something else (liquid instead of pressure).
func (s *solver) apply(share float64) bool {
	var du, dt float64
	for i := len(s.nodes) - 1; i >= 0; i-- {
		b, n := &s.blocks[i], &s.nodes[i]
		du, dt = b.r1+b.c11*du+b.c12*dt, b.r2+b.c21*du+b.c22*dt
		if !finite(du) || !finite(dt) {
			return false
		}
		u := n.u + share*du
		switch {
		case n.u < 1 && u > 1:
			u = 1 + math.Min(u-1, 1e-6)
		case n.u >= 1 && u < 1:
			u = math.Max(u, 1-1e-4)
		case u < n.u/8:
			u = n.u / 8
		}
		n.u = max(u, leastHumidity)
		n.t += max(-20, min(20, share*dt))
	}
	return true
}
