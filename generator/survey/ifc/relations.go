package ifc

import (
	q "lapwork/generator/quantity"
	"lapwork/generator/survey"
)

// relations are the links between objects, by record number.
type relations struct {
	parent   map[uint64]value   // part -> whole (aggregation), element -> structure where it has no whole
	sets     map[uint64][]value // object -> property and quantity sets
	kind     map[uint64]value   // object -> its type
	host     map[uint64]value   // opening -> wall, slab or roof
	voids    map[uint64][]value // wall ... -> openings
	filled   map[uint64]value   // opening -> window or door
	hole     map[uint64]value   // window or door -> opening
	material map[uint64]value   // object or type -> material
}

func (s *store) relate() relations {
	rel := relations{parent: map[uint64]value{}, sets: map[uint64][]value{}, kind: map[uint64]value{}, host: map[uint64]value{},
		voids: map[uint64][]value{}, filled: map[uint64]value{}, hole: map[uint64]value{}, material: map[uint64]value{}}
	each := func(kind string, many int, set func(id uint64, r record)) {
		s.all(func(r record) {
			for _, v := range r.arg(many).items {
				if v.kind == ref {
					set(v.id, r)
				}
			}
		}, kind)
	}
	each("IFCRELCONTAINEDINSPATIALSTRUCTURE", 4, func(id uint64, r record) { rel.parent[id] = r.arg(5) })
	each("IFCRELAGGREGATES", 5, func(id uint64, r record) { rel.parent[id] = r.arg(4) })
	each("IFCRELDEFINESBYPROPERTIES", 4, func(id uint64, r record) { rel.sets[id] = append(rel.sets[id], r.arg(5)) })
	each("IFCRELDEFINESBYTYPE", 4, func(id uint64, r record) { rel.kind[id] = r.arg(5) })
	each("IFCRELASSOCIATESMATERIAL", 4, func(id uint64, r record) { rel.material[id] = r.arg(5) })
	s.all(func(r record) {
		rel.host[r.arg(5).id] = r.arg(4)
		rel.voids[r.arg(4).id] = append(rel.voids[r.arg(4).id], r.arg(5))
	}, "IFCRELVOIDSELEMENT")
	s.all(func(r record) {
		rel.filled[r.arg(4).id] = r.arg(5)
		rel.hole[r.arg(5).id] = r.arg(4)
	}, "IFCRELFILLSELEMENT")
	return rel
}

// property finds a single property by name: on the object, then on its type.
func (b *builder) property(id uint64, name string) (value, bool) {
	sets := b.rel.sets[id]
	if t, ok := b.get(b.rel.kind[id]); ok {
		sets = append(sets[:len(sets):len(sets)], t.arg(5).items...)
	}
	for _, v := range sets {
		set, ok := b.get(v)
		if !ok || set.kind != "IFCPROPERTYSET" {
			continue
		}
		for _, p := range set.arg(4).items {
			if one, ok := b.get(p); ok && one.kind == "IFCPROPERTYSINGLEVALUE" && one.arg(0).word == name && one.arg(2).kind != null {
				return one.arg(2).plain(), true
			}
		}
	}
	return value{}, false
}

// stated reads a space's quantities. Net figures are preferred: they leave out walls that stand in the room. A quantity
// may carry a unit of its own.
func (b *builder) stated(id uint64) survey.Stated {
	found := map[string]float64{}
	for _, v := range b.rel.sets[id] {
		set, ok := b.get(v)
		if !ok || set.kind != "IFCELEMENTQUANTITY" {
			continue
		}
		for _, item := range set.arg(5).items {
			if r, ok := b.get(item); ok {
				if f := b.factor(r); f != 0 {
					found[r.arg(0).word] = r.arg(3).num * f
				}
			}
		}
	}
	first := func(names ...string) float64 {
		for _, n := range names {
			if found[n] > 0 {
				return found[n]
			}
		}
		return 0
	}
	return survey.Stated{
		FloorArea: q.Area(first("NetFloorArea", "GrossFloorArea")),
		Volume:    q.Volume(first("NetVolume", "GrossVolume")),
		Height:    q.Length(first("FinishCeilingHeight", "Height", "ClearHeight")),
	}
}

// factor is a quantity's unit in SI; 0 for kinds that are not needed.
func (b *builder) factor(r record) float64 {
	if own, ok := b.get(r.arg(2)); ok {
		if _, f, _, ok := b.unit(own, 0); ok {
			return f
		}
	}
	switch r.kind {
	case "IFCQUANTITYLENGTH":
		return b.units.length
	case "IFCQUANTITYAREA":
		return b.units.area
	case "IFCQUANTITYVOLUME":
		return b.units.volume
	}
	return 0
}
