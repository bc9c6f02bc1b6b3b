package transient

import "math"

// node is a plane of the build-up with the two half cells that touch it.
type node struct {
	u, t           float64 // humidity (over 1: liquid), temperature
	p, pu, pt      float64 // vapour pressure and slopes
	psat           float64
	suction        potential // only where it drives liquid
	w, wu, wt      float64   // water, kg/m², and slopes
	h              float64   // heat content, J/m²
	heat           float64   // dry heat capacity, J/(m² K)
	sucks          bool
	oldU, oldT     float64 // at the start of the step
	oldW, oldH     float64
	pastW, pastT   float64 // one step before
	carryW, carryH float64 // unsolved rest of earlier steps
	restW, restH   float64 // defect of the present iterate
	diagW, diagT   float64 // what the defect is weighed with
}

// solver is a build-up in time.
type solver struct {
	nodes           []node
	elements        []element
	blocks          []block
	interfaces      []int
	inside, outside edge
	source          Source
	saturated       saturationTable
	noLatent        bool
	held            bool // films keep their resistance

	now     [channels]float64 // mean climate of the step
	in, out flow              // at the two surfaces, towards the outside
	fed     flow              // of the source
}

type flow struct{ water, heat float64 }

// liquidScale is the liquid, kg/m², that a node holds for each unit of u over 1.
const liquidScale = 1.0

// leastHumidity keeps logarithms finite. No surface in air of leastAir comes near it.
const leastHumidity = 1e-6

// properties evaluates every node and element at the present u and T.
func (s *solver) properties() {
	for i := range s.nodes {
		n := &s.nodes[i]
		n.w, n.wu, n.wt = 0, 0, 0
		var slope float64
		n.psat, slope = s.saturated.at(n.t)
		if n.u < 1 {
			n.p, n.pu, n.pt = n.u*n.psat, n.psat, n.u*slope
		} else {
			n.p, n.pu, n.pt = n.psat, 0, slope
			n.w, n.wu = (n.u-1)*liquidScale, liquidScale
		}
		if n.sucks {
			n.suck()
		}
	}
	for i := range s.elements {
		e := &s.elements[i]
		a, b := &s.nodes[i], &s.nodes[i+1]
		switch {
		case e.plain:
		case e.mat == nil:
			e.film.set(e, a, b, s.held)
		default:
			if e.same {
				e.first = s.elements[i-1].second
			} else {
				e.mat.set(&e.first, a, e.liquid)
			}
			e.mat.set(&e.second, b, e.liquid)
			e.conduct()
			a.take(&e.first, e.dx/2)
			b.take(&e.second, e.dx/2)
		}
	}
	carried := waterHeat
	if s.noLatent {
		carried = 0
	}
	for i := range s.nodes {
		n := &s.nodes[i]
		n.h = (n.heat + carried*n.w) * n.t
	}
}

func (n *node) suck() {
	n.suction = potential{}
	if n.u < 1 {
		ln, tk := math.Log(n.u), n.t+kelvin
		n.suction = potential{-suctionScale * tk * ln, -suctionScale * tk / n.u, -suctionScale * ln}
	}
}

func (n *node) take(p *point, half float64) {
	n.w += half * p.w.value
	n.wu += half * p.w.byHumidity
	n.wt += half * p.w.byTemperature
}

// set gives a film the conductance of the mean humidity of its faces, unless it is held at what it has.
func (f *Film) set(e *element, a, b *node, held bool) {
	if held || (len(f.line.x) == 1 && e.gv > 0) {
		e.gvu = 0
		return
	}
	sd, slope := f.line.at((min(a.u, 1) + min(b.u, 1)) / 2)
	sd = max(sd, leastSd)
	e.gv = airDelta / sd
	e.gvu = -e.gv / sd * slope / 2
}

// set evaluates a material at a node, in place: a point is too large to be handed about in the innermost loop.
func (m *Material) set(p *point, n *node, liquid bool) {
	rh := min(n.u, 1)
	p.w.value, p.w.byHumidity, p.w.byTemperature = m.Storage.content(rh, n.t)
	if n.u >= 1 {
		p.w.byHumidity = 0
	}
	p.delta = m.Vapour.delta(rh, p.w.value, n.t)
	p.lambda = float64(m.Lambda + m.PerWater*Conductivity(p.w.value))
	if liquid {
		p.k, p.liquid = m.Liquid.drive(p.w, n.suction)
	}
}

// conduct sets the conductances of a slice of material from the means of its two ends.
func (e *element) conduct() {
	r := 0.5 / e.dx
	e.gv = (e.first.delta + e.second.delta) * r
	e.gh = (e.first.lambda + e.second.lambda) * r
	if e.liquid {
		e.gl = (e.first.k + e.second.k) * r
	}
}

// flows finds every flow and the defect of every balance for a step of dt seconds, and says whether all are small enough.
func (s *solver) flows(dt float64) (closed bool) {
	part, brief := catchUp(dt), max(1, 60/dt)
	for i := range s.nodes {
		n := &s.nodes[i]
		n.restW, n.restH = n.w-n.oldW+part*n.carryW, n.h-n.oldH+part*n.carryH
		n.diagW, n.diagT = n.wu, n.heat
		if n.u >= 1 {
			n.diagW = 0 // free water could take up any defect, and hand it to a node that holds nothing
		}
	}
	for i := range s.elements {
		e := &s.elements[i]
		a, b := &s.nodes[i], &s.nodes[i+1]
		tm := (a.t + b.t) / 2
		if !s.noLatent {
			e.vapour, e.sensible = latentHeat+vapourHeat*tm, waterHeat*tm
		}
		e.drop = a.p - b.p
		vapour := e.gv * e.drop
		liquid := 0.0
		if e.liquid {
			liquid = e.gl * (e.first.liquid.value - e.second.liquid.value)
		}
		e.wFlow = vapour + liquid
		e.qFlow = e.gh*(a.t-b.t) + vapour*e.vapour + liquid*e.sensible
		a.restW += dt * e.wFlow
		b.restW -= dt * e.wFlow
		a.restH += dt * e.qFlow
		b.restH -= dt * e.qFlow
		a.diagW += dt * (e.gv*a.psat + e.gl*e.first.liquid.byHumidity)
		b.diagW += dt * (e.gv*b.psat + e.gl*e.second.liquid.byHumidity)
		a.diagT += dt * e.gh
		b.diagT += dt * e.gh
	}
	s.edges(dt)
	for i := range s.nodes {
		if !s.nodes[i].closes(brief) {
			return false
		}
	}
	return true
}

// What a balance may leave open, to be carried into the next step: the change of temperature or humidity that would mend
// it, and water.
const (
	openT      = 0.01  // K
	openU      = 0.001 // of humidity
	openStrict = 1e-5  // of humidity
	openW      = 1e-4  // kg/m²
	openDry    = 1e-5  // kg/m²
)

// closes weighs what the balances of a node leave open. A node that holds nothing, now or once its free water is gone,
// cannot make up for it later and must close a hundred times better. At the dry end, where no more can be taken, a debt of
// 10 mg/m² is passed over. A step below a minute is held to what a minute would leave (brief: how often it goes into one).
func (n *node) closes(brief float64) bool {
	if !(math.Abs(n.restH) < openT*n.diagT) {
		return false
	}
	w := math.Abs(n.restW)
	if n.u <= leastHumidity && w < openDry {
		return true
	}
	open := openU
	if n.wu == 0 || n.u >= 1 {
		open = openStrict
	}
	return w < openW && w < open*max(n.diagW*brief, 1e-9)
}

// catchUp is the part of the unsolved rest that a step takes on: all of it in an hour, less in a shorter step, whose own
// flows may be too small for it.
func catchUp(dt float64) float64 { return min(1, dt/hour) }

// edges adds the flows between air and surface, and the source.
func (s *solver) edges(dt float64) {
	first, last := &s.nodes[0], &s.nodes[len(s.nodes)-1]
	s.in = s.passage(s.inside, s.now[tInside], s.now[pInside], first)
	s.out = s.passage(s.outside, s.now[tOutside], s.now[pOutside], last)
	s.out.water, s.out.heat = -s.out.water, -s.out.heat-s.now[absorbed]
	first.restW -= dt * s.in.water
	first.restH -= dt * s.in.heat
	last.restW += dt * s.out.water
	last.restH += dt * s.out.heat
	first.diagW += dt * s.inside.gv * first.psat
	last.diagW += dt * s.outside.gv * last.psat
	first.diagT += dt * s.inside.gh
	last.diagT += dt * s.outside.gh
	if s.source == nil {
		return
	}
	n := &s.nodes[s.interfaces[s.source.at()]]
	s.fed.water, s.fed.heat = s.source.rate(&s.now, n.t, n.psat)
	if s.noLatent {
		s.fed.heat = 0
	}
	n.restW -= dt * s.fed.water
	n.restH -= dt * s.fed.heat
}

// passage gives the flows from the air into a surface node.
func (s *solver) passage(e edge, t, p float64, n *node) flow {
	w := e.gv * (p - n.p)
	return flow{w, e.gh*(t-n.t) + w*s.carried(t, n.t)}
}
