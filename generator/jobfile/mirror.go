package jobfile

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// mirror turns a room left for right whose footprint is mirrored already: what is stated from the left of a wall, slope or
// ceiling now lies as far from the right. Walls and slopes keep their numbers; left and right cheeks change places.
func mirror(room *job.Room) {
	room.Mirrored = true
	m := mirrored{room}
	for _, w := range room.Walls {
		w.Framing.BackFrom = m.wall(w.Edge)
	}
	for i, f := range room.Slopes {
		f.Framing.BackFrom = m.wall(room.Ceiling.Slopes[i].Edge)
	}
	room.CeilingFace.Framing.BackFrom, room.Floor.Framing.BackFrom = m.across(), m.across()
	for _, d := range room.Dormers {
		d.Front.Framing.BackFrom, d.Cheeks.Framing.BackFrom, d.Top.Framing.BackFrom = d.To-d.From, m.cheek(d), m.across()
		foot := m.foot(d)
		d.From, d.To = foot-d.To, foot-d.From
	}
	for _, o := range room.Openings {
		o.Surface, o.X = m.turn(o.Surface, o.X, o.Width)
	}
	for _, p := range room.Penetrations {
		p.Surface, p.X = m.turn(p.Surface, p.X, 0)
	}
	for _, x := range room.Members {
		long := x.Length
		if x.Upright {
			long = 0
		}
		x.Surface, x.X = m.turn(x.Surface, x.X, long)
	}
}

// mirrored measures the surfaces of a room.
type mirrored struct{ room *job.Room }

// turn gives where something of a width that lay at x of a named surface lies now.
func (m mirrored) turn(surface string, x, width q.MM) (string, q.MM) {
	kind, rest, _ := strings.Cut(surface, " ")
	number, part, _ := strings.Cut(rest, " ")
	// Pieces of a slope or ceiling are numbered from the left: the whole is named, and the place tells the piece.
	number, _, _ = strings.Cut(number, ".")
	n, err := strconv.Atoi(number)
	switch {
	case kind == "ceiling" || kind == "floor":
		return kind, m.across() - x - width
	case err != nil || n < 1: // reported already
	case kind == "wall" && n <= len(m.room.Footprint):
		return surface, m.wall(n) - x - width
	case kind == "slope" && n <= len(m.room.Ceiling.Slopes):
		return kind + " " + number, m.wall(m.room.Ceiling.Slopes[n-1].Edge) - x - width
	case kind == "dormer" && n <= len(m.room.Dormers):
		d := m.room.Dormers[n-1]
		switch part {
		case "front":
			return surface, d.To - d.From - x - width
		case "top":
			return surface, m.across() - x - width
		case "left cheek":
			return "dormer " + number + " right cheek", m.cheek(d) - x - width
		case "right cheek":
			return "dormer " + number + " left cheek", m.cheek(d) - x - width
		}
	}
	return surface, x
}

// wall is the length of a wall.
func (m mirrored) wall(edge int) q.MM {
	corners := m.room.Footprint
	if edge < 1 || edge > len(corners) {
		return 0
	}
	a, b := corners[edge-1], corners[edge%len(corners)]
	return q.MM(math.Round(math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y))))
}

// across is the plan's extent along x, which ceilings and floors are measured in.
func (m mirrored) across() q.MM {
	low, high := q.MM(math.MaxInt32), q.MM(math.MinInt32)
	for _, c := range m.room.Footprint {
		low, high = min(low, c.X), max(high, c.X)
	}
	return max(0, high-low)
}

// slope is the slope that a dormer stands in; its zero value where there is none.
func (m mirrored) slope(d *job.Dormer) job.Slope {
	if d.Slope < 1 || d.Slope > len(m.room.Ceiling.Slopes) {
		return job.Slope{}
	}
	return m.room.Ceiling.Slopes[d.Slope-1]
}

// foot is the length of the wall below a dormer.
func (m mirrored) foot(d *job.Dormer) q.MM { return m.wall(m.slope(d).Edge) }

// cheek is how far a dormer's cheeks reach, from its front to where its ceiling meets the slope.
func (m mirrored) cheek(d *job.Dormer) q.MM {
	s := m.slope(d)
	if s.Pitch <= 0 {
		return 0
	}
	back := float64(d.Height-s.Height) / math.Tan(float64(s.Pitch)*math.Pi/180)
	return q.MM(math.Round(back - float64(d.Depth)))
}

// cheekID is the part of a surface's id that tells a left cheek from a right one.
var cheekID = regexp.MustCompile(`-D\d+-W[23]\b`)

// otherCheek names the other cheek where an id names one.
func otherCheek(id string) string {
	return cheekID.ReplaceAllStringFunc(id, func(s string) string {
		return s[:len(s)-1] + string('2'+'3'-s[len(s)-1])
	})
}
