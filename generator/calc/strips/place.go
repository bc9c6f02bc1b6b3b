package strips

import (
	"slices"

	q "lapwork/generator/quantity"
)

// backed says whether a seam may lie at v.
func (s *search) backed(v q.MM) bool {
	if s.p.SeamAnywhere {
		return true
	}
	i, found := slices.BinarySearch(s.seamAt, v)
	return found || i < len(s.seamAt) && s.seamAt[i]-v <= s.p.SeamTol || i > 0 && v-s.seamAt[i-1] <= s.p.SeamTol
}

// near counts the seams of the next surface that a seam at v lies too close to.
func (s *search) near(v q.MM) int64 {
	var n int64
	for _, k := range s.p.KeepClear {
		if max(v-k, k-v) < s.p.ClearBy {
			n++
		}
	}
	return n
}

// places gives the positions worth trying where no lap is wider than most, rising: all that touch D, on the raster if there
// is one, or the candidates.
func (s *search) places(most q.MM) []q.MM {
	low, high := s.first-s.p.RollWidth+1, s.d.ceilMM(s.d.vmax)-1
	if s.p.StartAtEdge {
		low = s.first
	}
	high = max(high, s.first)
	step := q.MM(1)
	if s.p.Raster > 0 {
		step = s.p.Raster
		low = s.first - (s.first-low)/step*step
	} else if s.d.level {
		if few := s.candidates(low, high, most); few != nil {
			return few
		}
	}
	out := make([]q.MM, 0, (high-low)/step+1)
	for v := low; v <= high; v += step {
		out = append(out, v)
	}
	return out
}

// candidates gives the positions chained by tight laps, and by laps of the widest where one is set, to a place where a
// strip's cost can change, or nothing where every millimetre is fewer. Between such places a strip's cost is constant, and
// an arrangement can be shifted until some strip of each chain of tight or widest laps stands on the border of its stretch.
func (s *search) candidates(low, high, most q.MM) []q.MM {
	base := slices.DeleteFunc(s.borders(), func(v q.MM) bool { return v < low || v > high })
	steps := s.steps(high-low, most)
	if most == s.p.RollWidth { // one chain upwards from the smallest place of each is enough
		tight := s.p.RollWidth - s.p.Lap
		for i, b := range base {
			base[i] = low + (b-low)%tight
		}
		slices.Sort(base)
		base = slices.Compact(base)
	}
	if len(base)*len(steps) > int(high-low) {
		return nil
	}
	var out []q.MM
	for _, b := range base {
		for _, step := range steps {
			if v := b + step; low <= v && v <= high {
				out = append(out, v)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// borders gives the places where a strip's cost can change. Where gaps stop strips or pieces are joined the places themselves
// may be dearer than the millimetres beside them, so those count too.
func (s *search) borders() []q.MM {
	base := []q.MM{s.first, s.first - s.p.RollWidth + 1}
	for _, c := range s.d.corners {
		v := s.d.floorMM(c)
		base = append(base, v, v-s.p.RollWidth, v-s.p.Lap)
	}
	if s.p.StopGap > 0 || s.p.MaxPiece > 0 {
		for _, b := range base[:len(base):len(base)] {
			base = append(base, b-1, b+1)
		}
	}
	if !s.p.SeamAnywhere {
		for _, v := range s.seamAt {
			base = append(base, v-s.p.SeamTol, v+s.p.SeamTol)
		}
	}
	for _, v := range s.p.KeepClear {
		base = append(base, v-s.p.ClearBy, v+s.p.ClearBy)
	}
	slices.Sort(base)
	return slices.Compact(base)
}

// steps gives how far apart two strips of a chain can lie within a reach: upwards only where all laps are tight.
func (s *search) steps(reach, most q.MM) []q.MM {
	tight, widest := s.p.RollWidth-s.p.Lap, s.p.RollWidth-most
	var out []q.MM
	for a := q.MM(0); a <= reach; a += tight {
		if widest == 0 {
			out = append(out, a)
			continue
		}
		for b := a; b <= reach; b += widest {
			out = append(out, b, -b)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}
