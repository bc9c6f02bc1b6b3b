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

// Figure is a figure that the file states, beside the one computed from its geometry.
type Figure struct {
	Space            *Space // nil: the whole building
	What             string // "floor area", "volume"
	Unit             string
	Stated, Computed float64
}

// Off is how far the computed figure is from the stated one, as a share of that.
func (f Figure) Off() float64 {
	if f.Stated == 0 {
		return 0
	}
	off := (f.Computed - f.Stated) / f.Stated
	if math.Abs(off) < 0.0005 {
		return 0 // shown as a tenth of a per cent; no minus before a nought
	}
	return off
}

// FaceRow sums the faces of the file of one kind, as its polygons give them.
type FaceRow struct {
	Kind     string
	Count    int
	Gross    q.Area
	Openings int
	Opening  q.Area
}

// EnvelopeRow sums the surfaces of the rooms that bound the heated volume, by part and what lies behind.
type EnvelopeRow struct {
	Part     Part
	Behind   job.Behind
	Surfaces int
	Gross    q.Area
	Opening  q.Area
}

// differs is from what share on a stated figure counts as another one.
const differs = 0.01

// faceRows sums the file's faces before anything is done to them.
func (s *surveyor) faceRows() {
	at := map[string]int{}
	for _, f := range s.Building.Faces {
		i, ok := at[f.Kind]
		if !ok {
			i = len(s.FaceRows)
			at[f.Kind] = i
			s.FaceRows = append(s.FaceRows, FaceRow{Kind: f.Kind})
		}
		r := &s.FaceRows[i]
		r.Count++
		r.Gross += q.Area(f.Poly.vector().Length())
		for _, o := range f.Openings {
			r.Openings++
			r.Opening += q.Area(areaVector(o.Loop).Length())
		}
	}
	sorting.Func(s.FaceRows, func(a, b FaceRow) int { return cmp.Compare(a.Kind, b.Kind) })
}

// figures compares what the file states and sums the envelope.
func (s *surveyor) figures() {
	area, volume := map[*Space]float64{}, map[*Space]float64{}
	for _, r := range s.Rooms {
		r.measure()
		area[r.Space] += float64(r.FloorArea)
		volume[r.Space] += float64(r.Volume)
	}
	var sumA, sumV Figure
	sumA.What, sumA.Unit, sumV.What, sumV.Unit = "floor area", "m²", "volume", "m³"
	for _, sp := range s.Building.Spaces {
		if _, ok := area[sp]; !ok {
			continue
		}
		s.figure(&sumA, Figure{sp, "floor area", "m²", float64(sp.Stated.FloorArea), area[sp]})
		s.figure(&sumV, Figure{sp, "volume", "m³", float64(sp.Stated.Volume), volume[sp]})
	}
	s.total(sumA)
	s.total(sumV)
	s.envelope()
}

func (s *surveyor) figure(sum *Figure, f Figure) {
	if f.Stated <= 0 {
		return
	}
	sum.Stated += f.Stated
	sum.Computed += f.Computed
	s.Figures = append(s.Figures, f)
}

// total adds a figure of the whole building and says where rooms differ, with what may be the reason.
func (s *surveyor) total(sum Figure) {
	if sum.Stated <= 0 {
		return
	}
	s.Figures = append(s.Figures, sum)
	var off []string
	rooms := 0
	for _, f := range s.Figures {
		if f.Space != nil && f.What == sum.What {
			rooms++
			if math.Abs(f.Off()) > differs {
				off = append(off, fmt.Sprintf("%s %.2f for %.2f %s", nameOf(f.Space), f.Computed, f.Stated, f.Unit))
			}
		}
	}
	if len(off) == 0 {
		return
	}
	why := Said{}
	const another = 20 // times as large or small is no measuring
	switch {
	case sum.Stated > another*sum.Computed || sum.Computed > another*sum.Stated:
		why = Say("; so far off they are most likely in another unit, and say nothing of the geometry")
	case sum.Off() > differs:
		why = Say("; the geometry is larger, as where faces lie on centre or outer lines of walls or floors and the figures are net: quantities come out too high by about as much")
	case sum.Off() < -differs:
		why = Say("; the geometry is smaller: quantities come out too low if the figures are right")
	}
	s.Found.Openf(s.top(), "", "see on site which holds, and correct the rooms if the figures do",
		"%d of %d rooms have another %s than stated (in all %.2f for %.2f %s, %+.1f %%)%s: %s", len(off), rooms, Said{Pattern: sum.What}, sum.Computed, sum.Stated, sum.Unit, 100*sum.Off(), why, some(off))
}

// envelope sums the boundary of the heated rooms.
func (s *surveyor) envelope() {
	add := func(k Kind, gross, opening float64) {
		if !k.Bounds() || gross == 0 {
			return
		}
		i := slices.IndexFunc(s.Envelope, func(e EnvelopeRow) bool { return e.Part == k.Part && e.Behind == k.Behind })
		if i < 0 {
			i = len(s.Envelope)
			s.Envelope = append(s.Envelope, EnvelopeRow{Part: k.Part, Behind: k.Behind})
		}
		s.Envelope[i].Surfaces++
		s.Envelope[i].Gross += q.Area(gross)
		s.Envelope[i].Opening += q.Area(opening)
	}
	for _, r := range s.Rooms {
		if !r.Heated {
			continue
		}
		areas := r.areas()
		opened := map[string]float64{}
		for _, o := range r.Openings {
			opened[o.In] += float64(o.Width) * float64(o.Height) / 1e6
		}
		for i, k := range r.Walls {
			add(k, areas.walls[i], opened[fmt.Sprintf("wall %d", i+1)])
		}
		for i, sl := range r.Slopes {
			add(sl.Kind, areas.slopes[i], opened[fmt.Sprintf("slope %d", i+1)])
		}
		add(r.Ceiling, areas.ceiling, opened["ceiling"])
		add(r.Floor, float64(r.FloorArea), opened["floor"])
	}
	sorting.Func(s.Envelope, func(a, b EnvelopeRow) int {
		return cmp.Or(cmp.Compare(a.Part, b.Part), cmp.Compare(a.Behind, b.Behind))
	})
}

// roomAreas are the areas of a room's surfaces in m².
type roomAreas struct {
	walls, slopes []float64
	ceiling       float64
}

func (r *Room) areas() roomAreas {
	out := roomAreas{walls: make([]float64, len(r.Footprint)), slopes: make([]float64, len(r.Slopes))}
	env := r.measure()
	for _, c := range env.Cells() {
		plan := float64(env.Area(c))
		if i := r.slopeOf(c.Tag); i >= 0 {
			out.slopes[i] += plan / math.Cos(float64(r.Slopes[i].Pitch)*math.Pi/180)
		} else {
			out.ceiling += plan
		}
		for k, u := range c.Loop {
			v := c.Loop[(k+1)%len(c.Loop)]
			if side, ok := env.Side(u, v); ok {
				a, b := env.Vertex(u), env.Vertex(v)
				flat := geometry.Distance(geometry.Vertex{X: a.X, Y: a.Y}, geometry.Vertex{X: b.X, Y: b.Y})
				out.walls[side] += flat * (a.Z + b.Z) / 2e6
			}
		}
	}
	return out
}
