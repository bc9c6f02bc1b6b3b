package survey

import "math"

// Minus is a − b.
func (a Vec) Minus(b Vec) Vec { return Vec{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }

// Plus is a + b.
func (a Vec) Plus(b Vec) Vec { return Vec{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }

// Times is a scaled.
func (a Vec) Times(k float64) Vec { return Vec{a.X * k, a.Y * k, a.Z * k} }

// Dot is the scalar product.
func (a Vec) Dot(b Vec) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }

// Cross is the vector product.
func (a Vec) Cross(b Vec) Vec {
	return Vec{a.Y*b.Z - a.Z*b.Y, a.Z*b.X - a.X*b.Z, a.X*b.Y - a.Y*b.X}
}

// Length is the distance from zero.
func (a Vec) Length() float64 { return math.Sqrt(a.Dot(a)) }

// Unit is the direction; zero stays zero.
func (a Vec) Unit() Vec {
	if l := a.Length(); l > 0 {
		return a.Times(1 / l)
	}
	return a
}

// Finite says whether the point can be reckoned with: no NaN, nothing beyond 10 km.
func (a Vec) Finite() bool {
	const far = 10_000
	return math.Abs(a.X) <= far && math.Abs(a.Y) <= far && math.Abs(a.Z) <= far // false for NaN
}

// areaVector is half of the sum of the cross products round a loop: its length is the area, its direction the normal by
// the right-hand rule. Corners are taken from the first, so that far coordinates lose no digits.
func areaVector(loop []Vec) Vec {
	var sum Vec
	for i := 1; i+1 < len(loop); i++ {
		sum = sum.Plus(loop[i].Minus(loop[0]).Cross(loop[i+1].Minus(loop[0])))
	}
	return sum.Times(0.5)
}

// vector is the area vector of a face, its holes taken out.
func (p Poly) vector() Vec {
	v := areaVector(p.Loop)
	for _, h := range p.Holes {
		w := areaVector(h)
		if w.Dot(v) > 0 {
			w = w.Times(-1)
		}
		v = v.Plus(w)
	}
	return v
}

// AreaVector is a face's area along its normal by the right-hand rule, holes taken out, m².
func (p Poly) AreaVector() Vec { return p.vector() }

// turned is the face seen from the other side.
func (p Poly) turned() Poly {
	out := Poly{Loop: turnedLoop(p.Loop)}
	for _, h := range p.Holes {
		out.Holes = append(out.Holes, turnedLoop(h))
	}
	return out
}

func turnedLoop(loop []Vec) []Vec {
	out := make([]Vec, len(loop))
	for i, v := range loop {
		out[len(loop)-1-i] = v
	}
	return out
}

// middle is the mean of the corners.
func middle(loop []Vec) Vec {
	var m Vec
	for _, v := range loop {
		m = m.Plus(v)
	}
	return m.Times(1 / float64(max(1, len(loop))))
}

// enclosed is the volume that outward faces enclose, m³, and how far they are from closing: the length of the sum of
// their area vectors, m². Reckoned from a corner.
func enclosed(faces []Poly) (volume, open float64) {
	var sum, o Vec
	for i, f := range faces {
		if len(f.Loop) == 0 {
			continue
		}
		if i == 0 {
			o = f.Loop[0]
		}
		v := f.vector()
		sum = sum.Plus(v)
		volume += f.Loop[0].Minus(o).Dot(v) / 3
	}
	return volume, sum.Length()
}
