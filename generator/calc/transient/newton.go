package transient

import "math"

// block is one eliminated row of the block-tridiagonal system: what multiplies the next node's correction, and the
// right side, both already divided by the pivot.
type block struct {
	c11, c12, c21, c22 float64
	r1, r2             float64
}

// correct solves one Newton step for all nodes and applies it. The conductances are held at the present iterate, which keeps
// the matrix of the kind that gives no over-shoot between neighbours; potentials and storage are linearised in full.
// It returns false if a correction is not a number.
func (s *solver) correct(dt float64) bool {
	last := len(s.nodes) - 1
	carried := waterHeat
	if s.noLatent {
		carried = 0
	}
	for i := 0; i <= last; i++ {
		n := &s.nodes[i]
		d11, d12 := n.wu, n.wt
		d21, d22 := carried*n.wu*n.t, n.heat+carried*(n.w+n.wt*n.t)
		r1, r2 := -n.restW, -n.restH
		if i == 0 {
			s.edgeSlopes(dt, s.inside, s.now[tInside], n, &d11, &d12, &d21, &d22)
		}
		var upper block
		if i == last {
			s.edgeSlopes(dt, s.outside, s.now[tOutside], n, &d11, &d12, &d21, &d22)
		} else {
			e, b := &s.elements[i], &s.nodes[i+1]
			wu, wt, qu, qt := e.slopes(dt, n)
			d11, d12, d21, d22 = d11+wu, d12+wt, d21+qu, d22+qt
			wu, wt, qu, qt = e.slopes(dt, b)
			upper.c11, upper.c12, upper.c21, upper.c22 = -wu, -wt, -qu, -qt
		}
		if i > 0 {
			e, a, done := &s.elements[i-1], &s.nodes[i-1], &s.blocks[i-1]
			wu, wt, qu, qt := e.slopes(dt, n)
			d11, d12, d21, d22 = d11+wu, d12+wt, d21+qu, d22+qt
			wu, wt, qu, qt = e.slopes(dt, a) // the lower block is minus these
			d11 += wu*done.c11 + wt*done.c21
			d12 += wu*done.c12 + wt*done.c22
			d21 += qu*done.c11 + qt*done.c21
			d22 += qu*done.c12 + qt*done.c22
			r1 += wu*done.r1 + wt*done.r2
			r2 += qu*done.r1 + qt*done.r2
		}
		f := 1 / (d11*d22 - d12*d21)
		s.blocks[i] = block{
			f * (d22*upper.c11 - d12*upper.c21), f * (d22*upper.c12 - d12*upper.c22),
			f * (d11*upper.c21 - d21*upper.c11), f * (d11*upper.c22 - d21*upper.c12),
			f * (d22*r1 - d12*r2), f * (d11*r2 - d21*r1),
		}
	}
	return s.apply()
}

// slopes gives how the element's outflow of water and heat over the step changes with a node's u and T, counted away from
// that node.
func (e *element) slopes(dt float64, n *node) (wu, wt, qu, qt float64) {
	vu, vt := dt*e.gv*n.pu, dt*e.gv*n.pt
	if !e.liquid {
		return vu, vt, vu * e.vapour, vt*e.vapour + dt*e.gh
	}
	lu, lt := -dt*e.gl*n.su, -dt*e.gl*n.st
	return vu + lu, vt + lt, vu*e.vapour + lu*e.sensible, vt*e.vapour + lt*e.sensible + dt*e.gh
}

func (s *solver) edgeSlopes(dt float64, e edge, t float64, n *node, d11, d12, d21, d22 *float64) {
	carried := 0.0
	if !s.noLatent {
		carried = latentHeat + vapourHeat*(t+n.t)/2
	}
	*d11 += dt * e.gv * n.pu
	*d12 += dt * e.gv * n.pt
	*d21 += dt * e.gv * n.pu * carried
	*d22 += dt * (e.gh + e.gv*n.pt*carried)
}

// apply substitutes back and moves every node. A step across saturation is cut shortly behind it: on the other side
// the same number means something else (liquid instead of pressure).
func (s *solver) apply() bool {
	var du, dt float64
	for i := len(s.nodes) - 1; i >= 0; i-- {
		b, n := &s.blocks[i], &s.nodes[i]
		du, dt = b.r1-b.c11*du-b.c12*dt, b.r2-b.c21*du-b.c22*dt
		if !finite(du) || !finite(dt) {
			return false
		}
		u := n.u + du
		switch {
		case n.u < 1 && u > 1:
			u = 1 + math.Min(u-1, 1e-6)
		case n.u >= 1 && u < 1:
			u = math.Max(u, 1-1e-4)
		case u < n.u/8:
			u = n.u / 8
		}
		n.u = max(u, leastHumidity)
		n.t += max(-20, min(20, dt))
	}
	return true
}
