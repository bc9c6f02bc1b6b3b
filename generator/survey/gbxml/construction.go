package gbxml

import (
	"slices"
	"strings"

	q "lapwork/generator/quantity"
	"lapwork/generator/survey"
)

// stacks holds constructions, layers and materials until all are read: they refer to each other in any order.
type stacks struct {
	constructions []*node
	layers        map[string]*node
	materials     map[string]*node
}

// factors of the units a material may carry, from the definitions of foot, pound and British thermal unit.
var (
	lambdaUnits  = map[string]float64{"": 1, "WPerMeterK": 1, "WPerCmC": 100, "BtuPerHourFtF": 1.730735}
	densityUnits = map[string]float64{"": 1, "KgPerCubicM": 1, "GramsPerCubicCm": 1000, "LbsPerCubicFt": 16.01846, "LbsPerCubicIn": 27679.9}
)

// resolve makes the constructions. The schema lists layers from outside to inside; a survey's run from inside.
func (r *reader) resolve() {
	made := map[string]*survey.Construction{}
	for _, n := range r.stacks.constructions {
		c := &survey.Construction{ID: n.attr("id"), Name: n.words("Name"), Pos: n.pos, Outside: true}
		for _, l := range n.all("LayerId") {
			layer := r.stacks.layers[l.attr("layerIdRef")]
			if layer == nil {
				r.noLayer = append(r.noLayer, c.ID)
				continue
			}
			for _, m := range layer.all("MaterialId") {
				if material := r.stacks.materials[m.attr("materialIdRef")]; material != nil {
					c.Layers = append(c.Layers, r.material(material))
				} else {
					r.noLayer = append(r.noLayer, c.ID)
				}
			}
		}
		slices.Reverse(c.Layers)
		made[c.ID] = c
		r.b.Constructions = append(r.b.Constructions, c)
	}
	for _, u := range r.uses {
		u.face.Construction = made[u.construction]
	}
}

func (r *reader) material(n *node) survey.Layer {
	l := survey.Layer{Name: n.words("Name"), Pos: n.pos, Thickness: q.Length(r.quantity(n, "Thickness", r.units.length, 1))}
	if l.Name == "" {
		l.Name = n.attr("id")
	}
	l.Lambda = r.property(n, "Conductivity", lambdaUnits)
	l.Density = r.property(n, "Density", densityUnits)
	return l
}

// property reads a number in one of the units of a material; zero for none.
func (r *reader) property(n *node, name string, units map[string]float64) float64 {
	c := n.child(name)
	if c == nil {
		return 0
	}
	x, ok := r.number(c)
	f, known := units[strings.TrimSpace(c.attr("unit"))]
	if !ok || !known {
		return 0
	}
	return x * f
}
