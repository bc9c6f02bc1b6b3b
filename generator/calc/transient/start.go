package transient

import "math"

// begin sets the state at the start: the humidity of each layer, built-in water and wetted planes. A node between two
// layers takes the humidity at which it holds the water of both halves.
func (s *solver) begin(w Wall) {
	t := float64(w.Temperature)
	want := make([]float64, len(s.nodes)) // water at each node
	rh := make([]float64, len(s.nodes))   // humidity, for nodes that store nothing
	for i := range s.nodes {
		rh[i] = float64(w.Start)
	}
	for i, e := range s.elements {
		l := &w.Layers[e.layer]
		humidity := float64(w.Start)
		if l.Start > 0 {
			humidity = float64(l.Start)
		}
		rh[i+1] = humidity
		if i == 0 {
			rh[0] = humidity
		}
		if e.mat == nil {
			continue
		}
		c, _, _ := e.mat.Storage.content(humidity, t)
		half := e.dx / 2 * (c + float64(l.BuiltIn)/float64(l.Thickness))
		want[i] += half
		want[i+1] += half
	}
	for _, m := range w.Wet {
		want[s.interfaces[m.Interface]] += float64(m.Water)
	}
	for i := range s.nodes {
		n := &s.nodes[i]
		n.t = t
		n.u = s.humidityFor(i, t, want[i], rh[i])
	}
	s.properties()
}

// humidityFor finds u of a node that holds this water: over 1 for what its materials cannot hold, by bisection below.
func (s *solver) humidityFor(i int, t, water, fallback float64) float64 {
	full := s.holds(i, t, 1)
	switch {
	case water > full*(1+1e-12):
		return 1 + (water-full)/liquidScale
	case full == 0:
		return min(fallback, 1-1e-9)
	}
	low, high := leastHumidity, 1.0
	for range 60 {
		if mid := (low + high) / 2; s.holds(i, t, mid) < water {
			low = mid
		} else {
			high = mid
		}
	}
	return math.Min(high, 1-1e-9)
}

// holds is the water that the materials at a node hold at a humidity.
func (s *solver) holds(i int, t, rh float64) (w float64) {
	for _, k := range []int{i - 1, i} {
		if k >= 0 && k < len(s.elements) && s.elements[k].mat != nil {
			c, _, _ := s.elements[k].mat.Storage.content(rh, t)
			w += c * s.elements[k].dx / 2
		}
	}
	return w
}
