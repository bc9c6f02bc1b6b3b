// Package svg writes the figures of package drawing as SVG for an HTML page: no style attributes, no scripts, nothing
// from outside, hatches by reference to one list per page, colours by the classes of StyleSheet. Same figure, same bytes.
package svg

import (
	"math"
	"strconv"
	"strings"

	"lapwork/generator/drawing"
)

// Canvas writes what is drawn on it as SVG elements. Neighbours of one style share a group.
type Canvas struct {
	view  drawing.View
	body  strings.Builder
	open  string // attributes of the open group
	used  map[drawing.Material]bool
	group strings.Builder
	count int
}

var _ drawing.Canvas = (*Canvas)(nil)

// Begin takes the size and the words of the figure.
func (c *Canvas) Begin(v drawing.View) { c.view = v }

// Shape writes connected points.
func (c *Canvas) Shape(s drawing.Style, closed bool, points []drawing.Pt) {
	if len(points) < 2 {
		return
	}
	data := path(points, closed)
	if s.Smooth {
		data = curve(points, closed)
	}
	c.element(c.attributes(s), `<path d="`+data+`"/>`)
}

// Circle writes a circle.
func (c *Canvas) Circle(s drawing.Style, centre drawing.Pt, radius float64) {
	c.element(c.attributes(s), `<circle cx="`+num(centre.X)+`" cy="`+num(centre.Y)+`" r="`+num(radius)+`"/>`)
}

// Text writes one line of text.
func (c *Canvas) Text(s drawing.TextStyle, at drawing.Pt, line string) {
	a := `class="df-` + s.Ink.Name() + `" font-size="` + num(s.Size) + `"`
	if s.Bold {
		a += ` font-weight="700"`
	}
	switch s.Anchor {
	case drawing.Middle:
		a += ` text-anchor="middle"`
	case drawing.End:
		a += ` text-anchor="end"`
	}
	c.element(a, `<text x="`+num(at.X)+`" y="`+num(at.Y)+`">`+Escape(line)+`</text>`)
}

func (c *Canvas) element(attributes, element string) {
	if attributes != c.open {
		c.closeGroup()
		c.open = attributes
	}
	c.group.WriteString(element)
	c.count++
}

// closeGroup writes the open group; a single element takes the attributes itself.
func (c *Canvas) closeGroup() {
	if c.count == 0 {
		return
	}
	inner := c.group.String()
	if c.count == 1 {
		at := strings.IndexAny(inner, " ")
		c.body.WriteString(inner[:at] + " " + c.open + inner[at:])
	} else {
		c.body.WriteString("<g " + c.open + ">" + inner + "</g>")
	}
	c.group.Reset()
	c.count, c.open = 0, ""
}

func (c *Canvas) attributes(s drawing.Style) string {
	var a strings.Builder
	a.WriteString(`class="` + classes(s) + `"`)
	switch {
	case s.Hatch != "" && known(s.Hatch):
		if c.used == nil {
			c.used = map[drawing.Material]bool{}
		}
		c.used[s.Hatch] = true
		a.WriteString(` fill="url(#` + hatchID(s.Hatch) + `)"`)
	case s.Fill == drawing.NoInk:
		a.WriteString(` fill="none"`)
	}
	if s.Stroke != drawing.NoInk {
		a.WriteString(` stroke-width="` + num2(s.Width) + `"`)
		if s.Dash != "" {
			a.WriteString(` stroke-dasharray="` + Escape(s.Dash) + `"`)
		}
		if s.Round {
			a.WriteString(` stroke-linecap="round" stroke-linejoin="round"`)
		}
	}
	return a.String()
}

func classes(s drawing.Style) string {
	list := []string{"d-" + s.Name}
	if s.Stroke != drawing.NoInk {
		list = append(list, "ds-"+s.Stroke.Name())
	}
	if s.Fill != drawing.NoInk && (s.Hatch == "" || !known(s.Hatch)) {
		list = append(list, "df-"+s.Fill.Name())
	}
	return Escape(strings.Join(list, " "))
}

// path writes corners: absolute first, then relative steps, which are shorter.
func path(points []drawing.Pt, closed bool) string {
	var d strings.Builder
	x, y := tenths(points[0].X), tenths(points[0].Y)
	d.WriteString("M" + tenthText(x) + " " + tenthText(y))
	for i, p := range points[1:] {
		px, py := tenths(p.X), tenths(p.Y)
		if px == x && py == y && len(points) > 2 {
			continue
		}
		if closed && i == len(points)-2 && px == tenths(points[0].X) && py == tenths(points[0].Y) {
			break
		}
		switch {
		case py == y:
			d.WriteString("h" + tenthText(px-x))
		case px == x:
			d.WriteString("v" + tenthText(py-y))
		default:
			d.WriteString("l" + tenthText(px-x) + " " + tenthText(py-y))
		}
		x, y = px, py
	}
	if closed {
		d.WriteString("z")
	}
	return d.String()
}

// curve writes a soft line through the middles between the points.
func curve(points []drawing.Pt, closed bool) string {
	mid := func(a, b drawing.Pt) drawing.Pt { return drawing.Pt{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2} }
	at := func(p drawing.Pt) string { return num(p.X) + " " + num(p.Y) }
	first := mid(points[0], points[1])
	d := "M" + at(first) + "Q" + at(points[1])
	n := len(points)
	if !closed {
		for i := 1; i < n-1; i++ {
			if i > 1 {
				d += "T"
			} else {
				d += " "
			}
			d += at(mid(points[i], points[i+1]))
		}
		if n == 2 {
			d += " " + at(points[1])
		}
		return d
	}
	for i := 1; i <= n; i++ {
		if i > 1 {
			d += "Q" + at(points[i%n])
		}
		d += " " + at(mid(points[i%n], points[(i+1)%n]))
	}
	return d + "z"
}

const farthest = 1e6

func tenths(v float64) int {
	if math.IsNaN(v) {
		return 0
	}
	return int(math.Round(math.Max(-farthest, math.Min(farthest, v)) * 10))
}

func tenthText(t int) string {
	if t%10 == 0 {
		return strconv.Itoa(t / 10)
	}
	return strconv.FormatFloat(float64(t)/10, 'f', 1, 64)
}

func num(v float64) string { return tenthText(tenths(v)) }

// num2 keeps hundredths, for stroke widths.
func num2(v float64) string { return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64) }
