package junction

import (
	"lapwork/generator/diag"
	"lapwork/generator/surface"
)

// opening gives the records of an opening: three for a window (jambs with head, sill, corners), one for any other kind.
func opening(s *surface.Surface, o surface.Opening, found *diag.List) []Record {
	r := at(s, string(o.ID), OpeningEdge)
	r.Item, r.Object, r.Pos = o.Kind, string(o.ID), o.Pos
	r.Substrate = stated(o.Substrate, s.Face.Substrate)
	r.Width, r.Height, r.Depth = o.Width.Metres(), o.Opening.Height.Metres(), o.Depth.Metres()
	r.Perimeter = girth(o.Width, o.Opening.Height)
	r.Length = r.Perimeter
	r.Area = r.Width.Times(r.Height)
	if n := len(o.Outline); n > 2 {
		r.Corners = n
	}
	askSubstrate(r, "the opening's reveal", found)
	if o.Kind != "window" {
		return []Record{r}
	}
	jambs, sill, corners := r, r, r
	jambs.ID, jambs.Part = r.ID+"/jamb", "jamb" // both jambs and the head are one line of tape
	jambs.Length = 2*r.Height + r.Width
	sill.ID, sill.Part = r.ID+"/sill", "sill"
	sill.Length = r.Width
	corners.ID, corners.Part, corners.Edge = r.ID+"/corner", "corner", OpeningCorner
	corners.Length = 0
	return []Record{jambs, sill, corners}
}
