package drawing

import (
	"math"
	"strings"
)

func (d *roomDrawing) drawFaces() {
	for _, f := range d.faces {
		if !f.open {
			continue
		}
		fill := Ground
		if f.Role == FloorFace {
			fill = Shade
		}
		d.shape(Style{Name: "face", Stroke: Black, Width: seenWidth, Fill: fill}, true, d.ats(f.outline)...)
	}
	for _, f := range d.faces {
		if !f.open {
			d.shape(Style{Name: "cut-away", Stroke: Quiet, Width: hiddenWidth, Dash: "5 4"}, true, d.ats(f.outline)...)
		}
	}
}

var (
	edgeStyle  = Style{Name: "junction", Stroke: Black, Width: seenWidth}
	layerStyle = Style{Name: "junction-layer", Stroke: SheetInk, Width: cutWidth}
)

// hiddenEdge is how a line is drawn where it is hidden.
func hiddenEdge(s Style) Style {
	s.Dash, s.Width = "6 4", math.Max(hiddenWidth, s.Width/2)
	return s
}

// drawEdges draws the junction lines, dashed where a face stands before them or where both their faces are cut away. What
// is hidden lies under what is seen, and the layer over other lines.
func (d *roomDrawing) drawEdges() {
	const pieces = 24
	runs := map[Style][][]Pt{}
	for _, l := range d.Edges {
		a, b := l.From.tamed(), l.To.tamed()
		style := edgeStyle
		if l.Layer {
			style = layerStyle
		}
		shut := d.cutAway(a, b)
		start, was := 0, false
		for i := range pieces + 1 {
			now := was
			if i < pieces {
				now = shut || behind(d.eye, d.faces, mix(a, b, (float64(i)+0.5)/pieces))
			}
			if i > 0 && (now != was || i == pieces) {
				s := style
				if was {
					s = hiddenEdge(style)
				}
				runs[s] = append(runs[s], []Pt{d.at(mix(a, b, float64(start)/pieces)), d.at(mix(a, b, float64(i)/pieces))})
				start = i
			}
			was = now
		}
	}
	for _, s := range [4]Style{hiddenEdge(edgeStyle), hiddenEdge(layerStyle), edgeStyle, layerStyle} {
		for _, run := range runs[s] {
			d.shape(s, false, run...)
		}
	}
}

// cutAway tells whether every face along the line is cut away.
func (d *roomDrawing) cutAway(a, b XYZ) bool {
	found := false
	for _, f := range d.faces {
		if f.borders(a, b) {
			if f.open {
				return false
			}
			found = true
		}
	}
	return found
}

func (d *roomDrawing) faceOpen(id string) bool {
	for _, f := range d.faces {
		if f.ID == id {
			return f.open
		}
	}
	return true
}

const holeRadius = 5.0

func (d *roomDrawing) drawOpenings() {
	for _, o := range d.Openings {
		points := d.ats(o.Outline)
		if len(points) < 3 {
			continue
		}
		s := Style{Name: "opening", Stroke: Black, Width: seenWidth, Fill: Ground}
		if !d.faceOpen(o.Face) {
			s = Style{Name: "opening-cut-away", Stroke: Quiet, Width: hiddenWidth, Dash: "5 4"}
		}
		d.shape(s, true, points...)
		for i := range len(points) / 2 {
			d.shape(Style{Name: "opening-cross", Stroke: Quiet, Width: fineWidth, Dash: s.Dash}, false, points[i], points[(i+len(points)/2)%len(points)])
		}
	}
	for _, h := range d.Holes {
		s := Style{Name: "hole", Stroke: Black, Width: seenWidth, Fill: Ground}
		if !d.faceOpen(h.Face) {
			s = Style{Name: "hole-cut-away", Stroke: Quiet, Width: hiddenWidth, Dash: "2 2"}
		}
		d.circle(s, d.at(h.At), holeRadius)
	}
}

// write places numbers, then ids of faces, openings and penetrations.
func (d *roomDrawing) write() {
	bold := TextStyle{Name: "junction-number", Size: 14, Bold: true}
	for _, h := range d.Holes {
		d.soft = append(d.soft, boxAt(d.at(h.At), 2*holeRadius, 2*holeRadius))
	}
	for _, l := range d.Edges {
		if l.No < 1 {
			continue
		}
		a, b := d.at(l.From), d.at(l.To)
		d.put(label{text: say("%d", l.No), frame: true, at: lerp(a, b, 0.5), lead: true, slide: times(sub(b, a), 0.42), style: bold})
	}
	for _, l := range d.Edges {
		d.keepOff(d.at(l.From), d.at(l.To))
	}
	for _, o := range d.Openings {
		if len(o.Outline) > 2 {
			d.soft = append(d.soft, boundsOf(d.ats(o.Outline)))
		}
	}
	for _, f := range d.faces {
		if f.open {
			at := d.at(f.heart)
			d.put(label{text: f.ID, at: at, plate: true, lead: true, style: TextStyle{Name: "face", Size: 14}})
		}
	}
	d.soft = d.soft[:len(d.soft)-d.opened()]
	for _, o := range d.Openings {
		if len(o.Outline) > 2 {
			target := boundsOf(d.ats(o.Outline)).middle()
			d.put(label{text: o.ID, at: target, lead: true, plate: true, style: TextStyle{Name: "opening", Size: 14}})
		}
	}
	for _, h := range d.Holes {
		target := d.at(h.At)
		d.put(label{text: h.ID, at: add(target, Pt{34, -18}), target: &target, plate: true, style: TextStyle{Name: "hole", Size: 14}})
	}
	for _, f := range d.faces {
		if !f.open {
			d.writeCutAway(f)
		}
	}
}

// opened counts the openings that are drawn.
func (d *roomDrawing) opened() int {
	n := 0
	for _, o := range d.Openings {
		if len(o.Outline) > 2 {
			n++
		}
	}
	return n
}

// writeCutAway names a face that is not drawn, outside the picture next to its lowest side; a ceiling above it.
func (d *roomDrawing) writeCutAway(f seenFace) {
	points := d.ats(f.outline)
	var target Pt
	best := math.Inf(-1)
	for i, a := range points {
		c := points[(i+1)%len(points)]
		m := lerp(a, c, 0.3)
		if math.Abs(a.X-c.X) < 5 && best > math.Inf(-1) {
			continue // an upright corner belongs to two faces alike
		}
		y := m.Y
		if f.Role != WallFace {
			y = -y
		}
		if y > best {
			target, best = m, y
		}
	}
	at := add(target, Pt{0, 30})
	if middle := d.limit.X1 / 2; target.X < middle-20 {
		at.X -= 40
	} else if target.X > middle+20 {
		at.X += 40
	}
	if f.Role != WallFace {
		at.Y = target.Y - 26
	}
	d.put(label{text: f.ID, at: at, target: &target, plate: true, style: TextStyle{Name: "face-cut-away", Size: 14, Ink: Quiet}})
}

func (d *roomDrawing) describe() string {
	w := d.words
	var seen, shut, openings, holes []string
	for _, f := range d.Faces {
		if d.faceOpen(f.ID) {
			seen = append(seen, f.ID)
		} else {
			shut = append(shut, f.ID)
		}
	}
	for _, o := range d.Openings {
		openings = append(openings, o.ID)
	}
	for _, h := range d.Holes {
		holes = append(holes, h.ID)
	}
	var out []string
	for _, part := range []struct {
		pattern string
		ids     []string
	}{{w.Faces, seen}, {w.Cutaway, shut}, {w.Openings, openings}, {w.Holes, holes}} {
		if len(part.ids) > 0 {
			out = append(out, say(part.pattern, strings.Join(part.ids, ", ")))
		}
	}
	return strings.Join(out, " ")
}
