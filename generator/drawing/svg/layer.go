package svg

import (
	"bytes"
	"math"

	"lapwork/generator/drawing"
)

type kind uint8

const (
	shapes kind = iota
	circles
	texts
)

// tags are the elements of the kinds, as they begin.
var tags = [...]string{shapes: "<path", circles: "<circle", texts: "<text"}

// look is what pieces must share to stand in one layer.
type look struct {
	kind  kind
	style drawing.Style
	text  drawing.TextStyle
}

// shapeLook leaves out of a style what does not show.
func shapeLook(s drawing.Style) look {
	s.Name, s.Smooth = "", false
	if s.Hatch != "" && known(s.Hatch) {
		s.Fill = drawing.NoInk
	} else {
		s.Hatch = ""
	}
	if s.Stroke == drawing.NoInk {
		s.Width, s.Dash, s.Round = 0, "", false
	}
	return look{kind: shapes, style: s}
}

// filled tells whether the pieces cover what lies within them.
func (l look) filled() bool { return l.style.Fill != drawing.NoInk || l.style.Hatch != "" }

// plain tells whether the pieces are filled with one ink and have no outline.
func (l look) plain() bool {
	return l.style.Fill != drawing.NoInk && l.style.Stroke == drawing.NoInk && l.style.Hatch == ""
}

// ink is the only ink of the look; NoInk: there are several.
func (l look) ink() drawing.Ink {
	switch s := l.style; {
	case l.kind == texts:
		return l.text.Ink
	case s.Hatch != "", s.Fill != drawing.NoInk && s.Stroke != drawing.NoInk:
		return drawing.NoInk
	case s.Fill != drawing.NoInk:
		return s.Fill
	default:
		return s.Stroke
	}
}

// layer is a run of pieces that look alike. Lines without a fill are one path. Pieces with a fill are one path as long as
// they do not overlap, since with a stroke their order shows and without one their turn may leave a hole.
type layer struct {
	look
	pieces []drawing.Box
	bounds drawing.Box // of the pieces
	first  int         // piece of the path being written
	pen    pen         // the path being written
	body   []byte      // elements before it, without what they share
	count  int         // of these elements
}

// layer gives the layer for a piece: the latest of its look that it can join without passing something that it overlaps
// and that has another colour. So a figure can draw label by label, and its plates, numbers and leaders still stand
// together.
func (c *Canvas) layer(l look, box drawing.Box) *layer {
	ink := l.ink()
	for i := len(c.layers) - 1; i >= 0; i-- {
		at := c.layers[i]
		if at.look == l {
			at.add(box)
			return at
		}
		if at.covers(box) && (ink == drawing.NoInk || ink != at.ink()) {
			break
		}
	}
	if l.style.Hatch != "" {
		c.note(l.style.Hatch)
	}
	at := &layer{look: l, pieces: []drawing.Box{box}, bounds: box}
	c.layers = append(c.layers, at)
	return at
}

func (l *layer) covers(box drawing.Box) bool {
	return l.bounds.Overlaps(box) && anyOverlaps(l.pieces, box)
}

func anyOverlaps(pieces []drawing.Box, box drawing.Box) bool {
	for _, p := range pieces {
		if p.Overlaps(box) {
			return true
		}
	}
	return false
}

// add takes one more piece; the path being written ends where the piece must stand in one of its own.
func (l *layer) add(box drawing.Box) {
	if l.kind == shapes && l.filled() && anyOverlaps(l.pieces[l.first:], box) {
		l.endPath()
		l.first = len(l.pieces)
	}
	l.pieces = append(l.pieces, box)
	l.bounds = drawing.Box{X0: math.Min(l.bounds.X0, box.X0), Y0: math.Min(l.bounds.Y0, box.Y0), X1: math.Max(l.bounds.X1, box.X1), Y1: math.Max(l.bounds.Y1, box.Y1)}
}

// next counts an element that is not a path.
func (l *layer) next() { l.count++ }

func (l *layer) endPath() {
	if len(l.pen.data) == 0 {
		return
	}
	l.body = append(append(append(l.body, `<path d="`...), l.pen.data...), `"/>`...)
	l.pen = pen{data: l.pen.data[:0]}
	l.count++
}

// write writes the layer's elements with what they share: in a group, or in the element itself where there is one.
func (l *layer) write(b []byte) []byte {
	l.endPath()
	if l.count == 0 {
		return b
	}
	if l.count == 1 {
		b = append(b, tags[l.kind]...)
		return append(l.attributes(b), bytes.TrimPrefix(l.body, []byte(tags[l.kind]))...)
	}
	b = append(append(l.attributes(append(b, "<g"...)), '>'), l.body...)
	return append(b, "</g>"...)
}

// attributes writes what the look of a layer asks for beyond what Base gives every drawing.
func (l *layer) attributes(b []byte) []byte {
	if l.kind == texts {
		return textAttributes(b, l.text)
	}
	s := l.style
	b = append(b, ` class="`...)
	begin := len(b)
	for _, c := range [...]struct {
		has        bool
		kind, name string
	}{{s.Stroke != drawing.NoInk, "ds-", s.Stroke.Name()}, {s.Fill != drawing.NoInk, "df-", s.Fill.Name()}, {s.Round, "dr", ""}} {
		if c.has {
			if len(b) > begin {
				b = append(b, ' ')
			}
			b = append(append(b, c.kind...), c.name...)
		}
	}
	if b = append(b, '"'); len(b) == begin+1 {
		b = b[:begin-len(` class="`)]
	}
	if s.Hatch != "" {
		b = append(append(append(b, ` fill="url(#`...), hatchID(s.Hatch)...), `)"`...)
	}
	if s.Stroke != drawing.NoInk && s.Width != usualWidth {
		b = append(appendHundredths(append(b, ` stroke-width="`...), s.Width), '"')
	}
	if s.Dash != "" {
		b = append(appendEscaped(append(b, ` stroke-dasharray="`...), s.Dash), '"')
	}
	return b
}

// What Base gives where an element says nothing else.
const (
	usualText  = 14.0
	usualWidth = 1.5
)

func textAttributes(b []byte, s drawing.TextStyle) []byte {
	b = append(append(append(b, ` class="df-`...), s.Ink.Name()...), '"')
	if s.Size != usualText {
		b = append(appendTenths(append(b, ` font-size="`...), tenths(s.Size)), '"')
	}
	if s.Bold {
		b = append(b, ` font-weight="700"`...)
	}
	switch s.Anchor {
	case drawing.Start:
		b = append(b, ` text-anchor="start"`...)
	case drawing.End:
		b = append(b, ` text-anchor="end"`...)
	}
	return b
}

// boundsOf is the box that a shape paints in, corners of its stroke included.
func boundsOf(s drawing.Style, closed bool, points []drawing.Pt) drawing.Box {
	box := drawing.Box{X0: points[0].X, Y0: points[0].Y, X1: points[0].X, Y1: points[0].Y}
	square := true
	for i, p := range points {
		box = drawing.Box{X0: math.Min(box.X0, p.X), Y0: math.Min(box.Y0, p.Y), X1: math.Max(box.X1, p.X), Y1: math.Max(box.Y1, p.Y)}
		next := points[(i+1)%len(points)]
		square = square && (!closed && i == len(points)-1 || p.X == next.X || p.Y == next.Y)
	}
	switch {
	case s.Stroke == drawing.NoInk:
		return box
	case square, s.Round, len(points) == 2:
		return grown(box, s.Width/2)
	}
	return grown(box, 2*s.Width) // a mitre reaches four half widths at most, by the default of SVG
}

// upright tells whether the points are the corners of a rectangle with level and upright sides.
func upright(p []drawing.Pt) bool {
	if len(p) != 4 {
		return false
	}
	level := p[0].Y == p[1].Y && p[1].X == p[2].X && p[2].Y == p[3].Y && p[3].X == p[0].X
	return level || p[0].X == p[1].X && p[1].Y == p[2].Y && p[2].X == p[3].X && p[3].Y == p[0].Y
}

func grown(b drawing.Box, by float64) drawing.Box {
	return drawing.Box{X0: b.X0 - by, Y0: b.Y0 - by, X1: b.X1 + by, Y1: b.Y1 + by}
}
