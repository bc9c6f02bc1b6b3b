package strips

import (
	"fmt"
	"strings"

	"lapwork/generator/geometry"
	q "lapwork/generator/quantity"
)

// Limits of what Lay accepts. They hold any real surface and keep every sum of the search inside 64 bits.
const (
	MaxExtent    q.MM = 100_000        // side of the box round the outline or D
	MaxCorners        = 256            // corners of outline and holes together
	MaxWidth     q.MM = 10_000         // roll width
	MaxAllowance q.MM = 1_000          // end allowance, turn, end-joint lap
	MinStep      q.MM = 20             // roll width less lap
	MaxBacking        = 500            // seam or joint positions
	MaxRate           = 10_000_000     // price of a millimetre
	MaxPieceRate      = 10_000_000_000 // price of a piece
	maxPlace     q.MM = 1_000_000      // distance of any coordinate from the origin
)

// Fault is one thing wrong with a Problem.
type Fault struct {
	Field string // field of Problem, such as "Outline" or "Holes[2]"
	Msg   string // what is wrong
	Hint  string // what to change
}

// InvalidError lists everything that is wrong with a Problem.
type InvalidError struct{ Faults []Fault }

// Error gives one line a fault.
func (e *InvalidError) Error() string {
	lines := make([]string, len(e.Faults))
	for i, f := range e.Faults {
		lines[i] = f.Field + ": " + f.Msg + " (" + f.Hint + ")"
	}
	return "the surface cannot be laid out: " + strings.Join(lines, "; ")
}

// checker collects faults.
type checker struct{ faults []Fault }

func (c *checker) add(field, hint, format string, args ...any) {
	c.faults = append(c.faults, Fault{field, fmt.Sprintf(format, args...), hint})
}

func (c *checker) err() error {
	if len(c.faults) == 0 {
		return nil
	}
	return &InvalidError{c.faults}
}

// within checks low <= value <= high.
func (c *checker) within(field string, value, low, high q.MM) {
	if value < low || value > high {
		c.add(field, fmt.Sprintf("use %d to %d mm", low, high), "%d mm is out of range", value)
	}
}

// check finds everything wrong with the numbers of the problem, before any geometry is built.
func (p Problem) check(o Objective) error {
	var c checker
	c.shapes(p)
	c.sheet(p)
	c.backing("JointAt", p.JointAt)
	c.backing("SeamAt", p.SeamAt)
	c.backing("KeepClear", p.KeepClear)
	c.rate("SheetPerMM", o.rates.SheetPerMM, MaxRate)
	c.rate("PerPiece", o.rates.PerPiece, MaxPieceRate)
	c.rate("TapePerMM", o.rates.TapePerMM, MaxRate)
	return c.err()
}

func (c *checker) rate(field string, rate, most int64) {
	if rate < 0 || rate > most {
		c.add(field, fmt.Sprintf("use 0 to %d", most), "rate %d is out of range", rate)
	}
}

func (c *checker) sheet(p Problem) {
	c.within("RollWidth", p.RollWidth, MinStep, MaxWidth)
	c.within("EndAllowance", p.EndAllowance, 0, MaxAllowance)
	c.within("EndJointLap", p.EndJointLap, 0, MaxAllowance)
	c.within("SeamTol", p.SeamTol, 0, MaxAllowance)
	c.within("StopGap", p.StopGap, 0, MaxExtent)
	c.within("ClearBy", p.ClearBy, 0, MaxExtent)
	c.within("Raster", p.Raster, 0, MaxExtent)
	if p.Lap < 1 || (p.RollWidth <= MaxWidth && p.Lap > p.RollWidth-MinStep) {
		c.add("Lap", fmt.Sprintf("use 1 to roll width less %d mm", MinStep), "a lap of %d mm does not fit a roll of %d mm", p.Lap, p.RollWidth)
	}
	if p.MaxLap != 0 && p.MaxLap < p.Lap {
		c.add("MaxLap", "use at least the lap, or 0 for any", "laps of at most %d mm are less than the lap of %d mm", p.MaxLap, p.Lap)
	}
	if least := p.EndJointLap + 2*p.EndAllowance + 100; p.MaxPiece != 0 && p.MaxPiece < least {
		c.add("MaxPiece", fmt.Sprintf("use at least %d mm, or 0 for any length", least), "pieces of %d mm cannot be joined", p.MaxPiece)
	}
	if p.MaxPiece != 0 && p.EndJointLap == 0 {
		c.add("EndJointLap", "use at least 1 mm", "pieces without an overlap can not be joined")
	}
	if p.Direction > Upright {
		c.add("Direction", "use Level or Upright", "unknown direction %d", p.Direction)
	}
}

func (c *checker) backing(field string, at []q.MM) {
	if len(at) > MaxBacking {
		c.add(field, "split the surface", "%d positions are more than %d", len(at), MaxBacking)
		return
	}
	for _, a := range at {
		if a < -maxPlace || a > maxPlace {
			c.add(field, "give positions in the surface's own coordinates", "position %d mm is out of range", a)
			return
		}
	}
}

func (c *checker) shapes(p Problem) {
	corners := len(p.Outline)
	for _, h := range p.Holes {
		corners += len(h.Outline)
	}
	if corners > MaxCorners {
		c.add("Outline", "simplify or split the surface", "%d corners are more than %d", corners, MaxCorners)
		return
	}
	c.outline("Outline", p.Outline)
	if p.Turns != nil && len(p.Turns) != len(p.Outline) {
		c.add("Turns", "give one turn an edge", "%d turns for %d edges", len(p.Turns), len(p.Outline))
	}
	for i, t := range p.Turns {
		c.within(fmt.Sprintf("Turns[%d]", i), t, 0, MaxAllowance)
	}
	for i, h := range p.Holes {
		field := fmt.Sprintf("Holes[%d]", i)
		c.outline(field, h.Outline)
		c.within(field, h.TurnIn, 0, MaxAllowance)
	}
}

// outline checks one ring: size, area, repeated points and crossing edges.
func (c *checker) outline(field string, ring geometry.Polygon) {
	if len(ring) < 3 {
		c.add(field, "give at least three corners", "%d corners make no outline", len(ring))
		return
	}
	lo, hi := ring[0], ring[0]
	for i, p := range ring {
		lo = geometry.Point{X: min(lo.X, p.X), Y: min(lo.Y, p.Y)}
		hi = geometry.Point{X: max(hi.X, p.X), Y: max(hi.Y, p.Y)}
		if p == ring[(i+1)%len(ring)] {
			c.add(field, "leave the repeated corner out", "corner %d stands twice", i+1)
			return
		}
	}
	if min(lo.X, lo.Y) < -maxPlace || max(hi.X, hi.Y) > maxPlace || hi.X-lo.X > MaxExtent || hi.Y-lo.Y > MaxExtent {
		c.add(field, fmt.Sprintf("keep the surface within %d m and near its own origin", MaxExtent/1000), "the outline is too large")
		return
	}
	if ring.TwiceArea() == 0 {
		c.add(field, "check the corners", "the outline has no area")
		return
	}
	if i, j, crossed := crossing(ring); crossed {
		c.add(field, "give the corners in order round the outline", "edges %d and %d cross", i+1, j+1)
	}
}

// crossing finds two edges of a ring that cross, or an edge that runs back over the one before it.
func crossing(ring geometry.Polygon) (i, j int, crossed bool) {
	n := len(ring)
	for i := range n {
		a, b, next := ring[i], ring[(i+1)%n], ring[(i+2)%n]
		if turn(a, b, next) == 0 && (b.X-a.X)*(next.X-b.X)+(b.Y-a.Y)*(next.Y-b.Y) < 0 {
			return i, (i + 1) % n, true
		}
		for j := i + 2; j < n; j++ {
			p, r := ring[j], ring[(j+1)%n]
			if turn(a, b, p)*turn(a, b, r) < 0 && turn(p, r, a)*turn(p, r, b) < 0 {
				return i, j, true
			}
		}
	}
	return 0, 0, false
}

// turn is 1, 0 or -1 as c lies left of, on or right of the line from a to b.
func turn(a, b, c geometry.Point) int {
	switch cross := (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X); {
	case cross > 0:
		return 1
	case cross < 0:
		return -1
	}
	return 0
}
