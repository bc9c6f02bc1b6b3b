package junction

import (
	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// member gives the record of a building part that meets or crosses the layer.
func member(s *surface.Surface, m surface.Member, found *diag.List) []Record {
	r := at(s, string(m.ID), CrossingMember)
	r.Item, r.Object, r.Pos, r.Stands = m.Item, string(m.ID), m.Pos, m.Stands
	r.Length, r.Upright = m.Member.Length.Metres(), m.Upright
	r.Width, r.Height = m.Width.Metres(), m.Member.Height.Metres()
	r.Perimeter, r.Area = girth(m.Width, m.Member.Height), r.Width.Times(r.Height)
	r.Count = max(1, m.Count)
	r.MemberSubstrate = m.Own
	r.Substrate = stated(m.Own, m.Substrate) // sheet is sealed to the member itself
	switch m.Item {
	case "partition":
		if !s.CarriesSheet {
			return nil // a partition on a bare slab is no junction of the layer
		}
		r.Edge, r.SurfaceB = CrossingPlane, "partition"
	case "stair":
		r.Edge = CrossingPlane
		r.Substrate = stated(m.Substrate, s.Face.Substrate)
	case "floor-cassette":
		r.Edge, r.Corners = CrossingPlane, 0
	case "joist-bays":
		r.Edge = CrossingPlane
		r.Bays = bays(s, m.Member)
		r.Perimeter = girth(clearBay(s, m.Member), m.Member.Height)
	case "joist":
		r.Substrate = stated(m.Substrate, s.Face.Substrate) // the masonry it is built into
	case "chimney":
		r.Edge, r.SurfaceB = AbutmentEdge, "chimney"
		r.Substrate = stated(m.Substrate, m.Own)
		if m.Member.Length == 0 {
			r.Length = r.Perimeter
		}
	case "masonry":
		r.Edge, r.SurfaceB = AbutmentEdge, surface.Wall.String()
		r.Item = ""
		r.Substrate = stated(m.Substrate, m.Own)
		r.Length *= q.Length(sides(s, m))
	}
	askSubstrate(r, "a "+m.Item, found)
	return []Record{r}
}

// bays gives the joist bays to be blocked: as counted in the job, else as many as the framing makes of the length.
func bays(s *surface.Surface, m *job.Member) int {
	pitch := s.Face.Framing.Pitch
	switch {
	case m.Count > 0:
		return m.Count
	case pitch > 0 && m.Length > 0:
		return int((m.Length + pitch - 1) / pitch)
	}
	return 1
}

// clearBay gives the clear width of one joist bay.
func clearBay(s *surface.Surface, m *job.Member) q.MM {
	if m.Width > 0 {
		return m.Width
	}
	f := s.Face.Framing
	stud := f.Width
	if stud == 0 {
		stud = 45
	}
	return max(0, f.Pitch-stud)
}

// sides gives how many lines a masonry part makes on the surface: two where the surface goes on at both of its faces.
func sides(s *surface.Surface, m surface.Member) int {
	if m.Width == 0 {
		return 1
	}
	low, high := bounds(s.Outline)
	start, first, last := m.From.Y, low.Y, high.Y
	if m.Upright {
		start, first, last = m.From.X, low.X, high.X
	}
	n := 0
	if start > first {
		n++
	}
	if start+m.Width < last {
		n++
	}
	return max(n, 1)
}
