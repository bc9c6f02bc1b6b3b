package ifc

import (
	"fmt"
	"slices"

	q "lapwork/generator/quantity"
	"lapwork/generator/survey"
)

// stackKey is a set of layers, and whether they run the other way than the file lists them.
type stackKey struct {
	set     uint64
	turned  bool
	unknown bool
}

// construction gives the layers of an element as a face of a space sees them, from inside.
func (b *builder) construction(e *element, p survey.Poly, s *space) *survey.Construction {
	use, ok := b.get(b.rel.material[e.rec.id])
	if !ok {
		use, ok = b.get(b.rel.material[b.rel.kind[e.rec.id].id])
	}
	if !ok {
		return nil
	}
	key := stackKey{set: use.id, unknown: true}
	set := use
	if use.kind == "IFCMATERIALLAYERSETUSAGE" {
		if set, ok = b.get(use.arg(0)); !ok {
			return nil
		}
		// Layers are stacked along y of a wall (AXIS2) or z of a slab (AXIS3), with the sense that is given.
		axis := e.place.y
		if use.arg(1).word == "AXIS3" {
			axis = e.place.z
		}
		if use.arg(2).word == "NEGATIVE" {
			axis = axis.Times(-1)
		}
		if d := axis.Dot(b.away(p.AreaVector().Unit(), p.Loop[0], s)); d > 0.3 || d < -0.3 {
			key = stackKey{set: set.id, turned: d < 0}
		}
	}
	if set.kind != "IFCMATERIALLAYERSET" {
		return nil
	}
	if c, ok := b.build[key]; ok {
		return c
	}
	c := &survey.Construction{ID: fmt.Sprintf("#%d", set.id), Name: set.arg(1).word, Outside: key.turned, Pos: b.pos(set.at)}
	if key.turned {
		c.ID += "-turned"
	}
	for _, v := range set.arg(0).items {
		if layer, ok := b.get(v); ok {
			c.Layers = append(c.Layers, b.layer(layer))
		}
	}
	if key.turned {
		slices.Reverse(c.Layers)
	}
	if key.unknown && len(c.Layers) > 1 {
		b.openf(set, "compare the order of the layers with the drawings", "the file does not say which side of the layers is inside; they were read as listed")
	}
	b.build[key] = c
	b.b.Constructions = append(b.b.Constructions, c)
	return c
}

// away turns a face's normal to point out of its space: away from the middle of the space's box.
func (b *builder) away(n vec, at vec, s *space) vec {
	low, top := box(s.body)
	if len(s.body) > 0 && at.Minus(low.Plus(top).Times(0.5)).Dot(n) < 0 {
		return n.Times(-1)
	}
	return n
}

// layer reads an IfcMaterialLayer with its material's properties.
func (b *builder) layer(r record) survey.Layer {
	out := survey.Layer{Thickness: q.Length(r.arg(1).num * b.units.length), Pos: b.pos(r.at)}
	if m, ok := b.get(r.arg(0)); ok {
		out.Name = m.arg(0).word
		p := b.properties(m.id)
		out.Lambda, out.Density = p.lambda, p.density
	}
	if out.Name == "" {
		out.Name = r.arg(3).word
	}
	return out
}

// material is what the file says about a substance, SI.
type material struct{ lambda, density float64 }

// properties reads conductivity and density of a material: records of their own in IFC2X3, named properties in IFC4.
func (b *builder) properties(id uint64) material {
	if b.materials == nil {
		b.materials = map[uint64]material{}
		b.store.all(func(r record) {
			m := b.materials[r.arg(0).id]
			m.lambda = r.arg(4).num
			b.materials[r.arg(0).id] = m
		}, "IFCTHERMALMATERIALPROPERTIES")
		b.store.all(func(r record) {
			m := b.materials[r.arg(0).id]
			m.density = r.arg(3).num
			b.materials[r.arg(0).id] = m
		}, "IFCGENERALMATERIALPROPERTIES")
		b.store.all(func(r record) {
			m := b.materials[r.arg(3).id]
			for _, v := range r.arg(2).items {
				p, _ := b.get(v)
				switch p.arg(0).word {
				case "ThermalConductivity":
					m.lambda = p.arg(2).plain().num
				case "MassDensity":
					m.density = p.arg(2).plain().num
				}
			}
			b.materials[r.arg(3).id] = m
		}, "IFCMATERIALPROPERTIES")
	}
	return b.materials[id]
}
