package surface

import (
	"cmp"
	"fmt"
	"slices"

	"lapwork/generator/diag"
	"lapwork/generator/geometry"
	q "lapwork/generator/quantity"
)

// Rooms may share this much: outlines taken with a tape overlap by some millimetres. Below another room's floor by this much
// a ceiling may stand, as where a gallery is stated with its floor-offset.
const (
	sharedPlan   q.Area   = 0.1   // m²
	sharedHeight q.Length = 0.100 // m
)

// stand is where a room stands: its outline and what its body reaches in height, metres over the datum.
type stand struct {
	no        int // in the job's order
	shape     *RoomShape
	plan      geometry.Polygon
	box       geometry.Box
	low, high float64
}

// overlaps reports rooms of one storey that take the same space: its volume counts twice, and what lies behind their walls
// is not what the job says.
func (m *Model) overlaps(found *diag.List) {
	var all []stand
	for _, s := range m.Rooms {
		if len(s.Surfaces) > 0 {
			all = append(all, standing(len(all), s))
		}
	}
	byLeft := slices.Clone(all)
	slices.SortStableFunc(byLeft, func(a, b stand) int { return cmp.Compare(a.box.Min.X, b.box.Min.X) })
	for i, a := range byLeft {
		for _, b := range byLeft[i+1:] {
			if b.box.Min.X >= a.box.Max.X {
				break
			}
			reportOverlap(a, b, found)
		}
	}
}

func standing(no int, s *RoomShape) stand {
	out := stand{no: no, shape: s, plan: corners(s.Room)}
	out.box, out.low, out.high = out.plan.Bounds(), s.Edges[0].From[2], s.Edges[0].From[2]
	for _, e := range s.Edges {
		out.low, out.high = min(out.low, e.From[2], e.To[2]), max(out.high, e.From[2], e.To[2])
	}
	return out
}

func reportOverlap(a, b stand, found *diag.List) {
	if a.shape.Room.Storey != b.shape.Room.Storey || !a.box.Overlaps(b.box) || min(a.high, b.high)-max(a.low, b.low) <= float64(sharedHeight) {
		return
	}
	shared := a.plan.Shared(b.plan)
	if shared <= sharedPlan {
		return
	}
	if b.no < a.no {
		a, b = b, a
	}
	first, second := a.shape.Room, b.shape.Room
	var told diag.List
	told.Openf(second.Pos, string(second.ID), "check the corners of both, or the shift of a unit's instance",
		"rooms %s and %s take the same space: %s m² of their plans lie over each other and count twice", first.ID, second.ID, fmt.Sprintf("%.1f", float64(shared)))
	for _, f := range told.Sorted() {
		f.See = []diag.Pos{first.Pos}
		found.Add(f)
	}
}
