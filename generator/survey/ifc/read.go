package ifc

import (
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"

	"lapwork/generator/diag"
	"lapwork/generator/survey"
)

// builder makes a survey's building of a file's records.
type builder struct {
	geometry
	b        *survey.Building
	rel      relations
	storeys  map[uint64]*survey.Storey
	spaces   []*space
	byID     map[uint64]*space
	elements map[uint64]*element
	order    []*element
	places   *grid // of elements with a body, by their number in order
	build    map[stackKey]*survey.Construction

	materials map[uint64]material // nil: not read yet
}

// Read reads an IFC file in STEP form, or the one inside an .ifczip. What is wrong in it goes into the building's findings;
// an error means that it cannot be read at all.
func Read(name string, data io.ReaderAt, size int64) (*survey.Building, error) {
	var in io.Reader = io.NewSectionReader(data, 0, size)
	head := make([]byte, 4)
	if n, err := data.ReadAt(head, 0); err != nil && !errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("read %s: %w", name, err)
	} else if survey.IsZip(head[:n]) {
		inner, rc, err := survey.Unpack(data, size, ".ifc")
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		defer rc.Close() // reading only: nothing is lost if closing fails
		in, name = rc, name+"!"+inner
	}
	out := &survey.Building{Source: survey.Source{Name: name, Format: "IFC", Encoding: "STEP (ISO 10303-21)", Basis: "inner faces"}}
	records, err := load(name, survey.Bounded(in), &out.Found)
	if err != nil {
		return nil, err
	}
	b := &builder{b: out, places: newGrid(), geometry: geometry{store: records, placed: map[uint64]matrix{}, said: map[uint64]bool{}, path: map[uint64]bool{}},
		storeys: map[uint64]*survey.Storey{}, byID: map[uint64]*space{}, elements: map[uint64]*element{}, build: map[stackKey]*survey.Construction{}}
	b.all()
	return out, nil
}

// all fills the building, in the order things need each other.
func (b *builder) all() {
	b.b.Source.Version = b.schema
	b.units = b.readUnits()
	b.b.Source.Units = b.units.words
	if b.units.noArea && b.store.count("IFCQUANTITYAREA") > 0 {
		b.found.Notef(diag.Pos{File: b.file}, "", "no area unit is assigned; areas were read in the length unit squared")
	}
	b.rel = b.relate()
	b.project()
	b.readStoreys()
	b.readSpaces()
	b.readElements()
	b.readFaces()
	b.placeOpenings()
	b.placeServices()
	b.countAll()
	b.nearOrigin()
}

// project reads the name and the direction of north.
func (b *builder) project() {
	b.store.all(func(r record) {
		b.b.Name = r.arg(2).word
		if b.b.Name == "" {
			b.b.Name = r.arg(5).word
		}
		for _, c := range r.arg(7).items {
			context, ok := b.get(c)
			if !ok || context.kind != "IFCGEOMETRICREPRESENTATIONCONTEXT" {
				continue
			}
			if d, ok := b.direction(context.arg(5)); ok {
				b.b.North = bearing(d)
			}
		}
	}, "IFCPROJECT")
}

// readStoreys reads the levels. Their placement moves what stands on them; the stated elevation is only information.
func (b *builder) readStoreys() {
	b.store.all(func(r record) {
		s := &survey.Storey{ID: r.arg(0).word, Name: r.arg(2).word, Pos: b.pos(r.at)}
		if s.Name == "" {
			s.Name = r.arg(7).word
		}
		z, stated := b.placement(r.arg(5)).o.Z, r.arg(9).num*b.units.length
		if r.arg(5).kind == null {
			z = stated
		} else if r.arg(9).kind == number && (z-stated > 0.01 || stated-z > 0.01) {
			b.notef(r, "the storey states %.3f m and stands at %.3f m; where it stands was used", stated, z)
		}
		s.Level = metres(z)
		b.storeys[r.id] = s
		b.b.Storeys = append(b.b.Storeys, s)
	}, "IFCBUILDINGSTOREY")
	slices.SortStableFunc(b.b.Storeys, func(a, c *survey.Storey) int { return compare(float64(a.Level), float64(c.Level)) })
}

// storeyOf goes up the tree to a storey; nil where there is none.
func (b *builder) storeyOf(id uint64) *survey.Storey {
	for range maxChain {
		if s := b.storeys[id]; s != nil {
			return s
		}
		up, ok := b.rel.parent[id]
		if !ok {
			return nil
		}
		id = up.id
	}
	return nil
}

// countAll counts what the file holds and names what is left out.
func (b *builder) countAll() {
	count := func(group, kind string, n int) {
		if n > 0 || kind == "" {
			b.b.Counts = append(b.b.Counts, survey.Count{Group: group, Kind: kind, N: n})
		}
	}
	count("space", "", len(b.spaces))
	count("storey", "", len(b.storeys))
	byKind := func(group string, lists ...[]string) {
		for _, l := range lists {
			for _, k := range l {
				count(group, word(k), b.count(k))
			}
		}
	}
	byKind("surface", wallKinds, slabKinds, roofKinds, []string{"IFCCOVERING"})
	byKind("opening", windowKinds, doorKinds, voidKinds)
	byKind("penetration", slices.Sorted(maps.Keys(services)))
	b.leftOut()
}

// leftOut names the parts that were not read: kinds that bound no room, and kinds this reader does not know, with the first
// of each.
func (b *builder) leftOut() {
	for _, k := range aside {
		if n := b.count(k); n > 0 {
			b.b.Left = append(b.b.Left, survey.Left{What: fmt.Sprintf("%d %s", n, word(k)), Reason: "bounds no room"})
		}
	}
	type some struct {
		n     int
		first uint64
	}
	unknown := map[string]some{}
	for _, id := range slices.Sorted(maps.Keys(b.rel.parent)) {
		kind := b.kindOfRef(value{kind: ref, id: id})
		_, service := services[kind]
		if kind == "" || service || b.elements[id] != nil || isA(kind, aside, spatial) {
			continue
		}
		u := unknown[kind]
		if u.n++; u.n == 1 {
			u.first = id
		}
		unknown[kind] = u
	}
	for _, k := range slices.Sorted(maps.Keys(unknown)) {
		u := unknown[k]
		r, _ := b.get(value{kind: ref, id: u.first})
		b.notef(r, "this kind of part is not read; the file has %d of it", u.n)
		b.b.Left = append(b.b.Left, survey.Left{What: fmt.Sprintf("%d %s (first #%d, line %d)", u.n, k, u.first, r.at.line), Reason: "a kind of part that is not read"})
	}
}
