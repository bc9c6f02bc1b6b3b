package pack

import (
	"fmt"

	"lapwork/generator/assess"
	"lapwork/generator/drawing"
	"lapwork/generator/geometry"
)

// drawUnfolded adds the wall below an edge that the strips run over, the edge itself and its height. The studs are written, the
// rafters in line with them are not.
func (a *assembler) drawUnfolded(d *drawing.StripLayout, o *assess.Over) {
	for i := range d.Members {
		d.Members[i].NoText = true
	}
	shift := xy(o.Shift)
	by := func(p drawing.XY) drawing.XY { return drawing.XY{X: p.X + shift.X, Y: p.Y + shift.Y} }
	for _, m := range members(o.Wall) {
		m.From, m.To = by(m.From), by(m.To)
		d.Members = append(d.Members, m)
	}
	a.drawSurface(d, o.Wall, o.Shift)
	box := o.Wall.Outline.Bounds()
	d.Folds = append(d.Folds, drawing.FoldMark{ID: o.Edge, From: by(xy(geometry.Point{X: box.Min.X, Y: box.Max.Y})), To: by(xy(box.Max))})
	d.Heights = append(d.Heights, drawing.SetOut{At: box.Max.Y + o.Shift.Y, Value: box.Height()})
}

func moved(p geometry.Polygon, by geometry.Point) geometry.Polygon {
	out := make(geometry.Polygon, len(p))
	for i, at := range p {
		out[i] = geometry.Point{X: at.X + by.X, Y: at.Y + by.Y}
	}
	return out
}

// drawComingDown adds the parts of a slope's strips that lie on the wall below.
func (a *assembler) drawComingDown(d *drawing.StripLayout, slope *assess.Layout) {
	by := slope.Over.Shift
	top := slope.Over.Wall.Outline.Bounds().Max.Y
	roll := a.rolls()
	for _, c := range slope.Cuts {
		from, to := c.From-by.Y, min(c.To-by.Y, top)
		if from >= to {
			continue
		}
		d.Strips = append(d.Strips, drawing.StripMark{No: c.Strip, ID: c.ID, Pieces: []drawing.PieceMark{{
			Outline: patch(slope, c.At-by.X, c.At-by.X+c.Width, from, to), Cut: c.Cut, Roll: roll[c.ID], From: c.OffcutOf}}})
	}
	for _, st := range slope.Strips[1:] {
		edge, lapped := slope.Across(st.At)-by.X, slope.Across(st.At+st.Lap)-by.X
		for _, run := range st.Seam {
			if from, to := run.From-by.Y, min(run.To-by.Y, top); from < to {
				d.Laps = append(d.Laps, drawing.LapMark{ID: fmt.Sprintf("%s/%d+%d", slope.Surface.ID, st.No-1, st.No),
					Outline: patch(slope, edge, lapped, from, to), Width: st.Lap})
			}
		}
		d.Offsets = append(d.Offsets, drawing.SetOut{At: edge, Value: edge - slope.Over.Wall.Outline.Bounds().Min.X})
	}
}
