package junction

import (
	"lapwork/generator/geometry"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// The usual size of a board, and the usual width of a solid timber panel, which stands in one piece from floor to ceiling.
// Common practice, no source.
const (
	boardWidth  q.MM = 1250
	boardLength q.MM = 2500
	panelWidth  q.MM = 2950
)

// boardJoints gives the joints of the boards that are the layer of a surface as one record: nobody draws boards as strips
// are drawn, so their run is that of whole boards set upright from the left end. Ends that stagger make the run no longer.
func boardJoints(s *surface.Surface, t Tables) []Record {
	r := at(s, string(s.ID)+"/joints", Lap)
	r.Substrate, r.Upright = s.Face.Substrate, true
	wide, long := boardWidth, boardLength
	if t.Family[s.Face.Substrate] == "timber" {
		wide, long = panelWidth, 0
	}
	across := func(p geometry.Point) q.MM { return p.X }
	up := func(p geometry.Point) q.MM { return p.Y }
	low, high := bounds(s.Outline)
	net := every(wide, low.X, high.X, s, across, up)
	if long > 0 {
		net += every(long, low.Y, high.Y, s, up, across)
	}
	if net == 0 {
		return nil
	}
	r.Length = net.Metres()
	return []Record{r}
}

// every gives the net length of the lines that stand one step apart between two places of a surface.
func every(step, from, to q.MM, s *surface.Surface, across, along func(geometry.Point) q.MM) (net q.MM) {
	for line := from + step; line < to; line += step {
		net += netCut(s, line, across, along)
	}
	return net
}
