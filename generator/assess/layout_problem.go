package assess

import (
	"lapwork/generator/calc/strips"
	"lapwork/generator/geometry"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// Rules of the trade the layouts follow. Common practice, no source.
const (
	ceilingDown   q.MM    = 100  // ceiling and slope sheet down the wall (R-CUT-2)
	longestPiece  q.MM    = 8000 // two people on a level wall run
	longestAbove  q.MM    = 6000 // two people overhead
	longestAlone  q.MM    = 4000 // one person: from here on C-LIFT asks for two
	stopGap       q.MM    = 600  // full-height gap that strips stop at
	uprightShare  q.Ratio = 0.80 // of the roll's width that upright drops must use
	defaultRoll   q.MM    = 1500
	defaultLength q.MM    = 50000
	grid          q.MM    = 50 // places of a joint on full backing
)

// problem states a surface without its direction.
func (c Context) problem(s *surface.Surface, turns map[int]q.MM, byID map[string]*Place) strips.Problem {
	p := strips.Problem{Outline: s.Outline, Turns: make([]q.MM, len(s.Outline)), EndAllowance: c.setting("end_allow_mm", s),
		Lap: c.setting("lap_mm", s), StopGap: stopGap, MaxPiece: c.longest(s), StaggerJoints: true}
	p.EndJointLap = p.Lap
	for side := range p.Turns {
		p.Turns[side] = turns[side]
	}
	for _, h := range s.Holes {
		p.Holes = append(p.Holes, strips.Hole{Outline: h, TurnIn: c.setting("turn_mm", s)})
	}
	for _, o := range s.Openings {
		p.Holes = append(p.Holes, strips.Hole{Outline: o.Outline, TurnIn: c.turnIn(s, o, byID)})
	}
	return p
}

// widestLap is the setting's share of a roll's width, and at least the lap itself; 0 where any lap is allowed.
func (c Context) widestLap(s *surface.Surface, width q.MM) q.MM {
	share, _ := c.Library.Setting("lap_most_pct", c.Job.Settings, s.Room.ID, s.ID)
	if share >= 100 {
		return 0
	}
	return max(c.setting("lap_mm", s), q.MM(float64(width)*share/100))
}

// longest is the longest piece that the crew can hang on a surface.
func (c Context) longest(s *surface.Surface) q.MM {
	switch {
	case c.Job.Firm.Crew == 1:
		return longestAlone
	case over(s):
		return longestAbove
	}
	return longestPiece
}

// turnIn is the sheet kept into a reveal: what the opening's own statement asks, but no more than the reveal is deep.
func (c Context) turnIn(s *surface.Surface, o surface.Opening, byID map[string]*Place) q.MM {
	turn := c.setting("turn_mm", s)
	for _, id := range []string{string(o.ID) + "/jamb", string(o.ID)} {
		if p := byID[id]; p != nil && p.Answered() {
			turn = c.turn(p.Chosen.Turn.Turn, s)
			if p.Chosen.Turn.Fold {
				turn += c.setting("fold_mm", s)
			}
		}
	}
	box := o.Outline.Bounds()
	return min(turn, box.Width()/2-1, box.Height()/2-1)
}

// directed completes a problem for one direction, in the coordinates that it is solved in: which seams and joints the framing backs. The edge of an end joint lies on
// its member's middle and the sheet below runs on by the lap, so that the middle of the overlap lies half a lap further.
func (c Context) directed(p strips.Problem, s *surface.Surface, d strips.Direction) strips.Problem {
	p.Direction = d
	lines, level := otherLines(s)
	p.Outline, p.Holes = otherPolygon(s, p.Outline), otherHoles(s, p.Holes)
	if len(lines) == 0 {
		p.SeamAnywhere, p.JointAnywhere = true, false
		p.JointAt = raster(p.Outline, d)
		return past(p)
	}
	alongStrips := level == (d == strips.Level) // framing runs the way the strips do
	if alongStrips {
		p.SeamAt = lines
		p.JointAt = s.Face.Framing.Noggins
		p.StartAtEdge = true
	} else {
		p.SeamAnywhere = true // the lap crosses the framing; between two lines it floats
		p.JointAt = lines
	}
	return past(p)
}

// past moves the joint places from the members' middles to the middles of the overlaps.
func past(p strips.Problem) strips.Problem {
	at := make([]q.MM, len(p.JointAt))
	for i, x := range p.JointAt {
		at[i] = x + p.EndJointLap/2
	}
	p.JointAt = at
	return p
}

// JointLine is where the taped edge of an end joint lies: on its member's middle.
func (c Choice) JointLine(j strips.Joint) q.MM { return j.At - c.Problem.EndJointLap/2 }

// raster gives joint places on full backing.
func raster(outline geometry.Polygon, d strips.Direction) []q.MM {
	box := outline.Bounds()
	from, to := box.Min.X, box.Max.X
	if d == strips.Upright {
		from, to = box.Min.Y, box.Max.Y
	}
	var at []q.MM
	for x := from + grid; x < to; x += grid {
		at = append(at, x)
	}
	return at
}

// setting reads a setting in whole millimetres at a surface.
func (c Context) setting(name string, s *surface.Surface) q.MM {
	v, _ := c.Library.Setting(name, c.Job.Settings, s.Room.ID, s.ID)
	return q.MM(v + 0.5)
}

func (c Context) turn(stated q.MM, s *surface.Surface) q.MM {
	if stated < 0 {
		return c.setting("turn_mm", s)
	}
	return stated
}

// Base is where a surface begins along or across its strips, with what they run onto in one piece: its lower or left edge,
// which set-out marks are measured from.
func (l *Layout) Base(along bool) q.MM {
	box := l.Outline().Bounds()
	if along == (l.Direction == strips.Level) {
		return box.Min.X
	}
	return box.Min.Y
}
