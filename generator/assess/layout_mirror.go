package assess

import (
	"slices"

	"lapwork/generator/calc/strips"
	"lapwork/generator/geometry"
	"lapwork/generator/junction"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// A surface of a mirrored room is laid as its twin is, from the other end: Problem and Strips stand in the twin's coordinates,
// where it begins on the left, and what is cut, marked and drawn in the surface's own.

// other is the surface's own x of the twin's, and the twin's of the surface's own; without a twin it stays.
func other(s *surface.Surface, x q.MM) q.MM {
	if !s.Room.Mirrored {
		return x
	}
	box := s.Outline.Bounds()
	return box.Min.X + box.Max.X - x
}

func otherPolygon(s *surface.Surface, p geometry.Polygon) geometry.Polygon {
	p = slices.Clone(p)
	for i := range p {
		p[i].X = other(s, p[i].X)
	}
	return p
}

func otherHoles(s *surface.Surface, holes []strips.Hole) []strips.Hole {
	holes = slices.Clone(holes)
	for i := range holes {
		holes[i].Outline = otherPolygon(s, holes[i].Outline)
	}
	return holes
}

// otherLines gives the framing lines of the twin, and whether they run level.
func otherLines(s *surface.Surface) (at []q.MM, level bool) {
	at, level = junction.FramingLines(s)
	if !level {
		for i := range at {
			at[i] = other(s, at[i])
		}
		slices.Sort(at)
	}
	return at, level
}

// Across is a place across the strips in the surface's own coordinates, of one among Strips; and the other way round.
func (l *Layout) Across(v q.MM) q.MM {
	if l.Direction == strips.Upright {
		return other(l.Surface, v)
	}
	return v
}

// Along is a place along the strips in the surface's own coordinates, of one among Strips; and the other way round.
func (l *Layout) Along(u q.MM) q.MM {
	if l.Direction == strips.Level {
		return other(l.Surface, u)
	}
	return u
}

// Outline is what is laid, in the surface's own coordinates: with the walls below where strips run over the edge.
func (l *Layout) Outline() geometry.Polygon { return otherPolygon(l.Surface, l.Problem.Outline) }
