package junction

import (
	"cmp"
	"slices"
	"strconv"

	q "lapwork/generator/quantity"
	"lapwork/generator/sorting"
	"lapwork/generator/surface"
)

// SurfaceSeams is what a strip layout makes on one surface: the laps between neighbouring strips and the joints of roll
// ends inside a strip.
type SurfaceSeams struct {
	Surface   *surface.Surface
	Laps      []Seam
	EndJoints []Seam
}

// Seam is one seam of a layout. Strips count from 1 in hanging order along the surface.
type Seam struct {
	Strip     int  // the lap lies between this strip and the next; the end joint lies in this strip
	Joint     int  // number of the end joint in its strip, from 1; 0 for laps
	Length    q.MM // net of openings
	Upright   bool
	Supported bool // framing or backing lies behind the whole line
	Studs     int  // framing lines crossed
}

// Seams gives the records of the seams of all layouts in the model's order of surfaces: laps B2-W3/3+4, then end joints
// B2-W3/3.1 (strip and joint). A seam that openings swallow whole gives none.
func Seams(m *surface.Model, layouts []SurfaceSeams) []Record {
	place := map[*surface.Surface]int{}
	for _, room := range m.Rooms {
		for _, s := range room.Surfaces {
			place[s] = len(place)
		}
	}
	layouts = slices.Clone(layouts)
	sorting.StableFunc(layouts, func(a, b SurfaceSeams) int { return cmp.Compare(place[a.Surface], place[b.Surface]) })
	var out []Record
	for _, l := range layouts {
		for _, lap := range l.Laps {
			id := "/" + strconv.Itoa(lap.Strip) + "+" + strconv.Itoa(lap.Strip+1)
			out = append(out, seam(l.Surface, lap, id, Lap)...)
		}
		for _, joint := range l.EndJoints {
			id := "/" + strconv.Itoa(joint.Strip) + "." + strconv.Itoa(joint.Joint)
			out = append(out, seam(l.Surface, joint, id, EndJoint)...)
		}
	}
	return out
}

func seam(s *surface.Surface, x Seam, id string, e Edge) []Record {
	if x.Length <= 0 {
		return nil
	}
	r := at(s, string(s.ID)+id, e)
	r.Length, r.Upright, r.Supported, r.Studs = x.Length.Metres(), x.Upright, x.Supported, x.Studs
	r.Substrate = s.Face.Substrate
	return []Record{r}
}
