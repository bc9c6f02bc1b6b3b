package assess

import (
	"errors"
	"fmt"

	"lapwork/generator/calc/strips"
	"lapwork/generator/diag"
	"lapwork/generator/geometry"
	"lapwork/generator/job"
	"lapwork/generator/junction"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// Layout is the sheet of one surface: how the strips run and what is cut for them.
type Layout struct {
	Surface   *surface.Surface
	Component job.ComponentID // the sheet
	Problem   strips.Problem
	strips.Layout
	Why     string           // why the strips run this way
	Other   *strips.Layout   // the other direction; nil where it cannot be laid
	Backing []strips.Backing // to be added behind seams and joints that would hang free
	Staples strips.Staples
	Cuts    []CutPiece
}

// CutPiece is one piece to cut, with the id that is pencilled on it.
type CutPiece struct {
	ID        string // B2-W3/4, with a letter where a strip has several pieces: B2-W3/4b
	Surface   *surface.Surface
	Component job.ComponentID
	Strip     int
	Width     q.MM // as hung: the roll's width or what it is ripped to
	RollWidth q.MM
	From, To  q.MM // along the strip, allowances included
	Cut       q.MM
	At        q.MM // lower or left edge of the strip
	Joint     bool // one of its ends is an end joint
}

// Rules of the trade the layouts follow. Common practice, no source.
const (
	ceilingDown   q.MM    = 100  // ceiling and slope sheet down the wall (R-CUT-2)
	longestPiece  q.MM    = 8000 // two people on a level wall run
	longestAbove  q.MM    = 6000 // two people overhead
	stopGap       q.MM    = 600  // full-height gap that strips stop at
	uprightShare  q.Ratio = 0.80 // of the roll's width that upright drops must use
	defaultRoll   q.MM    = 1500
	defaultLength q.MM    = 50000
	grid          q.MM    = 50 // places of a joint on full backing
)

// Layouts lays the sheet of every surface that carries one. A surface whose framing allows no arrangement is laid with the
// backing it lacks, and that becomes a note.
func (c Context) Layouts(m *surface.Model, places []*Place, found *diag.List) []*Layout {
	byID := map[string]*Place{}
	for _, p := range places {
		byID[p.Record.ID] = p
	}
	var out []*Layout
	for _, room := range m.Rooms {
		turns := c.turnsOf(room, byID)
		for _, s := range room.Surfaces {
			if !s.CarriesSheet || s.Face.Layer != job.Sheet {
				continue
			}
			if l := c.layout(s, turns[s], byID, found); l != nil {
				out = append(out, l)
			}
		}
	}
	return out
}

// layout lays one surface in the direction its rule gives, and in the other for comparison.
func (c Context) layout(s *surface.Surface, turns map[int]q.MM, byID map[string]*Place, found *diag.List) *Layout {
	p := c.problem(s, turns, byID)
	p.Direction, p.RollWidth = strips.Level, c.rollWidth(s)
	upright := c.directed(p, s, strips.Upright)
	level := c.directed(p, s, strips.Level)
	first, second := level, upright
	dir, why := c.direction(s)
	if dir == strips.Upright {
		first, second = upright, level
	}
	laid, backing, err := lay(first)
	if err != nil {
		found.Openf(s.Face.Pos, string(s.ID), "divide the surface or state another roll width", "%s: the sheet cannot be laid out: %v", s.ID, err)
		return nil
	}
	l := &Layout{Surface: s, Component: c.component("sheet-main"), Problem: first, Layout: laid, Why: why, Backing: backing}
	if other, _, err := lay(second); err == nil {
		l.Other = &other
	}
	for _, b := range backing {
		what := "end joint"
		if b.Seam {
			what = "seam"
		}
		found.Notef(s.Face.Pos, string(s.ID), "%s: put a backing strip of %d mm behind the %s at %d mm: no framing stands there", s.ID, b.Length, what, b.At)
	}
	l.Staples = c.staples(s, l, found)
	l.Cuts = cuts(l)
	return l
}

// lay solves a problem; where the backing is short it takes the arrangement with backing added.
func lay(p strips.Problem) (strips.Layout, []strips.Backing, error) {
	l, err := strips.Lay(p, strips.LeastLength())
	var short *strips.InfeasibleError
	if errors.As(err, &short) && short.Backed != nil {
		return *short.Backed, short.Missing, nil
	}
	return l, nil, err
}

// problem states a surface without its direction.
func (c Context) problem(s *surface.Surface, turns map[int]q.MM, byID map[string]*Place) strips.Problem {
	p := strips.Problem{Outline: s.Outline, Turns: make([]q.MM, len(s.Outline)), EndAllowance: c.setting("end_allow_mm", s),
		Lap: c.setting("lap_mm", s), StopGap: stopGap, MaxPiece: longestPiece}
	if s.Role == surface.Ceiling || s.Role == surface.Slope {
		p.MaxPiece = longestAbove
	}
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

// directed completes a problem for one direction: which seams and joints the framing backs.
func (c Context) directed(p strips.Problem, s *surface.Surface, d strips.Direction) strips.Problem {
	p.Direction = d
	lines, level := junction.FramingLines(s)
	if len(lines) == 0 {
		p.SeamAnywhere, p.JointAnywhere = true, false
		p.JointAt = raster(p.Outline, d)
		return p
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
	return p
}

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

// staples counts what the field and the edges of a surface take.
func (c Context) staples(s *surface.Surface, l *Layout, found *diag.List) strips.Staples {
	lines, level := junction.FramingLines(s)
	n, err := strips.StaplesOn(s.Outline, l.Problem.Holes, strips.Framing{Lines: lines, Level: level,
		Spacing: c.setting("staple_field_mm", s), EdgeSpacing: c.setting("staple_pitch_mm", s)})
	if err != nil {
		found.Openf(s.Face.Pos, string(s.ID), "correct the framing or the staple settings", "%s: staples cannot be counted: %v", s.ID, err)
	}
	return n
}

// cuts names the pieces of a layout.
func cuts(l *Layout) []CutPiece {
	var out []CutPiece
	for _, st := range l.Strips {
		for i, p := range st.Pieces {
			id := fmt.Sprintf("%s/%d", l.Surface.ID, st.No)
			if len(st.Pieces) > 1 {
				id += string(rune('a' + i%26))
			}
			width := l.RollWidth
			if r := l.Rip(st); r > 0 {
				width = r
			}
			out = append(out, CutPiece{ID: id, Surface: l.Surface, Component: l.Component, Strip: st.No, Width: width,
				RollWidth: l.RollWidth, From: p.From, To: p.To, Cut: p.Cut, At: st.At, Joint: len(st.Joints) > 0})
		}
	}
	return out
}

// FramingLines gives the framing lines of a surface and whether they run level, as junction counts them.
func FramingLines(s *surface.Surface) (at []q.MM, level bool) { return junction.FramingLines(s) }
