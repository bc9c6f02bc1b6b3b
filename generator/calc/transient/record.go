package transient

import (
	"math"
	"slices"

	q "lapwork/generator/quantity"
)

// recorder collects what a run reports.
type recorder struct {
	s      *solver
	wall   Wall
	named  []q.Ratio
	limits []float64
	layers []LayerYear
	planes []InterfaceYear
	total  []float64 // water of the whole build-up at the end of each day of the run, from its start
	free   int
	sums   []daySum
	moved  Balance
	net    flow
}

type daySum struct{ rh, t, seconds float64 }

func newRecorder(s *solver, w Wall, o Options) *recorder {
	r := &recorder{s: s, wall: w, sums: make([]daySum, len(s.interfaces)), named: slices.Clone(o.Limits)}
	for _, l := range o.Limits {
		r.limits = append(r.limits, float64(l))
	}
	r.total = append(r.total, s.water())
	r.year()
	return r
}

// year clears the yearly figures.
func (r *recorder) year() {
	r.layers, r.planes = nil, nil
	for _, l := range r.wall.Layers {
		r.layers = append(r.layers, LayerYear{Name: l.Name, Limit: l.Limit})
	}
	name := func(k int) string {
		if k < 0 || k >= len(r.wall.Layers) {
			return ""
		}
		return r.wall.Layers[k].Name
	}
	for k := range r.s.interfaces {
		r.planes = append(r.planes, InterfaceYear{Inner: name(k - 1), Outer: name(k), Limits: r.named, Above: make([]Hours, len(r.limits))})
	}
}

// step counts a step of dt seconds.
func (r *recorder) step(dt float64) {
	for k, i := range r.s.interfaces {
		n := &r.s.nodes[i]
		rh := min(n.u, 1)
		d := &r.sums[k]
		d.rh += rh * dt
		d.t += n.t * dt
		d.seconds += dt
		for j, l := range r.limits {
			if rh > l {
				r.planes[k].Above[j] += Hours(dt / hour)
			}
		}
	}
	s := r.s
	r.net.water += dt * (s.in.water - s.out.water + s.fed.water)
	r.net.heat += dt * (s.in.heat - s.out.heat + s.fed.heat)
	r.moved.WaterMoved += MassPerArea(dt / 2 * (math.Abs(s.in.water) + math.Abs(s.out.water) + math.Abs(s.fed.water)))
	r.moved.HeatMoved += EnergyPerArea(dt / 2 * (math.Abs(s.in.heat) + math.Abs(s.out.heat) + math.Abs(s.fed.heat)))
}

// day closes a day of the run (1 is the first).
func (r *recorder) day(day int) {
	held := r.s.layerWater(len(r.layers))
	for k := range r.layers {
		r.layers[k].Water = append(r.layers[k].Water, MassPerArea(held[k]))
	}
	wet := false
	for i := range r.s.nodes {
		wet = wet || r.s.nodes[i].free() > 0
	}
	if wet {
		r.free = day
	}
	for k, i := range r.s.interfaces {
		p, d := &r.planes[k], r.sums[k]
		p.Humidity = append(p.Humidity, q.Ratio(d.rh/d.seconds))
		p.Temperature = append(p.Temperature, q.Temperature(d.t/d.seconds))
		p.Free = append(p.Free, MassPerArea(r.s.nodes[i].free()))
		p.Counted = append(p.Counted, p.Above[0])
		p.Highest = max(p.Highest, q.Ratio(d.rh/d.seconds))
		p.MostFree = max(p.MostFree, MassPerArea(r.s.nodes[i].free()))
		r.sums[k] = daySum{}
	}
	r.total = append(r.total, r.s.water())
}

// finish turns daily water into contents.
func (r *recorder) finish() {
	for k := range r.layers {
		l, d := &r.layers[k], float64(r.wall.Layers[k].Thickness)
		if d == 0 {
			continue
		}
		l.Lowest = Content(math.Inf(1))
		for _, w := range l.Water {
			c := Content(float64(w) / d)
			l.Lowest, l.Most = min(l.Lowest, c), max(l.Most, c)
			l.Mean += c / Content(len(l.Water))
		}
	}
}

// free is water that no material at the node takes up.
func (n *node) free() float64 { return max(0, (n.u-1)*liquidScale) }

// water is all water of the build-up.
func (s *solver) water() (w float64) {
	for i := range s.nodes {
		w += s.nodes[i].w
	}
	return w
}

func (s *solver) warmth() (h float64) {
	for i := range s.nodes {
		h += s.nodes[i].h
	}
	return h
}

// layerWater is the water in each layer: what its cells hold, and what stands free at nodes inside it.
func (s *solver) layerWater(layers int) []float64 {
	out := make([]float64, layers)
	for i := range s.elements {
		if e := &s.elements[i]; e.mat != nil {
			out[e.layer] += e.dx / 2 * (e.first.w.value + e.second.w.value)
			if i > 0 && s.elements[i-1].layer == e.layer {
				out[e.layer] += s.nodes[i].free()
			}
		}
	}
	return out
}

func (s *solver) profile(day int) Profile {
	p := Profile{Day: day}
	for i, x := range s.nodePositions() {
		n := &s.nodes[i]
		at := Plane{q.Length(x), q.Temperature(n.t), q.Ratio(min(n.u, 1)), q.Pressure(n.p), 0, MassPerArea(n.free())}
		if i < len(s.elements) {
			at.Content = Content(s.elements[i].first.w.value)
		} else {
			at.Content = Content(s.elements[i-1].second.w.value)
		}
		p.At = append(p.At, at)
	}
	return p
}
