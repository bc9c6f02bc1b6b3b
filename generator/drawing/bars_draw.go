package drawing

import (
	"math"
	"strings"
)

const (
	barName = 190.0 // column of the names
	barRow  = 34.0
	barWide = 18.0
	// a short activity is still seen on an axis of many days
	barLeast = 3.0
)

// Draw draws the bars, each with its name before it and its value after it.
func (b Bars) Draw(to Canvas) {
	w := b.Words.or()
	p := &plot{board: &board{limit: Box{0, 0, figureWidth, 1e6}}}
	values := []float64{0, b.Limit}
	widest := 40.0
	for _, r := range b.Rows {
		values = append(values, r.From, r.To)
		widest = math.Max(widest, TextWidth(cutText(r.Text), chartText, false)+14)
	}
	p.x = newRuler(Axis{Label: b.Label}, w.Decimal, values)
	widest = math.Min(widest, 220)
	heights := rowHeights(len(b.Rows), func(i int) string { return b.Rows[i].Name })
	p.area = Box{barName + 10, 30, figureWidth - widest, 30 + sum(heights)}
	p.x.p0, p.x.p1 = p.area.X0, p.area.X1
	p.upright(p.area.Y1)
	y := p.area.Y0
	var said []string
	for i, r := range b.Rows {
		mid := y + heights[i]/2
		y += heights[i]
		p.rowName(r.Name, mid)
		ink := r.Ink
		if ink == NoInk {
			ink = Accent
		}
		box := Box{p.x.at(math.Min(r.From, r.To)), mid - barWide/2, p.x.at(math.Max(r.From, r.To)), mid + barWide/2}
		if p.x.takes(r.From) && p.x.takes(r.To) {
			p.shape(Style{Name: "bar", Fill: ink}, true, box.corners()...)
		}
		said = append(said, strings.TrimSpace(r.Name+": "+r.Text)+".")
		tw := TextWidth(cutText(r.Text), chartText, false)
		p.put(label{text: r.Text, wrapAt: widest - 8, at: Pt{box.X1 + tw/2 + 8, mid}, plate: true, style: TextStyle{Name: "value", Size: chartText}})
	}
	if b.Limit != 0 && p.x.takes(b.Limit) {
		x := p.x.at(b.Limit)
		p.shape(Style{Name: "level", Stroke: StopInk, Width: 2, Dash: "8 4"}, false, Pt{x, p.area.Y0 - 8}, Pt{x, p.area.Y1})
		p.put(label{text: b.LimitName, at: Pt{x, p.area.Y0 - 18}, style: TextStyle{Name: "level", Size: chartText, Bold: true, Ink: StopInk}})
		said = append(said, b.LimitName+".")
	}
	if b.Desc != "" {
		said = []string{b.Desc}
	}
	p.end(to, b.Title, strings.Join(append(said, b.Label+"."), " "))
}

// upright draws the steps of the X axis with their numbers below, and the axis' name.
func (p *plot) upright(bottom float64) {
	for _, t := range p.x.ticks(p.widestTick()) {
		x := p.x.at(t.value)
		p.shape(Style{Name: "grid", Stroke: Rule, Width: fineWidth}, false, Pt{x, p.area.Y0}, Pt{x, bottom})
		p.put(label{lines: []string{t.text}, at: Pt{x, bottom + 16}, style: TextStyle{Name: "axis", Size: chartText}})
	}
	p.shape(Style{Name: "axis", Stroke: Black, Width: seenWidth}, false, Pt{p.area.X0, p.area.Y0}, Pt{p.area.X0, bottom})
	p.name(p.x.Label, Pt{p.area.middle().X, bottom + 40}, Middle)
}

func (p *plot) rowName(name string, mid float64) {
	lines := nameLines(name)
	l := label{lines: lines, style: TextStyle{Name: "row", Size: chartText, Anchor: End}}
	w, _ := l.size()
	l.at = Pt{barName - w/2, mid}
	p.put(l)
}

func nameLines(name string) []string { return wrap(name, chartText, false, barName-12) }

func rowHeights(n int, name func(int) string) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = math.Max(barRow, float64(len(nameLines(name(i))))*chartText*lineHeight+10)
	}
	return out
}

func sum(values []float64) float64 {
	total := 0.0
	for _, v := range values {
		total += v
	}
	return total
}

// Draw draws the activities over the working days, hold points as diamonds.
func (s Schedule) Draw(to Canvas) {
	w := s.Words.or()
	p := &plot{board: &board{limit: Box{0, 0, figureWidth, 1e6}}}
	values := []float64{0}
	for _, r := range s.Rows {
		for _, b := range r.Bars {
			values = append(values, b.From, b.To)
		}
	}
	p.x = newRuler(Axis{Label: s.Label}, w.Decimal, values)
	heights := rowHeights(len(s.Rows), func(i int) string { return s.Rows[i].Name })
	right := 30.0 // the words of a hold point stand after its bar
	for _, r := range s.Rows {
		right = math.Max(right, math.Min(TextWidth(cutText(r.Hold), chartText, true)+28, 200))
	}
	p.area = Box{barName + 10, 8, figureWidth - right, 8 + sum(heights)}
	p.x.p0, p.x.p1 = p.area.X0, p.area.X1
	p.upright(p.area.Y1)
	y := p.area.Y0
	var said []string
	for i, r := range s.Rows {
		mid := y + heights[i]/2
		y += heights[i]
		p.rowName(r.Name, mid)
		said = append(said, p.task(r, mid, w))
	}
	if s.Desc != "" {
		said = []string{s.Desc}
	}
	p.end(to, s.Title, strings.Join(append(said, s.Label+"."), " "))
}

// task draws one activity and gives it in words.
func (p *plot) task(r TaskRow, mid float64, w *Words) string {
	last := math.Inf(-1)
	var spans []string
	for _, b := range r.Bars {
		if !p.x.takes(b.From) || !p.x.takes(b.To) {
			continue
		}
		box := Box{p.x.at(math.Min(b.From, b.To)), mid - barWide/2, p.x.at(math.Max(b.From, b.To)), mid + barWide/2}
		box.X1 = math.Max(box.X1, box.X0+barLeast)
		p.shape(Style{Name: "bar", Fill: Accent}, true, box.corners()...)
		p.soft = append(p.soft, box)
		last = math.Max(last, box.X1)
		spans = append(spans, p.x.plain(b.From)+"–"+p.x.plain(b.To))
	}
	said := r.Name + ": " + strings.Join(spans, ", ")
	if r.Hold == "" {
		return said + "."
	}
	if math.IsInf(last, 0) {
		last = p.area.X0
	}
	at := Pt{last, mid}
	p.shape(Style{Name: "hold", Fill: StopInk, Stroke: Ground, Width: 1.5}, true, add(at, Pt{-10, 0}), add(at, Pt{0, -10}), add(at, Pt{10, 0}), add(at, Pt{0, 10}))
	wide := TextWidth(cutText(r.Hold), chartText, true) / 2
	p.put(label{text: r.Hold, wrapAt: 180, at: Pt{last + 16 + math.Min(wide, 90), mid}, plate: true, style: TextStyle{Name: "hold", Size: chartText, Bold: true, Ink: StopInk}})
	return said + "; " + w.HoldPoint + " " + r.Hold + "."
}
