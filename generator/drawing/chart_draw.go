package drawing

import (
	"math"
	"strings"
)

const (
	chartText  = 14.0
	plotHeight = 300.0
	tickGap    = 44.0
)

// plot is the area of a chart between its axes.
type plot struct {
	*board
	x, y ruler
	area Box
	left float64 // least room for the numbers of the Y axis
	rise float64 // room over the plot for the names of bands
}

// Draw draws the chart.
func (c Chart) Draw(to Canvas) {
	w := c.Words.or()
	p := &plot{board: &board{limit: Box{0, 0, figureWidth, 1e6}}}
	x, y := c.values()
	p.x, p.y = newRuler(c.X, w.Decimal, x...), newRuler(c.Y, w.Decimal, y...)
	top := p.key(c.Series) + 34
	if len(c.Bands) > 0 {
		p.rise = 44
		top += p.rise
	}
	p.axes(top, plotHeight, true)
	p.bands(c.Bands)
	p.frame()
	levels := p.drawable(c.Levels)
	for _, l := range levels {
		p.level(l)
	}
	for _, s := range c.Series {
		p.series(s)
	}
	for _, l := range levels {
		p.levelName(l)
	}
	p.end(to, c.Title, c.describe(w))
}

func (c Chart) values() (x, y [][]float64) {
	for _, s := range c.Series {
		n := min(len(s.X), len(s.Y))
		x, y = append(x, s.X[:n]), append(y, s.Y[:n])
	}
	for _, l := range c.Levels {
		if l.Upright {
			x = append(x, []float64{l.Value})
		} else {
			y = append(y, []float64{l.Value})
		}
	}
	for _, b := range c.Bands {
		x = append(x, []float64{b.From, b.To})
	}
	return x, y
}

// key writes each series' mark and name in rows from the top and gives the height they take.
func (p *plot) key(series []Series) float64 {
	at := Pt{70, 14}
	for _, s := range series {
		if s.Name == "" {
			continue
		}
		lines := wrap(s.Name, chartText, false, figureWidth-160)[:1]
		wide := TextWidth(lines[0], chartText, false) + 6
		if at.X+44+wide > figureWidth-8 && at.X > 70 {
			at = Pt{70, at.Y + 24}
		}
		a, e := at, add(at, Pt{36, 0})
		if s.Line {
			p.shape(s.stroke(), false, a, e)
		}
		p.mark(s, lerp(a, e, 0.5))
		p.put(label{lines: lines, at: Pt{e.X + 8 + wide/2, at.Y}, style: TextStyle{Name: "series", Size: chartText}})
		at.X = e.X + 24 + wide
	}
	if at == (Pt{70, 14}) {
		return 0
	}
	return at.Y + 14
}

// axes draws the frame, the steps and the names of the axes. numbers: write the X axis, which a plot below may carry.
func (p *plot) axes(top, height float64, numbers bool) {
	p.y.p0, p.y.p1 = top+height, top
	left := math.Max(30, p.left)
	ticks := p.y.ticks(26)
	for _, t := range ticks {
		left = math.Max(left, TextWidth(t.text, chartText, false)+22)
	}
	p.area = Box{left, top, figureWidth - 24, top + height}
	p.x.p0, p.x.p1 = p.area.X0, p.area.X1
	for _, t := range ticks {
		y := p.y.at(t.value)
		p.shape(Style{Name: "grid", Stroke: Rule, Width: fineWidth}, false, Pt{p.area.X0, y}, Pt{p.area.X1, y})
		w := TextWidth(t.text, chartText, false) + 6
		p.put(label{lines: []string{t.text}, at: Pt{p.area.X0 - 6 - w/2, y}, style: TextStyle{Name: "axis", Size: chartText, Anchor: End}})
	}
	for _, t := range p.x.ticks(p.widestTick()) {
		x := p.x.at(t.value)
		p.shape(Style{Name: "grid", Stroke: Rule, Width: fineWidth}, false, Pt{x, p.area.Y0}, Pt{x, p.area.Y1})
		if numbers {
			p.put(label{lines: []string{t.text}, at: Pt{x, p.area.Y1 + 21}, style: TextStyle{Name: "axis", Size: chartText}})
		}
	}
	p.name(p.y.Label, Pt{0, p.area.Y0 - p.rise - 20}, Start)
	if numbers {
		p.name(p.x.Label, Pt{p.area.middle().X, p.area.Y1 + 45}, Middle)
	}
}

// frame draws the axes themselves, over shaded bands.
func (p *plot) frame() {
	p.shape(Style{Name: "axis", Stroke: Black, Width: seenWidth}, false, Pt{p.area.X0, p.area.Y0}, Pt{p.area.X0, p.area.Y1}, Pt{p.area.X1, p.area.Y1})
}

func (p *plot) widestTick() float64 {
	gap := tickGap
	for _, t := range p.x.ticks(tickGap) {
		gap = math.Max(gap, TextWidth(t.text, chartText, false)+16)
	}
	return gap
}

func (p *plot) name(text string, at Pt, anchor Anchor) {
	l := label{text: text, at: at, wrapAt: 620, style: TextStyle{Name: "axis-name", Size: chartText, Ink: Quiet, Anchor: anchor}}
	if anchor == Start {
		l.at.X += TextWidth(text, chartText, false)/2 + 6
	}
	p.put(l)
}

// WetHatch is the hatch of wet planes in charts.
const WetHatch Material = "wet"

// leastHatched is the least width of a hatched band as shown, pixels.
const leastHatched = 12.0

// bands shades every second band, hatches what is marked, and names all of them over the plot.
func (p *plot) bands(bands []Band) {
	plain := 0
	for _, b := range bands {
		if !p.x.takes(b.From) || !p.x.takes(b.To) {
			continue
		}
		box := Box{p.x.at(math.Min(b.From, b.To)), p.area.Y0, p.x.at(math.Max(b.From, b.To)), p.area.Y1}
		switch {
		case b.Hatched:
			grow := math.Max(0, leastHatched-box.width()) / 2
			box.X0, box.X1 = math.Max(box.X0-grow, p.area.X0), math.Min(box.X1+grow, p.area.X1)
			p.shape(Style{Name: "wet", Hatch: WetHatch, Stroke: Black, Width: fineWidth}, true, box.corners()...)
		case plain%2 == 0:
			p.shape(Style{Name: "band", Fill: Shade, Stroke: Rule, Width: fineWidth}, true, box.corners()...)
		}
		if !b.Hatched {
			plain++
		}
		if b.Name == "" {
			continue
		}
		target := Pt{box.middle().X, p.area.Y0 + 6}
		p.put(label{text: b.Name, wrapAt: math.Max(box.width()-4, 90), at: Pt{target.X, p.area.Y0 - 30}, target: &target, style: TextStyle{Name: "band", Size: chartText}})
	}
}

// drawable keeps the levels whose value the axis can show.
func (p *plot) drawable(levels []Level) []Level {
	var out []Level
	for _, l := range levels {
		if l.Upright && p.x.takes(l.Value) || !l.Upright && p.y.takes(l.Value) {
			out = append(out, l)
		}
	}
	return out
}

func (p *plot) level(l Level) {
	s := Style{Name: "level", Stroke: l.Ink, Width: 2, Dash: "8 4"}
	if s.Stroke == NoInk {
		s.Stroke = StopInk
	}
	if l.Upright {
		p.shape(s, false, Pt{p.x.at(l.Value), p.area.Y0}, Pt{p.x.at(l.Value), p.area.Y1})
		return
	}
	p.shape(s, false, Pt{p.area.X0, p.y.at(l.Value)}, Pt{p.area.X1, p.y.at(l.Value)})
}

func (p *plot) levelName(l Level) {
	style := TextStyle{Name: "level", Size: chartText, Bold: true, Ink: l.Ink}
	if style.Ink == NoInk {
		style.Ink = StopInk
	}
	wide := TextWidth(l.Name, chartText, true) / 2
	at := Pt{p.area.X1 - wide - 8, p.y.at(l.Value) - 12}
	if l.Upright {
		at = Pt{p.x.at(l.Value) + wide + 8, p.area.Y0 + 14}
	}
	p.put(label{text: l.Name, at: at, plate: true, style: style})
}

func (s Series) stroke() Style {
	st := Style{Name: "series", Stroke: s.ink(), Width: 2.5, Round: true}
	if s.Dashed {
		st.Dash, st.Round = "7 5", false
	}
	return st
}

func (s Series) ink() Ink {
	if s.Ink == NoInk {
		return Black
	}
	return s.Ink
}

// series draws a row of points; a value that cannot be drawn breaks the line.
func (p *plot) series(s Series) {
	var run []Pt
	flush := func() {
		if s.Line {
			p.shape(s.stroke(), false, run...)
		}
		run = nil
	}
	for i := range min(len(s.X), len(s.Y)) {
		if !p.x.takes(s.X[i]) || !p.y.takes(s.Y[i]) {
			flush()
			continue
		}
		at := Pt{p.x.at(s.X[i]), p.y.at(s.Y[i])}
		run = append(run, at)
		p.mark(s, at)
		if !s.Line || s.Mark != NoMark {
			p.soft = append(p.soft, boxAt(at, 10, 10))
		}
	}
	for i := 1; i < len(run) && s.Line; i++ {
		p.keepOff(run[i-1], run[i])
	}
	flush()
}

func (p *plot) mark(s Series, at Pt) {
	fill, ring := Style{Name: "point", Fill: s.ink()}, Style{Name: "point", Stroke: s.ink(), Width: 2, Fill: Ground}
	switch s.Mark {
	case Disc:
		p.circle(fill, at, 4.5)
	case Ring:
		p.circle(ring, at, 4.5)
	case Square:
		p.shape(fill, true, boxAt(at, 8, 8).corners()...)
	case Cross:
		p.shape(ring, false, add(at, Pt{-4, -4}), add(at, Pt{4, 4}))
		p.shape(ring, false, add(at, Pt{-4, 4}), add(at, Pt{4, -4}))
	}
}

// end closes the chart at what was written lowest.
func (p *plot) end(to Canvas, title, desc string) {
	low := p.area.Y1
	for _, t := range p.texts {
		low = math.Max(low, t.Y1)
	}
	p.finish(to, title, desc, Box{0, 0, figureWidth, low + 4})
}

func (c Chart) describe(w *Words) string {
	if c.Desc != "" {
		return c.Desc
	}
	out := []string{c.Y.Label + " / " + c.X.Label + "."}
	for _, s := range c.Series {
		x, y := newRuler(Axis{Log: c.X.Log}, w.Decimal), newRuler(Axis{Log: c.Y.Log}, w.Decimal)
		if n := min(len(s.X), len(s.Y)); n > 0 {
			x, y = exact(x, s.X[:n]), exact(y, s.Y[:n])
		}
		out = append(out, say(w.SeriesOf, s.Name, y.plain(y.low), y.plain(y.high), x.plain(x.low), x.plain(x.high)))
	}
	for _, l := range c.Levels {
		out = append(out, l.Name+".")
	}
	for _, b := range c.Bands {
		out = append(out, b.Name+".")
	}
	return strings.Join(out, " ")
}

// exact gives the ruler the bare range of the values.
func exact(r ruler, values []float64) ruler {
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range values {
		if r.takes(v) {
			low, high = math.Min(low, v), math.Max(high, v)
		}
	}
	if low <= high {
		r.low, r.high = low, high
	}
	return r
}

// plain writes a value with three or more digits.
func (r ruler) plain(v float64) string {
	step := 1.0
	if a := math.Abs(v); a > 0 && a < 100 {
		step = math.Pow(10, math.Floor(math.Log10(a))-2)
	}
	return r.text(v, math.Max(step, 1e-4))
}
