package drawing

import (
	"math"
	"slices"
	"strings"

	q "lapwork/generator/quantity"
)

const (
	figureWidth   = 680.0
	figureMargin  = 16.0
	sectionHeight = 620.0 // tallest a frame of a section gets
	frameGap      = 20.0
	captionHeight = 26.0
	labelSize     = 15.0
	labelWrap     = 215.0
)

// Draw draws the section: its frames under each other, or side by side when they are narrow.
func (s Section) Draw(c Canvas) { s.In(nil).Draw(c) }

// In gives the section as a figure that describes itself in the words of another language.
func (s Section) In(w *Words) Figure { return wordedSection{s, w.or()} }

type wordedSection struct {
	Section
	words *Words
}

// Draw draws the section.
func (s wordedSection) Draw(c Canvas) {
	w := s.words
	b, frames := s.layout()
	if len(frames) == 0 {
		nothing(c, s.Title, w)
		return
	}
	all := Box{0, 0, figureWidth, 0}
	for _, f := range frames {
		all = all.join(f.box.grow(2))
	}
	b.finish(c, s.Title, s.describe(w), Box{0, 0, figureWidth, all.Y1 + 2})
}

// placedFrame is a frame where it stands on the figure.
type placedFrame struct {
	Frame
	no    int
	box   Box
	scale scale
	moves []move
}

// move is how far a label of a part had to go from where the author put it.
type move struct {
	part int
	far  float64
	box  Box
}

// layout places and draws every frame on a board.
func (s Section) layout() (*board, []*placedFrame) {
	wide, high := tameValue(float64(s.Width)), tameValue(float64(s.Height))
	if wide <= 0 || high <= 0 || len(s.Frames) == 0 {
		return nil, nil
	}
	b := &board{limit: Box{0, 0, figureWidth, 0}}
	k := math.Min((figureWidth-2*figureMargin)/wide, sectionHeight/high)
	columns := 1
	if kk := math.Min((figureWidth-2*figureMargin-frameGap)/2/wide, sectionHeight/high); len(s.Frames) > 1 && kk > 0.75*k {
		columns, k = 2, kk
	}
	var frames []*placedFrame
	y := 0.0
	for i, f := range s.Frames {
		column := i % columns
		if column == 0 && i > 0 {
			y += high*k + frameGap
		}
		if column == 0 && s.captioned(i, columns) {
			y += captionHeight
		}
		cell := (figureWidth - 2*figureMargin - frameGap*float64(columns-1)) / float64(columns)
		x := figureMargin + float64(column)*(cell+frameGap) + (cell-wide*k)/2
		frame := &placedFrame{Frame: f, no: i, box: Box{x, y + 2, x + wide*k, y + 2 + high*k}}
		frame.scale = scale{k: k, at: Pt{x, frame.box.Y1}}
		frames = append(frames, frame)
	}
	for _, f := range frames {
		b.frame(f)
	}
	return b, frames
}

func (s Section) captioned(from, columns int) bool {
	for i := from; i < min(from+columns, len(s.Frames)); i++ {
		if s.Frames[i].Caption != "" {
			return true
		}
	}
	return false
}

// frame draws one state: solids, marks, and then everything with text, what can least be moved first.
func (b *board) frame(f *placedFrame) {
	b.limit = f.box
	if f.Caption != "" {
		caption := Box{f.box.X0, f.box.Y0 - captionHeight, f.box.X1, f.box.Y0 - 2}
		b.limit = caption
		b.put(label{text: f.Caption, at: Pt{caption.X0, caption.middle().Y}, wrapAt: caption.width(), style: TextStyle{Size: labelSize, Bold: true, Anchor: Start}})
		b.limit = f.box
	}
	lay := &stack{}
	for _, p := range f.Parts {
		b.part(f, p, lay)
	}
	b.shape(Style{Name: "frame", Stroke: Rule, Width: 1}, true, f.box.corners()...)
	for _, m := range lay.marks {
		for i := 1; i < len(m.drawn); i++ {
			b.keepOff(m.drawn[i-1], m.drawn[i])
		}
	}
	for _, kind := range [3]PartKind{Number, Dimension, Label} {
		for i, p := range f.Parts {
			if p.Kind == kind && len(p.Path) > 0 {
				before := len(b.moved)
				box := b.writtenPart(f, p, lay)
				if len(b.moved) > before {
					f.moves = append(f.moves, move{i, b.moved[before], box})
				}
			}
		}
	}
	b.soft, b.lines = nil, nil
}

// keepOff asks labels to stay off a line.
func (b *board) keepOff(a, c Pt) {
	n := int(math.Min(dist(a, c)/10, 200)) + 1
	b.soft = slices.Grow(b.soft, n+1)
	for i := range n + 1 {
		b.soft = append(b.soft, boxAt(lerp(a, c, float64(i)/float64(n)), 7, 7))
	}
}

func (b *board) writtenPart(f *placedFrame, p Part, lay *stack) Box {
	at := f.scale.pt(p.Path[0])
	l := label{text: p.Text, at: at, plate: true, wrapAt: math.Min(labelWrap, f.box.width()-10), style: TextStyle{Name: string(p.Kind), Size: labelSize}}
	if len(p.Path) > 1 {
		to := lay.drawnAt(f.scale.pt(p.Path[1]))
		l.target = &to
	}
	switch p.Kind {
	case Number:
		l.text, l.disc, l.plate = say("%d", p.Step), true, false
	case Dimension:
		if len(p.Path) < 2 {
			return Box{}
		}
		return b.dimensionText(f, p, l)
	}
	return b.put(l)
}

func (b *board) dimensionText(f *placedFrame, p Part, l label) Box {
	from, to := at2(f, p)
	b.dimension(from, to)
	l.target = nil
	if l.text == "" {
		l.text = say("%d", q.MM(math.Round(math.Hypot(p.Path[1].X-p.Path[0].X, p.Path[1].Y-p.Path[0].Y))))
	}
	l.at = lerp(from, to, 0.5)
	l.lead = true
	l.style.Size = 14
	l.slide = times(sub(to, from), 0.3)
	wide := TextWidth(l.text, l.style.Size, false) + 12
	u := unit(from, to)
	switch {
	case math.Abs(u.X) > 0.8: // level: above the line, or under it when that is taken
		l.at.Y -= 12
	case dist(from, to) < 34:
		l.at.X += wide/2 + 8
	}
	box := b.put(l)
	b.lines = append(b.lines, [2]Pt{from, to})
	return box
}

func at2(f *placedFrame, p Part) (Pt, Pt) { return f.scale.pt(p.Path[0]), f.scale.pt(p.Path[1]) }

// describe says the section in words, from its parts.
func (s Section) describe(w *Words) string {
	var out []string
	for _, f := range s.Frames {
		var names []string
		if f.Caption != "" {
			out = append(out, f.Caption+":")
		}
		for _, p := range f.Parts {
			switch name := p.spoken(w); {
			case name == "" || len(names) > 0 && names[len(names)-1] == name:
			default:
				names = append(names, name)
			}
		}
		out = append(out, strings.Join(names, "; ")+".")
	}
	return strings.Join(out, " ")
}

func (p Part) spoken(w *Words) string {
	switch {
	case p.Name != "":
		return p.Name
	case p.Kind == Solid:
		return w.Materials[p.Material]
	case p.Kind == Number:
		return say(strings.TrimSuffix(w.StepMark, "."), p.Step, p.Step)
	case p.Text != "":
		return p.Text
	}
	return w.Kinds[p.Kind]
}
