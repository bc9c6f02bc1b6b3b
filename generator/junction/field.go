package junction

import (
	"lapwork/generator/geometry"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// smallOpening is the area up to which an opening is not taken off the layer. Common practice, no source.
const smallOpening q.Area = 0.5 // m²

// fields gives the records a surface has by itself: its field, its service battens, its open staples or the joints of its boards.
func fields(s *surface.Surface, t Tables) []Record {
	if !s.CarriesSheet {
		return nil
	}
	low, high := bounds(s.Outline)
	field := at(s, string(s.ID), Field)
	field.Area = layerArea(s)
	field.Length = (high.X - low.X).Metres()
	field.Height = (high.Y - low.Y).Metres()
	field.Substrate = s.Face.Substrate
	lines := framingLines(s)
	field.Studs = len(lines)
	out := []Record{field}

	if s.Face.Cavity > 0 {
		battens := field
		battens.ID, battens.Edge, battens.Item = string(s.ID)+"/battens", Fixing, "batten"
		out = append(out, battens)
	}
	if field.Layer == job.Board {
		out = append(out, boardJoints(s, t)...)
	}
	if field.Layer == job.Sheet && t.Family[s.Face.Substrate] != "metal" {
		// On steel the sheet is held by double-sided tape, not by staples.
		staples := at(s, string(s.ID)+"/staples", Fixing)
		staples.Item, staples.Optional = "staple", true
		staples.Substrate = s.Face.Substrate
		staples.Studs = len(lines)
		for _, line := range lines {
			staples.Length += netAlong(s, line).Metres()
		}
		if len(lines) == 0 {
			staples.Length = q.Length(float64(field.Area) / boardedStaplePitch)
		}
		out = append(out, staples)
	}
	return out
}

// boardedStaplePitch is the distance in metres between staple lines where boarding lets them run anywhere: the usual
// stud pitch. Common practice, no source.
const boardedStaplePitch = 0.6

// layerArea gives the area of the layer: the surface less every opening large enough to count.
func layerArea(s *surface.Surface) q.Area {
	area := s.Region().Area()
	for _, o := range s.Openings {
		if a := o.Outline.Area(); a > smallOpening {
			area -= a
		}
	}
	return max(area, 0)
}

// bounds gives the corners of the upright rectangle round an outline.
func bounds(p geometry.Polygon) (low, high geometry.Point) {
	for i, c := range p {
		if i == 0 {
			low, high = c, c
			continue
		}
		low = geometry.Point{X: min(low.X, c.X), Y: min(low.Y, c.Y)}
		high = geometry.Point{X: max(high.X, c.X), Y: max(high.Y, c.Y)}
	}
	return low, high
}
