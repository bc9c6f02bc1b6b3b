package strips

import (
	"cmp"
	"math/big"

	"lapwork/generator/geometry"
	q "lapwork/generator/quantity"
)

// point is an exact corner in the axes of the strips.
type point struct{ u, v *big.Rat }

// side is the line an edge moves to: nu*u + nv*v = c, with (nu, nv) the outward normal of a counter-clockwise ring. Along an
// axis the normal is of length one.
type side struct {
	nu, nv int64
	c      *big.Rat
	foot   point // where the edge's first corner moves to
}

// ring is an outline as laid in the axes of the strips, counter-clockwise, with the shift of each edge.
type ring struct {
	corners []geometry.Point // X holds u, Y holds v
	shift   []q.MM           // outwards positive
}

// turned puts an outline into the axes of the strips and makes it counter-clockwise.
func turned(outline geometry.Polygon, shift []q.MM, d Direction) ring {
	n := len(outline)
	r := ring{make([]geometry.Point, n), make([]q.MM, n)}
	reverse := (outline.TwiceArea() < 0) != (d == Upright)
	for i, p := range outline {
		if d == Upright {
			p.X, p.Y = p.Y, p.X
		}
		at, edge := i, i
		if reverse {
			at, edge = n-1-i, (2*n-2-i)%n
		}
		r.corners[at] = p
		if shift != nil {
			r.shift[edge] = shift[i]
		}
	}
	return r
}

// even gives the same shift for every edge.
func even(n int, shift q.MM) []q.MM {
	out := make([]q.MM, n)
	for i := range out {
		out[i] = shift
	}
	return out
}

// sides gives the shifted lines of all edges.
func (r ring) sides() []side {
	out := make([]side, len(r.corners))
	for i, a := range r.corners {
		b := r.corners[(i+1)%len(r.corners)]
		nu, nv := int64(b.Y-a.Y), int64(a.X-b.X)
		if nu == 0 || nv == 0 {
			out[i] = straight(sign(nu), sign(nv), a, int64(r.shift[i]))
			continue
		}
		s := side{nu: nu, nv: nv, c: big.NewRat(nu*int64(a.X)+nv*int64(a.Y), 1)}
		s.foot = point{big.NewRat(int64(a.X), 1), big.NewRat(int64(a.Y), 1)}
		if t := int64(r.shift[i]); t != 0 {
			square := nu*nu + nv*nv
			length := root(square)
			s.c.Add(s.c, length.Mul(length, big.NewRat(t, 1)))
			scale := new(big.Rat).Quo(length, big.NewRat(square, 1)) // shift / length
			s.foot.u.Add(s.foot.u, new(big.Rat).Mul(scale, big.NewRat(nu, 1)))
			s.foot.v.Add(s.foot.v, scale.Mul(scale, big.NewRat(nv, 1)))
		}
		out[i] = s
	}
	return out
}

// straight is the line of an edge along an axis.
func straight(nu, nv int64, a geometry.Point, shift int64) side {
	u, v := int64(a.X)+nu*shift, int64(a.Y)+nv*shift
	return side{nu, nv, big.NewRat(nu*u+nv*v, 1), point{big.NewRat(u, 1), big.NewRat(v, 1)}}
}

func sign(n int64) int64 { return int64(cmp.Compare(n, 0)) }

// rootBits is how finely an irrational edge length is known: 2^-40 mm, far below every comparison made with it.
const rootBits = 40

// root is the square root of n: exact for a square, else to 2^-rootBits.
func root(n int64) *big.Rat {
	whole := new(big.Int).Sqrt(big.NewInt(n))
	if whole.IsInt64() && whole.Int64()*whole.Int64() == n {
		return new(big.Rat).SetInt(whole)
	}
	fine := new(big.Int).Lsh(big.NewInt(n), 2*rootBits)
	fine.Sqrt(fine)
	return new(big.Rat).SetFrac(fine, new(big.Int).Lsh(big.NewInt(1), rootBits))
}

// meet gives the corner between two neighbouring lines. Parallel lines in one sense make a step of two corners where they
// differ; in opposite senses they make none.
func meet(a, b side) []point {
	det := a.nu*b.nv - a.nv*b.nu
	switch {
	case a.nu == 0 && b.nv == 0:
		return []point{{b.foot.u, a.foot.v}}
	case a.nv == 0 && b.nu == 0:
		return []point{{a.foot.u, b.foot.v}}
	case det == 0:
		if a.nu*b.nu+a.nv*b.nv < 0 {
			return nil
		}
		if na, nb := new(big.Rat).Mul(a.c, big.NewRat(max(abs(b.nu), abs(b.nv)), 1)),
			new(big.Rat).Mul(b.c, big.NewRat(max(abs(a.nu), abs(a.nv)), 1)); na.Cmp(nb) == 0 {
			return []point{b.foot}
		}
		return []point{a.project(b.foot), b.foot}
	}
	div := big.NewRat(1, det)
	u := new(big.Rat).Sub(new(big.Rat).Mul(a.c, big.NewRat(b.nv, 1)), new(big.Rat).Mul(b.c, big.NewRat(a.nv, 1)))
	v := new(big.Rat).Sub(new(big.Rat).Mul(b.c, big.NewRat(a.nu, 1)), new(big.Rat).Mul(a.c, big.NewRat(b.nu, 1)))
	return []point{{u.Mul(u, div), v.Mul(v, div)}}
}

// project drops a point onto the line.
func (s side) project(p point) point {
	off := new(big.Rat).Mul(p.u, big.NewRat(s.nu, 1))
	off.Add(off, new(big.Rat).Mul(p.v, big.NewRat(s.nv, 1)))
	off.Sub(s.c, off).Mul(off, big.NewRat(1, s.nu*s.nu+s.nv*s.nv))
	u := new(big.Rat).Mul(off, big.NewRat(s.nu, 1))
	v := off.Mul(off, big.NewRat(s.nv, 1))
	return point{u.Add(u, p.u), v.Add(v, p.v)}
}

func abs(n int64) int64 { return max(n, -n) }

// outward gives the mitred ring with every edge moved out by its shift. Where a recess closes up the ring crosses itself; the
// covered part is where it winds round a point at least once.
func (r ring) outward() []point {
	sides := r.sides()
	out := make([]point, 0, len(sides))
	for i, s := range sides {
		out = append(out, meet(sides[(i+len(sides)-1)%len(sides)], s)...)
	}
	return out
}

// inward gives the mitred ring with every edge moved in by t, or nothing where the hole closes up. Edges that would
// turn round are dropped and their neighbours meet instead.
func (r ring) inward(t q.MM) []point {
	r.shift = even(len(r.corners), -t)
	sides := r.sides()
	for len(sides) >= 3 {
		out := make([]point, len(sides))
		for i, s := range sides {
			corner := meet(sides[(i+len(sides)-1)%len(sides)], s)
			if corner == nil {
				return nil
			}
			out[i] = corner[len(corner)-1]
		}
		flipped := -1
		for i, s := range sides {
			if !s.along(out[i], out[(i+1)%len(out)]) {
				flipped = i
				break
			}
		}
		if flipped < 0 {
			return out
		}
		sides = append(sides[:flipped], sides[flipped+1:]...)
	}
	return nil
}

// along says whether the way from a to b goes the way the edge went.
func (s side) along(a, b point) bool {
	switch {
	case s.nu == 0:
		return b.u.Cmp(a.u) == int(-s.nv)
	case s.nv == 0:
		return b.v.Cmp(a.v) == int(s.nu)
	}
	du, dv := new(big.Rat).Sub(b.u, a.u), new(big.Rat).Sub(b.v, a.v)
	du.Mul(du, big.NewRat(-s.nv, 1))
	return du.Add(du, dv.Mul(dv, big.NewRat(s.nu, 1))).Sign() > 0
}
