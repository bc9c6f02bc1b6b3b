package pack

import (
	"fmt"

	"lapwork/generator/assess"
	"lapwork/generator/drawing"
	"lapwork/generator/geometry"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// onto puts points of a surface onto a drawing.
type onto func(geometry.Point) geometry.Point

func asIs(p geometry.Point) geometry.Point { return p }

func (f onto) polygon(p geometry.Polygon) geometry.Polygon {
	out := make(geometry.Polygon, len(p))
	for i, at := range p {
		out[i] = f(at)
	}
	return out
}

// size is a width and height as they lie on the drawing: they change places where the surface lies there on its side.
func (f onto) size(width, height q.MM) (across, up q.MM) {
	if zero := f(geometry.Point{}); f(geometry.Point{X: 1}).X == zero.X {
		return height, width
	}
	return width, height
}

// drawUnfolded adds the surfaces beyond the edges that the strips run over, and the edges themselves. The members of the
// slope are written, those in line with them are not.
func (a *assembler) drawUnfolded(d *drawing.StripLayout, l *assess.Layout) {
	own := len(d.Members)
	for _, part := range l.Over.Parts {
		for _, m := range members(part.Surface) {
			at := func(p drawing.XY) drawing.XY { return xy(part.To(geometry.Point{X: q.MM(p.X), Y: q.MM(p.Y)})) }
			m.From, m.To, m.NoText = at(m.From), at(m.To), true
			d.Members = append(d.Members, m)
		}
		a.drawSurface(d, part.Surface, part.To)
		box := part.Polygon(part.Surface.Outline).Bounds()
		fold := geometry.Polygon{{X: box.Min.X, Y: part.At}, {X: box.Max.X, Y: part.At}}
		d.Folds = append(d.Folds, drawing.FoldMark{ID: part.Edge, From: xy(fold[0]), To: xy(fold[1])})
		d.Heights = append(d.Heights, drawing.SetOut{At: part.At, Value: part.At - l.Base(true)})
	}
	if l.Base(true) < l.Surface.Outline.Bounds().Min.Y { // a wall below: its studs are written at the foot
		for i := range own {
			d.Members[i].NoText = true
		}
		for i, m := range d.Members[own:] {
			d.Members[own+i].NoText = max(m.From.Y, m.To.Y) > float64(l.Surface.Outline.Bounds().Min.Y)
		}
	}
}

// drawFromSlope adds the parts of a slope's strips that lie on a surface beyond its edge.
func (a *assembler) drawFromSlope(d *drawing.StripLayout, s *surface.Surface, slope *assess.Layout) {
	part := slope.Over.Part(s)
	low, high := part.At, part.At // along the strips, allowances at the far end included
	if box := part.Polygon(s.Outline).Bounds(); box.Min.Y < part.At {
		low = -1 << 30
	} else {
		high = 1 << 30
	}
	here := func(v0, v1, u0, u1 q.MM) []drawing.XY {
		return outline(onto(part.Back).polygon(geometry.Rect(min(v0, v1), u0, max(v0, v1)-min(v0, v1), u1-u0)))
	}
	roll := a.rolls()
	for _, c := range slope.Cuts {
		if from, to := max(c.From, low), min(c.To, high); from < to {
			d.Strips = append(d.Strips, drawing.StripMark{No: c.Strip, ID: c.ID, Pieces: []drawing.PieceMark{{
				Outline: here(c.At, c.At+c.Width, from, to), Cut: c.Cut, Roll: roll[c.ID], From: c.OffcutOf}}})
		}
	}
	box := s.Outline.Bounds()
	for _, st := range slope.Strips[1:] {
		edge, lapped := slope.Across(st.At), slope.Across(st.At+st.Lap)
		for _, run := range st.Seam {
			if from, to := max(run.From, low), min(run.To, high); from < to {
				d.Laps = append(d.Laps, drawing.LapMark{ID: fmt.Sprintf("%s/%d+%d", slope.Surface.ID, st.No-1, st.No),
					Outline: here(edge, lapped, from, to), Width: st.Lap})
			}
		}
		at := part.Back(geometry.Point{X: edge, Y: part.At})
		if part.Turned() {
			d.Heights = append(d.Heights, drawing.SetOut{At: at.Y, Value: at.Y - box.Min.Y})
		} else {
			d.Offsets = append(d.Offsets, drawing.SetOut{At: at.X, Value: at.X - box.Min.X})
		}
	}
}
