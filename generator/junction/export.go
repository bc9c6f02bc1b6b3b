package junction

import (
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// FramingLines gives the places of the framing lines strictly inside a surface, in its own plane and across the framing,
// in order; none where the support is full. Level is true where the lines run along the plane's x axis.
func FramingLines(s *surface.Surface) (at []q.MM, level bool) {
	return framingLines(s), framingLevel(s)
}
