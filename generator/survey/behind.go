package survey

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"lapwork/generator/geometry"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
	"lapwork/generator/sorting"
)

// shortest is the least length of a piece of wall that gets a wall of its own, in metres. What is shorter (the end of an
// inside wall, a pilaster) goes with its neighbour.
const shortest = 0.15

// span is a stretch of a wall, in metres from its first corner, and what lies behind it there.
type span struct {
	from, to float64
	kind     Kind
	mixed    bool // by height more than one thing lies behind
}

// kinds finds what lies behind each surface of a room, and divides walls where it changes.
func (s *surveyor) kinds(r *Room) {
	if r.Basis == FromShape {
		return
	}
	faces := s.bySpace[r.Space]
	var foot geometry.Polygon
	var walls []Kind
	edge := make([]int, len(r.Slopes))
	for i, a := range r.Footprint {
		b := r.Footprint[(i+1)%len(r.Footprint)]
		spans := s.along(r, a, b, faces)
		for k := range r.Slopes {
			if r.Slopes[k].Edge == i+1 {
				edge[k] = len(foot) + 1
			}
		}
		l := math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y))
		for k, sp := range spans {
			c := a
			if k > 0 {
				t := sp.from * 1000 / l
				c = geometry.Point{X: a.X + q.MM(math.Round(t*float64(b.X-a.X))), Y: a.Y + q.MM(math.Round(t*float64(b.Y-a.Y)))}
			}
			foot = append(foot, c)
			walls = append(walls, sp.kind)
			if sp.mixed {
				s.mixed = append(s.mixed, fmt.Sprintf("%s wall %d", nameOf(r.Space), len(foot)))
			}
		}
	}
	if foot.Check() == nil {
		r.Footprint = foot
		for k := range r.Slopes {
			r.Slopes[k].Edge = edge[k]
		}
	} else { // a corner of a slanting wall that rounding put off its line: keep the walls whole
		walls = walls[:0]
		for i, a := range r.Footprint {
			walls = append(walls, longest(s.along(r, a, r.Footprint[(i+1)%len(r.Footprint)], faces)))
		}
	}
	r.Walls = walls
	s.level(r, faces)
}

func longest(spans []span) Kind {
	best := slices.MaxFunc(spans, func(a, b span) int { return cmp.Compare(a.to-a.from, b.to-b.from) })
	return best.kind
}

// hit is a face over a stretch of a wall.
type hit struct {
	from, to, off float64
	low, high     float64
	face          *Face
}

// along divides the wall from a to b by what lies behind.
func (s *surveyor) along(r *Room, a, b geometry.Point, faces []*Face) []span {
	from := Vec{float64(a.X) / 1000, float64(a.Y) / 1000, 0}
	to := Vec{float64(b.X) / 1000, float64(b.Y) / 1000, 0}
	dir := to.Minus(from).Unit()
	long := to.Minus(from).Length()
	out := Vec{dir.Y, -dir.X, 0}
	var hits []hit
	cuts := []float64{0, long}
	for _, f := range faces {
		h, ok := meets(f, from, dir, out, long)
		if !ok || h.high <= r.floor+0.02 || h.low >= r.floor+r.top()-0.02 {
			continue
		}
		hits = append(hits, h)
		cuts = append(cuts, h.from, h.to)
	}
	slices.Sort(cuts)
	var spans []span
	for i := range len(cuts) - 1 {
		if cuts[i+1]-cuts[i] < 0.001 {
			continue
		}
		k, mixed, known := pick(hits, (cuts[i]+cuts[i+1])/2, r)
		if !known {
			k = Kind{Part: WallPart, Behind: Unknown}
		}
		spans = append(spans, span{cuts[i], cuts[i+1], k, mixed})
	}
	return settle(spans, long)
}

// top is the greatest height over a room's floor, in metres.
func (r *Room) top() float64 {
	high := 0.0
	planes := r.planes()
	env := r.envelope(planes)
	for _, c := range env.Cells() {
		for _, v := range c.Loop {
			high = max(high, env.Vertex(v).Z)
		}
	}
	return high / 1000
}

// meets says over which stretch of a wall an upright face lies: parallel, on the wall's outer side or a little inside, no
// farther than a wall is thick.
func meets(f *Face, from, dir, out Vec, long float64) (hit, bool) {
	n := f.Poly.vector().Unit()
	if math.Abs(n.Z) > 0.35 || math.Abs(n.Dot(dir)) > parallel {
		return hit{}, false
	}
	h := hit{from: math.Inf(1), to: math.Inf(-1), low: math.Inf(1), high: math.Inf(-1), face: f}
	h.off = middle(f.Poly.Loop).Minus(from).Dot(out)
	for _, v := range f.Poly.Loop {
		t := v.Minus(from).Dot(dir)
		h.from, h.to = min(h.from, t), max(h.to, t)
		h.low, h.high = min(h.low, v.Z), max(h.high, v.Z)
	}
	h.from, h.to = max(0, h.from), min(long, h.to)
	return h, h.to-h.from > 0.01 && h.off <= wallDeep && h.off >= -0.05
}

// pick finds what lies behind at a place along a wall: the nearest faces, and of those what covers most of the height.
func pick(hits []hit, at float64, r *Room) (k Kind, mixed, known bool) {
	nearest := math.Inf(1)
	for _, h := range hits {
		if h.from <= at && at <= h.to {
			nearest = min(nearest, math.Abs(h.off))
		}
	}
	cover := map[Kind]float64{}
	var order []Kind
	for _, h := range hits {
		if h.from > at || at > h.to || math.Abs(h.off) > nearest+0.05 {
			continue
		}
		kind := kindOf(WallPart, h.face, r.Space)
		if _, seen := cover[kind]; !seen {
			order = append(order, kind)
		}
		cover[kind] += min(h.high, r.floor+r.top()) - max(h.low, r.floor)
	}
	best, all := 0.0, 0.0
	for _, kind := range order {
		all += cover[kind]
		if cover[kind] > best {
			k, best, known = kind, cover[kind], true
		}
	}
	return k, known && best < 0.95*all, known
}

// kindOf is what a face is to a room. What stands inside the heated volume is one kind, whatever it is built of.
func kindOf(part Part, f *Face, sp *Space) Kind {
	k := Kind{Part: part, Behind: f.behind(sp)}
	if k.Bounds() {
		k.Construction = f.Construction
	}
	return k
}

// settle joins stretches of one kind, gives short ones and short unknown ones to their neighbours.
func settle(spans []span, long float64) []span {
	if len(spans) == 0 {
		return []span{{0, long, Kind{Part: WallPart}, false}}
	}
	spans = joined(spans)
	for len(spans) > 1 {
		i := slices.IndexFunc(spans, func(s span) bool {
			return s.to-s.from < shortest || s.kind.Behind == Unknown && s.to-s.from < wallDeep
		})
		if i < 0 {
			break
		}
		j := i - 1 // the neighbour that takes it: the longer
		if i == 0 || i+1 < len(spans) && spans[i+1].to-spans[i+1].from > spans[i-1].to-spans[i-1].from {
			j = i + 1
		}
		spans[j].from, spans[j].to = min(spans[i].from, spans[j].from), max(spans[i].to, spans[j].to)
		spans = joined(slices.Delete(spans, i, i+1))
	}
	return spans
}

func joined(spans []span) []span {
	out := spans[:1]
	for _, s := range spans[1:] {
		if last := &out[len(out)-1]; last.kind == s.kind {
			last.to, last.mixed = s.to, last.mixed || s.mixed
			continue
		}
		out = append(out, s)
	}
	return out
}

// level finds what lies behind floor, ceiling and slopes by the plan area of the faces there.
func (s *surveyor) level(r *Room, faces []*Face) {
	floor, flat := map[Kind]float64{}, map[Kind]float64{}
	slopes := make([]map[Kind]float64, len(r.Slopes))
	planes := r.planes()
	foot := []geometry.Region{{Outer: r.Footprint}}
	half := r.floor + r.top()/2
	for _, f := range faces {
		n := f.Poly.vector().Unit()
		if math.Abs(n.Z) < steepest {
			continue
		}
		area := areaOf(common(foot, []geometry.Region{flatten(f.Poly)}))
		m := middle(f.Poly.Loop)
		if m.Z < half && math.Abs(n.Z) > flatFloor {
			floor[kindOf(FloorPart, f, r.Space)] += area
			continue
		}
		if i := alike(n, planes, r); i >= 0 {
			if slopes[i] == nil {
				slopes[i] = map[Kind]float64{}
			}
			slopes[i][kindOf(SlopePart, f, r.Space)] += area
			continue
		}
		flat[kindOf(CeilingPart, f, r.Space)] += area
	}
	r.Floor = s.most(r, FloorPart, floor)
	r.Ceiling = s.most(r, CeilingPart, flat)
	for i := range r.Slopes {
		r.Slopes[i].Kind = s.most(r, SlopePart, slopes[i])
	}
}

// alike is the slope a face lies along, from 0; −1 for none.
func alike(n Vec, planes []geometry.Plane, r *Room) int {
	if n.Z < 0 {
		n = n.Times(-1)
	}
	for i, p := range planes {
		if k := r.slopeOf(i); k >= 0 {
			up := Vec{-p.GX, -p.GY, 1}.Unit()
			if up.Cross(n).Length() < 0.1 {
				return k
			}
		}
	}
	return -1
}

// most is what lies behind the greatest part. Where another takes more than a twentieth it is said.
func (s *surveyor) most(r *Room, part Part, areas map[Kind]float64) Kind {
	best, all := Kind{Part: part}, 0.0
	var order []Kind
	for k := range areas {
		order = append(order, k)
	}
	sorting.Func(order, func(a, b Kind) int {
		return cmp.Or(cmp.Compare(areas[b], areas[a]), cmp.Compare(a.Behind, b.Behind), cmp.Compare(idOf(a.Construction), idOf(b.Construction)))
	})
	behind := map[job.Behind]float64{}
	for _, k := range order {
		all += areas[k]
		behind[k.Behind] += areas[k]
	}
	if len(order) == 0 {
		return best
	}
	best = order[0]
	if share := behind[best.Behind]; share < 0.95*all {
		var words List
		for _, k := range order {
			words = append(words, Say("%s %.1f m²", Said{Pattern: Word(k.Behind)}, areas[k]))
		}
		s.Found.Openf(r.Space.Pos, r.Space.ID, "divide the room where it changes, or correct the face in the job",
			"space %s (%s): behind its %s lie %s; the largest was taken for all", r.Space.ID, nameOf(r.Space), Said{Pattern: part.String()}, words)
	}
	return best
}

func idOf(c *Construction) string {
	if c == nil {
		return ""
	}
	return c.ID
}

// Word is what lies behind a surface, in words.
func Word(b job.Behind) string {
	switch b {
	case Unknown:
		return "not stated"
	case Inside:
		return "another room, not known which"
	case Nothing:
		return "open to the next room"
	case job.Heated:
		return "heated room"
	}
	return string(b)
}

// silent says behind how many surfaces of heated rooms the file leaves it open, and what was assumed.
func (s *surveyor) silent() {
	var where []string
	for _, r := range s.Rooms {
		if !r.Heated {
			continue
		}
		for i, k := range r.Walls {
			if k.Behind == Unknown {
				where = append(where, fmt.Sprintf("%s-W%d", r.ID, i+1))
			}
		}
		if r.Height > 0 && r.Ceiling.Behind == Unknown {
			where = append(where, string(r.ID)+"-C1")
		}
		if r.Floor.Behind == Unknown {
			where = append(where, string(r.ID)+"-F1")
		}
	}
	if len(where) > 0 {
		s.Found.Openf(s.top(), "", "correct the faces named ...-not-stated, or these surfaces",
			"behind %s the file says nothing: outside was assumed, ground below floors (%s)", Things(len(where), "surface", "surfaces"), some(where))
		s.Assumed = append(s.Assumed, Say("behind %s the file says nothing: outside was assumed, ground below floors (%s)", Things(len(where), "surface", "surfaces"), some(where)))
	}
}
