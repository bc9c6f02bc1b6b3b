package drawing

import "math"

// A scale brings millimetres of the real thing onto the figure.
type scale struct {
	k      float64 // pixels per millimetre
	origin XY      // of the real thing
	at     Pt      // where the origin stands on the figure
}

func (s scale) pt(p XY) Pt {
	p = tame(p)
	return Pt{s.at.X + (p.X-s.origin.X)*s.k, s.at.Y - (p.Y-s.origin.Y)*s.k}
}

func (s scale) pts(path []XY) []Pt {
	out := make([]Pt, len(path))
	for i, p := range path {
		out[i] = s.pt(p)
	}
	return out
}

// farthest is the largest coordinate a figure takes, in mm: 10 km. What lies beyond is drawn there.
const farthest = 1e7

func tame(p XY) XY { return XY{tameValue(p.X), tameValue(p.Y)} }

func tameValue(v float64) float64 {
	if math.IsNaN(v) {
		return 0
	}
	return math.Max(-farthest, math.Min(farthest, v))
}

// extent is the box around points of the real thing: lower left and upper right.
func extent(paths ...[]XY) (low, high XY, ok bool) {
	low, high = XY{math.Inf(1), math.Inf(1)}, XY{math.Inf(-1), math.Inf(-1)}
	for _, path := range paths {
		for _, p := range path {
			p = tame(p)
			low = XY{math.Min(low.X, p.X), math.Min(low.Y, p.Y)}
			high = XY{math.Max(high.X, p.X), math.Max(high.Y, p.Y)}
			ok = true
		}
	}
	return low, high, ok
}

// nothing is the figure of an input without anything to draw.
func nothing(c Canvas, title string, w *Words) {
	b := &board{limit: Box{0, 0, 680, 60}}
	b.put(label{text: w.Empty, at: Pt{340, 30}, style: TextStyle{Ink: Quiet}})
	b.finish(c, title, w.Empty, b.limit)
}
