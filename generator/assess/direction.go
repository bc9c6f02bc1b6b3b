package assess

import (
	"lapwork/generator/calc/strips"
	"lapwork/generator/junction"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// LayReason says why the strips of a surface run the way they do.
type LayReason uint8

// The reasons for a direction.
const (
	AcrossFraming LayReason = iota // ceilings and slopes
	FullBacking                    // drops from the top
	WideDrops                      // the studs let each drop use enough of the roll
	NarrowDrops                    // they do not: level
	ByJob                          // fixed in the job
	ByCost                         // least cost of sheet, tape and labour
	OverTheEdge                    // in one piece over an edge to the next surface
	AgainstRule                    // not what the rule asks: for comparison
)

// Why is a reason with the figures behind WideDrops and NarrowDrops: what a drop advances, of which roll.
type Why struct {
	Reason       LayReason
	Useful, Roll q.MM
}

// direction says which way the strips of a surface run in rolls of a width when no prices decide, and why: the job's own
// word first; walls upright where the studs let drops use at least four fifths of the roll's width, else level; ceilings
// and slopes across the framing. Common practice, no source.
func (c Context) direction(s *surface.Surface, width q.MM) (strips.Direction, Why) {
	switch s.Face.Direction {
	case "upright":
		return strips.Upright, Why{Reason: ByJob}
	case "level":
		return strips.Level, Why{Reason: ByJob}
	}
	lines, level := junction.FramingLines(s)
	if over(s) {
		if level {
			return strips.Upright, Why{Reason: AcrossFraming}
		}
		return strips.Level, Why{Reason: AcrossFraming}
	}
	if len(lines) == 0 {
		return strips.Upright, Why{Reason: FullBacking}
	}
	useful := usefulWidth(width, c.setting("lap_mm", s), s.Face.Framing.Pitch)
	if q.Ratio(useful) >= uprightShare*q.Ratio(width) {
		return strips.Upright, Why{WideDrops, useful, width}
	}
	return strips.Level, Why{NarrowDrops, useful, width}
}

// usefulWidth is what an upright drop advances: whole stud spacings within the roll less its lap (R-GEO-5, derived).
func usefulWidth(roll, lap, pitch q.MM) q.MM {
	if pitch <= 0 || lap >= roll {
		return max(0, roll-lap)
	}
	return (roll - lap) / pitch * pitch
}
