package surface

import (
	"fmt"
	"math"

	"lapwork/generator/diag"
	"lapwork/generator/geometry"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

func (b *builder) fault(pos diag.Pos, hint, format string, args ...any) {
	b.faults++
	b.found.Add(diag.Finding{Level: diag.Fault, Pos: pos, Msg: "room " + string(b.room.ID) + ": " + fmt.Sprintf(format, args...),
		Hint: hint, Item: string(b.room.ID)})
}

// lowest is the least height of a room; below it somebody wrote metres for millimetres.
const lowest q.MM = 100

// checkFootprint reports a footprint that is no outline and keeps one that is, counter-clockwise.
func (b *builder) checkFootprint() bool {
	p := corners(b.room)
	flaw := p.Check()
	if flaw == nil {
		if b.outline = p; p.Clockwise() {
			b.outline = p.Reversed()
		}
		return true
	}
	pos := b.room.Pos
	if flaw.Kind != geometry.TooFew {
		pos = b.room.Footprint[flaw.A].Pos
	}
	switch a, n := flaw.A+1, len(p); flaw.Kind {
	case geometry.TooFew:
		b.fault(pos, "list the corners of the room in order, three at least", "the footprint has %d corners", n)
	case geometry.TooFar:
		b.fault(pos, "check the unit; plan coordinates reach 10 km", "corner %d lies at (%d, %d) mm", a, flaw.At.X, flaw.At.Y)
	case geometry.ShortSide:
		b.fault(pos, "remove one of the two corners", "corners %d and %d of the footprint are less than 5 mm apart", a, a%n+1)
	case geometry.Crossing:
		b.fault(pos, "check the order of the corners and their coordinates",
			"footprint edges %d and %d meet at (%d, %d) mm", a, flaw.B+1, flaw.At.X, flaw.At.Y)
	default:
		b.fault(pos, "check the coordinates", "the footprint encloses no area")
	}
	return false
}

// checkCeiling reports what can be told from the ceiling's figures alone.
func (b *builder) checkCeiling() bool {
	c := b.room.Ceiling
	before := b.faults
	if c.Height < 0 || c.Height == 0 && len(c.Slopes) == 0 {
		b.fault(orPos(c.Pos, b.room.Pos), "state the ceiling height, or slopes", "the room has no height")
	}
	if c.Height > 100_000 || c.Height > 0 && c.Height < lowest {
		b.fault(orPos(c.Pos, b.room.Pos), "check the unit", "the ceiling stands %d mm over the floor", c.Height)
	}
	for i, s := range c.Slopes {
		pos := orPos(s.Pos, b.room.Pos)
		if s.Edge < 1 || s.Edge > len(b.outline) {
			b.fault(pos, fmt.Sprintf("the plan has walls 1 to %d", len(b.outline)), "slope %d stands on wall %d", i+1, s.Edge)
		}
		if !(s.Pitch >= 0.5 && s.Pitch <= 89) { // also refuses NaN
			b.fault(pos, "state the pitch in degrees from the level, 0.5 to 89", "slope %d has a pitch of %g degrees", i+1, s.Pitch)
		}
		if s.Height > 0 && s.Height < 10 { // hardly a wall, rather metres for millimetres
			b.found.Openf(pos, string(b.room.ID), "check the unit, or state 0 where it starts at the floor", "room %s: slope %d starts %d mm over the floor", b.room.ID, i+1, s.Height)
		}
		switch {
		case s.Height < 0 || s.Height > 100_000:
			b.fault(pos, "state the height over the floor at the wall, 0 or more", "slope %d starts at %d mm", i+1, s.Height)
		case c.Height > 0 && s.Height >= c.Height:
			b.fault(pos, fmt.Sprintf("lower it below %d mm, raise the ceiling, or remove the slope", c.Height),
				"the knee wall of slope %d is %d mm high, the ceiling %d mm", i+1, s.Height, c.Height)
		}
	}
	return b.faults == before
}

// checkCover reports slopes and ceilings that came to nothing, and slopes that run through the floor.
func (b *builder) checkCover() bool {
	has := make([]bool, len(b.planes))
	for _, c := range b.env.Cells() {
		has[c.Tag] = true
	}
	low, lowAt, high := 0.0, 0, 0.0
	for _, c := range b.env.Cells() {
		for _, v := range c.Loop {
			z := b.env.Vertex(v).Z
			if z < low {
				low, lowAt = z, c.Tag
			}
			high = max(high, z)
		}
	}
	if low < -1 {
		s := b.room.Ceiling.Slopes[b.slopeOf[lowAt]-1]
		b.fault(orPos(s.Pos, b.room.Pos), "give the next wall of that corner a slope too, so that they meet in a valley, or divide the room in two",
			"slope %d runs %.0f mm below the floor behind its wall %d", b.slopeOf[lowAt], -low, s.Edge)
		return false
	}
	if high < float64(lowest) {
		b.fault(orPos(b.room.Ceiling.Pos, b.room.Pos), "check heights and pitches", "no point of its ceiling is %d mm over the floor", lowest)
		return false
	}
	for i, slope := range b.slopeOf {
		if !has[i] {
			b.reportHidden(i, slope)
		}
	}
	b.noteBehind()
	return true
}

// noteBehind tells of slopes that go on behind their own wall and down, as over a bay: where the room turns a corner there
// that may be a slope forgotten on the next wall.
func (b *builder) noteBehind() {
	const most = 10 // mm; less comes from rounded corners
	low := map[int]float64{}
	for _, c := range b.env.Cells() {
		slope := b.slopeOf[c.Tag]
		if slope == 0 {
			continue
		}
		for _, v := range c.Loop {
			drop := float64(b.room.Ceiling.Slopes[slope-1].Height) - b.env.Vertex(v).Z
			low[slope] = max(low[slope], drop)
		}
	}
	for i, s := range b.room.Ceiling.Slopes {
		if low[i+1] > most {
			b.found.Notef(orPos(s.Pos, b.room.Pos), string(b.room.ID),
				"room %s: slope %d goes on behind its wall %d, down to %d mm over the floor: right for a bay under one roof, else a slope is missing on the next wall of that corner",
				b.room.ID, i+1, s.Edge, s.Height-q.MM(math.Round(low[i+1])))
		}
	}
}

func (b *builder) reportHidden(plane, slope int) {
	r := b.room
	if slope == 0 {
		b.found.Openf(orPos(r.Ceiling.Pos, r.Pos), string(r.ID), "set the ceiling height to 0, or check the slopes",
			"room %s: the slopes meet below the ceiling height of %d mm and leave no ceiling", r.ID, r.Ceiling.Height)
		return
	}
	s := r.Ceiling.Slopes[slope-1]
	for i := range plane {
		if b.slopeOf[i] > 0 && b.planes[i].Same(b.planes[plane], b.outline) {
			b.found.Notef(orPos(s.Pos, r.Pos), string(r.ID), "room %s: slope %d lies in the plane of slope %d and is part of it",
				r.ID, slope, b.slopeOf[i])
			return
		}
	}
	b.fault(orPos(s.Pos, r.Pos), "check its wall, height and pitch, or remove it",
		"slope %d lies above the rest of the ceiling everywhere", slope)
}

func orPos(p, or diag.Pos) diag.Pos {
	if p == (diag.Pos{}) {
		return or
	}
	return p
}

// rise is how far a slope rises over a plan distance, in mm.
func rise(s job.Slope, over q.MM) float64 {
	return float64(over) * math.Tan(float64(s.Pitch)*math.Pi/180)
}
