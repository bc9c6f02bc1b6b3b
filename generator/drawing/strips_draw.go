package drawing

import (
	"math"
	"slices"
	"strings"

	"lapwork/generator/sorting"
)

// LapHatch is the hatch of laps in strip layouts.
const LapHatch Material = "lap"

const (
	tabletWidth  = 734.0 // what an upright tablet shows without scrolling
	widestFigure = 1100.0
	leftMargin   = 76.0  // heights
	topMargin    = 14.0  // without offsets
	bestWidth    = 520.0 // of the surface itself
	bestHeight   = 480.0
	leastScale   = 0.06 // pixels per mm; a longer surface makes the figure wider instead
	setOutText   = 14.0
	heightText   = 34.0 // right of the line of the overall height
)

// stripDrawing is a strip layout being drawn.
type stripDrawing struct {
	StripLayout
	*board
	scale
	words   *Words
	outline []Pt
	voids   [][]Pt // holes of the surface
	area    Box    // of the outline
	bottom  float64
	over    float64 // how far the sheet reaches past the outline's right side
	under   float64 // and below it
	beside  float64 // what the labels of level members take beyond that
	clear   float64 // from the outline to the line of the overall height
}

// Draw draws the layout.
func (s StripLayout) Draw(c Canvas) {
	w := s.Words.or()
	low, high, ok := extent(s.Outline)
	if !ok || high.X-low.X < 1 || high.Y-low.Y < 1 {
		nothing(c, say(w.StripsOf, s.Surface), w)
		return
	}
	d := &stripDrawing{StripLayout: s, board: &board{}, words: w}
	d.place(low, high)
	d.surface()
	d.openings()
	d.marks()
	d.stripLabels()
	d.setOut()
	d.namesAround()
	d.note()
	d.finish(c, d.title(), d.describe(), Box{0, 0, d.limit.X1, d.limit.Y1})
}

// place finds the scale and where the surface stands on the figure.
func (d *stripDrawing) place(low, high XY) {
	wide, tall := high.X-low.X, high.Y-low.Y
	over, above, below := d.beyond(low, high)
	d.beside = d.columnWidth()
	gap := d.beside + 20 // the label must not cover the sheet's edge
	if len(d.Edges) > 0 {
		gap = d.beside + 52 // nor the edge's number
	}
	k := math.Min(bestWidth/wide, bestHeight/tall)
	k = math.Min(k, (tabletWidth-leftMargin-66-gap)/(wide+over))
	if k < leastScale {
		k = math.Min(leastScale, math.Min((widestFigure-leftMargin-120)/wide, bestHeight*1.6/tall))
	}
	d.over, d.under = over*k, below*k
	d.clear = math.Max(24, d.over+gap)
	right := 66 + d.clear // overall height, names of the edges
	width := math.Max(figureWidth, wide*k+leftMargin+right)
	x := math.Max(leftMargin, math.Min((width-wide*k)/2, width-wide*k-d.clear-heightText)) // in the middle where the right side has room
	y := math.Max(topMargin, above*k+4)
	if len(d.Offsets) > 0 {
		y += 24 * float64(d.rowsOf(d.Offsets, k))
	}
	if len(d.Edges) > 0 {
		y += 30
	}
	d.scale = scale{k: k, origin: low, at: Pt{x, y + tall*k}}
	d.outline = d.pts(d.StripLayout.Outline)
	d.area = Box{x, y, x + wide*k, y + tall*k}
	d.bottom = d.area.Y1
	d.limit = Box{0, 0, width, d.area.Y1 + 20}
}

// beyond is how far the sheet reaches past the right side of the surface, above it and below it.
func (d *stripDrawing) beyond(from, to XY) (right, above, below float64) {
	for _, s := range d.Strips {
		for _, p := range s.Pieces {
			low, high, _ := extent(p.Outline)
			right = math.Max(right, high.X-to.X)
			above = math.Max(above, high.Y-to.Y)
			below = math.Max(below, from.Y-low.Y)
		}
	}
	return right, above, below
}

// surface draws sheet, laps, members and the outline.
func (d *stripDrawing) surface() {
	for _, s := range d.Strips {
		for _, p := range s.Pieces {
			d.shape(Style{Name: "piece", Stroke: SheetInk, Width: seenWidth, Fill: Ground}, true, d.pts(p.Outline)...)
		}
	}
	for _, l := range d.Laps {
		d.shape(lapStyle, true, d.pts(l.Outline)...)
	}
	for _, m := range d.Members {
		d.shape(memberStyle, false, d.pt(m.From), d.pt(m.To))
	}
	for _, h := range d.Holes {
		void := d.pts(h)
		d.voids = append(d.voids, void)
		d.shape(Style{Name: "void", Stroke: Quiet, Width: hiddenWidth, Dash: "5 4", Fill: Shade}, true, void...)
	}
	for _, f := range d.Folds {
		d.shape(Style{Name: "fold", Stroke: Black, Width: seenWidth, Dash: "9 5"}, false, d.pt(f.From), d.pt(f.To))
	}
	d.shape(Style{Name: "outline", Stroke: Black, Width: cutWidth}, true, d.outline...)
}

func (d *stripDrawing) openings() {
	for _, o := range d.Openings {
		points := d.pts(o.Outline)
		if len(points) < 3 {
			continue
		}
		d.shape(openingStyle, true, points...)
		for i := range len(points) / 2 {
			d.shape(crossStyle, false, points[i], points[(i+len(points)/2)%len(points)])
		}
		if box := boundsOf(points).grow(3); box.width() > 0 && box.height() > 0 {
			d.soft = append(d.soft, box)
		}
	}
	for _, h := range d.Penetrations {
		at, r := d.pt(h.At), d.holeRadius(h)
		d.soft = append(d.soft, boxAt(at, 2*r+4, 2*r+4))
	}
	for _, f := range d.Folds {
		d.keepOff(d.pt(f.From), d.pt(f.To))
	}
	for i, a := range d.outline {
		d.keepOff(a, d.outline[(i+1)%len(d.outline)])
	}
	for _, o := range d.Openings {
		if len(o.Outline) > 2 {
			d.openingLabel(o)
		}
	}
}

func (d *stripDrawing) openingLabel(o OpeningMark) {
	box := boundsOf(d.pts(o.Outline))
	w, h := o.size()
	lines := []string{o.ID, say("%d × %d", w, h)}
	if o.HasSill {
		lines = append(lines, say(d.words.Sill, o.Sill))
	}
	l := label{lines: lines, at: box.middle(), plate: true, style: TextStyle{Name: "opening", Size: setOutText, Bold: false}}
	wide, high := l.size()
	if wide > box.width()-2 {
		l.lines = slices.Concat([]string{o.ID, say("%d ×", w), say("%d", h)}, lines[2:])
		if wide, high = l.size(); wide > box.width()-2 || high > box.height()-2 {
			l.lines = lines
			wide, high = l.size()
		}
	}
	if wide > box.width()-2 || high > box.height()-2 {
		target := Pt{box.middle().X, box.Y0 + math.Min(10, box.height()/2)}
		l.target = &target
		l.at = Pt{box.middle().X, box.Y0 - high/2 - 4}
		d.put(l)
		return
	}
	soft := d.soft
	d.soft = nil
	l.keep = &box
	d.put(l)
	d.soft = soft
}

// marks draws penetrations and end joints.
func (d *stripDrawing) marks() {
	for _, j := range d.EndJoints {
		a, c := d.pt(j.From), d.pt(j.To)
		d.endJoint(a, c)
		d.keepOff(a, c)
	}
	for _, h := range d.Penetrations {
		at, r := d.pt(h.At), d.holeRadius(h)
		d.hole(at, r)
	}
	for _, h := range d.Penetrations {
		at, r := d.pt(h.At), d.holeRadius(h)
		d.put(label{text: h.written(), at: Pt{at.X + r + 40, at.Y - r - 12}, target: &at, plate: true, style: TextStyle{Name: "hole", Size: setOutText}})
	}
}

func (d *stripDrawing) holeRadius(h HoleMark) float64 {
	size := math.Max(float64(h.Diameter), math.Max(float64(h.Width), float64(h.Height)))
	return math.Max(4, math.Min(tameValue(size)/2*d.k, 60))
}

func (h HoleMark) written() string {
	switch {
	case h.Diameter > 0:
		return say("%s Ø%d", h.ID, h.Diameter)
	case h.Width > 0:
		return say("%s %d × %d", h.ID, h.Width, h.Height)
	}
	return h.ID
}

// stripLabels writes numbers and cut lengths on the strips.
func (d *stripDrawing) stripLabels() {
	for _, s := range d.Strips {
		for i, p := range s.Pieces {
			if len(p.Outline) > 2 {
				d.pieceLabel(s, p, i == 0)
			}
		}
	}
}

func (d *stripDrawing) pieceLabel(s StripMark, p PieceMark, first bool) {
	points := d.pts(p.Outline)
	box, mid := boundsOf(points), d.onSheet(points)
	lines := []string{say(d.words.Cut, p.Cut)}
	switch {
	case p.From != "":
		lines = append(lines, say(d.words.Offcut, p.From))
	case p.Roll != "":
		lines = append(lines, say(d.words.Roll, p.Roll))
	}
	level := box.width() > box.height() && (box.width() > besideNumber || box.height() < underNumber)
	if level && len(lines) > 1 && box.height() < 60 {
		lines = []string{lines[0] + " · " + lines[1]}
	} else if !level {
		lines = narrowed(lines, box.width())
	}
	l := label{lines: lines, plate: true, keep: &box, lead: true, style: TextStyle{Name: "cut", Size: setOutText}}
	wide, _ := l.size()
	slide := Pt{0, box.height()}
	number := Pt{mid.X, math.Max(box.Y0+16, mid.Y-box.height()/4)}
	l.at = Pt{mid.X, math.Min(number.Y+36, box.Y1-16)}
	if level {
		slide = Pt{box.width(), 0}
		number = Pt{math.Max(box.X0+18, mid.X-wide/2-16), mid.Y}
		l.at = Pt{number.X + wide/2 + 18, mid.Y}
	}
	l.slide = slide
	if first {
		at := d.put(label{text: say("%d", s.No), disc: true, at: number, keep: &box, slide: slide, lead: true, style: TextStyle{Name: "strip-number", Size: setOutText}})
		l.at = add(l.at, sub(at.middle(), number))
	}
	d.put(l)
}

// Pixels that a strip's number takes with its label beside it, and with the label under it.
const (
	besideNumber = 130.0
	underNumber  = 76.0
)

// narrowed breaks the lines of a label so that it fits into a piece so wide, or else takes little room beside it. No word
// is broken, since most are ids, nor is the first line.
func narrowed(lines []string, wide float64) []string {
	room := max(wide-labelMargin, TextWidth(lines[0], setOutText, false))
	for _, line := range lines {
		for _, word := range strings.Fields(line) {
			room = max(room, TextWidth(word, setOutText, false))
		}
	}
	var out []string
	for _, line := range lines {
		out = append(out, wrap(line, setOutText, false, room)...)
	}
	return out
}

// labelMargin is what a label takes beside its text, both sides.
const labelMargin = 8

// onSheet is a point well inside a piece where the surface is: a piece may be hung over a gap, such as a dormer's, that is
// cut out of it later.
func (d *stripDrawing) onSheet(piece []Pt) Pt {
	mid := heart(piece)
	best, most := mid, d.sheetAround(mid, piece)
	if most > 0 {
		return mid
	}
	const n = 24
	box := boundsOf(piece)
	for i := 1; i < n; i++ {
		for j := 1; j < n; j++ {
			p := Pt{box.X0 + box.width()*float64(i)/n, box.Y0 + box.height()*float64(j)/n}
			if room := d.sheetAround(p, piece); room > most {
				best, most = p, room
			}
		}
	}
	return best
}

// sheetAround is how far a point of a piece lies from where the sheet ends; negative: there is none.
func (d *stripDrawing) sheetAround(p Pt, piece []Pt) float64 {
	room := min(clearing(p, piece), clearing(p, d.outline))
	for _, h := range d.voids {
		room = min(room, -clearing(p, h))
	}
	return room
}

func (o OpeningMark) size() (w, h int) {
	low, high, _ := extent(o.Outline)
	w, h = int(o.Width), int(o.Height)
	if w == 0 {
		w = int(math.Round(high.X - low.X))
	}
	if h == 0 {
		h = int(math.Round(high.Y - low.Y))
	}
	return w, h
}

// sorted gives set-out marks in the order of their place, each place once.
func sorted(marks []SetOut) []SetOut {
	out := slices.Clone(marks)
	sorting.StableFunc(out, func(a, b SetOut) int { return int(a.At - b.At) })
	return slices.CompactFunc(out, func(a, b SetOut) bool { return a == b })
}
