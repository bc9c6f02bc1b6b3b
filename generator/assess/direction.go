package assess

import (
	"fmt"

	"lapwork/generator/calc/strips"
	"lapwork/generator/junction"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// direction says which way the strips of a surface run, and why: the job's own word first; walls upright where the studs
// let drops use at least four fifths of the roll's width, else level; ceilings and slopes across the framing. Common
// practice, no source.
func (c Context) direction(s *surface.Surface) (strips.Direction, string) {
	switch s.Face.Direction {
	case "upright":
		return strips.Upright, "fixed in the job"
	case "level":
		return strips.Level, "fixed in the job"
	}
	lines, level := junction.FramingLines(s)
	if s.Role == surface.Ceiling || s.Role == surface.Slope {
		if level {
			return strips.Upright, "across the framing"
		}
		return strips.Level, "across the framing"
	}
	width, lap := c.rollWidth(s), c.setting("lap_mm", s)
	if len(lines) == 0 {
		return strips.Upright, "full backing: drops from the top"
	}
	useful := usefulWidth(width, lap, s.Face.Framing.Pitch)
	if q.Ratio(useful) >= uprightShare*q.Ratio(width) {
		return strips.Upright, fmt.Sprintf("the studs let each drop use %d mm of the %d mm roll", useful, width)
	}
	return strips.Level, fmt.Sprintf("on these studs a drop would use only %d mm of the %d mm roll", useful, width)
}

// usefulWidth is what an upright drop advances: whole stud spacings within the roll less its lap (R-GEO-5, derived).
func usefulWidth(roll, lap, pitch q.MM) q.MM {
	if pitch <= 0 || lap >= roll {
		return max(0, roll-lap)
	}
	return (roll - lap) / pitch * pitch
}

// rollWidth is the width of the rolls the job buys: the first one its stock lists, so that the firm's usual roll stands
// unless it says otherwise.
func (c Context) rollWidth(*surface.Surface) q.MM {
	for _, r := range c.Job.Stock {
		if c.isSheet(r.Component) && r.Leftover == "" {
			return r.Width
		}
	}
	return defaultRoll
}
