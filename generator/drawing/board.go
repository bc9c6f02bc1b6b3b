package drawing

import "math"

// A board collects a figure before its size is known: shapes below, text above, and the boxes of all text, so that
// labels can be placed around each other. No label covers another, so all plates may lie below all words.
type board struct {
	shapes []op
	plates []op      // paper, frames and discs under text
	words  []op      // text
	texts  []Box     // taken by text, never shared
	soft   []Box     // better not covered
	lines  [][2]Pt   // leaders: text is better kept off them
	limit  Box       // where labels should stay; X is binding, Y gives way
	moved  []float64 // how far each label had to go, in order of putting
}

type op struct {
	style  Style
	closed bool
	points []Pt
	radius float64 // over 0: a circle at points[0]
	text   TextStyle
	line   string
}

func (b *board) shape(s Style, closed bool, points ...Pt) {
	if len(points) > 1 {
		b.shapes = append(b.shapes, op{style: s, closed: closed, points: points})
	}
}

func (b *board) circle(s Style, at Pt, r float64) {
	b.shapes = append(b.shapes, op{style: s, points: []Pt{at}, radius: r})
}

// label is a block of text to be placed.
type label struct {
	text   string
	lines  []string // instead of text, already wrapped
	style  TextStyle
	wrapAt float64 // widest line in pixels; 0: 220
	at     Pt      // wanted middle
	target *Pt     // leader to here
	lead   bool    // leader to at when it had to move away from there
	plate  bool    // paper under the text
	disc   bool    // a number in a filled disc
	keep   *Box    // must stay inside
	slide  Pt      // try places along this direction first, up to its length both ways
	frame  bool    // in an open frame: junctions
}

const discRadius = 12

// put places the label as near to its wanted place as it can without covering other text, draws it, and gives its box.
func (b *board) put(l label) Box {
	if l.style.Size == 0 {
		l.style.Size = 14
	}
	if l.wrapAt == 0 {
		l.wrapAt = 220
	}
	room := b.limit.width()
	if len(l.lines) == 0 {
		l.lines = wrap(l.text, l.style.Size, l.style.Bold, math.Min(l.wrapAt, math.Max(room-8, 20)))
	}
	if len(l.lines) == 0 {
		return Box{}
	}
	w, h := l.size()
	box := b.find(l, w, h).snapped()
	b.moved = append(b.moved, dist(box.middle(), l.at))
	b.draw(l, box)
	return box
}

// size is the room a label takes, in whole pixels and even, so that its middle lies on a whole one as well.
func (l label) size() (w, h float64) {
	w, h = l.least()
	return 2 * math.Round(w/2), 2 * math.Round(h/2)
}

func (l label) least() (w, h float64) {
	for _, line := range l.lines {
		w = math.Max(w, TextWidth(line, l.style.Size, l.style.Bold))
	}
	h = float64(len(l.lines)) * l.style.Size * lineHeight
	if l.disc {
		w = math.Max(2*discRadius, w+10)
		return w, 2 * discRadius
	}
	if l.frame {
		return math.Max(w+8, h+4), h + 4
	}
	return w + 6, h + 2
}

func (b *board) draw(l label, box Box) {
	from := l.target
	if from == nil && l.lead && !box.grow(8).holdsPoint(l.at) && (l.keep == nil || !l.keep.Holds(box)) {
		at := l.at
		if l.keep != nil {
			at = l.keep.nearest(at) // the wanted place may lie beside a part that is too small for the label
		}
		from = &at
	}
	if from != nil && !box.grow(2).holdsPoint(*from) {
		near := box.nearest(*from)
		b.shape(Style{Name: "leader", Stroke: Black, Width: fineWidth}, false, near, *from)
		b.circle(Style{Name: "leader-end", Fill: Black}, *from, 2)
		b.lines = append(b.lines, [2]Pt{near, *from})
	}
	b.texts = append(b.texts, box)
	switch {
	case l.disc:
		b.disc(l, box)
		return
	case l.frame:
		b.plates = append(b.plates, op{style: Style{Name: "junction-number", Fill: Ground, Stroke: Black, Width: seenWidth}, closed: true, points: box.corners()})
	case l.plate:
		b.plates = append(b.plates, op{style: Style{Name: "plate", Fill: Ground}, closed: true, points: box.corners()})
	}
	b.write(l, box)
}

func (b *board) disc(l label, box Box) {
	l.style.Ink, l.style.Bold = Ground, true
	s := Style{Name: "number", Fill: Black}
	if box.width() <= 2*discRadius+0.01 { // rounding of a box that was moved
		b.plates = append(b.plates, op{style: s, points: []Pt{box.middle()}, radius: discRadius})
	} else {
		b.plates = append(b.plates, op{style: s, closed: true, points: box.corners()})
	}
	b.write(l, box)
}

func (b *board) write(l label, box Box) {
	if l.style.Ink == NoInk {
		l.style.Ink = Black
	}
	step := l.style.Size * lineHeight
	y := box.middle().Y - step*float64(len(l.lines))/2 + l.style.Size*0.97
	x := box.middle().X
	switch l.style.Anchor {
	case Start:
		x = box.X0 + 3
	case End:
		x = box.X1 - 3
	}
	for i, line := range l.lines {
		b.words = append(b.words, op{text: l.style, line: line, points: []Pt{{x, y + float64(i)*step}}})
	}
}

// finish draws everything on the canvas, moved so that nothing lies left of or above the picture.
func (b *board) finish(c Canvas, title, desc string, least Box) {
	const pad = 2
	all := least
	for _, t := range b.texts {
		all = all.join(t.grow(pad))
	}
	shift := Pt{math.Ceil(-all.X0), math.Ceil(-all.Y0)} // whole pixels, as text stands on them
	c.Begin(View{Width: math.Ceil(all.X1 + shift.X), Height: math.Ceil(all.Y1 + shift.Y), Title: title, Desc: desc})
	for _, list := range [][]op{b.shapes, b.plates, b.words} {
		for _, o := range list {
			o.emit(c, shift)
		}
	}
}

func (o op) emit(c Canvas, shift Pt) {
	points := o.points
	if shift != (Pt{}) {
		points = make([]Pt, len(o.points))
		for i, p := range o.points {
			points[i] = add(p, shift)
		}
	}
	switch {
	case o.line != "":
		c.Text(o.text, points[0], o.line)
	case o.radius > 0:
		c.Circle(o.style, points[0], o.radius)
	default:
		c.Shape(o.style, o.closed, points)
	}
}
