// Package svg writes the figures of package drawing as SVG for an HTML page: no style attributes, no scripts, nothing
// from outside, hatches by reference to one list per page, colours by the classes of Colours. Same figure, same bytes.
package svg

import (
	"math"
	"strconv"

	"lapwork/generator/drawing"
)

// Canvas writes what is drawn on it as SVG elements. What looks alike stands in one path or one group, as far as nothing
// that lies under or over it would change places with it, see layer.
type Canvas struct {
	view   drawing.View
	layers []*layer // in the order of painting
	used   map[drawing.Material]bool
}

var _ drawing.Canvas = (*Canvas)(nil)

// Begin takes the size and the words of the figure.
func (c *Canvas) Begin(v drawing.View) { c.view = v }

// Shape writes connected points.
func (c *Canvas) Shape(s drawing.Style, closed bool, points []drawing.Pt) {
	if len(points) < 2 {
		return
	}
	look, box := shapeLook(s), boundsOf(s, closed, points)
	if closed && look.plain() && upright(points) {
		c.bar(s.Fill, box)
		return
	}
	l := c.layer(look, box)
	if s.Smooth {
		l.pen.curve(points, closed)
		return
	}
	l.pen.corners(thinned(points), closed)
}

// bar writes a rectangle without an outline as a level line as wide as the rectangle is high, which is half as long.
func (c *Canvas) bar(ink drawing.Ink, box drawing.Box) {
	x, y, right, foot := tenths(box.X0), tenths(box.Y0), tenths(box.X1), tenths(box.Y1)
	if (foot-y)%2 != 0 { // the middle must lie on a tenth
		foot++
	}
	line := drawing.Style{Stroke: ink, Width: float64(foot-y) / 10}
	l := c.layer(shapeLook(line), box)
	l.pen.move(x, (y+foot)/2)
	l.pen.line(right, (y+foot)/2)
}

// Circle writes a circle. A disc is a point of a wide round stroke, so that many of them are one path.
func (c *Canvas) Circle(s drawing.Style, centre drawing.Pt, radius float64) {
	box := drawing.Box{X0: centre.X, Y0: centre.Y, X1: centre.X, Y1: centre.Y}
	if s.Stroke == drawing.NoInk && s.Hatch == "" {
		dot := drawing.Style{Stroke: s.Fill, Width: 2 * radius, Round: true}
		c.layer(shapeLook(dot), grown(box, radius)).pen.dot(centre)
		return
	}
	l := c.layer(look{kind: circles, style: shapeLook(s).style}, grown(box, radius+s.Width/2))
	l.next()
	b := append(l.body, `<circle cx="`...)
	b = append(appendTenths(b, tenths(centre.X)), `" cy="`...)
	b = append(appendTenths(b, tenths(centre.Y)), `" r="`...)
	l.body = append(appendTenths(b, tenths(radius)), `"/>`...)
}

// Text writes one line of text, at whole pixels.
func (c *Canvas) Text(s drawing.TextStyle, at drawing.Pt, line string) {
	s.Name = ""
	wide := drawing.TextWidth(line, s.Size, s.Bold)
	left := at.X - wide/2
	switch s.Anchor {
	case drawing.Start:
		left = at.X
	case drawing.End:
		left = at.X - wide
	}
	l := c.layer(look{kind: texts, text: s}, drawing.Box{X0: left, Y0: at.Y - s.Size, X1: left + wide, Y1: at.Y + 0.3*s.Size})
	l.next()
	b := append(l.body, `<text x="`...)
	b = append(strconv.AppendInt(b, whole(at.X), 10), `" y="`...)
	b = append(strconv.AppendInt(b, whole(at.Y), 10), `">`...)
	l.body = append(appendEscaped(b, line), `</text>`...)
}

// note remembers the hatches that the figure uses.
func (c *Canvas) note(m drawing.Material) {
	if c.used == nil {
		c.used = map[drawing.Material]bool{}
	}
	c.used[m] = true
}

const farthest = 1e6

func limited(v float64) float64 {
	if math.IsNaN(v) {
		return 0
	}
	return math.Max(-farthest, math.Min(farthest, v))
}

func tenths(v float64) int  { return int(math.Round(limited(v) * 10)) }
func whole(v float64) int64 { return int64(math.Round(limited(v))) }

// appendTenths writes a number of tenths as short as it can be: 12, -3.4, .5.
func appendTenths(b []byte, t int) []byte {
	if t%10 == 0 {
		return strconv.AppendInt(b, int64(t/10), 10)
	}
	if t < 0 {
		b, t = append(b, '-'), -t
	}
	if t >= 10 {
		b = strconv.AppendInt(b, int64(t/10), 10)
	}
	return append(b, '.', byte('0'+t%10))
}

// appendHundredths keeps hundredths, for stroke widths.
func appendHundredths(b []byte, v float64) []byte {
	h := int(math.Round(limited(v) * 100))
	if h%10 == 0 {
		return appendTenths(b, h/10)
	}
	if h < 0 {
		b, h = append(b, '-'), -h
	}
	if h >= 100 {
		b = strconv.AppendInt(b, int64(h/100), 10)
	}
	return append(b, '.', byte('0'+h/10%10), byte('0'+h%10))
}
