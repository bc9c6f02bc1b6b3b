package survey

import (
	"math"
	"slices"
)

// What the clean-up takes for equal, in metres.
const (
	samePoint  = 0.001 // corners no farther apart are one
	planar     = 0.005 // a corner farther from the plane of its face makes the face bent
	bentFar    = 0.05  // from here on a bent face is a mistake rather than rounding
	closesGaps = 0.020 // gaps of a body up to this are closed
	sliverWide = 0.005 // faces no wider than this are dropped
	sliverArea = 0.0001
)

// repairs counts what the clean-up did to faces, with the greatest distance where one is of interest.
type repairs struct {
	slivers, doubles, reversed, bent, broken int
	worstBend, widestGap                     float64
}

func (r *repairs) add(o repairs) {
	r.slivers += o.slivers
	r.doubles += o.doubles
	r.reversed += o.reversed
	r.bent += o.bent
	r.broken += o.broken
	r.worstBend = max(r.worstBend, o.worstBend)
	r.widestGap = max(r.widestGap, o.widestGap)
}

// words says what was done, for the report; empty for nothing.
func (r repairs) words() []Said {
	var out []Said
	for _, done := range []Counted{
		Things(r.broken, "face with fewer than three corners dropped", "faces with fewer than three corners dropped"),
		Things(r.slivers, "sliver dropped", "slivers dropped"),
		Things(r.doubles, "face that stands twice dropped", "faces that stand twice dropped"),
		Things(r.reversed, "face turned to look outwards", "faces turned to look outwards"),
	} {
		if done.N > 0 {
			out = append(out, Say("%s", done))
		}
	}
	if r.bent > 0 {
		out = append(out, Say("%s split into triangles (up to %.0f mm off the plane)", Things(r.bent, "bent face", "bent faces"), r.worstBend*1000))
	}
	if r.widestGap > 0 {
		out = append(out, Say("gaps up to %.0f mm closed", r.widestGap*1000))
	}
	return out
}

// cleanLoop takes out repeated corners, among them a closing one, and spikes that run there and back.
func cleanLoop(loop []Vec) []Vec {
	out := slices.Clone(loop)
	for changed := true; changed && len(out) > 2; {
		changed = false
		for i := 0; i < len(out) && len(out) > 2; i++ {
			a, b, c := out[(i+len(out)-1)%len(out)], out[i], out[(i+1)%len(out)]
			same := a.Minus(b).Length() <= samePoint
			spike := a.Minus(c).Length() <= samePoint
			if same || spike {
				out = slices.Delete(out, i, i+1)
				changed = true
				i--
			}
		}
	}
	return out
}

// cleanFaces puts the faces of one body right, each by itself: corners, slivers, bends, doubles.
func cleanFaces(faces []Poly) ([]Poly, repairs) {
	var out []Poly
	var done repairs
	for _, f := range faces {
		f.Loop = cleanLoop(f.Loop)
		if len(f.Loop) < 3 {
			done.broken++
			continue
		}
		if isSliver(f.Loop) {
			done.slivers++
			continue
		}
		off := bend(f.Loop)
		if off > planar && len(f.Loop) > 3 && len(f.Holes) == 0 {
			done.bent++
			done.worstBend = max(done.worstBend, off)
			for _, t := range triangles(f.Loop) {
				out = append(out, Poly{Loop: t})
			}
			continue
		}
		out = append(out, f)
	}
	kept := out[:0:0]
	for i, f := range out {
		if slices.ContainsFunc(out[:i], func(o Poly) bool { return sameCorners(o.Loop, f.Loop) }) {
			done.doubles++
			continue
		}
		kept = append(kept, f)
	}
	return kept, done
}

// isSliver says whether a face is too narrow to be one.
func isSliver(loop []Vec) bool {
	area := areaVector(loop).Length()
	longest := 0.0
	for i, a := range loop {
		for _, b := range loop[i+1:] {
			longest = max(longest, a.Minus(b).Length())
		}
	}
	return area < sliverArea || longest > 0 && area/longest < sliverWide
}

// bend is how far corners lie from the mean plane of a loop.
func bend(loop []Vec) float64 {
	n, m, far := areaVector(loop).Unit(), middle(loop), 0.0
	for _, v := range loop {
		far = max(far, math.Abs(v.Minus(m).Dot(n)))
	}
	return far
}

// sameCorners says whether two loops have the same corners, whatever their start and direction.
func sameCorners(a, b []Vec) bool {
	if len(a) != len(b) || middle(a).Minus(middle(b)).Length() > samePoint {
		return false
	}
	for _, v := range a {
		if !slices.ContainsFunc(b, func(w Vec) bool { return v.Minus(w).Length() <= samePoint }) {
			return false
		}
	}
	return true
}

// triangles cuts a bent loop into triangles by its ears, looking along its mean normal.
func triangles(loop []Vec) [][]Vec {
	n := areaVector(loop).Unit()
	left := slices.Clone(loop)
	var out [][]Vec
	for len(left) > 3 {
		i := ear(left, n)
		a, b, c := left[(i+len(left)-1)%len(left)], left[i], left[(i+1)%len(left)]
		out = append(out, []Vec{a, b, c})
		left = slices.Delete(left, i, i+1)
	}
	return append(out, left)
}

// ear is a corner that can be cut off: a left turn with no other corner in its triangle. Where rounding leaves none, the
// first corner.
func ear(loop []Vec, n Vec) int {
	for i, b := range loop {
		a, c := loop[(i+len(loop)-1)%len(loop)], loop[(i+1)%len(loop)]
		if b.Minus(a).Cross(c.Minus(b)).Dot(n) <= 0 {
			continue
		}
		if !slices.ContainsFunc(loop, func(p Vec) bool {
			return p != a && p != b && p != c && inTriangle(p, a, b, c, n)
		}) {
			return i
		}
	}
	return 0
}

func inTriangle(p, a, b, c, n Vec) bool {
	side := func(u, v Vec) bool { return v.Minus(u).Cross(p.Minus(u)).Dot(n) >= 0 }
	return side(a, b) && side(b, c) && side(c, a)
}

// closeGaps joins corners of a body that are no farther apart than closesGaps; it gives the widest gap closed. The first
// corner met of each group stays.
func closeGaps(faces []Poly) ([]Poly, float64) {
	var kept []Vec
	widest := 0.0
	snap := func(v Vec) Vec {
		for _, k := range kept {
			if d := v.Minus(k).Length(); d <= closesGaps {
				if d > samePoint {
					widest = max(widest, d)
				}
				return k
			}
		}
		kept = append(kept, v)
		return v
	}
	out := make([]Poly, len(faces))
	for i, f := range faces {
		for _, v := range f.Loop {
			out[i].Loop = append(out[i].Loop, snap(v))
		}
		for _, h := range f.Holes {
			var hole []Vec
			for _, v := range h {
				hole = append(hole, snap(v))
			}
			out[i].Holes = append(out[i].Holes, hole)
		}
	}
	return out, widest
}
