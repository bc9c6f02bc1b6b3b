package junction

import (
	"lapwork/generator/job"
	"lapwork/generator/surface"
)

// layerRank orders the layers of a pair: sheet before board before plaster before none.
var layerRank = map[job.LayerKind]int{job.Sheet: 0, job.Board: 1, job.Plaster: 2, "": 3}

// roleRank orders the roles of a pair with the same layer: walls and gables before ceilings and slopes, slopes before
// knee walls and flat ceilings.
var roleRank = map[surface.Role]int{
	surface.Wall: 0, surface.Gable: 1, surface.Slope: 2, surface.KneeWall: 3, surface.Ceiling: 4, surface.Floor: 5,
}

// normalise gives the two sides of an edge in the order of the trade specification. The floor comes second whenever the
// other side carries the layer, so does a party wall; else the layers decide, then the roles.
func normalise(e surface.Edge) (a, b *surface.Surface) {
	a, b = e.A, e.B
	if b != nil && comesFirst(b, a) {
		a, b = b, a
	}
	return a, b
}

func comesFirst(x, y *surface.Surface) bool {
	if x.CarriesSheet != y.CarriesSheet {
		return x.CarriesSheet
	}
	for _, second := range []func(*surface.Surface) bool{isFloor, isParty} {
		if second(x) != second(y) {
			return second(y)
		}
	}
	if lx, ly := layerRank[layerOf(x)], layerRank[layerOf(y)]; lx != ly {
		return lx < ly
	}
	return roleRank[x.Role] < roleRank[y.Role]
}

func isFloor(s *surface.Surface) bool { return s.Role == surface.Floor }

func isWall(s *surface.Surface) bool {
	return s.Role == surface.Wall || s.Role == surface.KneeWall || s.Role == surface.Gable
}

// isParty says whether the surface is a wall to another home.
func isParty(s *surface.Surface) bool { return isWall(s) && s.Face.Behind == job.Party }
