package ifc

import (
	"slices"

	"lapwork/generator/job"
	"lapwork/generator/survey"
)

// space is an IfcSpace on its way into the survey.
type space struct {
	id       uint64
	out      *survey.Space
	place    matrix
	body     []survey.Poly // outward, world
	low, top vec           // its box
}

// element is a wall, slab, roof, window, door or opening. Of its record only number, type, place and global id are kept.
type element struct {
	rec           record
	name          string
	height, width float64 // of a window or door as a whole, metres; 0: not stated
	niche         bool    // an opening that does not go through
	place         matrix
	solid         bool          // it has a body
	body          []survey.Poly // of walls, slabs and roofs; of an opening while it is placed
	low, top      vec           // its box
	external      string        // "T", "F" or "" as IsExternal says
	used          bool          // an opening that stands on a face already
}

// otherShapes are the representations that show something else than the body.
var otherShapes = []string{"Axis", "FootPrint", "Box", "Annotation", "Profile", "Surface", "Reference", "Clearance", "CoG", "Lighting", "SurveyPoints", "Plan"}

// shape gives a product's body in world coordinates: its representation "Body", or what stands without a name.
func (b *builder) shape(r record, m matrix) []survey.Poly {
	def, ok := b.get(r.arg(6))
	if !ok {
		return nil
	}
	var body, other []value
	for _, v := range def.arg(2).items {
		rep, ok := b.get(v)
		if !ok || rep.kind != "IFCSHAPEREPRESENTATION" {
			continue
		}
		switch name := rep.arg(1).word; {
		case name == "Body":
			body = append(body, rep.arg(3).items...)
		case !slices.Contains(otherShapes, name):
			other = append(other, rep.arg(3).items...)
		}
	}
	if len(body) == 0 {
		body = other
	}
	b.work = 0
	var out []survey.Poly
	for _, item := range body {
		out = append(out, outward(b.solid(item, 0))...)
	}
	return outward(m.polys(out))
}

// readSpaces reads the rooms with their bodies.
func (b *builder) readSpaces() {
	holds := map[uint64]bool{} // spaces made of spaces
	b.store.all(func(r record) {
		if up, ok := b.rel.parent[r.id]; ok && b.kindOfRef(up) == "IFCSPACE" {
			holds[up.id] = true
		}
	}, "IFCSPACE")
	b.store.all(func(r record) {
		s := &space{id: r.id, place: b.placement(r.arg(5))}
		s.out = &survey.Space{ID: r.arg(0).word, Number: r.arg(2).word, Name: r.arg(7).word, Storey: b.storeyOf(r.id), Stated: b.stated(r.id), Pos: b.pos(r.at)}
		if s.out.ID == "" {
			s.out.ID = r.name()
		}
		if s.out.Name == "" {
			s.out.Name = s.out.Number
		}
		outside, _ := b.property(r.id, "IsExternal")
		s.out.External = isA(r.arg(9).word, []string{"EXTERNAL", "GFA"}) || outside.word == "T" || holds[r.id]
		if holds[r.id] {
			b.notef(r, "the space is made of other spaces; they were read, it was left out")
		}
		s.body = faces(b.shape(r, s.place))
		switch gap := open(s.body); {
		case len(s.body) == 0:
			b.openf(r, "check the room against the drawings", "space %q has no body that can be read; its form comes from its boundaries, or from what is stated", r.arg(2).word)
		case gap > 1e-4:
			b.openf(r, "check the room against the drawings", "the body of space %q does not close (%.1f %% of its faces)", r.arg(2).word, 100*gap)
		}
		s.low, s.top = box(s.body)
		s.out.Body = s.body
		b.spaces, b.byID[r.id] = append(b.spaces, s), s
		b.b.Spaces = append(b.b.Spaces, s.out)
	}, "IFCSPACE")
}

// readElements reads what bounds rooms and what is cut into it.
func (b *builder) readElements() {
	var kinds []string
	kinds = append(kinds, slices.Concat(wallKinds, slabKinds, roofKinds, windowKinds, doorKinds, voidKinds, []string{"IFCCOVERING", "IFCVIRTUALELEMENT"})...)
	b.store.all(func(r record) {
		e := &element{rec: r, name: title(r), place: b.placement(r.arg(5)), height: r.arg(8).num * b.units.length,
			width: r.arg(9).num * b.units.length, niche: r.arg(8).word == "RECESS"}
		e.rec.args = []value{r.arg(0)}
		if v, ok := b.property(r.id, "IsExternal"); ok {
			e.external = v.word
		}
		if !isA(r.kind, windowKinds, doorKinds, []string{"IFCVIRTUALELEMENT", "IFCCOVERING"}) {
			e.body = b.shape(r, e.place) // a window's hole says more than its frame and handles
		}
		if e.solid = len(e.body) > 0; e.solid {
			e.low, e.top = box(e.body)
			b.places.add(len(b.order), e.low, e.top)
		}
		if isA(r.kind, voidKinds) {
			e.body = nil // made again where the opening is placed
		}
		b.elements[r.id] = e
		b.order = append(b.order, e)
	}, kinds...)
}

// box is the least and greatest corner of a body.
func box(body []survey.Poly) (low, top vec) {
	for i, f := range body {
		for j, v := range f.Loop {
			if i == 0 && j == 0 {
				low, top = v, v
			}
			low = vec{X: min(low.X, v.X), Y: min(low.Y, v.Y), Z: min(low.Z, v.Z)}
			top = vec{X: max(top.X, v.X), Y: max(top.Y, v.Y), Z: max(top.Z, v.Z)}
		}
	}
	return low, top
}

// title is an element's name, or its tag, or its id.
func title(r record) string {
	for _, i := range []int{2, 7, 0} {
		if w := r.arg(i).word; w != "" {
			return w
		}
	}
	return r.name()
}

// role is what surface an element forms.
func role(kind string) survey.Role {
	switch {
	case isA(kind, wallKinds):
		return survey.WallFace
	case isA(kind, roofKinds):
		return survey.RoofFace
	}
	return survey.NoRole
}

// outsideWords are the words of a boundary's side.
var outsideWords = map[string]job.Behind{
	"EXTERNAL": job.Outside, "EXTERNAL_EARTH": job.Ground, "EXTERNAL_WATER": job.Ground, "EXTERNAL_FIRE": job.Party, "INTERNAL": survey.Inside,
}
