package drawing

import (
	"math"
	"strings"

	q "lapwork/generator/quantity"
)

// setOut writes heights on the left, offsets along the top, members along the bottom or, where they lie level, on the right,
// and the overall size.
func (d *stripDrawing) setOut() {
	soft := d.soft
	d.soft = nil
	d.limit.Y1 = 1e6 // the foot is as deep as it must be
	d.heights()
	if len(d.Offsets) > 0 {
		d.row(sorted(d.Offsets), -1)
	}
	var members, level []SetOut
	for _, m := range d.Members {
		switch {
		case m.NoText:
		case lies(m):
			level = append(level, SetOut{q.MM(tameValue((m.From.Y + m.To.Y) / 2)), m.Offset})
		default:
			members = append(members, SetOut{q.MM(tameValue(lower(m).X)), m.Offset})
		}
	}
	d.column(sorted(level))
	if d.Facing == Upright || d.Facing == Sloping {
		d.floorMark()
	}
	d.bottom = math.Max(d.bottom, d.area.Y1+d.under) // no label covers the sheet's edge
	d.row(sorted(members), 1)
	d.overall()
	d.soft = soft
}

// lies tells a member that runs from side to side of the drawing from one that runs up it: its label stands at its end.
func lies(m MemberLine) bool { return math.Abs(m.To.X-m.From.X) > math.Abs(m.To.Y-m.From.Y) }

func lower(m MemberLine) XY {
	if m.To.Y < m.From.Y {
		return m.To
	}
	return m.From
}

// heights writes the set-out heights, pushed apart where strips are narrow.
func (d *stripDrawing) heights() {
	marks := sorted(d.Heights)
	if len(marks) == 0 {
		return
	}
	want := make([]float64, len(marks))
	for i, m := range marks {
		want[len(marks)-1-i] = d.pt(XY{0, float64(m.At)}).Y
	}
	got := spread(want, setOutText*lineHeight+3)
	edge := d.area.X0 - 14
	wide := 0.0
	for i, m := range marks {
		j := len(marks) - 1 - i
		text := say("%d", m.Value)
		w := TextWidth(text, setOutText, false) + 6
		wide = math.Max(wide, w)
		box := Box{edge - 10 - w, got[j] - 10, edge - 10, got[j] + 10}
		d.fixed(text, box, End)
		d.shape(Style{Name: "set-out", Stroke: Black, Width: fineWidth}, false, Pt{box.X1, got[j]}, Pt{edge, want[j]}, Pt{d.leftAt(want[j]), want[j]})
	}
	d.put(label{text: d.words.Datum, at: Pt{edge - 10 - TextWidth(d.words.Datum, setOutText, false)/2, got[0] - 20}, style: TextStyle{Name: "set-out", Size: setOutText, Ink: Quiet}})
}

// leftAt is the leftmost point of the outline at height y.
func (d *stripDrawing) leftAt(y float64) float64 {
	left := math.Inf(1)
	for i, a := range d.outline {
		c := d.outline[(i+1)%len(d.outline)]
		if (a.Y-y)*(c.Y-y) <= 0 {
			t := 0.0
			if a.Y != c.Y {
				t = (y - a.Y) / (c.Y - a.Y)
			}
			left = math.Min(left, math.Min(lerp(a, c, t).X, math.Max(a.X, c.X)))
		}
	}
	if math.IsInf(left, 0) {
		return d.area.X0
	}
	return left
}

// fixed writes a text exactly where the box is, or as near as other text lets it.
func (d *stripDrawing) fixed(text string, box Box, anchor Anchor) Box {
	return d.put(label{lines: []string{text}, at: box.middle(), plate: true, style: TextStyle{Name: "set-out", Size: setOutText, Anchor: anchor}})
}

// column writes the marks of level members on the right, beside the sheet's edge, pushed apart where they lie close.
func (d *stripDrawing) column(marks []SetOut) {
	want := make([]float64, len(marks))
	for i, m := range marks {
		want[len(marks)-1-i] = d.pt(XY{0, float64(m.At)}).Y
	}
	got := spread(want, setOutText*lineHeight+3)
	edge := d.area.X1 + d.over
	for i, m := range marks {
		j := len(marks) - 1 - i
		d.shape(Style{Name: "set-out", Stroke: Quiet, Width: fineWidth}, false, Pt{d.area.X1, want[j]}, Pt{edge + 4, want[j]}, Pt{edge + 10, got[j]})
		text := say("%d", m.Value)
		w := TextWidth(text, setOutText, false) + 6
		d.fixed(text, Box{edge + 11, got[j] - 10, edge + 11 + w, got[j] + 10}, Start)
	}
}

// columnWidth is the room that the labels of level members take on the right.
func (d *stripDrawing) columnWidth() float64 {
	wide := 0.0
	for _, m := range d.Members {
		if !m.NoText && lies(m) {
			wide = math.Max(wide, TextWidth(say("%d", m.Offset), setOutText, false)+20)
		}
	}
	return wide
}

// row writes marks along the bottom (side 1) or the top (side -1), in as many rows as they need.
func (d *stripDrawing) row(marks []SetOut, side float64) {
	if len(marks) == 0 {
		return
	}
	var ends []float64 // right end of each row
	edge := d.area.Y0
	if side > 0 {
		edge = d.bottom
	}
	lowest := edge
	for _, m := range marks {
		text := say("%d", m.Value)
		x := d.pt(XY{float64(m.At), 0}).X
		w := TextWidth(text, setOutText, false) + 6
		n := 0
		for n < len(ends) && ends[n] > x-w/2 {
			n++
		}
		if n == len(ends) {
			ends = append(ends, 0)
		}
		ends[n] = x + w/2 + 2
		y := edge + side*(20+24*float64(n))
		d.shape(Style{Name: "set-out", Stroke: Quiet, Width: fineWidth}, false, Pt{x, edge}, Pt{x, y - side*9})
		box := d.put(label{lines: []string{text}, at: Pt{x, y}, plate: true, style: TextStyle{Name: "set-out", Size: setOutText}})
		lowest = math.Max(lowest, box.Y1)
	}
	if side > 0 {
		d.bottom = lowest + 4
	}
}

// rowsOf tells how many rows marks along the top will take at a scale.
func (d *stripDrawing) rowsOf(marks []SetOut, k float64) int {
	var ends []float64
	for _, m := range sorted(marks) {
		x, w := tameValue(float64(m.At))*k, TextWidth(say("%d", m.Value), setOutText, false)+6
		n := 0
		for n < len(ends) && ends[n] > x-w/2 {
			n++
		}
		if n == len(ends) {
			ends = append(ends, 0)
		}
		ends[n] = x + w/2 + 2
	}
	return len(ends)
}

// overall writes the size of the whole surface along the bottom and the right.
func (d *stripDrawing) overall() {
	low, high, _ := extent(d.StripLayout.Outline)
	y, x := d.bottom+22, d.area.X1+d.clear
	d.dimension(Pt{d.area.X0, y}, Pt{d.area.X1, y})
	d.fixed(say("%d", int(math.Round(high.X-low.X))), boxAt(Pt{(d.area.X0 + d.area.X1) / 2, y}, 10, 20), Middle)
	d.dimension(Pt{x, d.area.Y1}, Pt{x, d.area.Y0})
	d.fixed(say("%d", int(math.Round(high.Y-low.Y))), boxAt(Pt{x, d.area.middle().Y}, 10, 20), Middle)
	d.bottom = y + 12
}

// floorMark draws the ground line under the lower edge: the drawing is held this way up.
func (d *stripDrawing) floorMark() {
	y := d.area.Y1 + 8
	d.shape(Style{Name: "floor", Stroke: Black, Width: 8, Dash: "1.5 6"}, false, Pt{d.area.X0 - 10, y}, Pt{d.area.X1 + 10, y})
	d.bottom = math.Max(d.bottom, y+4)
}

// note writes at the foot how the drawing is to be held and read.
func (d *stripDrawing) note() {
	low := d.bottom
	for _, t := range d.texts {
		low = math.Max(low, t.Y1)
	}
	text := map[Facing]string{Upright: d.words.SeenFromInside + " · ↓ " + d.words.Floor, Sloping: d.words.SeenFromInside + " · ↓ " + d.words.LowerEdge,
		Overhead: d.words.CeilingAsPlan, Underfoot: d.words.SeenFromAbove}[d.Facing]
	if len(d.Members) > 0 {
		text += " · ┬ " + d.words.Studs
	}
	text += " · " + d.words.AllInMM
	box := d.put(label{text: text, at: Pt{d.limit.X1 / 2, low + 20}, wrapAt: d.limit.X1 - 20, style: TextStyle{Name: "note", Size: setOutText, Ink: Quiet}})
	d.limit.Y1 = box.Y1 + 4
}

// namesAround writes what lies along the sides of the outline.
func (d *stripDrawing) namesAround() {
	for _, e := range d.Edges {
		a, c := d.pt(e.From), d.pt(e.To)
		m := lerp(a, c, 0.5)
		n := normal(a, c)
		if inside(add(m, times(n, 3)), d.outline) {
			n = times(n, -1)
		}
		l := label{text: e.ID, target: &m, style: TextStyle{Name: "edge", Size: setOutText, Ink: Quiet}}
		if e.No > 0 {
			l.text, l.frame, l.style.Ink, l.style.Bold = say("%d", e.No), true, Black, true
		}
		half := TextWidth(l.text, setOutText, false)/2 + 6
		far := half + 14
		switch {
		case n.X > 0.5 && l.frame: // between the sheet's edge and the overall height
			far = d.over + d.beside + half + 4
		case n.X > 0.5:
			far += d.clear
		}
		l.at = add(m, Pt{n.X * far, n.Y * 22})
		if n.Y > 0.5 {
			l.at.Y = math.Max(l.at.Y, d.bottom+12)
		}
		d.put(l)
	}
}

func (d *stripDrawing) title() string {
	return say(d.words.StripsOf, strings.TrimSpace(d.Surface+" "+d.Name))
}

// describe says the layout in words.
func (d *stripDrawing) describe() string {
	w := d.words
	out := []string{map[Facing]string{Upright: w.SeenFromInside, Sloping: w.SeenFromInside, Overhead: w.CeilingAsPlan, Underfoot: w.SeenFromAbove}[d.Facing] + "."}
	for _, s := range d.Strips {
		var cuts []string
		for _, p := range s.Pieces {
			cuts = append(cuts, say("%d", p.Cut))
		}
		out = append(out, say(w.Strip, s.No, strings.Join(cuts, " + ")))
	}
	for _, l := range d.Laps {
		out = append(out, say(w.Lap, l.ID, l.Width))
	}
	for _, j := range d.EndJoints {
		out = append(out, say(w.EndJoint, j.ID, j.Offset))
	}
	for _, o := range d.Openings {
		wide, high := o.size()
		out = append(out, say(w.Opening, o.ID, wide, high))
	}
	for _, h := range d.Penetrations {
		out = append(out, say(w.Hole, h.written()))
	}
	return strings.Join(out, " ")
}

// spread moves sorted places apart to at least gap, as little as possible: blocks that touch are moved to their mean.
func spread(want []float64, gap float64) []float64 {
	type block struct {
		sum float64 // of wanted places, each less its own offset in the block
		n   int
	}
	var blocks []block
	for _, w := range want {
		blocks = append(blocks, block{w, 1})
		for k := len(blocks) - 1; k > 0; k-- {
			a, c := blocks[k-1], blocks[k]
			if a.sum/float64(a.n)+float64(a.n)*gap <= c.sum/float64(c.n) {
				break
			}
			blocks[k-1] = block{a.sum + c.sum - float64(c.n)*float64(a.n)*gap, a.n + c.n}
			blocks = blocks[:k]
		}
	}
	var out []float64
	for _, b := range blocks {
		for i := range b.n {
			out = append(out, b.sum/float64(b.n)+float64(i)*gap)
		}
	}
	return out
}
