package junction

import (
	"math"

	"lapwork/generator/surface"
)

// endTolerance is how close the end of an edge must lie to another edge to turn onto it, in metres: shared edges agree to
// 1 mm, a corner of three planes is rounded three times.
const endTolerance = 0.003

// turningEnds gives how many of the two ends of edge i turn onto another junction: another edge of the layer, or an
// opening that cuts the edge off there.
func turningEnds(edges []surface.Edge, i int) int {
	e := edges[i]
	ends := [2]bool{}
	if n := len(e.Runs); n > 0 {
		ends[0], ends[1] = e.Runs[0].From > 0, e.Runs[n-1].To < e.Length
	}
	for k, p := range [2][3]float64{e.From, e.To} {
		for j := range edges {
			ends[k] = ends[k] || j != i && distance(p, edges[j].From, edges[j].To) <= endTolerance
		}
	}
	n := 0
	for _, turns := range ends {
		if turns {
			n++
		}
	}
	return n
}

// distance gives the distance of a point from a line segment.
func distance(p, from, to [3]float64) float64 {
	var along, length float64
	for i := range p {
		along += (p[i] - from[i]) * (to[i] - from[i])
		length += (to[i] - from[i]) * (to[i] - from[i])
	}
	share := 0.0
	if length > 0 {
		share = min(1, max(0, along/length))
	}
	var sum float64
	for i := range p {
		d := p[i] - from[i] - share*(to[i]-from[i])
		sum += d * d
	}
	return math.Sqrt(sum)
}
