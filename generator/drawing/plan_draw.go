package drawing

import (
	"math"
	"slices"
	"strings"
)

const (
	planWidth  = 490.0
	planHeight = 640.0
	planText   = 14.0
)

var (
	roomStyle    = Style{Name: "room", Stroke: Black, Width: seenWidth, Fill: Ground}
	carriesStyle = Style{Name: "carries", Stroke: SheetInk, Width: 5}
	wallStyle    = Style{Name: "wall", Stroke: Black, Width: seenWidth}
)

// planDrawing is a plan being drawn.
type planDrawing struct {
	*board
	scale
}

func newPlan(rooms []PlanRoom, more [][]XY, wide, tall, margin, top float64) (*planDrawing, bool) {
	paths := more
	for _, r := range rooms {
		paths = append(paths, r.Outline)
	}
	low, high, ok := extent(paths...)
	if !ok || high.X-low.X < 1 || high.Y-low.Y < 1 {
		return nil, false
	}
	k := math.Min(wide/(high.X-low.X), tall/(high.Y-low.Y))
	d := &planDrawing{board: &board{}}
	full := wide + 2*margin
	d.scale = scale{k: k, origin: low, at: Pt{(full - (high.X-low.X)*k) / 2, top + (high.Y-low.Y)*k}}
	d.limit = Box{0, 0, full, d.scale.at.Y + top}
	return d, true
}

// Draw draws the plan.
func (p StoreyPlan) Draw(c Canvas) {
	w := p.Words.or()
	var more [][]XY
	for _, e := range p.Edges {
		more = append(more, []XY{e.From, e.To})
	}
	d, ok := newPlan(p.Rooms, more, planWidth, planHeight, (figureWidth-planWidth)/2, 34)
	if !ok {
		nothing(c, p.Title, w)
		return
	}
	named, note := p, ""
	if p.crowded(d) {
		const margin = 20
		d, _ = newPlan(p.Rooms, more, figureWidth-2*margin, planHeight, margin, 34)
		named, note = p.roomsOnly(d), w.IdsInRooms
	}
	for _, r := range p.Rooms {
		d.shape(roomStyle, true, d.pts(r.Outline)...)
	}
	d.planEdges(p.Edges)
	for _, o := range p.Openings {
		d.planOpening(o)
	}
	for _, h := range p.Holes {
		at := d.pt(h.At)
		d.circle(Style{Name: "hole", Stroke: Black, Width: seenWidth, Fill: Ground}, at, 5)
		d.keepOff(add(at, Pt{-6, -6}), add(at, Pt{6, 6}))
		d.keepOff(add(at, Pt{-6, 6}), add(at, Pt{6, -6}))
	}
	d.planText(named)
	y := d.limit.Y1
	for _, t := range d.texts {
		y = math.Max(y, t.Y1+14)
	}
	d.shape(carriesStyle, false, Pt{40, y}, Pt{84, y})
	for i, text := range [2]string{w.HeavyCarries, note} {
		if text != "" {
			at := Pt{92 + TextWidth(text, planText, false)/2, y + float64(i)*26}
			d.limit.Y1 = at.Y + 14
			d.put(label{text: text, at: at, wrapAt: 560, style: TextStyle{Name: "note", Size: planText, Ink: Quiet}})
		}
	}
	d.finish(c, p.Title, p.describe(w), d.limit)
}

// crowded: the ids of walls, openings and holes would take more than half of the storey's own area, so that they would
// stand far from what they name.
func (p StoreyPlan) crowded(d *planDrawing) bool {
	taken, points := 0.0, []Pt{}
	add := func(id string) { taken += TextWidth(id, planText, false) * planText * lineHeight }
	for _, e := range p.Edges {
		add(e.ID)
		points = append(points, d.pt(e.From), d.pt(e.To))
	}
	for _, o := range p.Openings {
		add(o.ID)
	}
	for _, h := range p.Holes {
		add(h.ID)
	}
	for _, r := range p.Rooms {
		points = append(points, d.pts(r.Outline)...)
	}
	storey := boundsOf(points)
	return taken > storey.width()*storey.height()/2
}

// roomsOnly is the plan with the ids of its rooms alone, and with their names where they have room inside.
func (p StoreyPlan) roomsOnly(d *planDrawing) StoreyPlan {
	out := StoreyPlan{Rooms: slices.Clone(p.Rooms)}
	for i, r := range out.Rooms {
		box := boundsOf(d.pts(r.Outline))
		lines := len(wrap(r.Name, planText, false, box.width()-14)) + len(wrap(r.Note, planText, false, box.width()-14))
		if box.height() < 34+float64(lines)*planText*lineHeight {
			out.Rooms[i].Name, out.Rooms[i].Note = "", ""
		}
	}
	return out
}

func (d *planDrawing) planEdges(edges []PlanEdge) {
	for _, carries := range [2]bool{false, true} {
		for _, e := range edges {
			if e.Carries != carries {
				continue
			}
			style := wallStyle
			if carries {
				style = carriesStyle
			}
			d.shape(style, false, d.pt(e.From), d.pt(e.To))
			d.keepOff(d.pt(e.From), d.pt(e.To))
		}
	}
}

// planOpening draws a gap in the wall with a line on each side.
func (d *planDrawing) planOpening(o PlanOpening) {
	a, c := d.pt(o.From), d.pt(o.To)
	d.shape(Style{Name: "opening", Stroke: Ground, Width: 7}, false, a, c)
	n := times(normal(a, c), 3)
	d.shape(Style{Name: "opening", Stroke: Black, Width: 1}, true, add(a, n), add(c, n), sub(c, n), sub(a, n))
}

// planText writes rooms first, then what can give way.
func (d *planDrawing) planText(p StoreyPlan) {
	for _, r := range p.Rooms {
		if len(r.Outline) > 2 {
			d.roomText(r)
		}
	}
	for _, o := range p.Openings {
		m := lerp(d.pt(o.From), d.pt(o.To), 0.5)
		d.beside(o.ID, m, normal(d.pt(o.From), d.pt(o.To)), Style{Name: "opening"})
	}
	for _, h := range p.Holes {
		at := d.pt(h.At)
		d.put(label{text: h.ID, at: add(at, Pt{36, -20}), target: &at, plate: true, style: TextStyle{Name: "hole", Size: planText}})
	}
	for _, e := range p.Edges {
		if e.ID != "" {
			m := lerp(d.pt(e.From), d.pt(e.To), 0.22) // openings mostly stand in the middle
			d.beside(e.ID, m, normal(d.pt(e.From), d.pt(e.To)), Style{Name: "edge"})
		}
	}
}

// beside writes an id next to a point of a wall, on the side where there is more room.
func (d *planDrawing) beside(id string, m, n Pt, s Style) {
	wide := TextWidth(id, planText, false)/2 + 12
	away := Pt{n.X * wide, n.Y * 18}
	if out := d.limit.middle(); dot(sub(m, out), away) < 0 {
		away = times(away, -1)
	}
	d.put(label{text: id, at: add(m, away), target: &m, plate: true, style: TextStyle{Name: s.Name, Size: planText, Ink: Quiet}})
}

func (d *planDrawing) roomText(r PlanRoom) {
	points := d.pts(r.Outline)
	box := boundsOf(points)
	at := heart(points)
	wide := math.Max(box.width()-14, 40)
	for _, word := range strings.Fields(r.Name) { // rather over the wall than broken
		wide = math.Max(wide, math.Min(TextWidth(word, planText, false), 180))
	}
	if r.Name != "" || r.Note != "" {
		at.Y -= 10
	}
	id := d.put(label{text: r.ID, at: at, wrapAt: wide, plate: true, lead: true, style: TextStyle{Name: "room", Size: min(max(planText, box.width()/4), 17), Bold: true}})
	y := id.Y1
	for _, line := range [2]string{r.Name, r.Note} {
		if line == "" {
			continue
		}
		l := label{text: line, wrapAt: wide, plate: true, lead: true, style: TextStyle{Name: "room-name", Size: planText, Ink: Quiet}}
		l.lines = wrap(line, planText, false, wide)
		_, h := l.size()
		l.at = Pt{id.middle().X, y + h/2}
		y = d.put(l).Y1
	}
}

func (p StoreyPlan) describe(w *Words) string {
	var out, openings, holes []string
	for _, r := range p.Rooms {
		out = append(out, say(w.RoomOnPlan, strings.TrimSpace(r.ID+" "+r.Name+" "+r.Note)))
	}
	for _, o := range p.Openings {
		openings = append(openings, o.ID)
	}
	for _, h := range p.Holes {
		holes = append(holes, h.ID)
	}
	if len(openings) > 0 {
		out = append(out, say(w.Openings, strings.Join(openings, ", ")))
	}
	if len(holes) > 0 {
		out = append(out, say(w.Holes, strings.Join(holes, ", ")))
	}
	return strings.Join(append(out, w.HeavyCarries+"."), " ")
}

// Draw draws the key plan: small, the marked room filled, the marked wall heavy.
func (k KeyPlan) Draw(c Canvas) {
	w := k.Words.or()
	d, ok := newPlan(k.Rooms, nil, 156, 122, 6, 4) // as large as a tablet shows it, so that its text keeps its size
	if !ok {
		nothing(c, k.Title, w)
		return
	}
	here := ""
	for _, r := range k.Rooms {
		s := Style{Name: "key-room", Stroke: Black, Width: hiddenWidth, Fill: Ground}
		if r.ID == k.Here {
			s.Name, s.Fill, s.Width = "key-here", Accent, seenWidth
			here = strings.TrimSpace(r.ID + " " + r.Name)
		}
		d.shape(s, true, d.pts(r.Outline)...)
	}
	if k.From != k.To {
		d.shape(Style{Name: "key-wall", Stroke: Black, Width: 8}, false, d.pt(k.From), d.pt(k.To))
		d.shape(Style{Name: "key-wall", Stroke: TapeInk, Width: 4}, false, d.pt(k.From), d.pt(k.To))
	}
	for _, r := range k.Rooms {
		d.keyText(r, r.ID == k.Here)
	}
	d.finish(c, k.Title, say(w.Here, here), d.limit)
}

// keyText writes a room's id where it fits; in a key plan what does not fit is left to the storey plan, but the marked
// room is always named.
func (d *planDrawing) keyText(r PlanRoom, here bool) {
	if len(r.Outline) < 3 {
		return
	}
	points := d.pts(r.Outline)
	box := boundsOf(points)
	style := TextStyle{Name: "key", Size: planText, Bold: here}
	l := label{lines: []string{cutText(r.ID)}, at: heart(points), style: style, keep: &box}
	w, h := l.size()
	fits := w <= box.width() && h <= box.height()
	switch {
	case here && fits:
		l.style.Ink = Ground
	case here:
		l.keep, l.plate, l.lead = nil, true, true
	case !fits || !d.free(boxAt(l.at, w, h)):
		return
	}
	d.put(l)
}
