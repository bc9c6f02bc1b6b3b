package ifc

import (
	"fmt"
	"math"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/survey"
)

// How faces of rooms without boundaries are matched, in metres.
const (
	wallDeep = 0.6  // the greatest distance between the two faces of one wall or floor
	narrow   = 0.5  // a rest no wider than this beside another room is the end of a wall or floor
	smallest = 0.05 // m²: rests below this are left to the wall beside them
)

// manyFaces is how many faces a room may have for its sides to be matched with those of other rooms.
const manyFaces = 2000

// side is one face of a room's body.
type side struct {
	of   *space
	poly survey.Poly
	on   plane
	no   int // from 1, over all rooms
}

// sides gives the faces of all rooms that are large enough to matter, by room.
func (b *builder) sides() map[*space][]side {
	out := map[*space][]side{}
	no := 0
	for _, s := range b.spaces {
		if s.out.External {
			continue
		}
		if len(s.body) > manyFaces {
			b.found.Openf(s.out.Pos, s.out.ID, "say in the job what lies behind its faces", "the body of space %q has more than %d faces; what lies behind them was not looked for", s.out.Number, manyFaces)
			continue
		}
		for _, p := range s.body {
			if v := p.AreaVector(); v.Length() > smallest {
				no++
				on := plane{n: v.Unit()}
				on.d = on.n.Dot(p.Loop[0])
				out[s] = append(out[s], side{s, p, on, no})
			}
		}
	}
	return out
}

// deriving counts what was made of faces without boundaries.
type deriving struct {
	*builder
	has                    map[*space]bool // rooms with boundaries
	sides                  map[*space][]side
	made, guessed, unknown int
}

// derive makes the faces of spaces that have no boundaries. Where the face of another room lies opposite within a wall's
// thickness, both rooms share the face; the rest has no room behind it. Whether that is outside says the element there, by
// its IsExternal, and where it does not say, its position alone: the survey says how many were taken so.
func (b *builder) derive(has map[*space]bool) {
	d := &deriving{builder: b, has: has, sides: b.sides()}
	rooms := newGrid()
	for i, s := range b.spaces {
		rooms.add(i, s.low, s.top)
	}
	for _, s := range b.spaces {
		if has[s] || len(d.sides[s]) == 0 {
			continue
		}
		var others []side
		for _, i := range rooms.near(s.low, s.top, wallDeep) {
			o := b.spaces[i]
			if o != s && len(o.body) > 0 && s.close(o) {
				others = append(others, d.sides[o]...)
			}
		}
		for _, x := range d.sides[s] {
			rest, shared := d.share(x, others)
			d.alone(x, rest, shared)
		}
	}
	at := diag.Pos{File: b.file}
	if d.made > 0 {
		b.found.Notef(at, "", "%d faces were made by position: their rooms have no space boundaries", d.made)
	}
	if d.guessed > 0 {
		b.found.Openf(at, "", "check which walls and roofs are outside", "%d faces were taken as outside because no room lies within %.1f m behind them; the file does not say", d.guessed, wallDeep)
	}
	if d.unknown > 0 {
		b.found.Openf(at, "", "say in the job what lies behind them", "%d faces have no room and no wall, slab or roof behind them, or are floors; what lies there is not known", d.unknown)
	}
}

// share makes a face for each side of another room opposite, and gives what is left.
func (d *deriving) share(s side, others []side) (rest []cell, shared int) {
	rest = convex([]survey.Poly{s.poly})
	for _, o := range others {
		if !s.opposite(o) {
			continue
		}
		budget := maxCells
		column := partition(convex(columnOf(o)), &budget)
		both, without := column.part(rest, true, true, &budget)
		if areaOf(both) < smallest {
			continue
		}
		rest = without
		shared++
		if s.no > o.no && !d.has[o.of] {
			continue // the other room has made the face for both
		}
		for n, p := range merge(both) {
			f := d.addDerived(s, p, fmt.Sprintf("%s-f%d-%d.%d", s.of.out.ID, s.no, o.no, n+1), []*survey.Space{s.of.out, o.of.out}, "")
			d.clad(f, d.beyond(p, s.on), s.of)
			d.made++
		}
	}
	return rest, shared
}

// alone makes faces of what has no room behind it. Narrow rests beside a neighbour are the ends of walls and floors.
func (d *deriving) alone(s side, rest []cell, shared int) {
	for n, p := range merge(rest) {
		a := p.AreaVector().Length()
		if a < smallest || shared > 0 && 2*a/around(p.Loop) < narrow {
			continue
		}
		e := d.beyond(p, s.on)
		behind, guess := d.judge(e, s.on)
		if guess && behind == survey.Unknown {
			d.unknown++
		} else if guess {
			d.guessed++
		}
		f := d.addDerived(s, p, fmt.Sprintf("%s-f%d.%d", s.of.out.ID, s.no, n+1), []*survey.Space{s.of.out}, behind)
		d.clad(f, e, s.of)
		d.made++
	}
}

// close says whether the boxes of two rooms lie no farther apart than a wall is thick.
func (s *space) close(o *space) bool {
	return s.low.X < o.top.X+wallDeep && o.low.X < s.top.X+wallDeep && s.low.Y < o.top.Y+wallDeep && o.low.Y < s.top.Y+wallDeep &&
		s.low.Z < o.top.Z+wallDeep && o.low.Z < s.top.Z+wallDeep
}

// opposite says whether another side looks back at this one within a wall's thickness, outside of the room.
func (s side) opposite(o side) bool {
	if s.on.n.Dot(o.on.n) > -0.999 {
		return false
	}
	for _, v := range o.poly.Loop {
		if d := s.on.off(v); d > -0.01 && d < wallDeep {
			return true
		}
	}
	return false
}

// columnOf is a side as a body that reaches far enough along its normal to cut what lies opposite.
func columnOf(o side) []survey.Poly {
	m := matrix{z: o.on.n, o: o.poly.Loop[0].Minus(o.on.n)}
	m.orthogonal(vec{X: 1})
	if math.Abs(o.on.n.X) > 0.9 {
		m.orthogonal(vec{Y: 1})
	}
	p := survey.Poly{Loop: flatten([]survey.Poly{{Loop: o.poly.Loop}}, m)}
	for _, h := range o.poly.Holes {
		p.Holes = append(p.Holes, flatten([]survey.Poly{{Loop: h}}, m))
	}
	return outward(m.polys(prism(region(p.Loop, p.Holes...), vec{Z: 3})))
}

func areaOf(cells []cell) float64 {
	var a float64
	for _, c := range cells {
		a += survey.Poly{Loop: c.loop}.AreaVector().Length()
	}
	return a
}

// around is the length of a loop.
func around(loop []vec) float64 {
	var sum float64
	for i, v := range loop {
		sum += loop[(i+1)%len(loop)].Minus(v).Length()
	}
	return sum
}

func (b *builder) addDerived(s side, p survey.Poly, id string, of []*survey.Space, behind job.Behind) *survey.Face {
	f := &survey.Face{ID: id, Kind: "face of the room's body", Poly: survey.Poly{Loop: p.Loop}, Spaces: of, Behind: behind, Pos: s.of.out.Pos}
	switch z := s.on.n.Z; {
	case z < -0.9:
		f.Role = survey.FloorFace
	case z > 0.9:
		f.Role = survey.CeilingFace
	}
	b.b.Faces = append(b.b.Faces, f)
	return f
}

// clad takes a face's kind and layers from the element behind it.
func (b *builder) clad(f *survey.Face, e *element, s *space) {
	if e == nil {
		return
	}
	f.Kind, f.Construction = word(e.rec.kind), b.construction(e, f.Poly, s)
	if r := role(e.rec.kind); r != survey.NoRole {
		f.Role = r
	}
}

// beyond finds the wall, slab or roof behind a piece of a face: the element whose body a line outward from a point inside
// the piece meets first.
func (b *builder) beyond(p survey.Poly, on plane) *element {
	at, ok := pointIn(p, on)
	if !ok {
		return nil
	}
	var best *element
	near := wallDeep
	for _, i := range b.places.near(at, at, wallDeep) {
		e := b.order[i]
		if !isA(e.rec.kind, wallKinds, slabKinds, roofKinds) || len(e.body) == 0 || !inBox(at, e.low, e.top, wallDeep) {
			continue
		}
		for _, f := range e.body {
			v := f.AreaVector().Unit()
			cos := v.Dot(on.n)
			if math.Abs(cos) < 0.1 {
				continue
			}
			if d := f.Loop[0].Minus(at).Dot(v) / cos; d > -0.05 && d < near && covers(f.Loop, at.Plus(on.n.Times(d)), v) {
				best, near = e, d
			}
		}
	}
	return best
}

func inBox(p, low, top vec, by float64) bool {
	return p.X > low.X-by && p.X < top.X+by && p.Y > low.Y-by && p.Y < top.Y+by && p.Z > low.Z-by && p.Z < top.Z+by
}

// pointIn is a point inside a piece: the middle of its largest triangle.
func pointIn(p survey.Poly, on plane) (vec, bool) {
	var best []vec
	var area float64
	for _, t := range triangulate(p, on.n) {
		if a := (survey.Poly{Loop: t}).AreaVector().Length(); a > area {
			best, area = t, a
		}
	}
	if best == nil {
		return vec{}, false
	}
	return best[0].Plus(best[1]).Plus(best[2]).Times(1.0 / 3), true
}

// judge says what lies behind a face without a room there, and whether that is a guess.
func (b *builder) judge(e *element, on plane) (behind job.Behind, guess bool) {
	switch {
	case e != nil && e.external == "T":
		return job.Outside, false
	case e == nil || e.external == "F" || on.n.Z < -0.5:
		return survey.Unknown, true
	}
	return job.Outside, true
}
