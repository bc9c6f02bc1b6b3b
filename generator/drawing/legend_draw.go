package drawing

import "strings"

const (
	legendRow    = 34.0
	legendSample = 70.0
	legendColumn = 330.0
)

// Draw draws the legend: each mark and hatch as it looks in the drawings, with its words, in two columns.
func (l Legend) Draw(c Canvas) {
	w := l.Words.or()
	title := l.Title
	if title == "" {
		title = w.Legend
	}
	kinds, materials := l.Marks, l.Materials
	if len(kinds)+len(materials) == 0 {
		kinds, materials = Kinds(), Materials()
	}
	b := &board{}
	rows := (len(kinds) + len(materials) + 1) / 2
	b.limit = Box{0, 0, figureWidth, float64(rows)*legendRow + 10}
	var said []string
	for i := range len(kinds) + len(materials) {
		at := Pt{10 + legendColumn*float64(i/rows), 8 + legendRow*(float64(i%rows)+0.5)}
		var text string
		if i < len(kinds) {
			text = w.Kinds[kinds[i]]
			b.sample(kinds[i], at)
		} else {
			m := materials[i-len(kinds)]
			text = w.Materials[m]
			b.solid(b.limit, m, Box{at.X, at.Y - 13, at.X + legendSample, at.Y + 13}.corners())
		}
		said = append(said, text)
		wide := legendColumn - legendSample - 24
		lines := wrap(text, 15, false, wide)
		if len(lines) > 2 {
			lines = lines[:2]
		}
		words := label{lines: lines, style: TextStyle{Name: "legend", Size: 15, Anchor: Start}}
		w, _ := words.size()
		words.at = Pt{at.X + legendSample + 12 + w/2, at.Y}
		b.put(words)
	}
	b.finish(c, title, strings.Join(said, "; ")+".", b.limit)
}

// sample draws a mark as it looks, in a strip of the legend that starts at at.
func (b *board) sample(kind PartKind, at Pt) {
	end := add(at, Pt{legendSample, 0})
	mid := lerp(at, end, 0.5)
	line := []Pt{at, end}
	switch kind {
	case Sheet: // with its lap
		b.shape(sheetStyle, false, add(at, Pt{0, 4}), add(mid, Pt{14, 4}))
		b.shape(sheetStyle, false, add(mid, Pt{-14, -4}), add(mid, Pt{14, -4}), add(mid, Pt{22, 4}), add(end, Pt{0, 4}))
	case Tape:
		b.tape(line)
	case Bead:
		for i := range 4 {
			b.circle(beadStyle, lerp(at, end, (float64(i)+0.5)/4), beadSize)
		}
	case Adhesive:
		b.shape(adhesiveStyle, false, line...)
	case Primer:
		b.shape(primerStyle, false, line...)
	case Membrane:
		b.membrane(line)
	case Collar:
		b.collar(line)
	case Fold:
		b.shape(sheetStyle, false, add(at, Pt{0, 9}), add(end, Pt{0, 9}))
		b.fold(add(mid, Pt{0, 8}), Pt{0, -16})
	case Staple:
		b.shape(sheetStyle, false, line...)
		b.staple(mid, Pt{1, 0})
	case Screw:
		b.screw(at, end)
	case Dimension:
		b.dimension(add(at, Pt{6, 0}), sub(end, Pt{6, 0}))
	case Number:
		b.put(label{text: "1", disc: true, at: mid, style: TextStyle{Name: "number", Size: labelSize}})
	case LapMarked, EndJointMarked, OpeningMarked, HoleMarked, MemberMarked, JunctionMarked:
		b.layoutSample(kind, at, mid, end)
	case Solid:
		b.solid(b.limit, "", boxAt(mid, legendSample, 26).corners())
	}
}

// Marks of strip layouts, room views and plans, for the legend only.
const (
	LapMarked      PartKind = "lap"
	EndJointMarked PartKind = "end-joint"
	OpeningMarked  PartKind = "opening"
	HoleMarked     PartKind = "hole"
	MemberMarked   PartKind = "member"
	JunctionMarked PartKind = "junction"
)

func (b *board) layoutSample(kind PartKind, at, mid, end Pt) {
	box := boxAt(mid, legendSample, 20)
	switch kind {
	case LapMarked:
		b.shape(lapStyle, true, box.corners()...)
	case EndJointMarked:
		b.endJoint(Pt{mid.X, mid.Y - 14}, Pt{mid.X, mid.Y + 4})
	case OpeningMarked:
		b.shape(openingStyle, true, box.corners()...)
		b.shape(crossStyle, false, Pt{box.X0, box.Y0}, Pt{box.X1, box.Y1})
		b.shape(crossStyle, false, Pt{box.X0, box.Y1}, Pt{box.X1, box.Y0})
	case HoleMarked:
		b.hole(mid, 7)
	case MemberMarked:
		b.shape(memberStyle, false, at, end)
	case JunctionMarked:
		b.shape(Style{Name: "junction-layer", Stroke: SheetInk, Width: cutWidth}, false, at, end)
		b.put(label{text: "1", frame: true, at: mid, style: TextStyle{Name: "junction-number", Size: 14, Bold: true}})
	}
}
