package assess

import (
	"context"
	"fmt"

	"lapwork/generator/calc/strips"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/junction"
	"lapwork/generator/parallel"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// Layout is the sheet of one surface: how the strips run and what is cut for them.
type Layout struct {
	Surface   *surface.Surface
	Component job.ComponentID // the sheet
	Choice                    // what was chosen
	Others    []Choice        // every other roll width and direction that can be laid, best first
	Widths    WidthReason     // why this roll width
	Over      *Over           // what its strips run onto in one piece, too
	HungWith  *Layout         // the slope whose strips run onto it in one piece; it has none of its own
	Joined    []strips.Place  // pieces made of two because that buys less sheet
	Meets     []Meeting       // seams of neighbouring surfaces that end near its own
	Staples   strips.Staples
	Cuts      []CutPiece
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
	Longer    q.MM       // of Cut, what it is longer than drawn since it was measured on site; negative: shorter
	At        q.MM       // lower or left edge as hung
	Joint     bool       // one of its ends is an end joint
	OffcutOf  string     // the piece whose rip it is cut from; empty: from a roll
	Feeds     []CutPiece // the pieces cut from its own rip
}

// Laid is the sheet of a whole job: every surface's layout, and each delivery's rolls.
type Laid struct {
	Layouts []*Layout // in the model's order
	drawn   map[string][]SheetOrder
	widths  []WidthTally            // the roll widths of the stock side by side
	sheets  map[string][]SheetOrder // the same with the strips as measured on site
}

// Layouts lays the sheet of every surface that carries one and cuts it from rolls, delivery by delivery: every stocked
// width and both directions compete on each surface, and the widths of a delivery by what it buys. A surface whose framing
// allows no arrangement is laid with the backing it lacks, and that becomes a note.
func (c Context) Layouts(ctx context.Context, m *surface.Model, places []*Place, found *diag.List) (Laid, error) {
	byID := map[string]*Place{}
	for _, p := range places {
		byID[p.Record.ID] = p
	}
	c.known = new(knownLayouts)
	out := Laid{drawn: map[string][]SheetOrder{}}
	deliveries, of := c.batches()
	batch := map[*Delivery][]*Layout{}
	money := c.pricing(m)
	var over []overCandidate
	for _, r := range parallel.Map(len(m.Rooms), func(i int) roomSheet { return c.roomSheet(m.Rooms[i], byID, money) }) {
		out.Layouts = append(out.Layouts, r.layouts...)
		for _, l := range r.layouts {
			batch[of[l.Surface.Room.ID]] = append(batch[of[l.Surface.Room.ID]], l)
		}
		over = append(over, r.over...)
		found.Add(r.found.Sorted()...)
	}
	cutter := c.newCutter(money)
	cutter.over = over
	for _, d := range deliveries {
		sheets, err := cutter.delivery(ctx, d, batch[d], m)
		if err != nil {
			return out, fmt.Errorf("delivery %s: %w", d.ID, err)
		}
		out.drawn[d.ID] = sheets
	}
	var err error
	if out.widths, err = c.whatIf(ctx, cutter, deliveries, batch); err != nil {
		return out, err
	}
	for _, own := range parallel.Map(len(out.Layouts), func(i int) (own diag.List) { c.finish(out.Layouts[i], &own); return own }) {
		found.Add(own.Sorted()...)
	}
	return out, c.recut(ctx, &out)
}

// roomSheet is the sheet of one room, before its delivery is looked at.
type roomSheet struct {
	layouts []*Layout // in the order of its surfaces
	over    []overCandidate
	found   diag.List
}

func (c Context) roomSheet(room *surface.RoomShape, byID map[string]*Place, money *pricing) (r roomSheet) {
	turns := c.turnsOf(room, byID)
	here := map[*surface.Surface]*Layout{}
	for _, s := range room.Surfaces {
		if !s.CarriesSheet || s.Face.Layer != job.Sheet {
			continue
		}
		if l := c.options(s, c.problem(s, turns[s], byID), money, &r.found); l != nil {
			r.layouts = append(r.layouts, l)
			here[s] = l
		}
	}
	r.over = c.overEdges(room, here, turns, byID, money)
	return r
}

// finish counts a layout's staples and says what backing it lacks.
func (c Context) finish(l *Layout, found *diag.List) {
	s := l.Surface
	for _, b := range l.Backing {
		what, at := "end joint", l.Along(b.At-l.Problem.EndJointLap/2)
		if b.Seam {
			what, at = "seam", l.Across(b.At)
		}
		found.Notef(s.Face.Pos, string(s.ID), "%s: put a backing strip of %d mm behind the %s at %d mm: no framing stands there", s.ID, b.Length, what, at)
	}
	if c.onSteel(s) {
		return // held by double-sided tape
	}
	lines, level := otherLines(s)
	holes := l.Problem.Holes
	if l.Over != nil {
		holes = l.Over.holes
	}
	n, err := strips.StaplesOn(otherPolygon(s, s.Outline), holes, strips.Framing{Lines: lines, Level: level,
		Spacing: c.setting("staple_field_mm", s), EdgeSpacing: c.setting("staple_pitch_mm", s)})
	if err != nil {
		found.Openf(s.Face.Pos, string(s.ID), "correct the framing or the staple settings", "%s: staples cannot be counted: %v", s.ID, err)
	}
	l.Staples = n
}

// onSteel reports whether a surface's framing takes no staple.
func (c Context) onSteel(s *surface.Surface) bool {
	sub := c.Library.Substrates.Find(string(s.Face.Substrate))
	return sub != nil && sub.Family == "metal"
}

// cuts names the pieces of a layout.
func cuts(l *Layout) []CutPiece {
	var out []CutPiece
	for n, st := range l.Strips {
		for i, p := range st.Pieces {
			id := fmt.Sprintf("%s/%d", l.Surface.ID, st.No)
			if len(st.Pieces) > 1 {
				id += string(rune('a' + i%26))
			}
			width, at := l.RollWidth, st.At
			if r := l.Rip(st); r > 0 {
				width = r
				if n == 0 && len(l.Strips) > 1 { // the first of several is ripped along its lower or left side
					at += l.RollWidth - r
				}
			}
			low, high := l.Across(at), l.Across(at+width)
			from, to := l.Along(p.From), l.Along(p.To)
			out = append(out, CutPiece{ID: id, Surface: l.Surface, Component: l.Component, Strip: st.No, Width: width,
				RollWidth: l.RollWidth, From: min(from, to), To: max(from, to), Cut: p.Cut, At: min(low, high), Joint: len(st.Joints) > 0})
		}
	}
	return out
}

// FramingLines gives the framing lines of a surface and whether they run level, as junction counts them.
func FramingLines(s *surface.Surface) (at []q.MM, level bool) { return junction.FramingLines(s) }
