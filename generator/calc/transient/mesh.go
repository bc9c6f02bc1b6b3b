package transient

import (
	"math"

	q "lapwork/generator/quantity"
)

// The least resistances of a film or a surface: two nodes stay two unknowns. Both are far below what a build-up has
// (0.01 K at 100 W/m²; a millionth of a metre of air).
const (
	leastR  = 1e-5
	leastSd = 1e-6
)

// element joins node i to node i+1: a slice of a material, or a film (mat nil). The conductances g hold for its present
// humidity; water and heat are the flows of the last evaluation, towards the outside.
type element struct {
	mat        *Material
	film       *Film
	layer      int
	dx         float64
	same       bool // the same material as the element before: the shared node is evaluated once
	plain      bool // nothing depends on humidity
	liquid     bool
	first      point // at node i
	second     point // at node i+1
	gv, gl, gh float64
	gvu        float64 // change of a film's gv with the humidity of one face
	drop       float64 // vapour pressure at the inner node less that at the outer
	wFlow      float64
	qFlow      float64
	vapour     float64 // heat carried by 1 kg of vapour, J
	sensible   float64 // heat carried by 1 kg of liquid, J
}

// point is a material at a node.
type point struct {
	w, liquid        potential
	delta, k, lambda float64
}

// A layer that conducts liquid is cut finer by these.
const (
	liquidFirst  = 0.4
	liquidGrowth = 0.3
)

// Mesh says how fine a layer is cut: the cells at both faces, their growth inwards, and the largest.
type Mesh struct {
	First, Largest q.Length // 10 µm … 1 m, First … 10 m
	Growth         float64  // 1 … 5
}

// cut gives the cell sizes of a layer, the same seen from both faces, so that a turned wall has a turned mesh.
func (m Mesh) cut(thickness float64) []float64 {
	half, size, largest := 0.0, float64(m.First), float64(m.Largest)
	var sizes []float64
	for half+size/2 < thickness/2 {
		sizes = append(sizes, size)
		half += size
		size = min(size*m.Growth, largest)
	}
	if len(sizes) == 0 {
		sizes, half = []float64{thickness / 2}, thickness/2
	}
	n := len(sizes)
	out := make([]float64, 2*n)
	for i, s := range sizes {
		s *= thickness / 2 / half
		out[i], out[2*n-1-i] = s, s
	}
	return out
}

// build makes nodes and elements of a wall, and the node at each interface.
func (s *solver) build(w Wall, m Mesh) {
	s.interfaces = []int{0}
	for k := range w.Layers {
		l := &w.Layers[k]
		if l.Film != nil {
			s.elements = append(s.elements, element{film: l.Film, layer: k, gh: 1 / max(float64(l.Film.R), leastR)})
		} else {
			s.slice(l, k, m)
		}
		s.interfaces = append(s.interfaces, len(s.elements))
	}
	s.nodes = make([]node, len(s.elements)+1)
	s.blocks = make([]block, len(s.nodes))
	for i := range s.elements {
		e := &s.elements[i]
		if e.mat == nil {
			continue
		}
		for _, k := range []int{i, i + 1} {
			s.nodes[k].heat += float64(e.mat.Heat) * e.dx / 2
			if _, byContent := e.mat.Liquid.(Diffusivity); e.liquid && !byContent {
				s.nodes[k].sucks = true
			}
		}
	}
	s.inside = edgeOf(w.Inside)
	s.outside = edgeOf(w.Outside)
	s.source = w.Source
	s.saturated = newSaturationTable()
}

func (s *solver) slice(l *Layer, k int, m Mesh) {
	_, dry := l.Material.Storage.(NoUptake)
	if dry && l.Material.Liquid == nil {
		// Without storage the vapour profile is straight between any two nodes; only the warming up needs cells.
		m.First, m.Largest = 4*m.First, max(4*m.First, m.Largest)
	}
	if l.Material.Liquid != nil {
		// A wetting front is steep: with the cells of a board the benchmark of EN 15026 is missed by up to 4 kg/m³.
		m.First, m.Growth = m.First*liquidFirst, 1+(m.Growth-1)*liquidGrowth
	}
	mu, fixed := l.Material.Vapour.(Mu)
	for i, dx := range m.cut(float64(l.Thickness)) {
		e := element{mat: l.Material, layer: k, dx: dx, liquid: l.Material.Liquid != nil && !dry, same: i > 0,
			plain: dry && fixed && mu.fixed > 0}
		if e.plain {
			e.gv, e.gh = mu.delta(0, 0, 0)/dx, float64(l.Material.Lambda)/dx
		}
		s.elements = append(s.elements, e)
	}
}

// edge is the passage between the air and the first or last node.
type edge struct{ gh, gv float64 }

func edgeOf(f Surface) edge {
	return edge{gh: 1 / max(float64(f.R), leastR), gv: airDelta / max(float64(f.Sd), leastSd)}
}

// nodePositions gives where each node stands, in metres from the inner surface.
func (s *solver) nodePositions() []float64 {
	out := make([]float64, len(s.nodes))
	for i, e := range s.elements {
		out[i+1] = out[i] + e.dx
	}
	return out
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
