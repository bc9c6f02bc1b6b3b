package condensation

import (
	"fmt"
	"math"

	"lapwork/generator/calc/thermal"
	q "lapwork/generator/quantity"
)

// Layer is one layer of an element.
type Layer struct {
	Name  string
	R     thermal.Resistance // ≥ 0; a sheet may have 0
	Sd    q.SdValue          // > 0; with a Curve the declared constant for the method without it, or 0
	Curve *Curve             // sd by humidity; its result is a screening
}

// Element is a building part from inside to outside. In a check of interstitial condensation the films are those of the
// U-value.
type Element struct {
	Rsi, Rse thermal.Resistance
	Layers   []Layer
}

// SplitAbove is the resistance above which a layer is split into equal parts, clause 6.
const SplitAbove thermal.Resistance = 0.25

// Bounds of what an element may hold; beyond them profiles lose their digits.
const (
	mostNodes  = 2000
	mostLayers = 200

	mostSd q.SdValue = 1e6
)

// Plane is a place in an element: after part Part of the Of parts of layer After. After −1 is the inside surface; where
// Part equals Of it is the interface to the next layer, or the outside surface.
type Plane struct{ After, Part, Of int }

// insideSurface is the plane before all layers.
var insideSurface = Plane{After: -1, Part: 1, Of: 1}

// PlaneName names a plane by its neighbours: "wool|board", or "wool 3/8" inside a split layer.
func (e Element) PlaneName(p Plane) string {
	switch {
	case p.After < 0:
		return "inside surface"
	case p.Part < p.Of:
		return fmt.Sprintf("%s %d/%d", e.Layers[p.After].Name, p.Part, p.Of)
	case p.After == len(e.Layers)-1:
		return "outside surface"
	}
	return e.Layers[p.After].Name + "|" + e.Layers[p.After+1].Name
}

// Interface is the plane between a layer and the next, of an element without split layers or with.
func (e Element) Interface(after int, whole bool) Plane {
	n := parts(e.Layers[after], whole)
	return Plane{After: after, Part: n, Of: n}
}

func parts(l Layer, whole bool) int {
	if whole || l.R <= SplitAbove {
		return 1
	}
	return int(math.Ceil(float64(l.R/SplitAbove) - 1e-9))
}

func (e Element) check() error {
	if !(e.Rsi >= 0 && e.Rse >= 0) || math.IsInf(float64(e.Rsi+e.Rse), 1) {
		return fmt.Errorf("%w: surface resistances %v and %v", ErrInput, float64(e.Rsi), float64(e.Rse))
	}
	if len(e.Layers) == 0 || len(e.Layers) > mostLayers {
		return fmt.Errorf("%w: %d layers", ErrInput, len(e.Layers))
	}
	total, nodes := e.Rsi+e.Rse, 0
	for _, l := range e.Layers {
		if !(l.R >= 0 && l.R <= 1000) {
			return fmt.Errorf("%w: layer %q has R = %v", ErrInput, l.Name, float64(l.R))
		}
		if l.Curve != nil {
			if err := l.Curve.Check(); err != nil {
				return fmt.Errorf("layer %q: %w", l.Name, err)
			}
		} else if !(l.Sd > 0 && l.Sd <= mostSd) {
			return fmt.Errorf("%w: layer %q has sd = %v m; an air layer has %v m", ErrInput, l.Name, float64(l.Sd), float64(AirLayerSd))
		}
		total += l.R
		nodes += parts(l, false)
	}
	if total <= 0 || nodes > mostNodes {
		return fmt.Errorf("%w: total resistance %v in %d parts", ErrInput, float64(total), nodes)
	}
	return nil
}

// grid is the element cut into nodes: cumulated resistance from the air inside, cumulated sd from the inside surface.
type grid struct {
	planes []Plane
	r      []float64 // m²·K/W
	x      []float64 // m of sd
	total  float64   // m²·K/W
	last   []int     // node after layer i
}

// cut lays the nodes; sd gives the sd of each layer.
func (e Element) cut(sd []q.SdValue, whole bool) grid {
	g := grid{planes: []Plane{insideSurface}, r: []float64{float64(e.Rsi)}, x: []float64{0}, last: make([]int, len(e.Layers))}
	for i, l := range e.Layers {
		n := parts(l, whole)
		r0, x0 := g.r[len(g.r)-1], g.x[len(g.x)-1]
		for k := 1; k <= n; k++ {
			f := float64(k) / float64(n)
			g.planes = append(g.planes, Plane{After: i, Part: k, Of: n})
			g.r = append(g.r, r0+f*float64(l.R))
			g.x = append(g.x, x0+f*float64(sd[i]))
		}
		g.last[i] = len(g.planes) - 1
	}
	g.total = g.r[len(g.r)-1] + float64(e.Rse)
	return g
}
