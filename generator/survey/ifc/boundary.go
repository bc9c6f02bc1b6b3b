package ifc

import (
	"strings"

	"lapwork/generator/diag"
	"lapwork/generator/survey"
)

// boundary is one IfcRelSpaceBoundary.
type boundary struct {
	rec   record
	space *space
	about value // the element
	polys []survey.Poly
	face  *survey.Face
}

var boundaryKinds = []string{"IFCRELSPACEBOUNDARY", "IFCRELSPACEBOUNDARY1STLEVEL", "IFCRELSPACEBOUNDARY2NDLEVEL"}

// readFaces takes faces from space boundaries, and makes them by position for spaces that have none.
func (b *builder) readFaces() {
	all := b.boundaries()
	has := map[*space]bool{}
	parents := map[uint64]*boundary{}
	var inner []*boundary // windows, doors, holes
	for _, x := range all {
		if kind := b.kindOfRef(x.about); isA(kind, windowKinds, doorKinds, voidKinds) {
			inner = append(inner, x)
			continue
		}
		has[x.space] = true
		parents[x.rec.id] = x
		for i, p := range x.polys {
			f := b.boundaryFace(x, p)
			if i == 0 {
				x.face = f
			}
			b.innerLoops(x, f, p)
			b.b.Faces = append(b.b.Faces, f)
		}
	}
	for _, x := range inner {
		b.innerBoundary(x, parents[x.rec.arg(9).id])
	}
	b.derive(has)
}

// boundaries reads the boundaries of the finest level the file has.
func (b *builder) boundaries() []*boundary {
	var first, second, all []*boundary
	b.store.all(func(r record) {
		x := &boundary{rec: r, space: b.byID[r.arg(4).id], about: r.arg(5)}
		if x.space == nil {
			if !strings.Contains(b.kindOfRef(r.arg(4)), "EXTERNALSPATIAL") { // the outside's own side of a boundary
				b.notef(r, "the boundary names no space of the file and was left out")
			}
			return
		}
		x.polys = b.surface(r, x.space.place)
		level := strings.ToLower(r.arg(2).word + " " + r.arg(3).word + r.kind)
		switch {
		case strings.Contains(level, "2nd") || strings.Contains(level, "second"):
			second = append(second, x)
		case strings.Contains(level, "1st") || strings.Contains(level, "first"):
			first = append(first, x)
		default:
			all = append(all, x)
		}
	}, boundaryKinds...)
	if len(second) == 0 {
		return append(first, all...)
	}
	if len(first) > 0 {
		b.found.Notef(diag.Pos{File: b.file}, "", "the file has boundaries of the first and the second level; the second was used")
	}
	return append(second, all...)
}

// surface reads the geometry of a boundary, in the system of its space.
func (b *builder) surface(r record, m matrix) []survey.Poly {
	connection, ok := b.get(r.arg(6))
	if !ok {
		b.notef(r, "the boundary has no geometry and was left out")
		return nil
	}
	s, ok := b.get(connection.arg(0))
	if !ok {
		b.notef(r, "the boundary has no geometry and was left out")
		return nil
	}
	b.work = 0
	var out []survey.Poly
	switch s.kind {
	case "IFCCURVEBOUNDEDPLANE":
		plane, _ := b.get(s.arg(0))
		var holes [][]vec
		for _, h := range s.arg(2).items {
			holes = append(holes, b.curve(h, 0))
		}
		out = b.axes(plane.arg(0)).polys(region(b.curve(s.arg(1), 0), holes...))
	case "IFCSURFACEOFLINEAREXTRUSION":
		profile, _ := b.get(s.arg(0))
		line := tidy(b.curve(profile.arg(2), 0))
		d, _ := b.direction(s.arg(2))
		d = d.Times(s.arg(3).num * b.units.length)
		for i := 0; i+1 < len(line); i++ {
			out = append(out, survey.Poly{Loop: []vec{line[i], line[i+1], line[i+1].Plus(d), line[i].Plus(d)}})
		}
		out = b.axes(s.arg(1)).polys(out)
	case "IFCFACESURFACE", "IFCADVANCEDFACE":
		out = b.face(s)
	default:
		out = b.solid(connection.arg(0), 0)
	}
	if len(out) == 0 {
		b.notef(r, "the geometry of the boundary (#%d %s) is not read or encloses nothing; the boundary was left out", s.id, s.kind)
	}
	return m.polys(out)
}

// boundaryFace makes the face of a boundary; holes in it are openings and are not kept.
func (b *builder) boundaryFace(x *boundary, p survey.Poly) *survey.Face {
	kind := b.kindOfRef(x.about)
	f := &survey.Face{ID: x.rec.arg(0).word, Kind: word(kind), Role: role(kind), Poly: survey.Poly{Loop: p.Loop},
		Spaces: []*survey.Space{x.space.out}, Pos: b.pos(x.rec.at)}
	f.Behind = outsideWords[x.rec.arg(8).word]
	if x.rec.arg(7).word == "VIRTUAL" && f.Behind == survey.Inside {
		f.Behind = survey.Nothing
	}
	if f.Kind == "" {
		f.Kind = "no element"
		if f.Behind != survey.Nothing && f.Behind != survey.Inside {
			b.openf(x.rec, "say in the job what closes the room there", "the boundary of space %q against the outside names no wall, slab or roof", x.space.out.Number)
		}
	}
	if e := b.elements[x.about.id]; e != nil {
		f.Construction = b.construction(e, p, x.space)
	}
	return f
}
