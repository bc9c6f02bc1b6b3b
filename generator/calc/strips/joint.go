package strips

import (
	"slices"

	q "lapwork/generator/quantity"
)

// jointTape is the tape of an end joint at u in the strip at v.
func (l *layer) jointTape(u fine, v q.MM) fine {
	if i, found := slices.BinarySearch(l.jointAt, u); found {
		return clipped(l.zones[i], l.mm(v), l.mm(v+l.p.RollWidth))
	}
	return clipped(l.zone(u), l.mm(v), l.mm(v+l.p.RollWidth))
}

// zone is where an end joint at u would lie on the domain, over the whole height.
func (l *layer) zone(u fine) []span {
	half := l.mm(l.p.EndJointLap) / 2
	return l.d.across(u-half, u+half)
}

// clipped is the length of spans inside (from, to).
func clipped(s []span, from, to fine) fine {
	var sum fine
	for _, x := range s {
		sum += max(0, min(x.to, to)-max(x.from, from))
	}
	return sum
}

// joints places the end joints of one run.
func (l *layer) joints(r span, ends piece, v q.MM, long fine) (at []fine, tape fine, ok bool) {
	if l.p.JointAnywhere {
		at = l.chain(r, ends, long)
		for _, u := range at {
			tape += l.jointTape(u, v)
		}
		return at, tape, true
	}
	from, onFrom := slices.BinarySearch(l.jointAt, r.from)
	if onFrom {
		from++
	}
	to, _ := slices.BinarySearch(l.jointAt, r.to)
	if from >= to {
		return nil, 0, false
	}
	backed := l.jointAt[from:to]
	count := l.fewest(backed, ends, long)
	if count == 0 {
		return nil, 0, false
	}
	return l.cheapest(backed, ends, v, long, count)
}

// chain makes every piece but the last as long as it may be, on whole millimetres.
func (l *layer) chain(r span, ends piece, long fine) []fine {
	half := l.mm(l.p.EndJointLap) / 2
	last := l.mm(l.d.ceilMM(r.to) - 1)
	var at []fine
	for from := ends.from; ends.to-from > long; {
		u := min(l.mm(l.d.floorMM(from+long-half)), last)
		at = append(at, u)
		from = u - half
	}
	return at
}

// fewest is the least number of joints at these places, 0 where there is no way.
func (l *layer) fewest(backed []fine, ends piece, long fine) int {
	half := l.mm(l.p.EndJointLap) / 2
	count, from := 0, ends.from
	for next := 0; ends.to-from > long; count++ {
		reached := -1
		for ; next < len(backed) && backed[next]+half-from <= long; next++ {
			reached = next
		}
		if reached < 0 {
			return 0
		}
		from = backed[reached] - half
	}
	return count
}

// clashBits is the room below the tape for counting joints on top of those to avoid; there are at most MaxBacking.
const clashBits = 10

// cheapest places count joints with the least tape, then the fewest on those to avoid, then at the smallest positions. It walks
// from the right: rest[i] is the least of both from joint i to the end with the joints still to come, or -1.
func (l *layer) cheapest(backed []fine, ends piece, v q.MM, long fine, count int) (at []fine, tape fine, ok bool) {
	half := l.mm(l.p.EndJointLap) / 2
	n := len(backed)
	room := make([]fine, 3*n)
	own, rest, further := room[:n], room[n:2*n], room[2*n:]
	for i, u := range backed {
		own[i], rest[i] = l.jointTape(u, v)<<clashBits, -1
		if slices.Contains(l.avoid, u) {
			own[i]++
		}
		if ends.to-(u-half) <= long {
			rest[i] = own[i]
		}
	}
	next := make([][]int, count) // next[k][i]: the joint after i when k more follow it
	for k := 1; k < count; k++ {
		next[k] = make([]int, n)
		for i := range backed {
			further[i] = -1
			for j := i + 1; j < n && backed[j]-backed[i]+2*half <= long; j++ {
				if rest[j] >= 0 && (further[i] < 0 || own[i]+rest[j] < further[i]) {
					further[i], next[k][i] = own[i]+rest[j], j
				}
			}
		}
		rest, further = further, rest
	}
	first := -1
	for i, u := range backed {
		if u+half-ends.from <= long && rest[i] >= 0 && (first < 0 || rest[i] < rest[first]) {
			first = i
		}
	}
	if first < 0 {
		return nil, 0, false
	}
	tape = rest[first] >> clashBits
	for i, k := first, count-1; ; k-- {
		at = append(at, backed[i])
		if k == 0 {
			return at, tape, true
		}
		i = next[k][i]
	}
}
