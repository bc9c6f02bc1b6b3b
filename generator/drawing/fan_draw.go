package drawing

import "math"

const residualHeight = 110.0

// Draw draws the fan test: flow over pressure on logarithmic axes with the fitted line, and below it how far each point
// lies off the line, in per cent.
func (f FanPlot) Draw(to Canvas) {
	w := f.Words.or()
	tests := []FanPlot{f}
	if f.Second != nil {
		tests = append(tests, *f.Second)
	}
	var series []Series
	var residuals []Series
	var px, flows, off [][]float64
	desc := f.Desc
	for i, t := range tests {
		s, r := t.series(w, i == 1)
		series, residuals = append(series, s...), append(residuals, r)
		px, flows, off = append(px, s[0].X), append(flows, s[0].Y), append(off, r.Y)
	}
	main := Chart{Title: f.Title, X: Axis{Label: w.Pressure, Log: true}, Y: Axis{Label: w.Flow, Log: true}, Series: series, Words: w}
	if desc == "" {
		desc = main.describe(w)
	}
	p := &plot{board: &board{limit: Box{0, 0, figureWidth, 1e6}}}
	p.x, p.y = newRuler(main.X, w.Decimal, px...), newRuler(main.Y, w.Decimal, flows...)
	p.left = 64
	p.axes(p.key(series)+34, plotHeight, false)
	p.frame()
	for _, s := range series {
		p.series(s)
	}
	low := &plot{board: p.board, left: p.area.X0, x: p.x, y: newRuler(Axis{Label: w.Deviation}, w.Decimal, off...)}
	if m := math.Max(math.Abs(low.y.low), math.Abs(low.y.high)); m > 0 {
		low.y.low, low.y.high = -m, m
	}
	low.axes(p.area.Y1+44, residualHeight, true)
	low.frame()
	low.shape(Style{Name: "axis", Stroke: Black, Width: 1}, false, Pt{low.area.X0, low.y.at(0)}, Pt{low.area.X1, low.y.at(0)})
	for _, s := range residuals {
		low.series(s)
	}
	low.end(to, f.Title, desc)
}

// series gives the points, the line, and the deviations of one direction of the test.
func (f FanPlot) series(w *Words, second bool) (drawn []Series, residual Series) {
	mark, ink := Disc, Accent
	if second {
		mark, ink = Ring, TapeInk
	}
	points := Series{Name: f.Name, Mark: mark, Ink: ink}
	residual = Series{Mark: mark, Ink: ink}
	text := ruler{decimal: w.Decimal}
	line := Series{Line: true, Mark: NoMark, Ink: ink, Dashed: second, Name: say(w.FanLine, text.plain(f.Coefficient), text.text(f.Exponent, 0.001))}
	ok := newRuler(Axis{Log: true}, w.Decimal)
	low, high := math.Inf(1), math.Inf(-1)
	for i := range min(len(f.Pressure), len(f.Flow)) {
		dp, v := f.Pressure[i], f.Flow[i]
		if !ok.takes(dp) || !ok.takes(v) {
			continue
		}
		low, high = math.Min(low, dp), math.Max(high, dp)
		points.X, points.Y = append(points.X, dp), append(points.Y, v)
		if fit := f.flow(dp); ok.takes(fit) {
			residual.X, residual.Y = append(residual.X, dp), append(residual.Y, 100*(v/fit-1))
		}
	}
	if low < high {
		line.X, line.Y = []float64{low, high}, []float64{f.flow(low), f.flow(high)}
	}
	return []Series{points, line}, residual
}

func (f FanPlot) flow(dp float64) float64 { return f.Coefficient * math.Pow(dp, f.Exponent) }
