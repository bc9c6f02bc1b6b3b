package strips

import "math/big"

// crossings gives the u of every crossing of two edges that both run along u at all. (The others cross at a corner's u.)
func crossings(rings [][]point) []*big.Rat {
	var lines []segment
	for _, ring := range rings {
		for i, a := range ring {
			if s := newSegment(a, ring[(i+1)%len(ring)]); s.lowU < s.highU {
				lines = append(lines, s)
			}
		}
	}
	var out []*big.Rat
	for i, s := range lines {
		for _, t := range lines[i+1:] {
			if s.lowU < t.highU && t.lowU < s.highU && s.lowV <= t.highV && t.lowV <= s.highV {
				if u := s.cross(t); u != nil {
					out = append(out, u)
				}
			}
		}
	}
	return out
}

// segment is an edge with the box round it; the box only saves exact arithmetic.
type segment struct {
	a, b                     point
	lowU, highU, lowV, highV float64
}

func newSegment(a, b point) segment {
	au, av, bu, bv := near(a.u), near(a.v), near(b.u), near(b.v)
	return segment{a, b, min(au, bu), max(au, bu), min(av, bv), max(av, bv)}
}

func near(r *big.Rat) float64 {
	f, _ := r.Float64()
	return f
}

// cross gives the u where the segments cross inside both, else nil.
func (s segment) cross(t segment) *big.Rat {
	sub := func(x, y *big.Rat) *big.Rat { return new(big.Rat).Sub(x, y) }
	cross := func(au, av, bu, bv *big.Rat) *big.Rat {
		return sub(new(big.Rat).Mul(au, bv), new(big.Rat).Mul(av, bu))
	}
	su, sv, tu, tv := sub(s.b.u, s.a.u), sub(s.b.v, s.a.v), sub(t.b.u, t.a.u), sub(t.b.v, t.a.v)
	det := cross(su, sv, tu, tv)
	if det.Sign() == 0 {
		return nil
	}
	gu, gv := sub(t.a.u, s.a.u), sub(t.a.v, s.a.v)
	onS, onT := cross(gu, gv, tu, tv), cross(gu, gv, su, sv)
	one := big.NewRat(1, 1)
	for _, share := range []*big.Rat{onS.Quo(onS, det), onT.Quo(onT, det)} {
		if share.Sign() <= 0 || share.Cmp(one) >= 0 {
			return nil
		}
	}
	return onS.Mul(onS, su).Add(onS, s.a.u)
}
