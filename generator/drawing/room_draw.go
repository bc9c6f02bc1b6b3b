package drawing

import (
	"math"
	"strings"

	"lapwork/generator/sorting"
)

const (
	roomWidth  = 500.0
	roomHeight = 400.0
	eyeTurn    = 32 * math.Pi / 180 // off the walls; not 45, or front and back corner would fall on one line
)

// LegendRow is one line of a legend: the number in the drawing and the id it stands for.
type LegendRow struct {
	No int
	ID string
}

// Legend gives the numbers of the junction lines and their ids, in order.
func (v RoomView) Legend() []LegendRow {
	var out []LegendRow
	for _, e := range v.Edges {
		if e.No > 0 {
			out = append(out, LegendRow{e.No, e.ID})
		}
	}
	sorting.StableFunc(out, func(a, b LegendRow) int { return a.No - b.No })
	return out
}

// seenFace is a face as the eye sees it.
type seenFace struct {
	Face3
	plane
	open  bool // seen from inside; else cut away
	depth float64
}

// roomDrawing is a room view being drawn.
type roomDrawing struct {
	RoomView
	*board
	scale
	eye
	words *Words
	faces []seenFace // far ones first
}

// Draw draws the view.
func (v RoomView) Draw(c Canvas) {
	w := v.Words.or()
	d := &roomDrawing{RoomView: v, board: &board{}, words: w}
	d.turn()
	var all []XY
	for _, f := range d.faces {
		for _, p := range f.outline {
			all = append(all, d.see(p))
		}
	}
	low, high, ok := extent(all)
	if !ok || high.X-low.X < 1 || high.Y-low.Y < 1 {
		nothing(c, say(w.ViewOf, v.Room), w)
		return
	}
	k := math.Min(roomWidth/(high.X-low.X), roomHeight/(high.Y-low.Y))
	const top = 44
	d.scale = scale{k: k, origin: low, at: Pt{(figureWidth - (high.X-low.X)*k) / 2, top + (high.Y-low.Y)*k}}
	d.limit = Box{0, 0, figureWidth, d.scale.at.Y + 60}
	d.drawFaces()
	d.drawEdges()
	d.drawOpenings()
	d.write()
	d.finish(c, say(w.ViewOf, strings.TrimSpace(v.Room+" "+v.Name)), d.describe(), d.limit)
}

// turn tries the four corners and keeps the one that hides least.
func (d *roomDrawing) turn() {
	base, longest := 0.0, 0.0
	var planes []plane
	var faces []Face3
	for _, f := range d.Faces {
		p, ok := newPlane(f.Outline)
		if !ok {
			continue
		}
		planes, faces = append(planes, p), append(faces, f)
		for i, a := range p.outline {
			b := p.outline[(i+1)%len(p.outline)]
			if l := math.Hypot(b.X-a.X, b.Y-a.Y); l > longest+1 {
				base, longest = math.Atan2(b.Y-a.Y, b.X-a.X), l
			}
		}
	}
	inwards(planes)
	least := math.Inf(1)
	for i := range 4 {
		e := newEye(base + eyeTurn + float64(i)*math.Pi/2)
		seen := seenFrom(e, faces, planes)
		if cost := d.hidden(e, seen); cost < least-1e-6 {
			least, d.eye, d.faces = cost, e, seen
		}
	}
}

// inwards turns every normal to the inside of the room: a ray inwards meets an odd number of the other faces.
func inwards(planes []plane) {
	var middle XYZ
	for _, p := range planes {
		middle = middle.plus(p.heart.by(1 / float64(len(planes))))
	}
	for i := range planes {
		h, n := planes[i].heart, planes[i].normal
		front, back := hits(planes, i, h, n), hits(planes, i, h, n.by(-1))
		flip := middle.minus(h).dot(n) < 0
		if front%2 != back%2 {
			flip = back%2 == 1
		}
		if flip {
			planes[i].normal = n.by(-1)
		}
	}
}

func hits(planes []plane, not int, o, d XYZ) int {
	n := 0
	d = d.plus(XYZ{0.00013, 0.00007, 0.00011}) // off edges
	for i, p := range planes {
		if i != not && p.hit(o, d, 0.5) {
			n++
		}
	}
	return n
}

func seenFrom(e eye, faces []Face3, planes []plane) []seenFace {
	var out []seenFace
	for i, p := range planes {
		out = append(out, seenFace{Face3: faces[i], plane: p, open: p.normal.dot(e.to) > 0.02, depth: p.heart.dot(e.to)})
	}
	sorting.StableFunc(out, func(a, b seenFace) int {
		if a.Role != b.Role && (a.Role == FloorFace || b.Role == FloorFace) {
			return int(b.Role) - int(a.Role) // the floor lies under all
		}
		switch {
		case a.depth < b.depth:
			return -1
		case a.depth > b.depth:
			return 1
		}
		return 0
	})
	return out
}

// hidden weighs what a corner hides: area of carrying faces cut away, openings and penetrations on them, and junction
// lines behind other faces, in m².
func (d *roomDrawing) hidden(e eye, faces []seenFace) float64 {
	cost := 0.0
	shut := map[string]bool{}
	for _, f := range faces {
		if !f.open {
			shut[f.ID] = true
			if f.Carries && f.Role != CeilingFace {
				cost += f.area / 1e6
			}
		}
	}
	for _, o := range d.Openings {
		if shut[o.Face] {
			cost += 2
		}
	}
	for _, h := range d.Holes {
		if shut[h.Face] {
			cost++
		}
	}
	for _, l := range d.Edges {
		if behind(e, faces, mix(l.From.tamed(), l.To.tamed(), 0.5)) {
			cost += l.To.tamed().minus(l.From.tamed()).length() / 1e3
		}
	}
	return cost
}

// behind tells whether a face that is drawn stands between p and the eye.
func behind(e eye, faces []seenFace, p XYZ) bool {
	for _, f := range faces {
		if f.open && f.hit(p, e.to, 5) {
			return true
		}
	}
	return false
}

func (d *roomDrawing) at(p XYZ) Pt { return d.pt(d.see(p)) }

func (d *roomDrawing) ats(path []XYZ) []Pt {
	out := make([]Pt, len(path))
	for i, p := range path {
		out[i] = d.at(p)
	}
	return out
}
